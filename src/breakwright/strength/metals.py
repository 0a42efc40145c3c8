"""Metals by name: least yield and tensile strength, and stiffness."""

import difflib
from dataclasses import dataclass

from breakwright.model.errors import BreakwrightError
from breakwright.strength.metal_tables import table

__all__ = ["Metal", "UnknownMetal", "find_metal"]

_ALSO = {
    "steel": "mild steel",
    "s235": "mild steel",
    "aluminium": "aluminium 6061-t6",
    "aluminum": "aluminium 6061-t6",
    "aluminum 6061-t6": "aluminium 6061-t6",
}


@dataclass(frozen=True, slots=True)
class Metal:
    """Least values of a metal (MPa)."""

    name: str
    yield_MPa: float  # noqa: N815
    tensile_MPa: float  # noqa: N815
    moe_MPa: float  # noqa: N815


class UnknownMetal(BreakwrightError, LookupError):
    """A metal that the table does not hold."""

    def __init__(self, name: str, nearest: tuple[str, ...]) -> None:
        self.name = name
        self.nearest = nearest
        super().__init__(f"metal {name!r}: not in the table")


def find_metal(name: str) -> Metal:
    """Return the table's values of a metal.

    >>> find_metal("Steel").yield_MPa
    235.0
    """
    key = " ".join(name.strip().casefold().split())
    key = _ALSO.get(key, key)
    known = {row["metal"]: row for row in table("metals.csv")}
    if key not in known:
        near = tuple(difflib.get_close_matches(key, [*known, *_ALSO], n=3, cutoff=0.5))
        raise UnknownMetal(name, near or tuple(known))
    row = known[key]
    return Metal(key, float(row["yield_MPa"]), float(row["tensile_MPa"]), float(row["moe_MPa"]))
