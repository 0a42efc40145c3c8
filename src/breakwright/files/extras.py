"""Columns of people's own: numbers become covariates, everything else is kept as words."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import TypeVar

from breakwright.files.columns import Column
from breakwright.files.findings import Findings
from breakwright.files.numerals import is_number
from breakwright.files.table import Table

__all__ = ["by_row", "is_measured", "split_by_content"]

T = TypeVar("T")

# A column whose name ends so was measured: a word in it is a slip, not a kind of piece.
_MEASURED = (
    *("_mm", "_mm2", "_mm3", "_cm", "_cm2", "_cm3", "_m", "_m2", "_g", "_kg", "_kg_m3", "_g_cm3"),
    *("_pct", "_percent", "_h", "_hours", "_min", "_s", "_d", "_days", "_c", "_deg"),
    *("_n", "_kn", "_mpa", "_nmm", "_j"),
)


def split_by_content(
    table: Table, columns: Sequence[Column], findings: Findings
) -> tuple[list[Column], list[Column]]:
    """Return the columns to read as numbers and those to keep as words; empty ones are neither.

    Words are remarked on, with how many of the cells are numbers: a column meant as numbers
    can end up here by one typing error.
    """
    numeric: list[Column] = []
    worded: list[Column] = []
    for column in columns:
        cells = [cell for cell in table.column(column.index) if cell]
        if not cells:
            continue
        numbers = sum(map(is_number, cells))
        if numbers == len(cells) or is_measured(column.name):
            numeric.append(column)
            continue
        worded.append(column)
        findings.remark(
            "column-kept-as-words",
            {"column": column.written, "numbers": numbers, "cells": len(cells)},
        )
    return numeric, worded


def is_measured(name: str) -> bool:
    """Is this the name of a column of numbers, whatever is in it?

    >>> is_measured("mass_g"), is_measured("board")
    (True, False)
    """
    return name.endswith(_MEASURED)


def by_row(columns: Mapping[str, Sequence[T | None]], rows: int) -> list[Mapping[str, T]]:
    """Turn columns into one mapping a row, without the empty cells.

    >>> [dict(row) for row in by_row({"mass_g": [1.5, None]}, 2)]
    [{'mass_g': 1.5}, {}]
    """
    if not columns:
        nothing: Mapping[str, T] = MappingProxyType({})
        return [nothing] * rows
    names = tuple(columns)
    return [
        MappingProxyType(
            {name: cell for name, cell in zip(names, cells, strict=True) if cell is not None}
        )
        for cells in zip(*columns.values(), strict=True)
    ]
