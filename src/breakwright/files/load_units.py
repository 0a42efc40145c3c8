"""Which unit the loads of a sheet are in; a unit of mass is a question, never a force."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from breakwright.files.columns import Column
from breakwright.files.findings import Findings
from breakwright.files.unit_words import FORCE_OF_MASS, UNITS_ALLOWED
from breakwright.model.units import ForceUnit

__all__ = ["LoadUnits", "StatedUnit", "load_units"]


@dataclass(frozen=True, slots=True)
class StatedUnit:
    """A unit given outside the sheet; ``where`` names the place, for messages."""

    unit: ForceUnit
    where: str


@dataclass(frozen=True, slots=True)
class LoadUnits:
    """The unit of each column by its index, and the one people are shown."""

    of: Mapping[int, ForceUnit]
    shown: ForceUnit


def load_units(
    loads: Sequence[Column],
    others: Sequence[Column],
    *,
    stated: StatedUnit | None,
    line: int,
    findings: Findings,
) -> LoadUnits:
    """Return the units of the load columns and of the ``others`` (sums, rates).

    Where a unit stays open the problem is noted and N stands in, so that reading can go on.
    """
    of: dict[int, ForceUnit] = {}
    for column in loads:
        of[column.index] = _unit(column, stated, line, findings)
    _check_stated(loads, stated, line, findings)
    common = {of[column.index] for column in loads}
    for column in others:
        if column.unit is None and column.mass is None and len(common) == 1:
            of[column.index] = next(iter(common))
        else:
            of[column.index] = _unit(column, stated, line, findings)
    shown = stated.unit if stated else of[loads[0].index] if loads else ForceUnit.N
    return LoadUnits(of, shown)


def _unit(column: Column, stated: StatedUnit | None, line: int, findings: Findings) -> ForceUnit:
    if column.unit is not None:
        return column.unit
    if column.mass is not None:
        return _force_or_mass(column, column.mass, stated, line, findings)
    if stated is not None:
        return stated.unit
    findings.problem(
        "unit-missing",
        "in which unit are these loads? Neither the header nor anything else says it",
        line=line,
        column=column.place,
        name=column.written,
        read=column.written,
        allowed=UNITS_ALLOWED,
        do=f"Write the unit into the header, such as {column.written}_N, or give --unit N.",
    )
    return ForceUnit.N


def _force_or_mass(
    column: Column,
    mass: str,
    stated: StatedUnit | None,
    line: int,
    findings: Findings,
) -> ForceUnit:
    force = FORCE_OF_MASS[mass]
    if stated is None:
        findings.problem(
            "force-or-mass",
            f"{force} or a mass? '{mass}' is a unit of mass; a scale that shows '{mass}' under "
            f"a pull means {force}, the weight of that mass",
            line=line,
            column=column.place,
            name=column.written,
            read=column.written,
            allowed=UNITS_ALLOWED,
            do=f"If the column holds what a hanging scale showed, give --unit {force} or write "
            f"{force} in the header.",
        )
    elif stated.unit is not force:
        findings.problem(
            "unit-disagrees",
            f"the header says '{mass}', but {stated.where} says {stated.unit}",
            line=line,
            column=column.place,
            name=column.written,
            read=column.written,
            allowed=f"the same unit in both; for '{mass}' that is {force}",
            do="Correct the one that is wrong.",
        )
    else:
        findings.remark("mass-unit-as-force", {"column": column.written, "unit": force.value})
    return force


def _check_stated(
    loads: Sequence[Column], stated: StatedUnit | None, line: int, findings: Findings
) -> None:
    headed = [column for column in loads if column.unit is not None]
    if stated is None or not headed or any(column.unit is stated.unit for column in headed):
        return
    findings.problem(
        "unit-disagrees",
        f"the header says {headed[0].unit}, but {stated.where} says {stated.unit}",
        line=line,
        column=headed[0].place,
        name=headed[0].written,
        read=headed[0].written,
        allowed="the same unit in both, or the unit in one of them only",
        do="Correct the one that is wrong, or leave out the second.",
    )
