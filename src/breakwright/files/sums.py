"""The columns whose unit follows the loads: the largest sum at one moment, the loading rate."""

from collections.abc import Sequence

from breakwright.files.columns import Column
from breakwright.files.findings import Findings
from breakwright.files.number_cells import Style, read_numbers
from breakwright.files.options import Negative
from breakwright.files.table import Table
from breakwright.model.interval import Interval
from breakwright.model.units import NEWTONS_PER, ForceUnit

__all__ = ["read_rates", "read_together"]

# What was typed as decimals and added up as binary fractions differs in the last digits.
_ROUNDING = 1e-9


def read_rates(
    table: Table, column: Column, style: Style, *, unit: ForceUnit, findings: Findings
) -> list[float | None]:
    """Return the loading rates in N/s."""
    values = read_numbers(table, column, style, findings)
    for value, row, line in zip(values, table.rows, table.lines, strict=True):
        if value is not None and value <= 0.0:
            findings.problem(
                "bad-rate",
                "a loading rate is more than 0",
                line=line,
                column=column.place,
                name=column.written,
                read=row[column.index],
                allowed="a number above 0, or empty where the rate is not known",
                do="Write how fast the load rose, without a sign, or empty the cell.",
            )
    return [None if v is None else v * NEWTONS_PER[unit] for v in values]


def read_together(
    table: Table,
    column: Column,
    style: Style,
    *,
    unit: ForceUnit,
    loads: Sequence[Sequence[Interval | None]],
    negative: Negative,
    findings: Findings,
) -> list[float | None]:
    """Return the largest sums seen at one moment (N); none may exceed the sum of the peaks."""
    values = read_numbers(table, column, style, findings)
    sums: list[float | None] = []
    for i, value in enumerate(values):
        if value is None:
            sums.append(None)
            continue
        newtons = (abs(value) if negative is Negative.BY_SIZE else value) * NEWTONS_PER[unit]
        shown = [of_column[i] for of_column in loads]
        peaks = sum(interval.upper for interval in shown if interval is not None)
        sums.append(newtons)
        if newtons <= 0.0:
            _refuse(
                table,
                column,
                i,
                "the largest sum on all displays is more than 0",
                "a number above 0, or empty where no sum was noted",
                "Write the size of the sum without a sign (--negative by-size does so for the "
                "whole sheet), or empty the cell.",
                findings,
            )
        elif all(shown) and newtons > peaks * (1.0 + _ROUNDING):
            _refuse(
                table,
                column,
                i,
                "this sum at one moment is larger than the peaks of all displays added up",
                f"at most {peaks / NEWTONS_PER[unit]:.9g} here",
                "Correct the sum or one of the peaks; if a display went over its range, write "
                "that peak as >440.",
                findings,
            )
    return sums


def _refuse(
    table: Table,
    column: Column,
    row: int,
    message: str,
    allowed: str,
    do: str,
    findings: Findings,
) -> None:
    findings.problem(
        "bad-sum",
        message,
        line=table.lines[row],
        column=column.place,
        name=column.written,
        read=table.rows[row][column.index],
        allowed=allowed,
        do=do,
    )
