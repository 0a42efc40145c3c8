"""The unit at the end of a part's key, and the one that the house reckons in instead of it."""

from collections.abc import Mapping
from types import MappingProxyType

from breakwright.model.units import NEWTONS_PER, ForceUnit

__all__ = ["house_key"]

_MM_PER_INCH = 25.4
_MPA_PER_PSI = 0.45359237 * 9.80665 / (_MM_PER_INCH * _MM_PER_INCH)
_KG_M3_PER_LB_FT3 = 0.45359237 / (12.0 * _MM_PER_INCH / 1000.0) ** 3

# Ending -> (the house's ending, factor). The longest ending that fits is taken.
_ENDINGS: Mapping[str, tuple[str, float]] = MappingProxyType(
    {
        "_cm": ("_mm", 10.0),
        "_m": ("_mm", 1000.0),
        "_in": ("_mm", _MM_PER_INCH),
        "_kN": ("_N", NEWTONS_PER[ForceUnit.KN]),
        "_kgf": ("_N", NEWTONS_PER[ForceUnit.KGF]),
        "_lbf": ("_N", NEWTONS_PER[ForceUnit.LBF]),
        "_GPa": ("_MPa", 1000.0),
        "_N_mm2": ("_MPa", 1.0),
        "_psi": ("_MPa", _MPA_PER_PSI),
        "_ksi": ("_MPa", 1000.0 * _MPA_PER_PSI),
        "_g_cm3": ("_kg_m3", 1000.0),
        "_lb_ft3": ("_kg_m3", _KG_M3_PER_LB_FT3),
    }
)
_KEPT = ("_per_in", "_per_m")


def house_key(key: str) -> tuple[str, float]:
    """Return the key in the house's unit, and what its number must be multiplied with.

    Every inch and pound here is exact by definition (international yard and pound, 1959).

    >>> house_key("thickness_in"), house_key("thickness_mm"), house_key("threads_per_in")
    (('thickness_mm', 25.4), ('thickness_mm', 1.0), ('threads_per_in', 1.0))
    """
    if not key.endswith(_KEPT):
        for ending in sorted(_ENDINGS, key=len, reverse=True):
            if key.endswith(ending) and len(key) > len(ending):
                house, factor = _ENDINGS[ending]
                return key.removesuffix(ending) + house, factor
    return key, 1.0
