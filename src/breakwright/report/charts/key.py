"""The key of a chart with curves: one row a group above the plot, where no curve can reach it."""

from dataclasses import dataclass
from typing import Any

from breakwright.report.charts.figure import DASHES, SHAPES, fitting, halo_text, table
from breakwright.report.charts.theme import Theme
from breakwright.usecases.result import Answer

__all__ = ["KeyRoom", "key_layers", "key_room"]


@dataclass(frozen=True, slots=True)
class KeyRoom:
    """How much of the y domain the key takes: ``share`` of the plot, in rows of ``text`` px."""

    columns: int
    rows: int
    text: float
    share: float

    def top(self, low: float, high: float) -> float:
        """Return the upper end of a domain whose plot ends at ``high`` below the key."""
        return low + (high - low) / (1.0 - self.share)

    def y(self, index: int, low: float, high: float) -> float:
        """Return the height at which the entry ``index`` of the key stands in that domain."""
        top = self.top(low, high)
        return top - (top - high) * (index % self.rows + 0.5) / (self.rows + 0.7)


def key_room(answer: Answer, theme: Theme, *, plot: float) -> KeyRoom:
    """Return the room that one entry a group takes in a plot ``plot`` px high."""
    count = len(answer.groups)
    columns = 1 if theme.size.width < 500 else min(3, -(-count // 3))
    rows = -(-count // columns)
    # A picture has a fixed height: many groups get a smaller key rather than no curves.
    most = plot if theme.size.height is None else 0.42 * plot
    text = min(float(theme.size.text), most / (1.4 * (rows + 0.7)))
    return KeyRoom(columns, rows, text, min(0.6, 1.4 * text * (rows + 0.7) / plot))


def key_layers(
    answer: Answer,
    theme: Theme,
    room: KeyRoom,
    *,
    y: Any,
    span: tuple[float, float],
    across: float,
) -> list[Any]:
    """Return a line, a shape and a label for each group; ``span`` is the plot's own y domain."""
    import altair as alt

    layers: list[Any] = []
    low, high = span
    wide = across / room.columns
    for i, group in enumerate(answer.groups):
        at = {"y": room.y(i, low, high)}
        left = wide * (i // room.rows) + 2.0
        colour = theme.colour(i)
        layers.append(
            alt.Chart(table([at]))
            .mark_rule(
                color=colour, strokeWidth=theme.size.line, strokeDash=DASHES[i % len(DASHES)]
            )
            .encode(x=alt.value(left), x2=alt.value(left + 2.4 * room.text), y=y)
        )
        layers.append(
            alt.Chart(table([at]))
            .mark_point(
                shape=SHAPES[i % len(SHAPES)],
                filled=True,
                color=colour,
                size=(1.8 * theme.size.dot) ** 2,
                opacity=1,
            )
            .encode(x=alt.value(left + 1.2 * room.text), y=y)
        )
        count = f", n = {group.used}"
        name = fitting(group.name, wide - (3.6 + 0.54 * len(count)) * room.text, room.text)
        label = table([{**at, "text": name + count}])
        layers += halo_text(label, theme, x=alt.value(left + 3.0 * room.text), y=y, size=room.text)
    return layers
