"""Columns with words of a fixed meaning: labels, how it ended, reasons, dates, order."""

import datetime as dt
import re

from breakwright.files.columns import Column
from breakwright.files.findings import Findings
from breakwright.files.nearest import near_words
from breakwright.files.numerals import is_number
from breakwright.files.table import Table
from breakwright.model.trial import Ending

__all__ = [
    "is_reason",
    "read_dates",
    "read_endings",
    "read_labels",
    "read_orders",
    "read_reasons",
    "read_words",
]

_ENDINGS = {ending.value: ending for ending in Ending}
_NO_REASON = frozenset(
    (
        *("no", "n", "false", "f", "yes", "y", "true", "t", "x", "ok", "none", "void"),
        *("na", "n/a", "null", "nan", "-", "–", "?", ".", "*"),
    )
)
_ISO = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


def read_words(table: Table, column: Column) -> list[str | None]:
    """Return the cells as they are, None for an empty one."""
    return [cell or None for cell in table.column(column.index)]


def read_labels(table: Table, column: Column, findings: Findings) -> list[str]:
    """Return the specimens' labels, noting missing and repeated ones."""
    first_line: dict[str, int] = {}
    cells = table.column(column.index)
    for cell, line in zip(cells, table.lines, strict=True):
        if not cell:
            findings.problem(
                "specimen-missing",
                "this piece has no label",
                line=line,
                column=column.place,
                name=column.written,
                read="",
                allowed="a label of its own for each piece",
                do="Give it a label, or take the whole column out: rows are then numbered.",
            )
        elif cell in first_line:
            findings.problem(
                "duplicate-specimen",
                f"the piece '{cell}' was already on line {first_line[cell]}",
                line=line,
                column=column.place,
                name=column.written,
                read=cell,
                allowed="a label of its own for each piece",
                do="If it is another piece, rename it; if the row came in twice, take one out.",
            )
        else:
            first_line[cell] = line
    return cells


def read_endings(table: Table, column: Column, findings: Findings) -> list[Ending]:
    """Return how the loading of each piece ended; an empty cell means that it broke."""
    cells = table.column(column.index)
    meant = {cell: re.sub(r"[\s_]+", "-", cell.lower()) for cell in set(cells)}
    endings = []
    for cell, line in zip(cells, table.lines, strict=True):
        key = meant[cell]
        if key and key not in _ENDINGS:
            near = near_words(key, _ENDINGS)
            findings.problem(
                "unknown-ending",
                "this is not one of the ways a loading can end",
                line=line,
                column=column.place,
                name=column.written,
                read=cell,
                allowed=", ".join(_ENDINGS) + ", or empty (it broke)",
                do=(f"Did you mean {near[0]}? " if near else "Choose one of these. ")
                + "How the piece broke belongs under 'failure'.",
            )
        endings.append(_ENDINGS.get(key, Ending.BROKE))
    return endings


def read_reasons(table: Table, column: Column, findings: Findings) -> list[str | None]:
    """Return why pieces are left out; a mere yes, no or number is not a reason."""
    cells = table.column(column.index)
    for cell, line in zip(cells, table.lines, strict=True):
        if cell and not is_reason(cell):
            findings.problem(
                "void-reason",
                "a piece is left out only with a reason in words",
                line=line,
                column=column.place,
                name=column.written,
                read=cell,
                allowed="a reason, such as 'pilot' or 'split while clamping'; empty: it counts",
                do="Write the reason, or empty the cell if the piece counts. A number here may be "
                "the rest of a load that was written with a comma.",
            )
    return [cell or None for cell in cells]


def is_reason(text: str) -> bool:
    """Does ``text`` say why, in words?

    >>> is_reason("pilot"), is_reason("x"), is_reason("12,5"), is_reason("")
    (True, False, False, False)
    """
    return bool(text) and text.lower() not in _NO_REASON and not is_number(text)


def read_dates(table: Table, column: Column, findings: Findings) -> list[dt.date | None]:
    """Return the days, written year-month-day; any other order can be read two ways."""
    known: dict[str, dt.date | None] = {"": None}
    dates = []
    for cell, line in zip(table.column(column.index), table.lines, strict=True):
        if cell not in known:
            known[cell] = _date(cell)
        if known[cell] is None and cell:
            findings.problem(
                "bad-date",
                "there is no such day in the calendar"
                if _ISO.fullmatch(cell)
                else "this is not a day written year-month-day",
                line=line,
                column=column.place,
                name=column.written,
                read=cell,
                allowed="2024-05-31 (year-month-day, without a time)",
                do="Write the day in this form; a spreadsheet can show the whole column so.",
            )
        dates.append(known[cell])
    return dates


def _date(cell: str) -> dt.date | None:
    if _ISO.fullmatch(cell) is None:
        return None
    try:
        return dt.date.fromisoformat(cell)
    except ValueError:
        return None


def read_orders(table: Table, column: Column, findings: Findings) -> list[int | None]:
    """Return the places in the order of testing, from 1."""
    orders: list[int | None] = []
    for cell, line in zip(table.column(column.index), table.lines, strict=True):
        if not cell:
            orders.append(None)
        elif re.fullmatch(r"[0-9]{1,9}", cell) and int(cell) > 0:
            orders.append(int(cell))
        else:
            orders.append(None)
            findings.problem(
                "bad-order",
                "this is not a place in the order of testing",
                line=line,
                column=column.place,
                name=column.written,
                read=cell,
                allowed="a whole number from 1, or empty",
                do="Write 1 for the piece tested first, 2 for the next, and so on.",
            )
    return orders
