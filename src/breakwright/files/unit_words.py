"""The words people use for units of force, and those that name a mass instead."""

from collections.abc import Mapping
from types import MappingProxyType

from breakwright.model.errors import Problem
from breakwright.model.units import ForceUnit

__all__ = ["FORCE_OF_MASS", "FORCE_WORDS", "MASS_WORDS", "UNITS_ALLOWED", "read_unit"]

FORCE_WORDS: Mapping[str, ForceUnit] = MappingProxyType(
    {unit.value.lower(): unit for unit in ForceUnit}
)
MASS_WORDS: Mapping[str, str] = MappingProxyType(
    {"kg": "kg", "kgs": "kg", "kilo": "kg", "kilos": "kg", "lb": "lb", "lbs": "lb"}
)
FORCE_OF_MASS: Mapping[str, ForceUnit] = MappingProxyType(
    {"kg": ForceUnit.KGF, "lb": ForceUnit.LBF}
)
UNITS_ALLOWED = "N, kN, kgf or lbf"


def read_unit(word: str, *, file: str) -> ForceUnit | Problem:
    """Return the unit that ``word`` names, or the problem with it; ``file`` is where it stood.

    >>> read_unit("KGF", file="--unit")
    <ForceUnit.KGF: 'kgf'>
    >>> read_unit("kg", file="--unit").code
    'force-or-mass'
    """
    key = word.strip().lower()
    if key in FORCE_WORDS:
        return FORCE_WORDS[key]
    if key in MASS_WORDS:
        force = FORCE_OF_MASS[MASS_WORDS[key]]
        return Problem(
            code="force-or-mass",
            message=f"{force} or a mass? '{MASS_WORDS[key]}' is a unit of mass",
            file=file,
            column_name="unit",
            read=word,
            allowed=UNITS_ALLOWED,
            do=f"If the loads are what a hanging scale showed under a pull, write {force}.",
        )
    return Problem(
        code="unknown-unit",
        message=f"'{word}' is not a unit of force that is known here",
        file=file,
        column_name="unit",
        read=word,
        allowed=UNITS_ALLOWED,
        do="Write one of these; convert the loads first if they are in another unit.",
    )
