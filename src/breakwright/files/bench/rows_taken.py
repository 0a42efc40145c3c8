"""The rows of a sheet as what a person would have typed at the bench."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from breakwright.files.bench.numbers import canonical, converted
from breakwright.files.columns import Column, Role, normalised
from breakwright.files.findings import Findings
from breakwright.files.load_cells import numbers_in_load
from breakwright.files.load_units import LoadUnits, StatedUnit, load_units
from breakwright.files.number_cells import Style, column_styles
from breakwright.files.numerals import Decimal, is_number, parse_number
from breakwright.files.options import Negative, ReadOptions
from breakwright.files.sheet import OpenSheet, open_sheet_text
from breakwright.files.source import Source
from breakwright.files.table import read_table
from breakwright.files.text_cells import read_labels
from breakwright.model.errors import ImpossibleValue
from breakwright.model.event import Entry
from breakwright.model.trial import Trial
from breakwright.model.units import ForceUnit

__all__ = ["TakenRow", "pieces_of_sheet", "rows_of_sheet"]

_LOADS = ("load", "together", "rate")
_READ = ("ended", "failure", "void", "note", "date", "scale")


@dataclass(frozen=True, slots=True)
class TakenRow:
    """One piece: as it was planned, measured and, where ``entry`` is, read. ``order`` is the place
    in the plan, None where there was no plan."""

    label: str
    group: str
    block: str | None = None
    order: int | None = None
    day: int | None = None
    operator: str | None = None
    pair: str | None = None
    measured: Mapping[str, str] = field(default_factory=dict)
    entry: Entry | None = None
    void: str | None = None

    def after(self, planned: "TakenRow") -> "TakenRow":
        """Return this row with what only the plan says; what both say goes by this one."""
        return replace(
            self,
            block=self.block or planned.block,
            order=planned.order,
            day=planned.day,
            operator=self.operator or planned.operator,
            pair=self.pair or planned.pair,
            measured={**planned.measured, **self.measured},
        )


def rows_of_sheet(
    text: str, source: Source, options: ReadOptions, stated: ForceUnit | None
) -> tuple[TakenRow, ...]:
    """Return the rows of ``text``, of which ``source`` is what the strict reader made."""
    findings = Findings("")
    sheet = open_sheet_text(text, findings)
    if sheet is None:
        raise ImpossibleValue("a sheet that was read before cannot be read again")
    units = load_units(
        sheet.loads,
        sheet.sums,
        stated=None if stated is None else StatedUnit(stated, STATED),
        line=1,
        findings=findings,
    )
    own = [c for c in sheet.columns if c.role is Role.OTHER]
    numeric = [c for c in own if any(c.name in t.covariates for t in source.study.trials)]
    styles = column_styles(
        sheet.table,
        [*sheet.loads, *sheet.sums, *numeric],
        numbers_in=_numbers_in,
        answered=options.decimal,
        findings=findings,
    )
    reader = _Reader(sheet, units, styles, own, options.pulls_negative)
    by_scale = source.study.sharing is None and len(source.study.instruments) > 1
    return tuple(
        reader.row(i, trial, by_scale=by_scale) for i, trial in enumerate(source.study.trials)
    )


STATED = "study.toml"


def _numbers_in(column: Column, cell: str) -> Iterable[str]:
    return numbers_in_load(cell) if column.role is Role.LOAD else (cell,)


@dataclass(frozen=True, slots=True)
class _Reader:
    sheet: OpenSheet
    units: LoadUnits
    styles: Mapping[int, Style]
    own: Sequence[Column]
    negative: Negative

    def row(self, place: int, trial: Trial, *, by_scale: bool) -> TakenRow:
        cells = self.sheet.table.rows[place]
        measured = {
            c.name: self._plain(cells[c.index], c) for c in self.own if cells[c.index].strip()
        }
        operator, pair = measured.pop("operator", None), measured.pop("pair", None)
        day = _day(measured.pop("planned_day", ""))
        return TakenRow(
            label=trial.specimen,
            group=trial.group,
            block=trial.block,
            day=day,
            operator=operator,
            pair=pair,
            measured=measured,
            entry=self._entry(cells, trial, by_scale=by_scale) if trial.readings else None,
            void=trial.void,
        )

    def _entry(self, cells: Sequence[str], trial: Trial, *, by_scale: bool) -> Entry:
        sheet, of = self.sheet, self.sheet.of
        used = {self.units.of[c.index] for c in (*sheet.loads, *sheet.sums)}
        unit = next(iter(used)) if len(used) == 1 else self.units.shown

        def number(column: Column | None) -> str | None:
            if column is None or not cells[column.index]:
                return None
            text = self._plain(cells[column.index], column)
            own = self.units.of[column.index]
            if own is unit:
                return text
            return converted(text, own, unit)

        loads = tuple(number(column) or "" for column in sheet.loads)
        together, rate = number(of.get(Role.TOGETHER)), number(of.get(Role.RATE))
        fractions = any("." in text for text in (*loads, together or "", rate or ""))
        return Entry(
            loads=loads,
            unit=unit.value,
            # The column settled what the marks in its numbers are; one number alone may not.
            decimal=Decimal.POINT.value if fractions else None,
            ended=trial.ending,
            failure=trial.failure,
            note=trial.note,
            scale=trial.readings[0].instrument if by_scale else None,
            together=together,
            rate=rate,
            date=None if trial.date is None else trial.date.isoformat(),
            order=trial.order,
        )

    def _plain(self, cell: str, column: Column) -> str:
        style = self.styles.get(column.index)
        if style is None:
            return cell
        text = canonical(cell, style.decimal)
        signed = self.negative is Negative.BY_SIZE and column.role in (Role.LOAD, Role.TOGETHER)
        return text.lstrip("-−") if signed else text


def _day(text: str) -> int | None:
    digits = text.lower().removeprefix("day").strip()
    return int(digits) if digits.isascii() and digits.isdigit() and len(digits) < 6 else None


def pieces_of_sheet(text: str, findings: Findings) -> tuple[TakenRow, ...]:
    """Return the planned pieces of a ``specimens.csv``. Raises InputRefused with every problem."""
    table = read_table(text, findings)
    findings.refuse_if_any()
    if table is None or not table.rows:
        return ()
    names = [normalised(cell) for cell in table.header]
    for needed in ("specimen", "group"):
        if needed not in names:
            findings.problem(
                "missing-column",
                f"no column is called '{needed}'",
                line=table.header_line,
                name=needed,
                read=", ".join(table.header),
                allowed="specimen and group at least",
                do=f"Name the column that holds it '{needed}'.",
            )
    findings.refuse_if_any()
    label = Column(Role.SPECIMEN, "specimen", "specimen", names.index("specimen"))
    read_labels(table, label, findings)
    findings.refuse_if_any()
    return tuple(_planned(names, row) for row in table.rows)


def _planned(names: Sequence[str], row: Sequence[str]) -> TakenRow:
    cells = {name: cell for name, cell in zip(names, row, strict=True) if name and cell}
    known = ("specimen", "group", "block", "order", "operator", "pair", "planned_day")
    order = cells.get("order", "")
    return TakenRow(
        label=cells.get("specimen", ""),
        group=cells.get("group", ""),
        block=cells.get("block"),
        order=int(order) if order.isascii() and order.isdigit() and int(order) else None,
        day=_day(cells.get("planned_day", "")),
        operator=cells.get("operator"),
        pair=cells.get("pair"),
        measured={
            name: _with_point(cell)
            for name, cell in cells.items()
            if name not in (*known, *_READ) and name.split("_")[0] not in _LOADS
        },
    )


def _with_point(cell: str) -> str:
    """A comma in a number that no column settles stays, and is asked about at the door."""
    if is_number(cell) and parse_number(cell, Decimal.POINT) is None:
        return canonical(cell, Decimal.COMMA)
    return cell
