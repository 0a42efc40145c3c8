"""The ratio of every comparison against 1 and against the smallest ratio worth knowing."""

import math
from dataclasses import dataclass
from typing import Any

from breakwright.report.charts.figure import Figure, fitting, halo_text, layered, table
from breakwright.report.charts.theme import Theme
from breakwright.report.charts.ticks import decimals_for, log_ticks
from breakwright.report.numbers import ratio_limits, ratio_text
from breakwright.report.verdict_words import short_verdict
from breakwright.usecases.result import Answer, Comparison

__all__ = ["TITLE", "ratio_figure"]

TITLE = "How many times as strong?"


def ratio_figure(answer: Answer, theme: Theme) -> Figure:
    """Return one row a comparison: the estimate, its limits (an arrow where there is none)."""
    layout = _layout(answer, theme)
    note = "Diamond: best estimate. Bar: what the readings leave possible."
    if any(c.verdict.lower is None or c.verdict.upper is None for c in answer.comparisons):
        note += " Arrow: no limit on that side."
    if answer.worth is not None:
        note += " Shaded: too little to matter."
    spec = layered(
        _layers(answer, theme, layout),
        theme,
        height=layout.top + layout.row * len(answer.comparisons) + 58,
        title=TITLE,
        note=note,
    )
    told = "; ".join(
        f"{c.group} against {c.reference}: {_numbers(c)}, {short_verdict(c.verdict.kind)}"
        for c in answer.comparisons
    )
    worth = "" if answer.worth is None else f" What matters begins at {answer.worth:g} times."
    alt_text = f"Ratio of medians on a scale around 1. {told}.{worth}"
    return Figure("ratio", TITLE, note, alt_text, spec)


@dataclass(frozen=True, slots=True)
class _Layout:
    """Px: a ``row`` a comparison below the headings' ``top``; ``beside`` is kept for labels."""

    across: float
    row: float
    text: float
    top: float
    beside: float

    def start(self, index: int) -> float:
        return self.top + index * self.row

    def bar_top(self, index: int) -> float:
        return self.start(index) + (0.12 * self.row if self.beside else 1.8 * self.text)


def _layout(answer: Answer, theme: Theme) -> _Layout:
    size = theme.size
    count = len(answer.comparisons)
    across = size.width - (110 if size.height else 44)
    text = float(size.text)
    heads = 1.5 * text * (1 if answer.worth is None else 2)
    if size.height is None:
        return _Layout(across, 3.4 * text + 4.0 * size.dot, text, heads, 0.0)
    row = (size.height - 225 - heads) / count
    if row >= 3.2 * text:
        return _Layout(across, row, text, heads, 0.0)
    # Too low for a label above each bar: the labels stand to the left of the bars.
    return _Layout(across, row, min(0.8 * text, 0.8 * row), heads, 0.42 * across)


def _numbers(comparison: Comparison) -> str:
    verdict = comparison.verdict
    if verdict.ratio is None and verdict.lower is None and verdict.upper is None:
        return "no answer possible"
    limits = ratio_limits(verdict.lower, verdict.upper)
    if verdict.ratio is None and verdict.upper is None and verdict.lower is not None:
        return f"at least {ratio_text(verdict.lower)} times"
    if verdict.ratio is None and verdict.lower is None and verdict.upper is not None:
        return f"at most {ratio_text(verdict.upper)} times"
    if verdict.ratio is None:
        return f"{limits} times"
    return f"{ratio_text(verdict.ratio)} times ({limits})"


def _domain(answer: Answer, layout: _Layout) -> tuple[float, float]:
    """Return a ratio range that holds every limit and room for words beside what matters."""
    across = layout.across - layout.beside
    side = min(5.2 * layout.text, 0.2 * across)
    held = [0.8, 1.25]
    for c in answer.comparisons:
        held += [v for v in (c.verdict.ratio, c.verdict.lower, c.verdict.upper) if v is not None]
    low, high = min(held), max(held)
    # A lower limit near nothing would flatten all the rest; the bar then runs out of the plot.
    low, high = max(low, 1.0 / 50.0) * 0.96, min(high, 50.0) * 1.04
    worth = answer.worth or 1.0
    for _ in range(40):
        beside = side / across * math.log(high / low)
        low = min(low, math.exp(-math.log(worth) - beside))
        high = max(high, math.exp(math.log(worth) + beside))
    return low, high


def _layers(answer: Answer, theme: Theme, layout: _Layout) -> list[Any]:
    import altair as alt

    size, colours, text = theme.size, theme.colours, layout.text
    low, high = _domain(answer, layout)
    used = layout.across - layout.beside
    left = math.exp(math.log(low) - math.log(high / low) * layout.beside / used)
    bottom = layout.start(len(answer.comparisons))
    ticks = log_ticks(low, high, int(used // 68))
    x = alt.X(
        "x:Q",
        scale=alt.Scale(type="log", domain=[left, high], nice=False),
        axis=alt.Axis(
            values=ticks,
            format=f".{decimals_for(ticks)}f",
            title=f"times the median of {fitting(answer.reference, used / 2, size.small)}",
            titleAnchor="end",
            grid=False,
            labelOverlap=False,
        ),
    )
    y = alt.Y("y:Q", scale=alt.Scale(domain=[bottom, 0.0], nice=False), axis=None)
    spans = [
        {"y": layout.bar_top(i), "y2": layout.start(i + 1)} for i in range(len(answer.comparisons))
    ]
    layers: list[Any] = []
    if answer.worth is not None:
        bands = [{"x": 1.0 / answer.worth, "x2": answer.worth, **span} for span in spans]
        layers.append(
            alt.Chart(table(bands))
            .mark_rect(color=colours.band, opacity=1)
            .encode(x=x, x2="x2:Q", y=y, y2="y2:Q")
        )
    layers.append(
        alt.Chart(table([{"x": 1.0, **span} for span in spans]))
        .mark_rule(color=colours.ink, strokeWidth=1.5)
        .encode(x=x, y=y, y2="y2:Q")
    )
    layers += _headings(answer, theme, x=x, y=y, text=text)
    for i, comparison in enumerate(answer.comparisons):
        middle = (layout.bar_top(i) + layout.start(i + 1)) / 2
        at = middle if layout.beside else layout.start(i) + 1.0 * text
        room = layout.beside or layout.across
        label = table([{"y": at, "text": _label(comparison, room=room, text=text)}])
        index = next(k for k, g in enumerate(answer.groups) if g.name == comparison.group)
        layers += _bar(
            comparison,
            theme,
            x=x,
            y=y,
            at=middle,
            domain=(low, high),
            colour=theme.colour(index),
        )
        layers += halo_text(label, theme, x=alt.value(0), y=y, size=text, weight="bold")
    return layers


def _label(comparison: Comparison, *, room: float, text: float) -> str:
    """Return a comparison's name and numbers; only the name is ever cut."""
    numbers = f": {_numbers(comparison)}"
    return fitting(comparison.group, room - 0.54 * text * len(numbers), text) + numbers


def _bar(
    comparison: Comparison,
    theme: Theme,
    *,
    x: Any,
    y: Any,
    at: float,
    domain: tuple[float, float],
    colour: str,
) -> list[Any]:
    import altair as alt

    size = theme.size
    verdict = comparison.verdict
    if verdict.lower is None and verdict.upper is None and verdict.ratio is None:
        return []
    low = domain[0] if verdict.lower is None else max(verdict.lower, domain[0])
    high = domain[1] if verdict.upper is None else min(verdict.upper, domain[1])
    layers = [
        alt.Chart(table([{"x": low, "x2": high, "y": at}]))
        .mark_rule(color=colour, strokeWidth=2.2 * size.line)
        .encode(x=x, x2="x2:Q", y=y)
    ]
    for open_end, where, shape in (
        (low == domain[0], low, "triangle-left"),
        (high == domain[1], high, "triangle-right"),
    ):
        if open_end:
            layers.append(
                alt.Chart(table([{"x": where, "y": at}]))
                .mark_point(
                    shape=shape, filled=True, size=(3.4 * size.dot) ** 2, color=colour, opacity=1
                )
                .encode(x=x, y=y)
            )
    if verdict.ratio is not None and domain[0] <= verdict.ratio <= domain[1]:
        layers.append(
            alt.Chart(table([{"x": verdict.ratio, "y": at}]))
            .mark_point(
                shape="diamond",
                filled=True,
                size=(3.2 * size.dot) ** 2,
                color=theme.colours.ink,
                opacity=1,
            )
            .encode(x=x, y=y)
        )
    return layers


def _headings(answer: Answer, theme: Theme, *, x: Any, y: Any, text: float) -> list[Any]:
    import altair as alt

    words = [(1.0, 0.75 * text, "equal", "center")]
    if answer.worth is not None:
        words += [
            (answer.worth, 2.2 * text, " matters", "left"),
            (1.0 / answer.worth, 2.2 * text, "matters ", "right"),
        ]
    drawn: list[Any] = []
    for at, high, word, align in words:
        base: Any = alt.Chart(table([{"x": at, "y": high, "text": word}]))
        mark = base.mark_text(
            align=align, baseline="middle", fontSize=text, color=theme.colours.muted
        )
        drawn.append(mark.encode(x=x, y=y, text="text:N"))
    return drawn
