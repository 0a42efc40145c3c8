"""Where the pieces are expected to break, against what the scales can read."""

import math
from collections.abc import Sequence
from typing import Any

from breakwright.model.units import ForceUnit, from_newtons
from breakwright.report.charts.figure import DASHES, Figure, fitting, halo_text, layered, table
from breakwright.report.charts.theme import Theme
from breakwright.report.charts.ticks import decimals_for, nice_ticks
from breakwright.report.numbers import load_format
from breakwright.rig.findings import PieceStrength

__all__ = ["capacity_figure"]

TITLE = "Does the scale reach far enough?"
_POINTS = 160
_OUT = 2.6  # the curves are drawn to this many standard deviations of log load


def capacity_figure(
    pieces: Sequence[PieceStrength], *, limit: float | None, unit: ForceUnit, theme: Theme
) -> Figure:
    """Return each group's expected spread of loads; beyond ``limit`` (N) the ground is shaded."""
    size = theme.size
    note = "Curve: how the pieces of a group are expected to lie, all doubt counted in."
    if limit is not None:
        note += " Shaded: beyond what the scales read for certain."
    head = 1.45 * size.text * (len(pieces) + (1 if limit is not None else 0)) + 0.4 * size.text
    plot = 0.42 * size.width + head
    spec = layered(
        _layers(pieces, limit, unit, theme, head=head, plot=plot),
        theme,
        height=plot + 58,
        title=TITLE,
        note=note,
    )
    form = load_format([piece.median for piece in pieces], unit)
    told = "; ".join(
        f"{p.group}: about {form.load(p.median)}, nine of ten between {form.number(p.p5)} and "
        f"{form.load(p.p95)}"
        for p in pieces
    )
    reach = "" if limit is None else f" The scales read up to {form.load(limit)} for certain."
    return Figure("capacity", TITLE, note, f"Expected breaking loads. {told}.{reach}", spec)


def _density(piece: PieceStrength, load: float) -> float:
    """Density of the load relative to that of log load's peak (a lognormal, over its median)."""
    z = math.log(load / piece.median) / piece.sigma
    return math.exp(-0.5 * z * z) * piece.median / (load * piece.sigma)


def _layers(
    pieces: Sequence[PieceStrength],
    limit: float | None,
    unit: ForceUnit,
    theme: Theme,
    *,
    head: float,
    plot: float,
) -> list[Any]:
    import altair as alt

    size, colours = theme.size, theme.colours
    across = size.width - 44
    top = max(p.median * math.exp(_OUT * p.sigma) for p in pieces)
    if limit is not None:
        top = max(top, 1.15 * limit)
    end = from_newtons(top, unit)
    ticks = nice_ticks(0.0, end, int(across // 68))
    x = alt.X(
        "x:Q",
        scale=alt.Scale(domain=[0.0, end], nice=False),
        axis=alt.Axis(
            values=ticks,
            format=f",.{decimals_for(ticks)}f",
            title=f"load at which a piece breaks, {unit.value}",
            titleAnchor="end",
            grid=False,
        ),
    )
    curves = []
    for piece in pieces:
        loads = [top * (i + 0.5) / _POINTS for i in range(_POINTS)]
        curves.append([(from_newtons(v, unit), _density(piece, v) / piece.median) for v in loads])
    highest = max(d for curve in curves for _, d in curve)
    room = highest * plot / (plot - head)
    y = alt.Y("y:Q", scale=alt.Scale(domain=[0.0, room], nice=False), axis=None)
    layers: list[Any] = []
    if limit is not None:
        at = from_newtons(limit, unit)
        layers += [
            alt.Chart(table([{"x": at, "x2": end, "y": 0.0, "y2": highest}]))
            .mark_rect(color=colours.band, opacity=1)
            .encode(x=x, x2="x2:Q", y=y, y2="y2:Q"),
            alt.Chart(table([{"x": at, "y": 0.0, "y2": highest}]))
            .mark_rule(color=colours.ink, strokeWidth=1.5)
            .encode(x=x, y=y, y2="y2:Q"),
        ]
    for i, curve in enumerate(curves):
        layers.append(
            alt.Chart(table([{"x": a, "y": b} for a, b in curve]))
            .mark_line(
                color=theme.colour(i),
                strokeWidth=size.line,
                strokeDash=list(DASHES[i % len(DASHES)]),
            )
            .encode(x=x, y=y)
        )
    return layers + _key(pieces, limit, unit, theme, y=y, room=room, plot=plot, across=across)


def _key(
    pieces: Sequence[PieceStrength],
    limit: float | None,
    unit: ForceUnit,
    theme: Theme,
    *,
    y: Any,
    room: float,
    plot: float,
    across: float,
) -> list[Any]:
    """Return a row a group above the plot, and one for the line of the scales."""
    import altair as alt

    size, colours = theme.size, theme.colours
    form = load_format([p.median for p in pieces], unit)
    entries: list[tuple[str, str, Sequence[int]]] = []
    for i, p in enumerate(pieces):
        tail = f": about {form.load(p.median)}"
        name = fitting(p.group, across - (3.4 + 0.54 * len(tail)) * size.text, size.text)
        entries.append((name + tail, theme.colour(i), DASHES[i % len(DASHES)]))
    if limit is not None:
        entries.append((f"the scales read up to {form.load(limit)}", colours.ink, (1, 0)))
    layers: list[Any] = []
    for i, (text, colour, dash) in enumerate(entries):
        at = {"y": room * (1.0 - 1.45 * size.text * (i + 0.5) / plot)}
        layers.append(
            alt.Chart(table([at]))
            .mark_rule(color=colour, strokeWidth=size.line, strokeDash=list(dash))
            .encode(x=alt.value(2.0), x2=alt.value(2.0 + 2.4 * size.text), y=y)
        )
        layers += halo_text(
            table([{**at, "text": text}]),
            theme,
            x=alt.value(3.0 * size.text),
            y=y,
            size=size.text,
        )
    return layers
