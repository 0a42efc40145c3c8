"""The package's property tables: one row a value, with its unit, source and status."""

import csv
import math
from dataclasses import dataclass
from functools import cache
from importlib import resources

__all__ = ["Names", "Row", "material_names", "middle_of_range", "rows"]

_NINE_TENTHS = 1.6448536269514722


@dataclass(frozen=True, slots=True)
class Row:
    """One value as its source prints it. ``what`` says how it is meant: 'mean', 'characteristic'
    (a 5th percentile or a guaranteed minimum), 'range' (low-high), 'green', or 'cv' (per cent)."""

    material: str
    property: str
    text: str
    what: str
    unit: str
    status: str
    source: str
    fact: str
    note: str


@dataclass(frozen=True, slots=True)
class Names:
    """A material's plain name, what sort of thing it is, and what else people call it."""

    name: str
    category: str
    also: tuple[str, ...]


@cache
def rows(table: str) -> tuple[Row, ...]:
    """Return the rows of one table of the package, by its file name without '.csv'."""
    return tuple(
        Row(
            material=r["material"],
            property=r["property"],
            text=r["value"],
            what=r["is"],
            unit=r["unit"],
            status=r["status"],
            source=r["source"],
            fact=r["fact"],
            note=r["note"],
        )
        for r in _read(table)
    )


@cache
def material_names() -> tuple[Names, ...]:
    """Return every material's names, in the order of the table."""
    return tuple(
        Names(r["name"], r["category"], tuple(a for a in r["also"].split(";") if a))
        for r in _read("names")
    )


def middle_of_range(low: float, high: float) -> tuple[float, float]:
    """Return the median and the coefficient of variation that a range of values stands for.

    median = sqrt(low high); log sigma = ln(high/low) / (2 x 1.645); CV = sqrt(exp(sigma^2) - 1).

    Args: ``low``, ``high``: ends of the range, in any one unit, 0 < low < high.

    Valid where a source gives only a range: it is taken as the middle nine tenths of a lognormal
    distribution.

    >>> middle, cv = middle_of_range(6.0, 13.0)
    >>> round(middle, 2), round(cv, 3)
    (8.83, 0.238)

    Source: the authors' reading of a range; no source.
    """
    sigma = math.log(high / low) / (2.0 * _NINE_TENTHS)
    return math.sqrt(low * high), math.sqrt(math.expm1(sigma * sigma))


def _read(table: str) -> list[dict[str, str]]:
    path = resources.files("breakwright.strength") / "data" / f"{table}.csv"
    with path.open(encoding="utf-8") as lines:
        return list(csv.DictReader(lines))
