"""What each column of a sheet is, from its header cell alone."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from breakwright.files.findings import Findings
from breakwright.files.nearest import is_one_slip, listed
from breakwright.files.unit_words import FORCE_WORDS, MASS_WORDS, UNITS_ALLOWED
from breakwright.model.units import ForceUnit

__all__ = ["Column", "Role", "looks_like_header", "normalised", "read_header"]


class Role(StrEnum):
    SPECIMEN = "specimen"
    GROUP = "group"
    LOAD = "load"
    TOGETHER = "together"
    ENDED = "ended"
    FAILURE = "failure"
    VOID = "void"
    BLOCK = "block"
    ORDER = "order"
    DATE = "date"
    NOTE = "note"
    RATE = "rate"
    SCALE = "scale"
    OTHER = "other"


_NAMED = {role.value: role for role in Role if role is not Role.OTHER}


@dataclass(frozen=True, slots=True)
class Column:
    """``index`` counts from 0; ``name`` is the header in lower case with underscores.

    ``unit`` is the unit of force in the header; ``mass`` the mass unit written there instead
    ('kg', 'lb'); ``number`` is 2 in ``load_2``.
    """

    role: Role
    name: str
    written: str
    index: int
    unit: ForceUnit | None = None
    mass: str | None = None
    number: int | None = None

    @property
    def place(self) -> int:
        """The column as people count, from 1."""
        return self.index + 1


def normalised(header: str) -> str:
    """Return a header cell as a name.

    >>> normalised(" Load (kgf)"), normalised("Failure-mode"), normalised("rate [N/s]")
    ('load_kgf', 'failure_mode', 'rate_n_s')
    """
    return re.sub(r"[\s\-_()\[\]/]+", "_", header.strip().lower()).strip("_")


def looks_like_header(cells: Sequence[str]) -> bool:
    """Do these cells name a group and a load?"""
    names = {normalised(cell) for cell in cells}
    return "group" in names and any(re.fullmatch(r"load(_.*)?", name) for name in names)


def read_header(header: Sequence[str], line: int, findings: Findings) -> tuple[Column, ...]:
    """Return the columns that have a name, noting what is missing, double or unclear."""
    columns = []
    for index, cell in enumerate(header):
        if name := normalised(cell):
            columns.append(_column(name, cell, index, line, findings))
    _check_twice(columns, line, findings)
    _check_needed(columns, header, line, findings)
    _check_loads(columns, line, findings)
    _check_slips(columns, line, findings)
    return tuple(columns)


def _column(name: str, written: str, index: int, line: int, findings: Findings) -> Column:
    if name in _NAMED:
        return Column(_NAMED[name], name, written, index)
    if match := re.fullmatch(r"load(?:_([0-9]{1,3}))?(?:_(.+))?", name):
        number = int(match[1]) if match[1] else None
        return _with_unit(
            Column(Role.LOAD, name, written, index, number=number), match[2], line, findings
        )
    if match := re.fullmatch(r"together_(.+)", name):
        return _with_unit(Column(Role.TOGETHER, name, written, index), match[1], line, findings)
    rate = re.fullmatch(r"rate_([a-z]+?)(?:_per)?_(s|sec|min|h)", name)
    if rate and (rate[1] in FORCE_WORDS or rate[1] in MASS_WORDS):
        return _rate(rate[1], rate[2], Column(Role.RATE, name, written, index), line, findings)
    return Column(Role.OTHER, name, written, index)


def _rate(word: str, per: str, column: Column, line: int, findings: Findings) -> Column:
    if per not in ("s", "sec"):
        findings.problem(
            "unknown-unit",
            "a loading rate is read per second only",
            line=line,
            column=column.place,
            name=column.written,
            read=column.written,
            allowed="rate_N_s, rate_kN_s, rate_kgf_s, rate_lbf_s",
            do="Divide by 60 (or 3600), or give the column another name, such as "
            f"'loading_{column.name}', to keep it as a plain number.",
        )
    return _with_unit(column, word, line, findings)


def _with_unit(column: Column, word: str | None, line: int, findings: Findings) -> Column:
    unit: ForceUnit | None = None
    mass: str | None = None
    if word is not None and word in FORCE_WORDS:
        unit = FORCE_WORDS[word]
    elif word is not None and word in MASS_WORDS:
        mass = MASS_WORDS[word]
    elif word is not None:
        findings.problem(
            "unknown-unit",
            f"'{word}' after '{column.role}' is not a unit of force that is known here",
            line=line,
            column=column.place,
            name=column.written,
            read=column.written,
            allowed=f"{UNITS_ALLOWED}, as in {column.role}_kgf",
            do="Convert the loads to one of these, or, if the column is no load, give it a name "
            f"that does not begin with '{column.role}_'.",
        )
        unit = ForceUnit.N
    return Column(column.role, column.name, column.written, column.index, unit, mass, column.number)


def _check_twice(columns: Sequence[Column], line: int, findings: Findings) -> None:
    seen: dict[str, Column] = {}
    for column in columns:
        key = column.name if column.role is Role.OTHER else f"{column.role} {column.number}"
        if key in seen:
            first = seen[key]
            findings.problem(
                "duplicate-column",
                f"column {column.place} has the same meaning as column {first.place} "
                f"('{first.written}')",
                line=line,
                column=column.place,
                name=column.written,
                read=column.written,
                allowed="each column once",
                do="Take one of the two out, or give it another name.",
            )
        seen.setdefault(key, column)


def _check_needed(
    columns: Sequence[Column], header: Sequence[str], line: int, findings: Findings
) -> None:
    for role, example in ((Role.GROUP, "group"), (Role.LOAD, "load_N")):
        if any(column.role is role for column in columns):
            continue
        findings.problem(
            "missing-column",
            f"no column is called '{role}'",
            line=line,
            name=role.value,
            read=", ".join(header),
            allowed="a header line with at least 'group' and 'load' (or 'load_N', 'load_kN', "
            "'load_kgf', 'load_lbf')",
            do=f"Name the column '{example}' in the first line. If the first line already holds "
            "a piece, put a header line above it.",
        )


def _check_loads(columns: Sequence[Column], line: int, findings: Findings) -> None:
    loads = [column for column in columns if column.role is Role.LOAD]
    numbered = [column for column in loads if column.number is not None]
    if numbered and len(numbered) < len(loads):
        plain = next(column for column in loads if column.number is None)
        findings.problem(
            "load-columns",
            "there is a plain load column beside numbered ones",
            line=line,
            column=plain.place,
            name=plain.written,
            read=", ".join(column.written for column in loads),
            allowed="'load' alone, or 'load_1', 'load_2', … for displays that shared the load",
            do="If it is the sum that all displays showed at one moment, call it 'together'.",
        )
    numbers = sorted({column.number for column in numbered if column.number is not None})
    if numbers and numbers != list(range(1, len(numbers) + 1)):
        findings.problem(
            "load-columns",
            "the numbered load columns do not run 1, 2, 3, …",
            line=line,
            column=numbered[0].place,
            name=numbered[0].written,
            read=", ".join(column.written for column in numbered),
            allowed="load_1, load_2, … without a gap; load_1 is the first instrument",
            do="Number them from 1, or add the missing column.",
        )
    together = next((column for column in columns if column.role is Role.TOGETHER), None)
    if together is not None and len(numbered) < 2:
        findings.problem(
            "load-columns",
            "'together' is the largest sum on several displays, but fewer than two numbered load "
            "columns are there",
            line=line,
            column=together.place,
            name=together.written,
            allowed="'together' beside load_1, load_2, …",
            do="If the sum is all that was noted, call the column 'load'.",
        )


def _check_slips(columns: Sequence[Column], line: int, findings: Findings) -> None:
    # A slip in 'void' or 'failure' would change the answer, so near names are not kept as words.
    there = {column.role for column in columns}
    for column in columns:
        if column.role is not Role.OTHER:
            continue
        meant = [
            name
            for name, role in _NAMED.items()
            if role not in there and is_one_slip(column.name, name)
        ]
        if meant:
            findings.problem(
                "column-nearly",
                f"the column '{column.written}' is nearly {listed(meant)}: which was meant?",
                line=line,
                column=column.place,
                name=column.written,
                read=column.written,
                allowed=", ".join(_NAMED),
                do=f"Call it '{meant[0]}', or give it a name further away to keep it as it is.",
            )
