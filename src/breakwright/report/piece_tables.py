"""The tables of pieces: those left out, each with its reason, and all as they were understood."""

from collections.abc import Callable

from breakwright.report.numbers import LoadFormat, load_format
from breakwright.report.piece_words import understood, why_in_full, written
from breakwright.report.table_view import TableView
from breakwright.usecases.result import Answer, PieceResult

__all__ = ["MOST_ROWS", "left_out_table", "piece_table"]

MOST_ROWS = 400

_Cell = Callable[[PieceResult], str]


def _format(answer: Answer) -> LoadFormat:
    return load_format([p.lower for p in answer.pieces if p.kind is not None], answer.unit)


def left_out_table(answer: Answer) -> TableView | None:
    """Return every piece left out with its reason, or None where none was."""
    form = _format(answer)
    rows = [
        (p.specimen, p.group, written(p), understood(p, form), p.void or "")
        for p in answer.pieces
        if p.void is not None
    ]
    head = ("Piece", "Group", "Written", "Understood as", "Left out because")
    return TableView.of("left-out", "Pieces left out", head=head, rows=rows) if rows else None


def _columns(answer: Answer, form: LoadFormat) -> list[tuple[str, _Cell]]:
    always: list[tuple[str, _Cell]] = [
        ("Piece", lambda p: p.specimen),
        ("Group", lambda p: p.group),
        ("Written", written),
        ("Understood as", lambda p: understood(p, form)),
        ("Why", why_in_full),
    ]
    sometimes: list[tuple[str, _Cell]] = [
        ("How it broke", lambda p: p.failure or ""),
        ("Block", lambda p: p.block or ""),
        ("Order", lambda p: "" if p.order is None else str(p.order)),
        ("Date", lambda p: "" if p.date is None else p.date.isoformat()),
        ("Note", lambda p: p.note or ""),
        ("Line", lambda p: "" if p.line is None else str(p.line)),
    ]
    names = list(dict.fromkeys(name for p in answer.pieces for name in p.covariates))
    sometimes[4:4] = [(name, _covariate(name)) for name in names]
    return always + [(n, cell) for n, cell in sometimes if any(cell(p) for p in answer.pieces)]


def _covariate(name: str) -> _Cell:
    return lambda p: f"{p.covariates[name]:g}" if name in p.covariates else ""


def piece_table(answer: Answer) -> TableView:
    """Return the first ``MOST_ROWS`` pieces as they were understood."""
    columns = _columns(answer, _format(answer))
    rows = [[cell(p) for _, cell in columns] for p in answer.pieces[:MOST_ROWS]]
    total = len(answer.pieces)
    note = (
        f"The first {MOST_ROWS} of {total} pieces are shown; the sheet holds the others."
        if total > MOST_ROWS
        else ""
    )
    head = [name for name, _ in columns]
    return TableView.of("pieces", "Every piece as understood", head=head, rows=rows, note=note)
