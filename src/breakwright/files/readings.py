"""The load cells of each row as readings of named instruments."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from breakwright.files.columns import Column
from breakwright.files.findings import Findings
from breakwright.files.load_cells import LOAD_ALLOWED
from breakwright.files.nearest import listed, near_words
from breakwright.files.table import Table
from breakwright.model.instrument import Instrument
from breakwright.model.interval import Interval
from breakwright.model.trial import Ending, Reading

__all__ = ["RowFacts", "join_readings", "read_scales"]


@dataclass(frozen=True, slots=True)
class RowFacts:
    """What the rest of the sheet says that decides whether a load may be missing."""

    endings: Sequence[Ending]
    voids: Sequence[str | None]


def join_readings(
    table: Table,
    columns: Sequence[Column],
    loads: Sequence[Sequence[Interval | None]],
    *,
    names: Sequence[Sequence[str | None]],
    facts: RowFacts,
    findings: Findings,
) -> list[tuple[Reading, ...]]:
    """Return each row's readings, one a load column, in the order of ``columns``.

    ``loads[k][i]`` and ``names[k][i]`` are the load and the instrument of row i in column k. A
    display that went dark while another was read has none: its share is not known.
    """
    joined: list[tuple[Reading, ...]] = []
    for row in range(len(table.rows)):
        cells = [table.rows[row][column.index] for column in columns]
        shown = [of_column[row] for of_column in loads]
        if not all(cells):
            gap = _gap(cells, row, facts)
            if gap is not None:
                _refuse_gap(table, columns, gap, row, findings)
            if not any(cells):
                joined.append(())
                continue
        if _says_nothing(shown):
            _refuse_nothing(table, columns, row, findings)
        joined.append(
            tuple(
                Reading(interval, cell, of_column[row])
                for interval, cell, of_column in zip(shown, cells, names, strict=True)
                if interval is not None
            )
        )
    return joined


def _gap(cells: Sequence[str], row: int, facts: RowFacts) -> int | None:
    """Return which of ``cells``, some of them empty, lacks a load without a reason."""
    if facts.voids[row] is not None:
        return None
    if any(cells) and facts.endings[row] is Ending.SCREEN_LOST:
        return None
    return next(k for k, cell in enumerate(cells) if not cell)


def _says_nothing(shown: Sequence[Interval | None]) -> bool:
    """Is every display known, and do they leave every load open, or none?"""
    if any(interval is None or interval.lower > 0.0 for interval in shown):
        return False
    high = sum(interval.upper for interval in shown if interval is not None)
    return high == 0.0 or math.isinf(high)


def _refuse_gap(
    table: Table, columns: Sequence[Column], gap: int, row: int, findings: Findings
) -> None:
    column = columns[gap]
    shared = len(columns) > 1 and any(table.rows[row][c.index] for c in columns)
    findings.problem(
        "load-missing",
        "this display has no load, though another one of the same piece has"
        if shared
        else "this piece has no load and no reason why",
        line=table.lines[row],
        column=column.place,
        name=column.written,
        read="",
        allowed=LOAD_ALLOWED + ", or empty with a reason under 'void'",
        do="Write 0 if it carried nothing, or >0 if it was not read ('screen-lost' under 'ended' "
        "says the same)."
        if shared
        else "Write what was read. If nothing was, say why under 'void'.",
    )


def _refuse_nothing(table: Table, columns: Sequence[Column], row: int, findings: Findings) -> None:
    column = columns[0]
    findings.problem(
        "zero-load",
        "this load says nothing of a strength: every piece holds more than 0",
        line=table.lines[row],
        column=column.place,
        name=column.written,
        read=" + ".join(table.rows[row][c.index] for c in columns),
        allowed=LOAD_ALLOWED,
        do="If the display was too coarse, write what it would have shown at least, such as <1. "
        "If nothing was read, leave the cell empty and say why under 'void'.",
    )


def read_scales(
    table: Table,
    column: Column,
    load: Column,
    instruments: Sequence[Instrument],
    findings: Findings,
) -> list[str | None]:
    """Return which instrument each row was read on, from the 'scale' column."""
    known = [instrument.name for instrument in instruments]
    names: list[str | None] = []
    for row, line in zip(table.rows, table.lines, strict=True):
        cell = row[column.index]
        if cell in known:
            names.append(cell)
        elif not cell and (len(known) == 1 or not row[load.index]):
            names.append(known[0] if len(known) == 1 else None)
        else:
            near = near_words(cell, known)
            findings.problem(
                "unknown-scale",
                "this is not one of the instruments in study.toml"
                if cell
                else "on which instrument was this load read?",
                line=line,
                column=column.place,
                name=column.written,
                read=cell,
                allowed=listed(known),
                do=f"Did you mean '{near[0]}'?" if near else "Write the instrument's name.",
            )
            names.append(None)
    return names
