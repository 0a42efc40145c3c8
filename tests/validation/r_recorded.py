"""What R was recorded to say: the CSV files in ``r/``, each made by a script beside it."""

import csv
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from breakwright.stats.families import FAMILIES, NORMAL

FAMILY = {family.name: family for family in (*FAMILIES, NORMAL)}


def rows(name: str) -> list[dict[str, str]]:
    """The records of one file; the first line, which says the versions, is a comment."""
    path = Path(__file__).parent / "r" / name
    with path.open(encoding="utf-8", newline="") as stream:
        version = stream.readline()
        assert version.startswith("# recorded with R version"), path
        return list(csv.DictReader(stream))


def by_id(name: str) -> Iterator[tuple[str, dict[str, np.ndarray], list[dict[str, str]]]]:
    """Each data set of a file with its columns as arrays (text where not a number)."""
    grouped: dict[str, list[dict[str, str]]] = {}
    for row in rows(name):
        grouped.setdefault(row["id"], []).append(row)
    for key, members in grouped.items():
        yield key, {column: _array([m[column] for m in members]) for column in members[0]}, members


def _array(cells: list[str]) -> np.ndarray:
    try:
        return np.array([float(cell) for cell in cells])
    except ValueError:
        return np.array(cells)


def values(source: str, family: str = "") -> dict[str, float]:
    """One source's numbers from ``check_values.csv``, by name."""
    return {
        row["name"]: float(row["value"])
        for row in rows("check_values.csv")
        if row["source"] == source and row["family"] == family
    }


def loads(case: str, *, group: str = "", family: str = "") -> dict[str, float]:
    """One case's numbers from ``loads.csv``, by name."""
    return {
        row["name"]: float(row["value"])
        for row in rows("loads.csv")
        if (row["case"], row["group"], row["family"]) == (case, group, family)
    }
