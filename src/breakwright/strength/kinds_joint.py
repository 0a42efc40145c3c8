"""Kinds of part in which screws or nails fasten one piece of wood to another."""

from collections.abc import Mapping
from types import MappingProxyType

from breakwright.strength.combined import slanting_load
from breakwright.strength.fastener import ROOT_OF_SCREW, sheared_off
from breakwright.strength.joint_loads import (
    HEAD_STRENGTH,
    PULLED_THROUGH,
    SPLIT_NOTE,
    across,
    axial_characteristic,
    nail_shear,
    only_when,
    screw_pull,
    screw_shear,
    shear_ways,
)
from breakwright.strength.kinds_pull import screw_snaps, withdrawal_ways
from breakwright.strength.lateral_eurocode import embedding_strength
from breakwright.strength.mechanism import Key, KeyUse, Kind, Mechanism
from breakwright.strength.trust import Trust
from breakwright.strength.withdrawal import END_GRAIN_NAIL, END_GRAIN_SCREW, smooth_nail
from breakwright.strength.wood_keys import (
    CLASSES,
    DENSITY,
    GRAVITY,
    HEAD,
    HOLE,
    LAG_STEEL,
    PENETRATION,
    ROOT,
    SIDE_DENSITY,
    SIDE_GRAVITY,
    THREAD_LENGTH,
    hole_problem,
    size_from_table,
    size_problem,
)

__all__ = ["JOINT_KINDS"]

Numbers = Mapping[str, float]
Words = Mapping[str, str]

_SIDE = Key(
    "side_thickness_mm", "thickness of the piece under the head", KeyUse.SIZE, 2.0, 300.0, cv=0.02
)
_SCREW_SHEAR_NEEDS = (
    "density_kg_m3",
    "side_density_kg_m3",
    "specific_gravity",
    "diameter_mm",
    "root_mm",
    "head_mm",
    "side_thickness_mm",
    "penetration_mm",
    "thread_length_mm",
    "fastener_tensile_MPa",
    "head_strength_MPa",
)
_BEND_YIELD = Key(
    "bend_yield_MPa",
    "bending yield strength of the fastener (NDS; 80,000 psi for No 8 to 12 and 16d to 20d)",
    KeyUse.PROPERTY,
    200.0,
    1500.0,
    cv=0.08,
    default=552.0,
)
_WORDS: Mapping[str, tuple[str, ...] | None] = MappingProxyType(
    {
        "material": None,
        "side_material": None,
        "material_class": CLASSES,
        "side_material_class": CLASSES,
        "grain": ("side", "end"),
        "rules": ("eurocode", "nds"),
        "predrilled": ("no", "yes"),
    }
)


def _screw_sizes(numbers: Numbers, words: Words) -> Numbers:
    found = dict(size_from_table("wood screw", "gauge", ROOT_OF_SCREW)(numbers, words))
    diameter = numbers.get("diameter_mm", found.get("diameter_mm"))
    if diameter is not None:
        # A countersunk head is about twice the shank; common practice, no source.
        found["head_mm"] = 2.0 * diameter
    if "penetration_mm" in numbers:
        found["thread_length_mm"] = numbers["penetration_mm"]
    elif "thread_length_mm" in numbers:
        found["penetration_mm"] = numbers["thread_length_mm"]
    return found


def _screw_joint_check(numbers: Numbers, words: Words) -> tuple[str, ...]:
    said = [
        *size_problem("wood screw", "gauge", words),
        *hole_problem(numbers, "root_mm", "the root of the thread"),
    ]
    thread, deep = numbers.get("thread_length_mm"), numbers.get("penetration_mm")
    if thread is not None and deep is not None and thread > deep:
        said.append(
            f"thread_length_mm is {thread:g}, more than penetration_mm ({deep:g}); allowed is at "
            "most the penetration: count only the thread in the wood that holds"
        )
    return tuple(said)


def _nail_joint_check(numbers: Numbers, words: Words) -> tuple[str, ...]:
    return (
        *size_problem("nail", "size", words),
        *hole_problem(numbers, "diameter_mm", "the shank"),
    )


_NAIL_WIRE = Key(
    "fastener_tensile_MPa",
    "tensile strength of the nail's wire (Eurocode 5 wants 600 or more)",
    KeyUse.PROPERTY,
    200.0,
    1800.0,
    cv=0.08,
    default=600.0,
)

JOINT_KINDS = (
    Kind(
        name="screwed joint",
        meaning="one piece of wood screwed to another, sheared, pulled or both",
        keys=(
            Key("diameter_mm", "diameter of the shank", KeyUse.SIZE, 2.0, 8.0, cv=0.01),
            ROOT,
            HEAD,
            HOLE,
            _SIDE,
            PENETRATION,
            THREAD_LENGTH,
            DENSITY,
            SIDE_DENSITY,
            GRAVITY,
            SIDE_GRAVITY,
            LAG_STEEL,
            HEAD_STRENGTH,
            _BEND_YIELD,
            Key(
                "angle_deg",
                "angle between load and screws, for load = 'slanting'",
                KeyUse.SETTING,
                0.0,
                90.0,
                default=45.0,
            ),
        ),
        mechanisms=(
            *shear_ways(_SCREW_SHEAR_NEEDS, screw_shear, "root_mm"),
            Mechanism(
                "screw cut off",
                lambda v: sheared_off(v["fastener_tensile_MPa"], root=v["root_mm"]),
                ("fastener_tensile_MPa", "root_mm"),
                Trust.FAIR,
                "0.6 of the tensile strength, EN 1993-1-8, Table 3.4 (from memory)",
                when=across,
            ),
            *only_when(
                (
                    *withdrawal_ways(
                        screw_pull,
                        ("specific_gravity", "diameter_mm", "thread_length_mm"),
                        trust=Trust.GOOD,
                        equation="eq. 8-10",
                        end_grain=END_GRAIN_SCREW,
                    ),
                    PULLED_THROUGH,
                    screw_snaps,
                ),
                "along",
            ),
            Mechanism(
                "shear and pull together",
                lambda v: slanting_load(
                    axial_characteristic(v),
                    screw_shear(embedding_strength)(v),
                    angle_deg=v["angle_deg"],
                ),
                (*_SCREW_SHEAR_NEEDS, "angle_deg"),
                Trust.FAIR,
                "Eurocode 5, EN 1995-1-1, 8.7.3 and eq. 8.6 (from memory)",
                characteristic=True,
                notes=(SPLIT_NOTE,),
                when=lambda w: w.get("load") == "slanting",
            ),
        ),
        words=MappingProxyType({**_WORDS, "gauge": None, "load": ("across", "along", "slanting")}),
        complete=_screw_sizes,
        check=_screw_joint_check,
    ),
    Kind(
        name="nailed joint",
        meaning="one piece of wood nailed to another, sheared or pulled",
        keys=(
            Key("diameter_mm", "diameter of the shank", KeyUse.SIZE, 1.0, 8.0, cv=0.01),
            HOLE,
            _SIDE,
            PENETRATION,
            DENSITY,
            SIDE_DENSITY,
            GRAVITY,
            SIDE_GRAVITY,
            _NAIL_WIRE,
            _BEND_YIELD,
        ),
        mechanisms=(
            *shear_ways(
                (
                    "density_kg_m3",
                    "side_density_kg_m3",
                    "diameter_mm",
                    "side_thickness_mm",
                    "penetration_mm",
                    "fastener_tensile_MPa",
                ),
                nail_shear,
                "diameter_mm",
            ),
            *only_when(
                withdrawal_ways(
                    lambda v: smooth_nail(
                        v["specific_gravity"],
                        diameter=v["diameter_mm"],
                        penetration=v["penetration_mm"],
                    ),
                    ("specific_gravity", "diameter_mm", "penetration_mm"),
                    trust=Trust.FAIR,
                    equation="eq. 8-1",
                    end_grain=END_GRAIN_NAIL,
                ),
                "along",
            ),
        ),
        words=MappingProxyType({**_WORDS, "size": None, "load": ("across", "along")}),
        complete=size_from_table("nail", "size", None),
        check=_nail_joint_check,
    ),
)
