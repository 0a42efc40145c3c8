"""Each part's range of breaking loads against the piece's, on one log axis."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from breakwright.model.units import ForceUnit, from_newtons
from breakwright.report.charts.figure import Figure, fitting, halo_text, layered, table
from breakwright.report.charts.theme import Theme
from breakwright.report.charts.ticks import decimals_for, log_ticks
from breakwright.report.numbers import LoadFormat

__all__ = ["RangeRow", "load_path_figure"]

TITLE = "Who is stronger: the piece or the rig?"


@dataclass(frozen=True, slots=True)
class RangeRow:
    """One bar: nine of ten between ``low`` and ``high`` (N), half below ``middle``.

    ``colour`` counts in the palette. ``number`` and then ``words`` stand behind the name; both
    may be ''. Where there is no room the words go first, then the end of the name.
    """

    name: str
    number: str
    words: str
    low: float
    middle: float
    high: float
    colour: int


def load_path_figure(
    rows: Sequence[RangeRow], *, strongest: float | None, form: LoadFormat, theme: Theme
) -> Figure:
    """Return one bar a row, the weakest on top; a line at the ``strongest`` piece expected (N)."""
    size = theme.size
    note = "Bar: nine of ten break in it. Diamond: half break below it."
    if strongest is not None:
        note += " Line: what 99 of 100 pieces stay under."
    head = 1.6 * size.text if strongest is not None else 0.4 * size.text
    row = 3.0 * size.text
    height = head + row * len(rows)
    spec = layered(
        _layers(rows, strongest, form.unit, theme, head=head, row=row),
        theme,
        height=height + 58,
        title=TITLE,
        note=note,
    )
    told = "; ".join(
        f"{r.name}: {form.load(r.middle)}, nine of ten between {form.number(r.low)} and "
        f"{form.load(r.high)}" + (f", {r.words}" if r.words else "")
        for r in rows
    )
    line = "" if strongest is None else f" The strongest piece expected: {form.load(strongest)}."
    alt_text = f"Ranges of breaking loads on a logarithmic axis. {told}.{line}"
    return Figure("load-path", TITLE, note, alt_text, spec)


def _layers(
    rows: Sequence[RangeRow],
    strongest: float | None,
    unit: ForceUnit,
    theme: Theme,
    *,
    head: float,
    row: float,
) -> list[Any]:
    import altair as alt

    size, colours = theme.size, theme.colours
    across = size.width - 44
    held = [from_newtons(v, unit) for r in rows for v in (r.low, r.high)]
    if strongest is not None:
        held.append(from_newtons(strongest, unit))
    low, high = min(held) * 0.93, max(held) * 1.07
    if high / low < 2.0:
        low, high = low / math.sqrt(2.0), high * math.sqrt(2.0)
    ticks = log_ticks(low, high, int(across // 68))
    x = alt.X(
        "x:Q",
        scale=alt.Scale(type="log", domain=[low, high], nice=False),
        axis=alt.Axis(
            values=ticks,
            format=f",.{decimals_for(ticks)}f",
            title=f"load on the rig, {unit.value}",
            titleAnchor="end",
            grid=False,
            labelOverlap=False,
        ),
    )
    bottom = head + row * len(rows)
    y = alt.Y("y:Q", scale=alt.Scale(domain=[bottom, 0.0], nice=False), axis=None)
    layers: list[Any] = []
    if strongest is not None:
        at = from_newtons(strongest, unit)
        layers.append(
            alt.Chart(table(_spans(at, len(rows), head=head, row=row, text=size.text)))
            .mark_rule(color=colours.ink, strokeWidth=1.5, strokeDash=[6, 4])
            .encode(x=x, y=y, y2="y2:Q")
        )
        right = math.log(at / low) > 0.6 * math.log(high / low)
        base: Any = alt.Chart(table([{"x": at, "y": 0.6 * head, "text": "strongest piece"}]))
        layers.append(
            base.mark_text(
                align="right" if right else "left",
                baseline="middle",
                fontSize=size.text,
                color=colours.muted,
            ).encode(x=x, y=y, text="text:N")
        )
    for i, r in enumerate(rows):
        layers += _row(r, theme, unit=unit, x=x, y=y, top=head + i * row, across=across)
    return layers


def _label(r: RangeRow, width: float, size: float) -> str:
    number = f": {r.number}" if r.number else ""
    name = fitting(r.name, width - 0.54 * size * len(number), size)
    if not r.words:
        return name + number
    return fitting(f"{name}{number}{', ' if number else ': '}{r.words}", width, size)


def _spans(
    at: float, count: int, *, head: float, row: float, text: float
) -> list[dict[str, float]]:
    """Return the line's pieces, left out where the names of the rows stand."""
    return [
        {"x": at, "y": head + i * row + 1.55 * text, "y2": head + (i + 1) * row}
        for i in range(count)
    ]


def _row(
    r: RangeRow, theme: Theme, *, unit: ForceUnit, x: Any, y: Any, top: float, across: float
) -> list[Any]:
    import altair as alt

    size = theme.size
    low, middle, high = (from_newtons(v, unit) for v in (r.low, r.middle, r.high))
    at = top + 2.1 * size.text
    label = _label(r, across, size.text)
    return [
        alt.Chart(table([{"x": low, "x2": high, "y": at}]))
        .mark_rule(color=theme.colour(r.colour), strokeWidth=2.2 * size.line)
        .encode(x=x, x2="x2:Q", y=y),
        alt.Chart(table([{"x": middle, "y": at}]))
        .mark_point(
            shape="diamond",
            filled=True,
            size=(2.6 * size.dot) ** 2,
            color=theme.colours.ink,
            opacity=1,
        )
        .encode(x=x, y=y),
        *halo_text(
            table([{"y": top + 0.9 * size.text, "text": label}]),
            theme,
            x=alt.value(0),
            y=y,
            size=size.text,
        ),
    ]
