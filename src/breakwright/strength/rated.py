"""A part that its maker rated: jack, chain, shackle, eye bolt. It breaks at so many times that."""

import difflib
from dataclasses import dataclass

from breakwright.model.errors import BreakwrightError
from breakwright.strength.mechanism import Floats
from breakwright.strength.metal_tables import table

__all__ = ["Rating", "UnknownRatedPart", "find_rating", "rated_break_load"]


@dataclass(frozen=True, slots=True)
class Rating:
    """The usual factor between what a part is rated for and what breaks (or stops) it."""

    what: str
    factor: float
    meaning: str


class UnknownRatedPart(BreakwrightError, LookupError):
    """A rated part that the table does not hold."""

    def __init__(self, name: str, nearest: tuple[str, ...]) -> None:
        self.name = name
        self.nearest = nearest
        super().__init__(f"no usual factor is known for {name!r}")


def find_rating(what: str) -> Rating:
    """Return the usual factor of a rated part.

    >>> find_rating("Eye bolts").factor
    5.0
    """
    key = " ".join(what.strip().casefold().replace("-", " ").split())
    known = {row["what"]: row for row in table("ratings.csv")}
    for name in (key, key.removesuffix("s"), key.replace("eyebolt", "eye bolt").removesuffix("s")):
        if name in known:
            return Rating(name, float(known[name]["factor"]), known[name]["meaning"])
    near = tuple(difflib.get_close_matches(key, known, n=3, cutoff=0.5))
    raise UnknownRatedPart(what, near or tuple(known))


def rated_break_load(rated_N: Floats, factor: Floats) -> Floats:  # noqa: N803
    """Return the least load (N) at which a rated part breaks, or stops.

    F = n R.

    ``rated_N``: rated load R (working load limit), any shape; ``factor``: n, the maker's own
    where it is known.
    Range: parts marked by their maker, undamaged, pulled the way they are made for.

    >>> rated_break_load(5000.0, 5.0)
    25000.0

    Source: definition of a working load limit; the usual factors are common practice, no source.
    """
    return rated_N * factor
