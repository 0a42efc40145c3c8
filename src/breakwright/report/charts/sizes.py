"""How the chance to see the difference grows with the number of pieces."""

from typing import Any

from breakwright.report.charts.figure import DASHES, Figure, fitting, halo_text, layered, table
from breakwright.report.charts.theme import Theme
from breakwright.report.foretelling_numbers import chance_percent
from breakwright.report.numbers import ratio_text
from breakwright.usecases.plan_result import GroupPlan, PlanResult

__all__ = ["sizes_figure"]

TITLE = "How many pieces are enough?"


def sizes_figure(result: PlanResult, theme: Theme) -> Figure:
    """Return one curve a group, a line at the chance wished for, and the person's own number."""
    size = theme.size
    note = f"Level line: the chance wished for, {chance_percent(result.for_chance)}."
    if result.recommended is not None:
        note += " Diamond: the number recommended."
    if result.own is not None:
        note += " Upright line: the number you have in mind."
    if any(_limited(group) for group in result.groups):
        note += " Dotted: with a scale that never runs out."
    rows = len(result.groups) + _marks(result)
    head = 1.45 * size.text * rows + 0.4 * size.text
    plot = 0.46 * size.width + head
    spec = layered(
        _layers(result, theme, head=head, plot=plot),
        theme,
        height=plot + 58,
        title=TITLE,
        note=note,
    )
    return Figure("sizes", TITLE, note, _told(result), spec)


def _marks(result: PlanResult) -> int:
    return (result.recommended is not None) + (result.own is not None)


def _told(result: PlanResult) -> str:
    told = []
    for group in result.groups:
        points = [row for row in group.curve if row.pieces in (5, 10, 20, 40)]
        numbers = ", ".join(f"{row.pieces}: {chance_percent(row.chance)}" for row in points)
        told.append(f"{group.group}, ratio {ratio_text(group.ratio)}: {numbers}")
    return f"Chance to see the difference against pieces a group. {'; '.join(told)}."


def _limited(group: GroupPlan) -> bool:
    """Does the scale cost enough for a second line to be told from the first?"""
    gaps = [
        row.chance_without_limit - row.chance
        for row in group.curve
        if row.chance_without_limit is not None
    ]
    return max(gaps, default=0.0) > 0.02


def _label(group: GroupPlan, width: float, size: float) -> str:
    tail = f", ratio {ratio_text(group.ratio)}"
    return fitting(group.group, width - 0.54 * size * len(tail), size) + tail


def _layers(result: PlanResult, theme: Theme, *, head: float, plot: float) -> list[Any]:
    import altair as alt

    size, colours = theme.size, theme.colours
    counts = [row.pieces for group in result.groups for row in group.curve]
    low, high = min(counts, default=3) - 1, max(counts, default=40) + 1
    x = alt.X(
        "x:Q",
        scale=alt.Scale(domain=[low, high], nice=False),
        axis=alt.Axis(
            values=[5, 10, 15, 20, 25, 30, 35, 40],
            format="d",
            title="pieces a group",
            titleAnchor="end",
            grid=False,
        ),
    )
    y = alt.Y(
        "y:Q",
        scale=alt.Scale(domain=[0.0, plot / (plot - head)], nice=False),
        axis=alt.Axis(
            values=[0.0, 0.2, 0.4, 0.6, 0.8, 1.0],
            format=".0%",
            title="chance to see it",
            titleAnchor="start",
            domain=False,
            ticks=False,
        ),
    )
    layers: list[Any] = [
        alt.Chart(table([{"x": low, "x2": high, "y": result.for_chance}]))
        .mark_rule(color=colours.ink, strokeWidth=1.5)
        .encode(x=x, x2="x2:Q", y=y)
    ]
    if result.own is not None and low <= result.own <= high:
        layers.append(
            alt.Chart(table([{"x": result.own, "y": 0.0, "y2": 1.0}]))
            .mark_rule(color=colours.ink, strokeWidth=1.5, strokeDash=[6, 4])
            .encode(x=x, y=y, y2="y2:Q")
        )
    for i, group in enumerate(result.groups):
        layers.append(
            alt.Chart(table([{"x": row.pieces, "y": row.chance} for row in group.curve]))
            .mark_line(
                color=theme.colour(i + 1),
                strokeWidth=size.line,
                strokeDash=list(DASHES[(i + 1) % len(DASHES)]) if i else [1, 0],
            )
            .encode(x=x, y=y)
        )
        free = [
            {"x": row.pieces, "y": row.chance_without_limit}
            for row in group.curve
            if row.chance_without_limit is not None
        ]
        if _limited(group):
            layers.append(
                alt.Chart(table(free))
                .mark_line(
                    color=theme.colour(i + 1), strokeWidth=0.6 * size.line, strokeDash=[2, 3]
                )
                .encode(x=x, y=y)
            )
        if result.recommended is not None:
            at = [
                {"x": row.pieces, "y": row.chance}
                for row in group.curve
                if row.pieces == result.recommended
            ]
            layers.append(
                alt.Chart(table(at))
                .mark_point(
                    shape="diamond",
                    filled=True,
                    size=(2.8 * size.dot) ** 2,
                    color=colours.ink,
                    opacity=1,
                )
                .encode(x=x, y=y)
            )
    return layers + _key(result, theme, y=y, head=head, plot=plot)


def _key(result: PlanResult, theme: Theme, *, y: Any, head: float, plot: float) -> list[Any]:
    import altair as alt

    size, colours = theme.size, theme.colours
    across = size.width - 90
    entries: list[tuple[str, str, list[int] | None]] = []
    for i, group in enumerate(result.groups):
        own_dash = list(DASHES[(i + 1) % len(DASHES)]) if i else [1, 0]
        words = _label(group, across - 3.4 * size.text, size.text)
        entries.append((words, theme.colour(i + 1), own_dash))
    if result.recommended is not None:
        entries.append((f"recommended: {result.recommended}", colours.ink, None))
    if result.own is not None:
        entries.append((f"yours: {result.own}", colours.ink, [6, 4]))
    layers: list[Any] = []
    top = plot / (plot - head)
    for i, (text, colour, dash) in enumerate(entries):
        at = {"y": top * (1.0 - 1.45 * size.text * (i + 0.5) / plot)}
        base: Any = alt.Chart(table([at]))
        if dash is None:
            layers.append(
                base.mark_point(
                    shape="diamond",
                    filled=True,
                    size=(2.8 * size.dot) ** 2,
                    color=colour,
                    opacity=1,
                ).encode(x=alt.value(2.0 + 1.2 * size.text), y=y)
            )
        else:
            layers.append(
                base.mark_rule(color=colour, strokeWidth=size.line, strokeDash=dash).encode(
                    x=alt.value(2.0), x2=alt.value(2.0 + 2.4 * size.text), y=y
                )
            )
        layers += halo_text(
            table([{**at, "text": text}]), theme, x=alt.value(3.0 * size.text), y=y, size=size.text
        )
    return layers
