"""Probability plot: do the breaks lie along the fitted curve, drawn as a straight line?"""

import math
from collections.abc import Mapping, Sequence
from statistics import NormalDist
from typing import Any

from breakwright.model.units import from_newtons
from breakwright.report.charts.figure import DASHES, SHAPES, Figure, layered, table
from breakwright.report.charts.key import key_layers, key_room
from breakwright.report.charts.plotting import Plotted, plotted
from breakwright.report.charts.swarm import thinned
from breakwright.report.charts.theme import Theme
from breakwright.report.charts.ticks import decimals_for, log_ticks
from breakwright.usecases.result import Answer, FamilyFit, GroupResult

__all__ = ["TITLE", "probability_figure"]

TITLE = "Do the breaks follow the curve?"
NOTE = (
    "If the lognormal curve fits, the points lie along their line, up to chance. 'At least' "
    "pieces set no point of their own but count for the points above them."
)
_SHARES = (0.001, 0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99, 0.999)


def probability_figure(answer: Answer, theme: Theme) -> Figure:
    """Return the breaks of every group at their median ranks, on lognormal paper."""
    size = theme.size
    plot = (size.height - 235) if size.height else (0.62 * size.width + 20 * len(answer.groups))
    found = {group.name: plotted(answer, group.name) for group in answer.groups}
    spec = layered(
        _layers(answer, theme, found, plot=plot), theme, height=plot + 58, title=TITLE, note=NOTE
    )
    told = "; ".join(f"{g.name}: {len(found[g.name])} points (n = {g.used})" for g in answer.groups)
    return Figure(
        "probability", TITLE, NOTE, f"Breaks on lognormal probability paper. {told}.", spec
    )


def _lognormal(group: GroupResult) -> FamilyFit | None:
    fits = (f for f in group.fits if f.family == "lognormal" and f.mu is not None)
    return next(fits, None)


def _quantile(share: float) -> float:
    return NormalDist().inv_cdf(share)


def _line(group: GroupResult, span: tuple[float, float], answer: Answer) -> list[dict[str, float]]:
    fit = _lognormal(group)
    if fit is None or fit.mu is None or fit.sigma is None:
        return []
    return [
        {"x": from_newtons(math.exp(fit.mu + fit.sigma * z), answer.unit), "y": z} for z in span
    ]


def _layers(
    answer: Answer, theme: Theme, found: Mapping[str, Sequence[Plotted]], *, plot: float
) -> list[Any]:
    import altair as alt

    size = theme.size
    across = size.width - (150 if size.height else 80)
    points: dict[str, list[dict[str, float]]] = {}
    for group in answer.groups:
        mine = found[group.name]
        keep = thinned([p.load for p in mine], size.most)
        points[group.name] = [
            {"x": from_newtons(mine[i].load, answer.unit), "y": _quantile(mine[i].broken)}
            for i in keep
        ]
    heights = [p["y"] for rows in points.values() for p in rows]
    span = (min([-1.7, *heights]) - 0.15, max([1.7, *heights]) + 0.15)
    lines = {g.name: _line(g, span, answer) for g in answer.groups}
    loads = [p["x"] for rows in (*points.values(), *lines.values()) for p in rows]
    low, high = min(loads, default=1.0) * 0.96, max(loads, default=10.0) * 1.04
    room = key_room(answer, theme, plot=plot)
    ticks = log_ticks(low, high, int(across // 68))
    shares = [s for s in _SHARES if span[0] <= _quantile(s) <= span[1]]
    names = {_quantile(s): f"{100 * s:g}%" for s in shares}
    x = alt.X(
        "x:Q",
        scale=alt.Scale(type="log", domain=[low, high], nice=False),
        axis=alt.Axis(
            values=ticks,
            format=f",.{decimals_for(ticks)}f",
            title=f"breaking load, {answer.unit.value} (equal ratios, equal distances)",
            labelOverlap=False,
        ),
    )
    y = alt.Y(
        "y:Q",
        scale=alt.Scale(domain=[span[0], room.top(*span)], nice=False, zero=False),
        axis=alt.Axis(
            values=list(names),
            labelExpr=_labels(names),
            title="share broken",
            titleAnchor="start",
            domain=False,
            ticks=False,
            labelOverlap=True,
        ),
    )
    layers: list[Any] = []
    for i, group in enumerate(answer.groups):
        colour = theme.colour(i)
        layers.append(
            alt.Chart(table(lines[group.name]))
            .mark_line(
                color=colour, strokeWidth=size.line * 0.8, strokeDash=list(DASHES[i % len(DASHES)])
            )
            .encode(x=x, y=y)
        )
        layers.append(
            alt.Chart(table(points[group.name]))
            .mark_point(
                shape=SHAPES[i % len(SHAPES)],
                filled=True,
                color=colour,
                size=(1.8 * size.dot) ** 2,
                opacity=1,
            )
            .encode(x=x, y=y)
        )
    layers += key_layers(answer, theme, room, y=y, span=span, across=across)
    return layers


def _labels(names: dict[float, str]) -> str:
    """Return a Vega expression that gives each tick its share; nearest wins against rounding."""
    text = "''"
    for at, name in names.items():
        text = f"abs(datum.value - ({at:.6f})) < 0.001 ? '{name}' : {text}"
    return text
