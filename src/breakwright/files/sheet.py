"""A sheet as columns of values: the header first, then every column on its own."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from breakwright.files.columns import Column, Role, read_header
from breakwright.files.extras import by_row, split_by_content
from breakwright.files.findings import Findings
from breakwright.files.load_cells import numbers_in_load, read_loads
from breakwright.files.load_units import LoadUnits
from breakwright.files.number_cells import column_styles, read_numbers
from breakwright.files.options import ReadOptions
from breakwright.files.raw import read_text
from breakwright.files.readings import RowFacts, join_readings, read_scales
from breakwright.files.rows import Rows
from breakwright.files.sums import read_rates, read_together
from breakwright.files.table import Table, read_table
from breakwright.files.text_cells import (
    read_dates,
    read_endings,
    read_labels,
    read_orders,
    read_reasons,
    read_words,
)
from breakwright.model.instrument import Instrument
from breakwright.model.trial import Ending

__all__ = ["OpenSheet", "open_sheet", "open_sheet_text", "read_rows"]

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class OpenSheet:
    """A sheet whose header is understood. ``loads`` go by their number; ``of`` has the rest."""

    table: Table
    columns: tuple[Column, ...]
    loads: tuple[Column, ...]
    of: Mapping[Role, Column]

    @property
    def sums(self) -> tuple[Column, ...]:
        """Columns whose unit follows the loads."""
        return tuple(self.of[r] for r in (Role.TOGETHER, Role.RATE) if r in self.of)


def open_sheet(path: Path, findings: Findings) -> OpenSheet | None:
    """Return the sheet's rows and columns; None where nothing can be read from it (noted why)."""
    text = read_text(path, findings)
    return None if text is None else open_sheet_text(text, findings)


def open_sheet_text(text: str, findings: Findings) -> OpenSheet | None:
    """Return what ``text`` holds, as ``open_sheet`` does; it is called ``findings.file``."""
    table = read_table(text, findings)
    if table is None:
        return None
    columns = read_header(table.header, table.header_line, findings)
    _check_unnamed(table, columns, findings)
    loads = tuple(sorted((c for c in columns if c.role is Role.LOAD), key=lambda c: c.number or 0))
    of: dict[Role, Column] = {
        c.role: c for c in reversed(columns) if c.role not in (Role.LOAD, Role.OTHER)
    }
    if not table.rows and not len(findings):
        findings.problem(
            "no-rows",
            "there is a header, but no row below it",
            line=table.header_line,
            allowed="one row for each piece",
            do="Add the pieces, or export the sheet again if the rows were lost.",
        )
    if not table.rows or not loads or Role.GROUP not in of:
        return None
    return OpenSheet(table, columns, loads, of)


def _check_unnamed(table: Table, columns: Sequence[Column], findings: Findings) -> None:
    named = {column.index for column in columns}
    for index in range(len(table.header)):
        filled = next((i for i, row in enumerate(table.rows) if row[index]), None)
        if index not in named and filled is not None:
            findings.problem(
                "unnamed-column",
                f"column {index + 1} has no name in the header, but this row has a cell in it",
                line=table.lines[filled],
                column=index + 1,
                read=table.rows[filled][index],
                allowed="a name above every column that holds something",
                do="Name the column, or empty it. The cell may also be the rest of a number "
                "that was written with a comma.",
            )


def read_rows(
    sheet: OpenSheet,
    options: ReadOptions,
    *,
    units: LoadUnits,
    instruments: Sequence[Instrument],
    findings: Findings,
) -> Rows:
    """Return every column as values, noting each cell that could not be read."""
    table, of = sheet.table, sheet.of
    by_scale = Role.SCALE in of and bool(instruments) and sheet.loads[0].number is None
    own = [c for c in sheet.columns if c.role is Role.OTHER]
    if Role.SCALE in of and not by_scale:
        own.append(of[Role.SCALE])
    numeric, worded = split_by_content(table, own, findings)
    styles = column_styles(
        table,
        [*sheet.loads, *sheet.sums, *numeric],
        numbers_in=_numbers_in,
        answered=options.decimal,
        findings=findings,
    )

    def column(role: Role, read: Callable[[Column], Sequence[T]], default: T) -> Sequence[T]:
        return read(of[role]) if role in of else [default] * len(table.rows)

    def words(role: Role) -> Sequence[str | None]:
        return column(role, lambda c: read_words(table, c), None)

    loads = [
        read_loads(
            table,
            c,
            styles[c.index],
            unit=units.of[c.index],
            negative=options.pulls_negative,
            findings=findings,
        )
        for c in sheet.loads
    ]
    endings = column(Role.ENDED, lambda c: read_endings(table, c, findings), Ending.BROKE)
    voids = column(Role.VOID, lambda c: read_reasons(table, c, findings), None)
    if by_scale:
        names: list[Sequence[str | None]] = [
            read_scales(table, of[Role.SCALE], sheet.loads[0], instruments, findings)
        ]
    else:
        names = _names_by_column(sheet, instruments)
    return Rows(
        lines=table.lines,
        specimens=_specimens(sheet, findings),
        groups=_groups(table, of[Role.GROUP], findings),
        readings=join_readings(
            table,
            sheet.loads,
            loads,
            names=names,
            facts=RowFacts(endings, voids),
            findings=findings,
        ),
        endings=endings,
        failures=words(Role.FAILURE),
        voids=voids,
        together=column(
            Role.TOGETHER,
            lambda c: read_together(
                table,
                c,
                styles[c.index],
                unit=units.of[c.index],
                loads=loads,
                negative=options.pulls_negative,
                findings=findings,
            ),
            None,
        ),
        rates=column(
            Role.RATE,
            lambda c: read_rates(
                table, c, styles[c.index], unit=units.of[c.index], findings=findings
            ),
            None,
        ),
        blocks=words(Role.BLOCK),
        orders=column(Role.ORDER, lambda c: read_orders(table, c, findings), None),
        dates=column(Role.DATE, lambda c: read_dates(table, c, findings), None),
        notes=words(Role.NOTE),
        covariates=by_row(
            {c.name: read_numbers(table, c, styles[c.index], findings) for c in numeric},
            len(table.rows),
        ),
        words=by_row({c.name: read_words(table, c) for c in worded}, len(table.rows)),
    )


def _numbers_in(column: Column, cell: str) -> Iterable[str]:
    return numbers_in_load(cell) if column.role is Role.LOAD else (cell,)


def _names_by_column(
    sheet: OpenSheet, instruments: Sequence[Instrument]
) -> list[Sequence[str | None]]:
    rows = len(sheet.table.rows)
    if len(instruments) != len(sheet.loads):
        return [[None] * rows for _ in sheet.loads]
    return [[instrument.name] * rows for instrument in instruments]


def _specimens(sheet: OpenSheet, findings: Findings) -> list[str]:
    if Role.SPECIMEN in sheet.of:
        return read_labels(sheet.table, sheet.of[Role.SPECIMEN], findings)
    labels = [f"p{i}" for i in range(1, len(sheet.table.rows) + 1)]
    findings.remark("specimens-numbered", {"first": labels[0], "last": labels[-1]})
    return labels


def _groups(table: Table, column: Column, findings: Findings) -> list[str]:
    cells = table.column(column.index)
    for cell, line in zip(cells, table.lines, strict=True):
        if not cell:
            findings.problem(
                "group-missing",
                "this piece has no group",
                line=line,
                column=column.place,
                name=column.written,
                read="",
                allowed="the name of the group that the piece belongs to",
                do="Write the group; a piece that is not to count keeps its group and gets a "
                "reason under 'void'.",
            )
    return cells
