"""What was typed at the bench, read as the one row of a sheet by the reader of sheets."""

import csv
import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from breakwright.files.bench.defined import Defined
from breakwright.files.bench.numbers import canonical
from breakwright.files.columns import Role
from breakwright.files.findings import Findings
from breakwright.files.instruments import instruments_of_columns
from breakwright.files.load_cells import numbers_in_load
from breakwright.files.load_units import load_units
from breakwright.files.number_cells import Style, column_styles
from breakwright.files.numerals import Decimal, parse_number
from breakwright.files.options import ReadOptions
from breakwright.files.sheet import OpenSheet, open_sheet_text, read_rows
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import Entry
from breakwright.model.trial import Ending, Trial
from breakwright.model.units import NEWTONS_PER, ForceUnit

__all__ = ["READING", "EntryTexts", "canonical_entry", "ran_out", "read_entry"]

READING = "reading"

# What the reader of sheets tells people to do with options of the command line.
_AT_THE_BENCH = {
    "decimal-unclear": "Say whether the comma or the point is the decimal mark, or write the "
    "number without thousands marks.",
    "negative-load": "Write the size of the load, without the sign.",
    "mixed-signs": "Write the size of each load, without the sign.",
    "load-missing": "Write what was last shown. 0 if the display carried nothing; leave it empty "
    "and say 'the display went dark' if it was not seen. A piece of which nothing was read is "
    "left out with a reason.",
}


@dataclass(frozen=True, slots=True)
class EntryTexts:
    """An entry's numbers as texts with a decimal point, in its own unit; '' for nothing read."""

    loads: tuple[str, ...]
    together: str
    rate: str


def read_entry(study: Defined, entry: Entry, *, piece: str, group: str) -> Trial:
    """Return the trial that ``entry`` is, loads in N. Raises InputRefused with every problem.

    ``piece`` is the label and ``group`` the group of the piece that was loaded.
    """
    findings = Findings(READING)
    _check_displays(study, entry, findings)
    findings.refuse_if_any()
    loads = list(entry.loads)
    for place, load in ran_out(study, entry).items():
        loads[place] = f">{_without_mark(load)}"
    cells = _cells(study, entry, piece, group, loads)
    sheet = open_sheet_text(_row_text(cells), findings)
    if sheet is None:
        _refuse(findings)
        raise AssertionError("a row was not read, and no problem says why")
    units = load_units(sheet.loads, sheet.sums, stated=None, line=1, findings=findings)
    options = _options(entry)
    instruments = instruments_of_columns(
        study.instruments,
        len(study.instruments),
        sheet.loads,
        options=options,
        unit=ForceUnit(entry.unit),
        has_scale=Role.SCALE in sheet.of,
        line=1,
        findings=findings,
    )
    rows = read_rows(sheet, options, units=units, instruments=instruments, findings=findings)
    _check_one_style(sheet, entry, findings)
    _refuse(findings)
    return rows.trials()[0]


def ran_out(study: Defined, entry: Entry) -> Mapping[int, float]:
    """Return the places of displays that were left empty because they ran out of range, with the
    last load that each can show, in the entry's unit; only those whose capacity is known."""
    if entry.ended is not Ending.OVER_RANGE or len(entry.loads) != study.displays:
        return {}
    per = NEWTONS_PER[ForceUnit(entry.unit)]
    empty = [place for place, text in enumerate(entry.loads) if not text.strip()]
    usable = {place: _usable(study, entry, place) for place in empty}
    return {place: load / per for place, load in usable.items() if load is not None}


def _without_mark(value: float) -> str:
    """Return ``value`` without a decimal mark, which would settle those of its neighbours.

    >>> _without_mark(50.0), _without_mark(490.3325)
    ('50', '4903325e-4')
    """
    text = f"{value:.12g}"
    if "e" in text or "." not in text:
        return text
    whole, fraction = text.split(".")
    return f"{whole}{fraction}e-{len(fraction)}"


def canonical_entry(study: Defined, entry: Entry) -> EntryTexts:
    """Return the entry's numbers with a decimal point. A text that cannot be read stays as it
    was typed, for the reader of the sheet to say what is wrong with it."""
    together, rate = entry.together or "", entry.rate or ""
    texts = [text.strip() for text in (*entry.loads, together, rate)]
    if entry.decimal != Decimal.COMMA.value and all(map(_has_point_only, texts)):
        styles = [Decimal.POINT] * len(texts)
    else:
        styles = _styles_of(texts, entry)
    plain = [canonical(text, style) for text, style in zip(texts, styles, strict=True)]
    for place, load in ran_out(study, entry).items():
        plain[place] = f">{load:.12g}"
    return EntryTexts(tuple(plain[:-2]), plain[-2], plain[-1])


def _has_point_only(text: str) -> bool:
    """Can no mark in ``text`` be anything but the point of a fraction, if it is a load at all?"""
    numbers = [number for number in numbers_in_load(text) if number]
    return "," not in text and all(parse_number(n, Decimal.POINT) is not None for n in numbers)


def _styles_of(texts: Sequence[str], entry: Entry) -> list[Decimal]:
    findings = Findings(READING)
    names = [f"load_{i + 1}" for i in range(len(texts))]
    sheet = open_sheet_text(
        _row_text({"group": "x", **dict(zip(names, texts, strict=True))}), findings
    )
    if sheet is None:
        return [Decimal.POINT] * len(texts)
    styles = _styles(sheet, entry, findings)
    return [styles[column.index].decimal for column in sheet.loads]


def _styles(sheet: OpenSheet, entry: Entry, findings: Findings) -> Mapping[int, Style]:
    return column_styles(
        sheet.table,
        [*sheet.loads, *sheet.sums],
        numbers_in=lambda _, cell: numbers_in_load(cell),
        answered=_options(entry).decimal,
        findings=findings,
    )


def _options(entry: Entry) -> ReadOptions:
    return ReadOptions(decimal=None if entry.decimal is None else Decimal(entry.decimal))


def _usable(study: Defined, entry: Entry, place: int) -> float | None:
    if study.by_scale:
        found = next((i for i in study.instruments if i.name == entry.scale), None)
    else:
        found = study.instruments[place] if place < len(study.instruments) else None
    return None if found is None or found.capacity is None else found.usable


def _check_displays(study: Defined, entry: Entry, findings: Findings) -> None:
    if len(entry.loads) != study.displays:
        names = ", ".join(i.name for i in study.instruments) if study.shared else "the load"
        findings.problem(
            "display-count",
            f"{len(entry.loads)} loads came, but {study.displays} "
            f"{'is' if study.displays == 1 else 'are'} read of each piece",
            name="loads",
            read=", ".join(entry.loads),
            allowed=f"one text for each of: {names}",
            do="Send one for each display, '' for one that was not read.",
        )


def _cells(
    study: Defined, entry: Entry, piece: str, group: str, loads: Sequence[str]
) -> dict[str, str]:
    unit = entry.unit
    names = (
        [f"load_{i + 1}_{unit}" for i in range(len(loads))] if study.shared else [f"load_{unit}"]
    )
    cells = {"specimen": piece, "group": group, **dict(zip(names, loads, strict=True))}
    optional = {
        "ended": entry.ended.value,
        "failure": entry.failure,
        "note": entry.note,
        f"together_{unit}": entry.together,
        f"rate_{unit}_s": entry.rate,
        "date": entry.date,
        "order": None if entry.order is None else str(entry.order),
    }
    cells |= {name: text for name, text in optional.items() if text}
    if study.by_scale or entry.scale:
        cells["scale"] = entry.scale or ""
    return cells


def _row_text(cells: dict[str, str]) -> str:
    out = io.StringIO()
    # A carriage return on its own would end the row.
    values = [cell.replace("\r", "\n") for cell in cells.values()]
    csv.writer(out, lineterminator="\n").writerows([list(cells), values])
    return out.getvalue()


def _check_one_style(sheet: OpenSheet, entry: Entry, findings: Findings) -> None:
    """Note a comma and a point that are both decimal marks in one entry: one of them is a slip."""
    styles = _styles(sheet, entry, Findings(READING))
    proven = {
        style.decimal: c for c in (*sheet.loads, *sheet.sums) if (style := styles[c.index]).proof
    }
    if len(proven) > 1 and entry.decimal is None:
        column = proven[Decimal.COMMA]
        findings.problem(
            "mixed-decimal",
            "one number of this reading has a decimal point, another one a decimal comma",
            name=column.written,
            read=sheet.table.rows[0][column.index],
            allowed="one decimal mark throughout",
            do="Write both numbers the same way.",
        )


def _refuse(findings: Findings) -> None:
    """Raise what was found, without the places in the row: nobody has seen it."""
    if len(findings):
        raise InputRefused([_placeless(problem) for problem in findings.problems()])


def _placeless(problem: Problem) -> Problem:
    message = problem.message
    if problem.code == "decimal-unclear":
        # There are no other cells here that could settle it.
        message = message.partition("? ")[0] + "?"
    return replace(
        problem,
        message=message,
        line=None,
        column=None,
        do=_AT_THE_BENCH.get(problem.code, problem.do),
    )
