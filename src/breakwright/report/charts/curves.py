"""Share of pieces still holding as the load rises: what was seen, step by step, and the fit."""

from typing import Any

from breakwright.model.interval import IntervalKind
from breakwright.model.units import from_newtons
from breakwright.report.charts.figure import DASHES, Figure, layered, table
from breakwright.report.charts.key import key_layers, key_room
from breakwright.report.charts.marks import axis_top
from breakwright.report.charts.theme import Theme
from breakwright.report.charts.ticks import decimals_for, nice_ticks
from breakwright.report.numbers import load_format
from breakwright.usecases.result import Answer, GroupResult

__all__ = ["TITLE", "curves_figure"]

TITLE = "How many still hold as the load rises"
MOST_STEPS = 400


def curves_figure(answer: Answer, theme: Theme) -> Figure:
    """Return Kaplan-Meier steps and the fitted curve of every group."""
    note = "Steps: the pieces as they broke. Smooth line: the fitted curve."
    if any(g.at_least for g in answer.groups):
        note += " Short upright stroke: a piece known only to hold at least that much."
    size = theme.size
    plot = (size.height - 220) if size.height else (0.62 * size.width + 20 * len(answer.groups))
    spec = layered(
        _layers(answer, theme, plot=plot), theme, height=plot + 58, title=TITLE, note=note
    )
    told = "; ".join(_told(answer, group) for group in answer.groups)
    return Figure(
        "curves",
        TITLE,
        note,
        f"Curves of the share still holding against load in {answer.unit.value}. {told}.",
        spec,
    )


def _told(answer: Answer, group: GroupResult) -> str:
    bound = group.median
    if bound.estimate is None:
        return f"{group.name}: no curve can be fitted (n = {group.used})"
    form = load_format([bound.estimate], answer.unit)
    return f"{group.name}: half of them hold {form.load(bound.estimate)} (n = {group.used})"


def held_at(group: GroupResult, load: float) -> float:
    """Return the Kaplan-Meier share still holding just after ``load`` (N)."""
    share = 1.0
    if group.held is not None:
        for at, holding in zip(group.held.load, group.held.holding, strict=True):
            if at > load:
                break
            share = holding
    return share


def _steps(answer: Answer, group: GroupResult) -> list[dict[str, float]]:
    if group.held is None:
        return []
    unit = answer.unit
    points = [(0.0, 1.0), *zip(group.held.load, group.held.holding, strict=True)]
    if len(points) > MOST_STEPS:
        every = len(points) / MOST_STEPS
        points = [points[int(i * every)] for i in range(MOST_STEPS)] + [points[-1]]
    ends = [p.lower for p in answer.pieces if p.group == group.name and p.void is None and p.lower]
    if ends and max(ends) > points[-1][0]:
        points.append((max(ends), points[-1][1]))
    return [{"x": from_newtons(x, unit), "y": y} for x, y in points]


def _layers(answer: Answer, theme: Theme, *, plot: float) -> list[Any]:
    import altair as alt

    size = theme.size
    across = size.width - (150 if size.height else 80)
    top = axis_top(answer) * 1.05
    room = key_room(answer, theme, plot=plot)
    ticks = nice_ticks(0.0, top, int(across // 68))
    x = alt.X(
        "x:Q",
        scale=alt.Scale(domain=[0.0, top], nice=False),
        axis=alt.Axis(
            values=ticks,
            format=f",.{decimals_for(ticks)}f",
            title=f"load, {answer.unit.value}",
            grid=False,
        ),
    )
    y = alt.Y(
        "y:Q",
        scale=alt.Scale(domain=[-0.03, room.top(-0.03, 1.02)], nice=False),
        axis=alt.Axis(
            values=[0.0, 0.25, 0.5, 0.75, 1.0],
            format=".0%",
            title="share still holding",
            titleAnchor="start",
            domain=False,
            ticks=False,
        ),
    )
    layers: list[Any] = []
    for i, group in enumerate(answer.groups):
        colour, dash = theme.colour(i), list(DASHES[i % len(DASHES)])
        if group.curve is not None:
            smooth = [
                {"x": from_newtons(load, answer.unit), "y": 1.0 - broken}
                for load, broken in zip(group.curve.load, group.curve.broken, strict=True)
                if from_newtons(load, answer.unit) <= top
            ]
            layers.append(
                alt.Chart(table(smooth))
                .mark_line(color=colour, strokeWidth=size.line, strokeDash=dash)
                .encode(x=x, y=y)
            )
        layers.append(
            alt.Chart(table(_steps(answer, group)))
            .mark_line(
                color=colour, strokeWidth=size.line * 0.6, interpolate="step-after", opacity=0.8
            )
            .encode(x=x, y=y)
        )
        capped = [
            {"x": from_newtons(p.lower, answer.unit), "y": held_at(group, p.lower)}
            for p in answer.pieces
            if p.group == group.name
            and p.void is None
            and p.kind is IntervalKind.AT_LEAST
            and p.lower is not None
        ][: size.most]
        layers.append(
            alt.Chart(table(capped))
            .mark_tick(
                orient="vertical", color=colour, thickness=size.line * 0.8, size=2.6 * size.dot
            )
            .encode(x=x, y=y)
        )
    layers += key_layers(answer, theme, room, y=y, span=(-0.03, 1.02), across=across)
    return layers
