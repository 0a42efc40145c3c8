"""Members of the frame: wooden and metal beams on two supports, and posts."""

from collections.abc import Mapping
from types import MappingProxyType

from breakwright.strength.beams import beam_bending_load, beam_shear_load
from breakwright.strength.deflection import beam_deflection, post_shortening
from breakwright.strength.kind_words import metal_numbers, metal_sentences
from breakwright.strength.mechanism import Floats, Key, KeyUse, Kind, Mechanism, Values
from breakwright.strength.metal_beams import metal_beam_deflection, metal_beam_load
from breakwright.strength.posts import post_load
from breakwright.strength.trust import Trust

__all__ = ["BEAM", "METAL_BEAM", "POST"]

# Lumber with knots has about half the bending strength of clear wood (from memory).
_KNOTS = 0.5
_NO_SHEAR = ("fibreboard", "plastic")
_WIDTH = Key("width_mm", "width, across the load", KeyUse.SIZE, 3.0, 1000.0)
_DEPTH = Key("depth_mm", "depth, in the direction of the load", KeyUse.SIZE, 3.0, 2000.0)
_SPAN = Key("span_mm", "distance between the two supports", KeyUse.SETTING, 10.0, 20_000.0)
_SPREAD = Key(
    "spread_mm",
    "length in the middle over which the load is spread; 0 for a point",
    KeyUse.SETTING,
    0.0,
    20_000.0,
    default=0.0,
)
_MOE = Key("moe_MPa", "modulus of elasticity", KeyUse.PROPERTY, 100.0, 250_000.0, cv=0.22)


def _bending(v: Values) -> Floats:
    return beam_bending_load(
        v["mor_MPa"],
        width_mm=v["width_mm"],
        depth_mm=v["depth_mm"],
        span_mm=v["span_mm"],
        spread_mm=v["spread_mm"],
    )


def _beam_give(v: Values, load: Floats) -> Floats:
    return beam_deflection(
        load,
        width_mm=v["width_mm"],
        depth_mm=v["depth_mm"],
        span_mm=v["span_mm"],
        spread_mm=v["spread_mm"],
        moe_MPa=v["moe_MPa"],
        e_over_g=v["e_over_g"],
    )


def _check_spread(numbers: Mapping[str, float], words: Mapping[str, str]) -> tuple[str, ...]:
    found = list(metal_sentences(words))
    spread, span = numbers.get("spread_mm", 0.0), numbers.get("span_mm")
    if span is not None and spread > span:
        found.append(
            f"spread_mm is {spread:.4g}, longer than the span ({span:.4g} mm); give the length of "
            "the load between the supports."
        )
    wall = numbers.get("wall_mm", 0.0)
    sides = [numbers[k] for k in ("width_mm", "depth_mm") if k in numbers]
    if wall > 0.0 and sides and 2.0 * wall >= min(sides):
        found.append(
            f"wall_mm is {wall:.4g}: two walls fill the section ({min(sides):.4g} mm); leave "
            "wall_mm out for a solid bar."
        )
    return tuple(found)


_BENDING_NEEDS = ("width_mm", "depth_mm", "span_mm", "spread_mm", "mor_MPa")
_BENDING_SOURCE = "Wood Handbook (2021) equations 9-13 and 9-18"

BEAM = Kind(
    name="beam",
    meaning="a wooden beam on two supports, loaded in the middle or spread about it",
    keys=(
        _WIDTH,
        _DEPTH,
        _SPAN,
        _SPREAD,
        Key(
            "mor_MPa", "bending strength (modulus of rupture)", KeyUse.PROPERTY, 1.0, 500.0, cv=0.16
        ),
        Key("shear_MPa", "shear strength along the grain", KeyUse.PROPERTY, 0.1, 200.0, cv=0.14),
        _MOE,
        Key(
            "e_over_g",
            "modulus of elasticity over shear modulus: about 16 for wood",
            KeyUse.PROPERTY,
            2.0,
            60.0,
            default=16.0,
        ),
    ),
    words=MappingProxyType({"material": None, "knots": ("no", "yes")}),
    mechanisms=(
        Mechanism(
            "beam bends and breaks",
            _bending,
            _BENDING_NEEDS,
            Trust.GOOD,
            _BENDING_SOURCE,
            notes=('clear straight-grained wood; for lumber say knots = "yes"',),
            when=lambda w: w.get("knots") != "yes",
        ),
        Mechanism(
            "beam bends and breaks",
            lambda v: _KNOTS * _bending(v),
            _BENDING_NEEDS,
            Trust.ORDER,
            f"{_BENDING_SOURCE}; knots halve the strength (from memory)",
            notes=("keep knots away from the middle and from the lower edge",),
            when=lambda w: w.get("knots") == "yes",
        ),
        Mechanism(
            "beam shears along the grain",
            lambda v: beam_shear_load(
                v["shear_MPa"],
                width_mm=v["width_mm"],
                depth_mm=v["depth_mm"],
                span_mm=v["span_mm"],
            ),
            ("width_mm", "depth_mm", "span_mm", "shear_MPa"),
            Trust.GOOD,
            "Wood Handbook (2021) equations 9-14 and 9-20",
            notes=("unchecked wood; end splits take much of it",),
            when=lambda w: w.get("material_class") not in _NO_SHEAR,
        ),
    ),
    deflection=_beam_give,
    check=_check_spread,
)


def _complete_metal(_numbers: Mapping[str, float], words: Mapping[str, str]) -> Mapping[str, float]:
    return {k: x for k, x in metal_numbers(words).items() if k != "tensile_MPa"}


METAL_BEAM = Kind(
    name="metal beam",
    meaning="a metal bar or box section on two supports",
    keys=(
        _WIDTH,
        _DEPTH,
        Key(
            "wall_mm",
            "wall of a box section; 0 for a solid bar",
            KeyUse.SIZE,
            0.0,
            100.0,
            default=0.0,
        ),
        _SPAN,
        _SPREAD,
        Key(
            "yield_MPa",
            'yield strength; or say metal = "mild steel"',
            KeyUse.PROPERTY,
            10.0,
            2000.0,
            cv=0.05,
        ),
        Key(
            "moe_MPa",
            'modulus of elasticity; or say metal = "mild steel"',
            KeyUse.PROPERTY,
            1000.0,
            250_000.0,
        ),
    ),
    words=MappingProxyType({"metal": None}),
    mechanisms=(
        Mechanism(
            "beam bends for good",
            lambda v: metal_beam_load(
                v["yield_MPa"],
                width_mm=v["width_mm"],
                depth_mm=v["depth_mm"],
                wall_mm=v["wall_mm"],
                span_mm=v["span_mm"],
                spread_mm=v["spread_mm"],
            ),
            ("width_mm", "depth_mm", "wall_mm", "span_mm", "spread_mm", "yield_MPa"),
            Trust.GOOD,
            "statics, least yield strength",
            characteristic=True,
            cv_if_characteristic=0.05,
            notes=("put a plate under the load: thin walls dent before the beam bends",),
        ),
    ),
    complete=_complete_metal,
    deflection=lambda v, load: metal_beam_deflection(
        load,
        width_mm=v["width_mm"],
        depth_mm=v["depth_mm"],
        wall_mm=v["wall_mm"],
        span_mm=v["span_mm"],
        spread_mm=v["spread_mm"],
        moe_MPa=v["moe_MPa"],
    ),
    check=_check_spread,
)

POST = Kind(
    name="post",
    meaning="a wooden post pushed along its grain",
    keys=(
        _WIDTH,
        Key("depth_mm", "other side of the section", KeyUse.SIZE, 3.0, 2000.0),
        Key("length_mm", "free length", KeyUse.SIZE, 5.0, 20_000.0),
        Key(
            "end_factor",
            "buckling length over length: 1 both ends held, 2.1 one end free",
            KeyUse.SETTING,
            0.5,
            2.5,
            default=1.0,
        ),
        Key(
            "comp_par_MPa",
            "compression strength along the grain",
            KeyUse.PROPERTY,
            1.0,
            300.0,
            cv=0.18,
        ),
        _MOE,
    ),
    words=MappingProxyType({"material": None}),
    mechanisms=(
        Mechanism(
            "post crushes or buckles",
            lambda v: post_load(
                v["comp_par_MPa"],
                v["moe_MPa"],
                width_mm=v["width_mm"],
                depth_mm=v["depth_mm"],
                buckling_mm=v["end_factor"] * v["length_mm"],
            ),
            ("width_mm", "depth_mm", "length_mm", "end_factor", "comp_par_MPa", "moe_MPa"),
            Trust.GOOD,
            "Wood Handbook (2021) equation 9-25; Ylinen as in the NDS (from memory)",
            notes=("load in the middle of the end; off to one side it bears less",),
        ),
    ),
    deflection=lambda v, load: post_shortening(
        load,
        width_mm=v["width_mm"],
        depth_mm=v["depth_mm"],
        length_mm=v["length_mm"],
        moe_MPa=v["moe_MPa"],
    ),
)
