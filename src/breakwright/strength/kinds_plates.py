"""Plates over two supports: how they bend and shear at a hole, and the one with a plain hole."""

from collections.abc import Mapping
from types import MappingProxyType

from breakwright.strength.deflection import beam_deflection
from breakwright.strength.kind_words import metal_numbers, metal_sentences
from breakwright.strength.mechanism import Floats, Key, KeyUse, Kind, Mechanism, Values
from breakwright.strength.plates import plate_bending_load, plate_shear_load
from breakwright.strength.trust import Trust

__all__ = [
    "PLATE_KEYS",
    "PLATE_WITH_HOLE",
    "PLATE_WORDS",
    "bending_mechanisms",
    "is_metal",
    "plate_sag",
]

_MINIMUM_CV = 0.05
# No shear strength through the thickness is known for these.
_NO_SHEAR = ("fibreboard", "plastic")
_GRAIN = "solid wood: only with the grain running from support to support"
_NO_SHEAR_NOTE = "shear along the plate is not reckoned for fibreboard and plastic"


def is_metal(w: Mapping[str, str]) -> bool:
    """Whether the words name a metal, so that wood's ways of breaking do not apply."""
    return "metal" in w


def _bends(w: Mapping[str, str]) -> bool:
    return w.get("supports") != "all round"


def _bends_wood(w: Mapping[str, str]) -> bool:
    return _bends(w) and not is_metal(w)


def _is_ply(w: Mapping[str, str]) -> bool:
    return w.get("material_class") == "plywood"


def _shears_solid(w: Mapping[str, str]) -> bool:
    return _bends_wood(w) and not _is_ply(w) and w.get("material_class") not in _NO_SHEAR


def _plate_load(v: Values, strength: Floats, hole: Floats) -> Floats:
    return plate_bending_load(
        strength,
        width_mm=v["width_mm"],
        thickness_mm=v["thickness_mm"],
        hole_mm=hole,
        span_mm=v["span_mm"],
    )


def _shear_load(v: Values, strength: Floats, hole: Floats) -> Floats:
    return plate_shear_load(
        strength, width_mm=v["width_mm"], thickness_mm=v["thickness_mm"], hole_mm=hole
    )


def plate_sag(v: Values, load: Floats) -> Floats:
    """Return how far a plate gives (mm); not at all where it lies on its support all round."""
    if "span_mm" not in v:
        return 0.0 * load
    return beam_deflection(
        load,
        width_mm=v["width_mm"],
        depth_mm=v["thickness_mm"],
        span_mm=v["span_mm"],
        spread_mm=0.0 * v["span_mm"],
        moe_MPa=v["moe_MPa"],
        e_over_g=v["e_over_g"],
    )


def bending_mechanisms(hole: str) -> tuple[Mechanism, ...]:
    """How a plate over two supports breaks; ``hole`` names the number that is the hole's size."""
    sizes = ("width_mm", "thickness_mm", hole)
    return (
        Mechanism(
            "plate bends and cracks",
            lambda v: _plate_load(v, v["mor_MPa"], v[hole]),
            (*sizes, "span_mm", "mor_MPa"),
            Trust.FAIR,
            "statics on the net section (common practice, no source)",
            notes=(_GRAIN, _NO_SHEAR_NOTE),
            when=_bends_wood,
        ),
        Mechanism(
            "plate shears",
            lambda v: _shear_load(v, v["shear_MPa"], v[hole]),
            (*sizes, "shear_MPa"),
            Trust.FAIR,
            "Wood Handbook (2021) equation 9-14 on the net section",
            notes=(_GRAIN,),
            when=_shears_solid,
        ),
        Mechanism(
            "plate shears",
            lambda v: _shear_load(v, v["rolling_shear_MPa"], v[hole]),
            (*sizes, "rolling_shear_MPa"),
            Trust.FAIR,
            "Wood Handbook (2021) equation 9-14 on the net section, with rolling shear",
            when=lambda w: _bends_wood(w) and _is_ply(w),
        ),
        Mechanism(
            "plate bends for good",
            lambda v: _plate_load(v, v["yield_MPa"], v[hole]),
            (*sizes, "span_mm", "yield_MPa"),
            Trust.GOOD,
            "statics on the net section, least yield strength",
            characteristic=True,
            cv_if_characteristic=_MINIMUM_CV,
            when=lambda w: _bends(w) and is_metal(w),
        ),
    )


PLATE_KEYS = (
    Key("thickness_mm", "thickness of the plate", KeyUse.SIZE, 0.5, 200.0),
    Key("width_mm", "width of the plate, across the span", KeyUse.SIZE, 5.0, 2000.0),
    Key("span_mm", "clear distance between the two supports", KeyUse.SETTING, 5.0, 3000.0),
    Key("mor_MPa", "bending strength", KeyUse.PROPERTY, 1.0, 500.0, cv=0.16),
    Key("shear_MPa", "shear strength along the grain", KeyUse.PROPERTY, 0.1, 200.0, cv=0.14),
    Key(
        "rolling_shear_MPa",
        "shear strength of plywood across its plies",
        KeyUse.PROPERTY,
        0.1,
        50.0,
        cv=0.2,
    ),
    Key("moe_MPa", "modulus of elasticity", KeyUse.PROPERTY, 100.0, 250_000.0, cv=0.22),
    Key(
        "e_over_g",
        "modulus of elasticity over shear modulus: 16 wood, 2.6 metal",
        KeyUse.PROPERTY,
        2.0,
        60.0,
        default=16.0,
    ),
    Key("yield_MPa", "yield strength of a metal plate", KeyUse.PROPERTY, 10.0, 2000.0, cv=0.05),
)
PLATE_WORDS = {"material": None, "metal": None, "supports": ("two", "all round")}


def _complete_plate(_numbers: Mapping[str, float], words: Mapping[str, str]) -> Mapping[str, float]:
    found = {k: x for k, x in metal_numbers(words).items() if k != "tensile_MPa"}
    if "metal" in words:
        found["e_over_g"] = 2.6
    return found


def _check_plate(numbers: Mapping[str, float], words: Mapping[str, str]) -> tuple[str, ...]:
    hole, width = numbers.get("hole_mm"), numbers.get("width_mm")
    if hole is None or width is None or hole < width:
        return metal_sentences(words)
    return (
        *metal_sentences(words),
        f"hole_mm is {hole:.4g}: as wide as the plate ({width:.4g} mm); give "
        "the plate's full width.",
    )


PLATE_WITH_HOLE = Kind(
    name="plate with hole",
    meaning="a plate with a plain hole over two supports, pulled or pushed at the hole",
    keys=(Key("hole_mm", "diameter of the hole", KeyUse.SIZE, 0.5, 500.0), *PLATE_KEYS),
    words=MappingProxyType({"material": None, "metal": None}),
    mechanisms=bending_mechanisms("hole_mm"),
    complete=_complete_plate,
    deflection=plate_sag,
    check=_check_plate,
)
