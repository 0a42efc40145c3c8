"""Which instruments the load columns belong to, from ``study.toml`` or from the options."""

from collections.abc import Sequence

from breakwright.files.columns import Column
from breakwright.files.findings import Findings
from breakwright.files.options import ReadOptions
from breakwright.files.study_file import StudyFile
from breakwright.files.study_shape import InstrumentTable, WeightTable
from breakwright.files.unit_words import read_unit
from breakwright.model.errors import Problem
from breakwright.model.instrument import Instrument, KnownWeight
from breakwright.model.units import NEWTONS_PER, ForceUnit

__all__ = ["described_instruments", "instruments_of_columns"]


def described_instruments(
    study: StudyFile, unit: ForceUnit, findings: Findings
) -> tuple[Instrument, ...]:
    """Return the instruments of ``study.toml`` in N, as many of them as are possible.

    ``unit`` is the study's, for the instruments that name none of their own.
    """
    made = []
    names: set[str] = set()
    for number, table in enumerate(study.table.instrument):
        described = _Described(study, number, findings)
        if not table.name.strip() or table.name.strip() in names:
            described.refuse("name", table.name, "a name of its own for each instrument")
        names.add(table.name.strip())
        own = unit
        if table.unit is not None:
            read = read_unit(table.unit, file=study.file)
            if isinstance(read, Problem):
                described.refuse("unit", table.unit, read.allowed or "", why=read.message)
            else:
                own = read
        if described.is_possible(table):
            made.append(_instrument(table, NEWTONS_PER[own]))
    return tuple(made)


class _Described:
    """One ``[[instrument]]`` table and where to say what is wrong with it."""

    def __init__(self, study: StudyFile, number: int, findings: Findings) -> None:
        self._study = study
        self._number = number
        self._findings = findings

    def refuse(
        self,
        key: str,
        read: object,
        allowed: str,
        *,
        why: str | None = None,
        within: tuple[str | int, ...] = (),
    ) -> None:
        line = self._study.line("instrument", self._number, *within, key)
        inner = "".join(f"[{p + 1}]" if isinstance(p, int) else f".{p}" for p in within)
        name = f"instrument[{self._number + 1}]{inner}.{key}"
        self._findings.problem(
            "bad-instrument",
            why or f"'{name}' cannot have this value",
            file=self._study.file,
            line=line,
            name=name,
            read=str(read),
            allowed=allowed,
            do="Correct the value, or take the key out if it is not known.",
        )

    def is_possible(self, table: InstrumentTable) -> bool:
        before = len(self._findings)
        capacity = table.capacity
        if capacity is not None and capacity <= 0.0:
            self.refuse("capacity", capacity, "a load above 0")
            capacity = None
        if table.resolution < 0.0 or (capacity is not None and table.resolution >= capacity):
            self.refuse("resolution", table.resolution, "0 or more, and below the capacity")
        if table.tare < 0.0 or (capacity is not None and table.tare >= capacity):
            self.refuse("tare", table.tare, "0 or more, and below the capacity")
        if table.refresh_s is not None and table.refresh_s <= 0.0:
            self.refuse("refresh_s", table.refresh_s, "seconds, above 0")
        if len(table.factor) != 2 or not 0.0 < table.factor[0] <= table.factor[-1]:
            self.refuse(
                "factor",
                table.factor,
                "[smallest, largest] true load over shown load, both above 0, such as [0.95, 1.0]",
            )
        for number, weight in enumerate(table.weight):
            self._check_weight(weight, number)
        return len(self._findings) == before

    def _check_weight(self, weight: WeightTable, number: int) -> None:
        within: tuple[str | int, ...] = ("weight", number)
        if weight.true <= 0.0:
            self.refuse("true", weight.true, "a load above 0", within=within)
        elif not 0.0 <= weight.tolerance < weight.true:
            self.refuse("tolerance", weight.tolerance, "0 or more, and below 'true'", within=within)
        if weight.shown <= 0.0:
            self.refuse("shown", weight.shown, "a load above 0", within=within)


def _instrument(table: InstrumentTable, newtons: float) -> Instrument:
    return Instrument(
        name=table.name.strip(),
        capacity=None if table.capacity is None else table.capacity * newtons,
        resolution=table.resolution * newtons,
        refresh=table.refresh_s,
        tare=table.tare * newtons,
        factor=(table.factor[0], table.factor[1]),
        weights=tuple(
            KnownWeight(w.true * newtons, w.shown * newtons, w.tolerance * newtons)
            for w in table.weight
        ),
    )


def instruments_of_columns(
    described: Sequence[Instrument],
    tables: int,
    loads: Sequence[Column],
    *,
    options: ReadOptions,
    unit: ForceUnit,
    has_scale: bool,
    line: int,
    findings: Findings,
) -> tuple[Instrument, ...]:
    """Return the instruments that ``loads`` (in the order of their numbers) were read on.

    ``tables`` counts what study.toml describes; ``described`` lacks the impossible ones.
    Without a description, numbered displays get a name and nothing else; a single one gets what
    ``options`` say of it.
    """
    numbered = loads[0].number is not None
    asked = options.resolution is not None or options.capacity is not None
    if asked and (tables or len(loads) > 1):
        findings.problem(
            "one-display-only",
            "--resolution and --capacity describe the one display of a sheet; here "
            + ("study.toml describes the instruments" if tables else "several shared the load"),
            line=line,
            column=loads[0].place,
            name=loads[0].written,
            read=", ".join(column.written for column in loads),
            allowed="--resolution and --capacity with one load column and no [[instrument]]",
            do="Write resolution and capacity of each instrument into study.toml.",
        )
    if not tables:
        if len(loads) > 1:
            return tuple(Instrument(f"display {column.number}") for column in loads)
        return _single(options, unit, findings) if asked else ()
    if numbered and tables != len(loads):
        findings.problem(
            "instrument-count",
            f"the sheet has {len(loads)} numbered load column{'s' if len(loads) > 1 else ''}, "
            f"but study.toml describes {tables} "
            f"instrument{'s' if tables > 1 else ''}",
            line=line,
            column=loads[0].place,
            name=loads[0].written,
            read=", ".join(column.written for column in loads),
            allowed="one load column for each instrument: load_1 for the first in study.toml, "
            "load_2 for the second",
            do="Add the missing [[instrument]] or load column, or take the extra one out.",
        )
    elif not numbered and tables > 1 and not has_scale:
        findings.problem(
            "scale-missing",
            f"study.toml describes {tables} instruments: on which of them was each load read?",
            line=line,
            column=loads[0].place,
            name=loads[0].written,
            read=loads[0].written,
            allowed="a column 'scale' with the instrument's name in each row, or load_1, load_2, "
            "… if they shared the load",
            do="Add the column, or keep one [[instrument]] only.",
        )
    return tuple(described)


def _single(options: ReadOptions, unit: ForceUnit, findings: Findings) -> tuple[Instrument, ...]:
    capacity, resolution = options.capacity, options.resolution
    before = len(findings)
    if capacity is not None and not 0.0 < capacity < 1e300:
        findings.problem(
            "bad-option",
            "a capacity is a load above 0",
            name="--capacity",
            read=f"{capacity:g}",
            allowed="the load at which the display stops telling, in the sheet's unit",
            do="Correct --capacity.",
        )
    if resolution is not None and not 0.0 <= resolution < (capacity or 1e300):
        findings.problem(
            "bad-option",
            "a resolution is 0 or more, and below the capacity",
            name="--resolution",
            read=f"{resolution:g}",
            allowed="the step between two values of the display, in the sheet's unit",
            do="Correct --resolution.",
        )
    if len(findings) > before:
        return ()
    newtons = NEWTONS_PER[unit]
    return (
        Instrument(
            "scale",
            capacity=None if capacity is None else capacity * newtons,
            resolution=(resolution or 0.0) * newtons,
        ),
    )
