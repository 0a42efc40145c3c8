"""What of a piece is drawn: where its dot stands and how far its arrow or bar reaches."""

from dataclasses import dataclass

from breakwright.model.interval import IntervalKind
from breakwright.model.units import ForceUnit, from_newtons
from breakwright.report.numbers import load_format
from breakwright.report.piece_words import understood
from breakwright.usecases.result import Answer, PieceResult

__all__ = ["Mark", "axis_top", "marks_of"]


@dataclass(frozen=True, slots=True)
class Mark:
    """One piece on a load axis, in the unit people are shown; ``says`` it in words, for a page on
    which a dot can be pointed at."""

    at: float
    low: float
    high: float | None
    kind: IntervalKind
    left_out: bool
    says: str


def _mark(piece: PieceResult, unit: ForceUnit) -> Mark | None:
    if piece.kind is None or piece.lower is None:
        return None
    low = from_newtons(piece.lower, unit)
    high = None if piece.upper is None else from_newtons(piece.upper, unit)
    match piece.kind:
        case IntervalKind.AT_MOST if high is not None:
            at = high
        case _:
            at = low if high is None else (low + high) / 2.0
    return Mark(at, low, high, piece.kind, piece.void is not None, _says(piece, unit))


def _says(piece: PieceResult, unit: ForceUnit) -> str:
    form = load_format([piece.lower], unit)
    parts = [f"{piece.specimen}: {understood(piece, form)}", piece.failure, piece.void]
    return ", ".join(part for part in parts if part)


def marks_of(answer: Answer, group: str) -> tuple[Mark, ...]:
    """Return the marks of one group's pieces; pieces of which nothing was read have none."""
    marks = (_mark(p, answer.unit) for p in answer.pieces if p.group == group)
    return tuple(mark for mark in marks if mark is not None)


def axis_top(answer: Answer) -> float:
    """Return the largest load that any chart must hold, in the unit people are shown."""
    read = max((p.lower for p in answer.pieces if p.lower is not None), default=1.0)
    reached = max((p.upper for p in answer.pieces if p.upper is not None), default=read)
    medians = [load for g in answer.groups for load in (g.median.upper, g.median.estimate) if load]
    # A wild upper limit must not squeeze the readings into a corner: the bar gets an arrow then.
    top = max([read, reached, *(min(load, 1.6 * max(read, reached)) for load in medians)])
    return from_newtons(top or 1.0, answer.unit)
