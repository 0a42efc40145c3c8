"""The tables of threads, bolt grades, glues and ratings that come with the package."""

import csv
from functools import cache
from importlib.resources import files

__all__ = ["table"]


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of one of the package's CSV tables, by column.

    >>> table("bolts.csv")[0]["grade"]
    '4.6'
    """
    text = (files("breakwright.strength") / "data" / name).read_text("utf-8")
    return tuple(csv.DictReader(text.splitlines()))
