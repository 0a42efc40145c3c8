"""Columns of numbers: which decimal mark they use, and what is wrong with a cell that is none."""

import math
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from breakwright.files.columns import Column
from breakwright.files.findings import Findings
from breakwright.files.numerals import Decimal, Evidence, gather_evidence, is_number, parse_number
from breakwright.files.table import Table

__all__ = ["Style", "Wrong", "column_styles", "read_numbers", "report_wrong", "what_is_wrong"]

_MARKS = {Decimal.POINT: "decimal point", Decimal.COMMA: "decimal comma"}
# '4l2' is a slip, '412kgf' and '412 mm2' are units.
_WITH_WORD = re.compile(
    r"([+\-−]?[\d.,'’\u00a0\u202f\u2009]*\d)(?:\s*([^\W\d_]\D*|[%°].*)|\s+([^\W\d_].*))", re.ASCII
)


@dataclass(frozen=True, slots=True)
class Style:
    """How the numbers of one column are written; ``proof`` says from where that is known."""

    decimal: Decimal
    proof: str | None = None


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is wrong with one cell, before its place is known."""

    code: str
    message: str
    allowed: str
    do: str


def column_styles(
    table: Table,
    columns: Sequence[Column],
    *,
    numbers_in: Callable[[Column, str], Iterable[str]],
    answered: Decimal | None,
    findings: Findings,
) -> Mapping[int, Style]:
    """Return the style of each column by its index; what stays open is noted as a question.

    A column that proves nothing takes the style of the others, with a remark, if they agree.
    """
    if answered is not None:
        return {c.index: Style(answered, f"--decimal {answered}") for c in columns}
    evidence = {c.index: _evidence(table, c, numbers_in) for c in columns}
    proven = {e.decimal for e in evidence.values() if e.decimal is not None}
    styles: dict[int, Style] = {}
    for column in columns:
        found = evidence[column.index]
        if found.decimal is not None and found.proof is not None:
            cell = table.rows[found.proof][column.index]
            styles[column.index] = Style(
                found.decimal, f"line {table.lines[found.proof]}: '{cell}'"
            )
        elif found.unclear is None:
            styles[column.index] = Style(Decimal.POINT)
        elif len(proven) == 1:
            styles[column.index] = _from_others(
                next(iter(proven)), table, column, found.unclear, findings
            )
        else:
            _ask_decimal(table, column, found.unclear, findings)
            styles[column.index] = Style(Decimal.POINT)
    return styles


def _evidence(
    table: Table, column: Column, numbers_in: Callable[[Column, str], Iterable[str]]
) -> Evidence:
    index = column.index
    return gather_evidence(
        (place, number)
        for place, row in enumerate(table.rows)
        if "." in row[index] or "," in row[index]
        for number in numbers_in(column, row[index])
    )


def _from_others(
    decimal: Decimal, table: Table, column: Column, unclear: int, findings: Findings
) -> Style:
    cell = table.rows[unclear][column.index]
    findings.remark(
        "decimal-from-sheet",
        {"column": column.written, "cell": cell, "decimal": decimal.value},
    )
    return Style(decimal, f"the other columns use the {_MARKS[decimal]}")


def _ask_decimal(table: Table, column: Column, unclear: int, findings: Findings) -> None:
    cell = table.rows[unclear][column.index]
    findings.problem(
        "decimal-unclear",
        f"is '{cell}' a number with a fraction, or thousands? No cell of this column settles "
        "whether comma or point is the decimal mark",
        line=table.lines[unclear],
        column=column.place,
        name=column.written,
        read=cell,
        allowed="412.5 or 1,234.5 (decimal point); 412,5 or 1.234,5 (decimal comma)",
        do="Give --decimal point or --decimal comma.",
    )


def what_is_wrong(cell: str, style: Style) -> Wrong:
    """Say why ``cell`` is not a number in this style."""
    other = style.decimal.other
    if parse_number(cell, other) is not None:
        proof = f" ({style.proof})" if style.proof else ""
        return Wrong(
            "mixed-decimal",
            f"this number uses a {_MARKS[other]}, but the column uses the "
            f"{_MARKS[style.decimal]}{proof}",
            f"one decimal mark in the whole column: the {_MARKS[style.decimal]}",
            "Write this number like the others.",
        )
    match = _WITH_WORD.fullmatch(cell)
    if match and is_number(match[1]):
        return Wrong(
            "unit-in-cell",
            f"'{(match[2] or match[3]).strip()}' is written after the number",
            "a number alone; the unit stands in the header, as in load_kgf or mass_g",
            "Move the unit to the header and take it out of the cells.",
        )
    if cell.lower().lstrip("+-−") in ("inf", "infinity", "nan", "na", "n/a", "-", "none", "null"):
        return Wrong(
            "not-a-number",
            "this is not a number",
            "a number, or an empty cell where nothing was measured",
            "Leave the cell empty if there is no value.",
        )
    if cell.startswith("#") and cell.endswith(("!", "?", "A")):
        return Wrong(
            "not-a-number",
            "this is a spreadsheet's error mark, not a number",
            "a number",
            "Mend the formula in the spreadsheet and export the sheet again.",
        )
    return Wrong(
        "not-a-number",
        "this is not a number",
        "a number such as 412, 412.5 or 412,5, without spaces",
        "Correct the cell, or leave it empty if there is no value.",
    )


def report_wrong(wrong: Wrong, cell: str, column: Column, line: int, findings: Findings) -> None:
    """Note what is wrong with the cell of ``column`` on ``line``."""
    findings.problem(
        wrong.code,
        wrong.message,
        line=line,
        column=column.place,
        name=column.written,
        read=cell,
        allowed=wrong.allowed,
        do=wrong.do,
    )


def read_numbers(
    table: Table, column: Column, style: Style, findings: Findings
) -> list[float | None]:
    """Return the column's numbers, None for an empty cell (and for one that was noted)."""
    values: list[float | None] = []
    for cell, line in zip(table.column(column.index), table.lines, strict=True):
        if not cell:
            values.append(None)
            continue
        value = parse_number(cell, style.decimal)
        if value is None:
            report_wrong(what_is_wrong(cell, style), cell, column, line, findings)
        elif math.isinf(value):
            report_wrong(
                Wrong(
                    "number-too-large",
                    "this number is too large to be a measurement",
                    "numbers up to about 1e300",
                    "Correct the cell.",
                ),
                cell,
                column,
                line,
                findings,
            )
            value = None
        values.append(value)
    return values
