"""The readings chart as tables: each dot, bar, arrow head and label with its place."""

from dataclasses import dataclass, field
from typing import Any

from breakwright.model.interval import IntervalKind
from breakwright.model.units import from_newtons
from breakwright.report.charts.figure import fitting
from breakwright.report.charts.marks import Mark, axis_top, marks_of
from breakwright.report.charts.swarm import spread, thinned
from breakwright.report.charts.theme import Theme
from breakwright.report.numbers import load_format
from breakwright.usecases.result import Answer, GroupResult

__all__ = ["ReadingsRows", "group_line", "readings_rows"]


@dataclass(slots=True)
class ReadingsRows:
    """``y`` counts px downward from the top of the plot; ``x`` is a load in the shown unit."""

    top: float
    across: float
    row: float
    text: float
    beside: float = 0.0
    dots: list[dict[str, Any]] = field(default_factory=list)
    bars: list[dict[str, Any]] = field(default_factory=list)
    heads: list[dict[str, Any]] = field(default_factory=list)
    names: list[dict[str, Any]] = field(default_factory=list)
    lines: list[dict[str, Any]] = field(default_factory=list)
    medians: list[dict[str, Any]] = field(default_factory=list)
    drawn_all: bool = True


def group_line(answer: Answer, group: GroupResult) -> str:
    """Return a group's counts and median in one short line."""
    parts = [f"n = {group.used}"]
    if group.at_least and group.at_least == group.used:
        parts.append("all 'at least'")
    elif group.at_least:
        parts.append(f"{group.at_least} 'at least'")
    if group.at_most:
        parts.append(f"{group.at_most} 'at most'")
    if group.void:
        parts.append(f"{group.void} left out")
    line = ", ".join(parts)
    if group.median.estimate is None:
        return line
    form = load_format([g.median.estimate for g in answer.groups], answer.unit)
    return f"{line}; median {form.load(group.median.estimate)}"


def readings_rows(answer: Answer, theme: Theme) -> ReadingsRows:
    """Return everything the readings chart draws, placed for the theme's size."""
    size = theme.size
    text = float(size.text)
    across = float(size.width - (110 if size.height else 44))
    top = axis_top(answer) * 1.1
    roomy = 3.0 * text + 16.5 * size.dot
    row = roomy if size.height is None else (size.height - 230) / len(answer.groups)
    rows = ReadingsRows(top=top, across=across, row=row, text=text)
    if row < 0.72 * roomy:
        # Too low for two lines above the dots: the labels stand to the left of them.
        rows.text = min(0.8 * text, 0.42 * row)
        rows.beside = 0.42 * across
    for i, group in enumerate(answer.groups):
        _add_group(rows, answer, group, start=i * row, colour=theme.colour(i), theme=theme)
    return rows


def _add_group(
    rows: ReadingsRows,
    answer: Answer,
    group: GroupResult,
    *,
    start: float,
    colour: str,
    theme: Theme,
) -> None:
    size = theme.size
    per_px = rows.top / (rows.across - rows.beside)
    marks = marks_of(answer, group.name)
    keep = thinned([mark.at for mark in marks], size.most)
    rows.drawn_all = rows.drawn_all and len(keep) == len(marks)
    header = 0.0 if rows.beside else 2.7 * rows.text
    below = min(5.0 * size.dot, 0.35 * rows.row)
    band = max(0.0, rows.row - header - below)
    apart = 2.0 * size.dot + 2.0
    reach = 3.6 * size.dot * per_px
    ends = [_span(marks[j], reach) for j in keep]
    spans = [(left / per_px, right / per_px) for left, right in ends]
    offsets = spread(spans, apart=apart, half=(band - apart) / 2)
    for j, offset in zip(keep, offsets, strict=True):
        y = start + header + band / 2 + offset
        _add_mark(rows, marks[j], y=y, colour=colour, reach=reach)
    first = start + (0.5 * rows.row - 0.65 * rows.text if rows.beside else 0.65 * rows.text)
    room = rows.beside or rows.across
    rows.names.append({"y": first, "text": fitting(group.name, room, rows.text)})
    line = fitting(group_line(answer, group), 1.2 * room, rows.text)
    rows.lines.append({"y": first + 1.25 * rows.text, "text": line})
    _add_median(rows, answer, group, y=start + rows.row - 0.52 * below)


def _span(mark: Mark, reach: float) -> tuple[float, float]:
    match mark.kind:
        case IntervalKind.AT_LEAST:
            return mark.at, mark.at + reach
        case IntervalKind.AT_MOST:
            return mark.at - reach, mark.at
        case IntervalKind.BETWEEN if mark.high is not None:
            return mark.low, mark.high
    return mark.at, mark.at


def _add_mark(rows: ReadingsRows, mark: Mark, *, y: float, colour: str, reach: float) -> None:
    own = {"y": y, "colour": colour, "hollow": mark.left_out}
    rows.dots.append({"x": mark.at, "says": mark.says, **own})
    match mark.kind:
        case IntervalKind.AT_LEAST:
            rows.bars.append({"x": mark.at, "x2": mark.at + reach, **own})
            rows.heads.append({"x": mark.at + reach, "shape": "triangle-right", **own})
        case IntervalKind.AT_MOST:
            end = max(0.0, mark.at - reach)
            rows.bars.append({"x": end, "x2": mark.at, **own})
            rows.heads.append({"x": end, "shape": "triangle-left", **own})
        case IntervalKind.BETWEEN:
            rows.bars.append({"x": mark.low, "x2": mark.high, **own})
        case IntervalKind.EXACT:
            pass


def _add_median(rows: ReadingsRows, answer: Answer, group: GroupResult, *, y: float) -> None:
    bound = group.median
    lower = bound.lower
    if lower is None and group.at_least_median is not None:
        lower = group.at_least_median.lower
    if lower is not None:
        low = from_newtons(lower, answer.unit)
        high = rows.top
        if bound.upper is not None:
            high = min(high, from_newtons(bound.upper, answer.unit))
        rows.medians.append({"part": "bar", "x": low, "x2": high, "y": y})
        if high == rows.top:
            rows.medians.append({"part": "open", "x": high, "y": y})
    if bound.estimate is not None:
        at = from_newtons(bound.estimate, answer.unit)
        rows.medians.append({"part": "estimate", "x": at, "y": y})
