"""One piece in words: as it was written, as it was understood, and why."""

from breakwright.model.interval import IntervalKind
from breakwright.model.outcome import Cause
from breakwright.report.numbers import LoadFormat
from breakwright.usecases.result import PieceResult

__all__ = ["CAUSES", "step_lines", "understood", "why", "why_in_full", "written"]

CAUSES = {
    Cause.MEASURED: "read at the break",
    Cause.BETWEEN: "known only to lie between two loads",
    Cause.AT_MOST: "broke at or below the reading",
    Cause.AT_LEAST: "written as 'at least'",
    Cause.OVER_RANGE: "the scale ran out",
    Cause.SCREEN_LOST: "the display was lost",
    Cause.STOPPED: "stopped before it broke",
    Cause.RIG_FAILED: "the rig gave way first",
    Cause.WRONG_WAY: "broke another way than the one that counts",
}


def written(piece: PieceResult) -> str:
    """Return what stood in the sheet; several readings are joined by a plus."""
    return " + ".join(piece.written) or "(nothing)"


def understood(piece: PieceResult, form: LoadFormat) -> str:
    """Return the load as it was understood, the plain word first."""
    if piece.kind is None or piece.lower is None:
        return "no reading"
    if piece.upper is None:
        return f"at least {form.load(piece.lower)}"
    if piece.kind is IntervalKind.EXACT:
        return form.load(piece.lower)
    if piece.kind is IntervalKind.AT_MOST:
        return f"at most {form.load(piece.upper)}"
    return f"{form.number(piece.lower)} to {form.load(piece.upper)}"


def why(piece: PieceResult) -> str:
    """Return in a few words why the load was understood so: left out, or its cause."""
    parts: list[str] = []
    if piece.void is not None:
        parts.append(f"left out: {piece.void}")
    if piece.cause is not None:
        parts.append(CAUSES[piece.cause])
    return "; ".join(parts) or "nothing was read"


def why_in_full(piece: PieceResult) -> str:
    """Return the reason with all that was done to the reading."""
    return "; ".join(dict.fromkeys((why(piece), *step_lines(piece))))


def step_lines(piece: PieceResult) -> tuple[str, ...]:
    """Return what was done to the reading, a line a step; none where nothing was."""
    return piece.steps if len(piece.steps) > 1 else ()
