"""Units of force, converted at the edge; inside the house every load is in newtons."""

from enum import StrEnum
from types import MappingProxyType

__all__ = ["NEWTONS_PER", "ForceUnit", "from_newtons", "to_newtons"]


class ForceUnit(StrEnum):
    """A unit a load may be written in. The value is the symbol people type."""

    N = "N"
    KN = "kN"
    KGF = "kgf"
    LBF = "lbf"


# kgf: standard gravity 9.80665 m/s2 is exact (BIPM, The International System of Units, 9th ed.).
# lbf: NIST SP 811 (2008), appendix B.8, exact: 4.448 221 615 260 5 N.
NEWTONS_PER = MappingProxyType(
    {
        ForceUnit.N: 1.0,
        ForceUnit.KN: 1000.0,
        ForceUnit.KGF: 9.80665,
        ForceUnit.LBF: 4.4482216152605,
    }
)


def to_newtons(value: float, unit: ForceUnit) -> float:
    """Return ``value``, given in ``unit``, in newtons.

    >>> to_newtons(100.0, ForceUnit.KGF)
    980.665
    """
    return value * NEWTONS_PER[unit]


def from_newtons(newtons: float, unit: ForceUnit) -> float:
    """Return ``newtons`` in ``unit``.

    >>> from_newtons(980.665, ForceUnit.KGF)
    100.0
    """
    return newtons / NEWTONS_PER[unit]
