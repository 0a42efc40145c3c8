"""One reading put into the row of its piece in a sheet; every other cell stays as it was."""

import csv
import io
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from breakwright.files.columns import Column, Role
from breakwright.files.findings import Findings
from breakwright.files.instruments import described_instruments, instruments_of_columns
from breakwright.files.load_units import StatedUnit, load_units
from breakwright.files.nearest import listed, near_words
from breakwright.files.numerals import Decimal
from breakwright.files.options import ReadOptions
from breakwright.files.sheet import OpenSheet, open_sheet_text, read_rows
from breakwright.files.study_file import StudyFile
from breakwright.model.errors import ImpossibleValue, InputRefused
from breakwright.model.event import Entry
from breakwright.model.trial import Ending, Trial
from breakwright.model.units import NEWTONS_PER, ForceUnit

__all__ = ["PutIn", "put_in", "waiting_pieces"]


@dataclass(frozen=True, slots=True)
class PutIn:
    """``text`` is the whole sheet with the reading in it; ``before`` the header and the piece's
    row as they were; ``was`` its readings so far, '' where there were none; ``same``: it said
    the same already, and ``text`` is what was given."""

    text: str
    before: tuple[tuple[str, ...], tuple[str, ...]]
    was: str
    same: bool


def waiting_pieces(text: str, *, file: str) -> tuple[str, ...]:
    """Return the labels of the pieces without a reading that are not left out, in the order of
    their turn. Raises InputRefused where the sheet's header or rows cannot be read."""
    sheet = _opened(text, file)
    column = sheet.of.get(Role.SPECIMEN)
    if column is None:
        return ()
    void, order = sheet.of.get(Role.VOID), sheet.of.get(Role.ORDER)
    rows = [
        row
        for row in sheet.table.rows
        if not any(row[load.index] for load in sheet.loads)
        and not (void is not None and row[void.index])
    ]
    if order is not None:
        rows.sort(key=lambda row: _whole(row[order.index]))
    return tuple(row[column.index] for row in rows)


def _whole(cell: str) -> int:
    return int(cell) if cell.isdecimal() else 1_000_000


def put_in(text: str, study: StudyFile, entry: Entry, *, piece: str, file: str) -> PutIn:
    """Return the sheet ``text`` with ``entry`` as the reading of ``piece`` (its label).

    The sheet keeps its delimiter, its line ends, its order and its decimal mark. A column
    ``ended`` or ``scale`` that the reading needs and that is missing is added; ``rate``, ``note``
    and ``together`` are filled where there is such a column. What was written is read again,
    and must be the entry. Raises InputRefused with what stands in the way.
    """
    sheet = _opened(text, file)
    findings = Findings(file)
    row = _row_of(sheet, piece, findings)
    _check_loads(sheet, entry, findings)
    findings.refuse_if_any()
    assert row is not None
    cells = sheet.table.rows[row]
    was = " + ".join(cells[c.index] for c in sheet.loads if cells[c.index])
    before = (tuple(sheet.table.header), tuple(cells))
    wanted = _meant(study, entry, piece, file=file)
    if was and _says(sheet, study, cells, _decimal_of(sheet), file=file) == wanted:
        return PutIn(text, before, was, same=True)
    for decimal in (_decimal_of(sheet), Decimal.POINT, Decimal.COMMA):
        changed, added = _cells(sheet, entry, cells, decimal)
        written = _rewritten(text, sheet, row, changed, added)
        again = _opened(written, file)
        new = again.table.rows[row]
        if _says(again, study, new, decimal, file=file) == wanted:
            return PutIn(written, before, was, same=False)
    raise ImpossibleValue(
        f"{file}: the reading of «{piece}» was written and came back as another; nothing was kept"
    )


def _opened(text: str, file: str) -> OpenSheet:
    findings = Findings(file)
    sheet = open_sheet_text(text.removeprefix("\ufeff"), findings)
    findings.refuse_if_any()
    if sheet is None:
        raise ImpossibleValue(f"{file}: the sheet was not read, and no problem says why")
    return sheet


def _row_of(sheet: OpenSheet, piece: str, findings: Findings) -> int | None:
    column = sheet.of.get(Role.SPECIMEN)
    labels = [] if column is None else sheet.table.column(column.index)
    if labels.count(piece) == 1:
        return labels.index(piece)
    near = near_words(piece, labels)
    findings.problem(
        "unknown-piece",
        f"there is no piece «{piece}» in this sheet"
        if piece not in labels
        else f"there are several pieces «{piece}» in this sheet",
        column=None if column is None else column.place,
        name="specimen",
        read=piece,
        allowed=listed(labels) if column is not None else "a column 'specimen' with the labels",
        do=f"Did you mean '{near[0]}'?" if near and near[0] != piece else "Give a label from it.",
    )
    return None


def _check_loads(sheet: OpenSheet, entry: Entry, findings: Findings) -> None:
    if len(sheet.loads) != len(entry.loads):
        findings.problem(
            "display-count",
            f"the film gives {len(entry.loads)} loads of each piece, and the sheet has "
            f"{len(sheet.loads)} columns for them",
            line=sheet.table.header_line,
            name="load",
            read=", ".join(column.written for column in sheet.loads),
            allowed="one load column for each display that the study reads",
            do="Let the load columns and the [[instrument]] tables of study.toml agree.",
        )
    foreign = [c for c in sheet.loads if c.mass or (c.unit and c.unit.value != entry.unit)]
    if foreign:
        findings.problem(
            "unit-disagrees",
            f"the study's loads are in {entry.unit}, and this column is not",
            line=sheet.table.header_line,
            column=foreign[0].place,
            name=foreign[0].written,
            read=foreign[0].written,
            allowed=f"load columns in {entry.unit}",
            do="Let the sheet and study.toml name one unit, then read the film again.",
        )


def _cells(
    sheet: OpenSheet, entry: Entry, cells: Sequence[str], decimal: Decimal
) -> tuple[dict[int, str], dict[str, str]]:
    """Return the cells to change by their index, and the columns to add with their cell."""
    changed = {
        column.index: _marked(load, decimal)
        for column, load in zip(sheet.loads, entry.loads, strict=True)
    }
    added: dict[str, str] = {}
    needed = {
        Role.ENDED: entry.ended.value if entry.ended is not Ending.BROKE else "",
        Role.SCALE: entry.scale or "",
        Role.TOGETHER: _marked(entry.together or "", decimal),
    }
    for role, cell in needed.items():
        if role in sheet.of:
            changed[sheet.of[role].index] = cell or (
                entry.ended.value if role is Role.ENDED else ""
            )
        elif cell:
            added[f"together_{entry.unit}" if role is Role.TOGETHER else role.value] = cell
    if Role.RATE in sheet.of:
        rate = sheet.of[Role.RATE].index
        if not (_is_open(entry) and cells[rate]):
            # Where the study must not reckon with a rate, an old one would count the gap twice.
            changed[rate] = _rate(sheet.of[Role.RATE], entry, decimal)
    elif entry.rate and not _is_open(entry):
        added[f"rate_{entry.unit}_s"] = _marked(entry.rate, decimal)
    if Role.NOTE in sheet.of and entry.note:
        note = sheet.of[Role.NOTE].index
        kept = [part for part in cells[note].split("; ") if part and "read off " not in part]
        changed[note] = "; ".join([*kept, entry.note])
    if Role.FAILURE in sheet.of and entry.failure:
        changed[sheet.of[Role.FAILURE].index] = entry.failure
    if Role.DATE in sheet.of and entry.date:
        changed[sheet.of[Role.DATE].index] = entry.date
    return changed, added


def _is_open(entry: Entry) -> bool:
    """Is there no upper end, so that no rate is reckoned with?"""
    return any(load.startswith(">") for load in entry.loads)


def _rate(column: Column, entry: Entry, decimal: Decimal) -> str:
    if not entry.rate:
        return ""
    unit = column.unit or ForceUnit(entry.unit)
    if unit.value == entry.unit:
        return _marked(entry.rate, decimal)
    value = float(entry.rate) * NEWTONS_PER[ForceUnit(entry.unit)] / NEWTONS_PER[unit]
    return _marked(f"{value:.6g}", decimal)


def _marked(number: str, decimal: Decimal) -> str:
    """Return a load text with the sheet's own decimal mark; '..' of a range stays.

    >>> _marked("27.35..27.61", Decimal.COMMA)
    '27,35..27,61'
    """
    if decimal is Decimal.POINT:
        return number
    return "..".join(part.replace(".", ",") for part in number.split(".."))


def _decimal_of(sheet: OpenSheet) -> Decimal:
    cells = [row[c.index] for row in sheet.table.rows for c in sheet.loads]
    comma = sum("," in cell for cell in cells)
    return Decimal.COMMA if comma > sum("." in cell for cell in cells) else Decimal.POINT


def _rewritten(
    text: str,
    sheet: OpenSheet,
    row: int,
    changed: Mapping[int, str],
    added: Mapping[str, str],
) -> str:
    """Return the text with the row changed and columns added at the end of every record."""
    mark = "\ufeff" if text.startswith("\ufeff") else ""
    body = text.removeprefix(mark)
    newline = "\r\n" if "\r\n" in body else "\n"
    delimiter = _delimiter(body, sheet)
    reader = csv.reader(io.StringIO(body, newline=""), delimiter=delimiter, strict=True)
    out = io.StringIO()
    writer = csv.writer(out, delimiter=delimiter, lineterminator=newline)
    width = len(sheet.table.header)
    line = 1
    for record in reader:
        if line == sheet.table.header_line:
            writer.writerow([*_padded(record, width), *added] if added else record)
        elif line == sheet.table.lines[row]:
            new = _padded(record, width)
            for index, cell in changed.items():
                new[index] = cell
            writer.writerow([*new, *added.values()])
        elif any(cell.strip() for cell in record) and added:
            writer.writerow([*_padded(record, width), *("" for _ in added)])
        else:
            writer.writerow(record)
        line = reader.line_num + 1
    return mark + out.getvalue()


def _padded(record: Sequence[str], width: int) -> list[str]:
    return [*record[:width], *("" for _ in range(width - len(record)))]


def _delimiter(text: str, sheet: OpenSheet) -> str:
    """Return what parts the columns: the one that gives the header as it was read."""
    header = list(sheet.table.header)
    for delimiter in (",", ";", "\t"):
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
        for record in reader:
            cells = [cell.strip() for cell in record]
            if any(cells):
                if cells == header:
                    return delimiter
                break
    raise ImpossibleValue("the header of the sheet is not found again")


def _meant(study: StudyFile, entry: Entry, piece: str, *, file: str) -> tuple[object, ...]:
    """Return what the entry says, read from a row of its own with the study's own columns."""
    unit = entry.unit
    names = [f"load_{i + 1}_{unit}" for i in range(len(entry.loads))]
    cells = dict(zip(names if len(names) > 1 else [f"load_{unit}"], entry.loads, strict=True))
    cells |= {"specimen": piece, "group": "x", "ended": entry.ended.value}
    optional = {
        "scale": entry.scale,
        f"together_{unit}": entry.together,
        f"rate_{unit}_s": entry.rate,
    }
    cells |= {name: cell for name, cell in optional.items() if cell}
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows([list(cells), list(cells.values())])
    options = ReadOptions(decimal=Decimal.POINT)
    return _facts(_trial(_opened(out.getvalue(), file), study, 0, options, file=file))


def _says(
    sheet: OpenSheet, study: StudyFile, cells: Sequence[str], decimal: Decimal, *, file: str
) -> tuple[object, ...] | None:
    """Return what a row says, None where it cannot be read."""
    row = sheet.table.rows.index(list(cells))
    try:
        return _facts(_trial(sheet, study, row, ReadOptions(decimal=decimal), file=file))
    except InputRefused:
        return None


def _trial(
    sheet: OpenSheet, study: StudyFile, row: int, options: ReadOptions, *, file: str
) -> Trial:
    findings = Findings(file)
    table = replace(sheet.table, rows=[sheet.table.rows[row]], lines=[sheet.table.lines[row]])
    stated = None if study.unit is None else StatedUnit(study.unit, study.file)
    units = load_units(
        sheet.loads, sheet.sums, stated=stated, line=table.header_line, findings=findings
    )
    described = described_instruments(study, units.shown, findings)
    instruments = instruments_of_columns(
        described,
        len(study.table.instrument),
        sheet.loads,
        options=options,
        unit=units.shown,
        has_scale=Role.SCALE in sheet.of,
        line=table.header_line,
        findings=findings,
    )
    rows = read_rows(
        replace(sheet, table=table),
        options,
        units=units,
        instruments=instruments,
        findings=findings,
    )
    findings.refuse_if_any()
    return rows.trials()[0]


def _facts(trial: Trial) -> tuple[object, ...]:
    """Return what decides a trial's outcome, without the order in which it was typed."""
    shown = tuple((reading.shown, reading.instrument) for reading in trial.readings)
    # Without an upper end the rate decides nothing.
    is_open = any(math.isinf(interval.upper) for interval, _ in shown)
    return (shown, trial.ending, None if is_open else trial.rate, trial.together)
