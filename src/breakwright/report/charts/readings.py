"""Every reading as a dot: no bar of averages hides how few or how scattered they are."""

from typing import Any

from breakwright.model.interval import IntervalKind
from breakwright.model.units import from_newtons
from breakwright.report.charts.figure import Figure, halo_text, layered, table
from breakwright.report.charts.readings_rows import ReadingsRows, group_line, readings_rows
from breakwright.report.charts.theme import Theme
from breakwright.report.charts.ticks import decimals_for, nice_ticks
from breakwright.usecases.result import Answer, PieceResult

__all__ = ["TITLE", "readings_figure"]

TITLE = "Every piece, dot by dot"


def readings_figure(answer: Answer, theme: Theme) -> Figure:
    """Return the dots of every group, with its median and the median's interval below them."""
    rows = readings_rows(answer, theme)
    note = _note(answer, rows, most=theme.size.most)
    height = len(answer.groups) * rows.row + 58
    spec = layered(_layers(answer, rows, theme), theme, height=height, title=TITLE, note=note)
    told = "; ".join(f"{g.name}: {group_line(answer, g)}" for g in answer.groups)
    alt_text = f"Dots, one a piece, by group against load in {answer.unit.value}. {told}."
    return Figure("readings", TITLE, note, alt_text, spec)


def _layers(answer: Answer, rows: ReadingsRows, theme: Theme) -> list[Any]:
    import altair as alt

    size, colours = theme.size, theme.colours
    used = rows.across - rows.beside
    left = -rows.top * rows.beside / used
    ticks = nice_ticks(0.0, rows.top, int(used // 68))
    axis = alt.Axis(
        values=ticks,
        format=f",.{decimals_for(ticks)}f",
        title=f"breaking load, {answer.unit.value}",
    )
    x = alt.X("x:Q", scale=alt.Scale(domain=[left, rows.top], nice=False), axis=axis)
    bottom = len(answer.groups) * rows.row
    y = alt.Y("y:Q", scale=alt.Scale(domain=[bottom, 0.0], nice=False), axis=None)
    own = alt.Color("colour:N", scale=None, legend=None)
    layers: list[Any] = []
    for hollow, seen in ((True, 0.6), (False, 1.0)):
        layers.append(
            alt.Chart(table([b for b in rows.bars if b["hollow"] == hollow]))
            .mark_rule(strokeWidth=size.line * 0.9, opacity=seen)
            .encode(x=x, x2="x2:Q", y=y, color=own)
        )
        for shape in ("triangle-right", "triangle-left"):
            heads = [h for h in rows.heads if h["hollow"] == hollow and h["shape"] == shape]
            layers.append(
                alt.Chart(table(heads))
                .mark_point(shape=shape, filled=True, size=(2.1 * size.dot) ** 2, opacity=seen)
                .encode(x=x, y=y, color=own)
            )
        layers.append(
            alt.Chart(table([d for d in rows.dots if d["hollow"] == hollow]))
            .mark_point(
                shape="circle",
                filled=not hollow,
                size=(1.8 * size.dot) ** 2,
                opacity=seen,
                strokeWidth=1.8,
            )
            .encode(x=x, y=y, color=own)
        )
    layers.append(
        alt.Chart(table([m for m in rows.medians if m["part"] == "bar"]))
        .mark_rule(strokeWidth=size.line * 1.4, color=colours.ink)
        .encode(x=x, x2="x2:Q", y=y)
    )
    for part, shape in (("estimate", "diamond"), ("open", "triangle-right")):
        layers.append(
            alt.Chart(table([m for m in rows.medians if m["part"] == part]))
            .mark_point(
                shape=shape, filled=True, size=(2.6 * size.dot) ** 2, opacity=1, color=colours.ink
            )
            .encode(x=x, y=y)
        )
    for labels, weight in ((rows.names, "bold"), (rows.lines, "normal")):
        layers += halo_text(
            table(labels), theme, x=alt.value(0), y=y, size=rows.text, weight=weight
        )
    return layers


def _note(answer: Answer, rows: ReadingsRows, *, most: int) -> str:
    parts = ["Dot: one piece."]
    kinds = {p.kind for p in answer.pieces}
    if IntervalKind.AT_LEAST in kinds:
        parts.append("Arrow to the right: at least this much.")
    if IntervalKind.AT_MOST in kinds:
        parts.append("Arrow to the left: at most this much.")
    if any(_width(p, answer) > 0.03 * rows.top for p in answer.pieces):
        parts.append("Bar through a dot: somewhere along it.")
    if any(p.void is not None and p.kind is not None for p in answer.pieces):
        parts.append("Hollow: left out.")
    parts.append("Bar below: the median's interval, a diamond at the median.")
    if not rows.drawn_all:
        parts.append(
            f"At most {most} dots of a group are drawn, evenly by rank, with all extremes kept."
        )
    return " ".join(parts)


def _width(piece: PieceResult, answer: Answer) -> float:
    if piece.kind is not IntervalKind.BETWEEN or piece.lower is None or piece.upper is None:
        return 0.0
    return from_newtons(piece.upper - piece.lower, answer.unit)
