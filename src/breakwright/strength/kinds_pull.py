"""Kinds of part that are pulled out along their axis: nails, drift bolts, screws."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from breakwright.strength.density import characteristic_density, ovendry_gravity
from breakwright.strength.eurocode_screws import (
    hardwood_screw,
    hardwood_screw_moisture,
    screw_group,
    screw_withdrawal,
)
from breakwright.strength.fastener import ROOT_OF_LAG, ROOT_OF_SCREW, root_tension
from breakwright.strength.mechanism import Floats, Key, KeyUse, Kind, Mechanism, Values
from breakwright.strength.trust import Trust
from breakwright.strength.withdrawal import (
    END_GRAIN_NAIL,
    END_GRAIN_SCREW,
    annular_nail,
    drift_bolt,
    lag_screw,
    smooth_nail,
    wood_screw,
)
from breakwright.strength.wood_keys import (
    BOARD_NOTE,
    CLASSES,
    DENSITY,
    DIAMETER,
    GRAVITY,
    HOLE,
    LAG_STEEL,
    PENETRATION,
    ROOT,
    THREAD_LENGTH,
    hole_problem,
    in_board,
    in_end_grain,
    in_solid_side_grain,
    size_from_table,
    size_problem,
)

__all__ = ["PULL_KINDS", "screw_snaps", "withdrawal_ways"]

_HANDBOOK = "Wood Handbook FPL-GTR-282 (2021), ch. 8"
_WORDS: Mapping[str, tuple[str, ...] | None] = MappingProxyType(
    {"material": None, "material_class": CLASSES, "grain": ("side", "end")}
)


def withdrawal_ways(
    load: Callable[[Values], Floats],
    needs: tuple[str, ...],
    *,
    trust: Trust,
    equation: str,
    end_grain: float,
) -> tuple[Mechanism, ...]:
    """Return 'withdrawal' from solid side grain, from a board's face and from end grain."""
    source = f"{_HANDBOOK}, {equation}"
    return (
        Mechanism("withdrawal", load, needs, trust, source, when=in_solid_side_grain),
        Mechanism(
            "withdrawal", load, needs, Trust.ORDER, source, notes=(BOARD_NOTE,), when=in_board
        ),
        Mechanism(
            "withdrawal",
            lambda v: end_grain * load(v),
            needs,
            Trust.ORDER,
            source,
            notes=(f"end grain: {end_grain:g} of the side-grain load, erratic (from memory)",),
            when=in_end_grain,
        ),
    )


screw_snaps = Mechanism(
    "screw snaps",
    lambda v: root_tension(v["fastener_tensile_MPa"], root=v["root_mm"]),
    ("fastener_tensile_MPa", "root_mm"),
    Trust.GOOD,
    "statics; steel of lag screws 531 MPa (Wood Handbook, ch. 8), taken for other screws",
)

_NAIL_STEEL = Key(
    "fastener_tensile_MPa",
    "tensile strength of the nail's wire",
    KeyUse.PROPERTY,
    200.0,
    1800.0,
    cv=0.08,
    default=600.0,
)
_nail_snaps = Mechanism(
    "nail snaps",
    lambda v: root_tension(v["fastener_tensile_MPa"], root=v["diameter_mm"]),
    ("fastener_tensile_MPa", "diameter_mm"),
    Trust.FAIR,
    "statics; wire of 600 MPa is common practice, no source",
)


def _nail_check(numbers: Mapping[str, float], words: Mapping[str, str]) -> tuple[str, ...]:
    return (
        *size_problem("nail", "size", words),
        *hole_problem(numbers, "diameter_mm", "the shank"),
    )


def _screw_check(numbers: Mapping[str, float], words: Mapping[str, str]) -> tuple[str, ...]:
    return (
        *size_problem("wood screw", "gauge", words),
        *hole_problem(numbers, "root_mm", "the root of the thread"),
    )


def _lag_check(numbers: Mapping[str, float], _words: Mapping[str, str]) -> tuple[str, ...]:
    return hole_problem(numbers, "diameter_mm", "the shank")


def _structural_check(numbers: Mapping[str, float], _words: Mapping[str, str]) -> tuple[str, ...]:
    said = list(hole_problem(numbers, "root_mm", "the root of the thread"))
    root, diameter = numbers.get("root_mm"), numbers.get("diameter_mm")
    if root is not None and diameter is not None and not 0.6 <= root / diameter <= 0.75:
        said.append(
            f"root_mm is {root:g}, {root / diameter:.2f} of diameter_mm; the equation holds for "
            "0.6 to 0.75: for other screws use kind 'wood screw' or your own tests"
        )
    return tuple(said)


def _eurocode(v: Values) -> Floats:
    one = screw_withdrawal(
        characteristic_density(v["density_kg_m3"]),
        diameter=v["diameter_mm"],
        thread_length=v["thread_length_mm"],
        angle_deg=v["angle_deg"],
    )
    return screw_group(one, count=v["count"])


def _hardwood(v: Values) -> Floats:
    one = hardwood_screw(
        characteristic_density(v["density_kg_m3"]),
        diameter=v["diameter_mm"],
        thread_length=v["thread_length_mm"],
    )
    return screw_group(
        hardwood_screw_moisture(one, moisture_pct=v["moisture_pct"]), count=v["count"]
    )


_EC5_NEEDS = ("density_kg_m3", "diameter_mm", "thread_length_mm", "angle_deg", "count")
_EC5 = "Eurocode 5, EN 1995-1-1:2004+A1:2008, 8.7.2 (from memory)"
_STRUCTURAL = Kind(
    name="structural screw",
    meaning="a self-tapping construction screw of 6 to 12 mm, pulled along its axis",
    keys=(
        Key("diameter_mm", "outer diameter of the thread", KeyUse.SIZE, 6.0, 12.0, cv=0.01),
        THREAD_LENGTH,
        ROOT,
        HOLE,
        Key("angle_deg", "angle between screw and grain", KeyUse.SETTING, 30.0, 90.0, default=90.0),
        DENSITY,
        Key("moisture_pct", "moisture of the wood", KeyUse.SETTING, 6.0, 20.0, default=12.0),
        # Makers declare about 20 kN for 8 mm (from memory): some 900 MPa on the root.
        replace(LAG_STEEL, default=900.0),
    ),
    mechanisms=(
        Mechanism(
            "withdrawal",
            _eurocode,
            _EC5_NEEDS,
            Trust.GOOD,
            _EC5,
            characteristic=True,
            when=lambda w: w.get("material_class") not in ("hardwood", "plywood", "fibreboard"),
        ),
        Mechanism(
            "withdrawal",
            _eurocode,
            _EC5_NEEDS,
            Trust.ORDER,
            _EC5,
            characteristic=True,
            notes=(BOARD_NOTE,),
            when=in_board,
        ),
        Mechanism(
            "withdrawal",
            _hardwood,
            ("density_kg_m3", "diameter_mm", "thread_length_mm", "moisture_pct", "count"),
            Trust.GOOD,
            "CIB-W18 paper 46-7-4 (2013), proposed for hardwood; across the grain",
            characteristic=True,
            when=lambda w: w.get("material_class") == "hardwood",
        ),
        replace(
            screw_snaps,
            source="statics; hardened steel of about 900 MPa where none is given (from memory)",
        ),
    ),
    words=MappingProxyType({"material": None, "material_class": CLASSES}),
    complete=size_from_table("structural screw", "size", ROOT_OF_SCREW),
    check=_structural_check,
)


def _gravity_load(
    equation: Callable[..., Floats], length: str, length_key: str
) -> Callable[[Values], Floats]:
    def load(v: Values) -> Floats:
        sizes = {"diameter": v["diameter_mm"], length: v[length_key]}
        return np.asarray(equation(v["specific_gravity"], **sizes))

    return load


_NAIL_NEEDS = ("specific_gravity", "diameter_mm", "penetration_mm")
_SCREW_NEEDS = ("specific_gravity", "diameter_mm", "thread_length_mm")

PULL_KINDS = (
    Kind(
        name="nail",
        meaning="a smooth nail pulled out",
        keys=(DIAMETER, PENETRATION, HOLE, GRAVITY, _NAIL_STEEL),
        mechanisms=(
            *withdrawal_ways(
                _gravity_load(smooth_nail, "penetration", "penetration_mm"),
                _NAIL_NEEDS,
                trust=Trust.FAIR,
                equation="eq. 8-1",
                end_grain=END_GRAIN_NAIL,
            ),
            _nail_snaps,
        ),
        words=MappingProxyType({**_WORDS, "size": None}),
        complete=size_from_table("nail", "size", None),
        check=_nail_check,
    ),
    Kind(
        name="annular nail",
        meaning="a ring-shank nail pulled out",
        keys=(DIAMETER, PENETRATION, HOLE, GRAVITY, _NAIL_STEEL),
        mechanisms=(
            *withdrawal_ways(
                lambda v: annular_nail(
                    ovendry_gravity(v["specific_gravity"]),
                    diameter=v["diameter_mm"],
                    penetration=v["penetration_mm"],
                ),
                _NAIL_NEEDS,
                trust=Trust.FAIR,
                equation="eq. 8-2a",
                end_grain=END_GRAIN_NAIL,
            ),
            _nail_snaps,
        ),
        words=MappingProxyType({**_WORDS, "size": None}),
        complete=size_from_table("nail", "size", None),
        check=_nail_check,
    ),
    Kind(
        name="drift bolt",
        meaning="a round bolt or pin driven into a smaller hole and pulled out",
        keys=(DIAMETER, PENETRATION, HOLE, GRAVITY),
        mechanisms=withdrawal_ways(
            _gravity_load(drift_bolt, "penetration", "penetration_mm"),
            _NAIL_NEEDS,
            trust=Trust.FAIR,
            equation="eq. 8-9",
            end_grain=END_GRAIN_NAIL,
        )[:2],
        words=MappingProxyType({"material": None, "material_class": CLASSES}),
        check=_lag_check,
    ),
    Kind(
        name="wood screw",
        meaning="a wood screw pulled out along its axis",
        keys=(DIAMETER, THREAD_LENGTH, ROOT, HOLE, GRAVITY, LAG_STEEL),
        mechanisms=(
            *withdrawal_ways(
                _gravity_load(wood_screw, "thread_length", "thread_length_mm"),
                _SCREW_NEEDS,
                trust=Trust.GOOD,
                equation="eq. 8-10",
                end_grain=END_GRAIN_SCREW,
            ),
            screw_snaps,
        ),
        words=MappingProxyType({**_WORDS, "gauge": None}),
        complete=size_from_table("wood screw", "gauge", ROOT_OF_SCREW),
        check=_screw_check,
    ),
    Kind(
        name="lag screw",
        meaning="a lag (coach) screw pulled out along its axis",
        keys=(DIAMETER, THREAD_LENGTH, ROOT, HOLE, GRAVITY, LAG_STEEL),
        mechanisms=(
            *withdrawal_ways(
                _gravity_load(lag_screw, "thread_length", "thread_length_mm"),
                _SCREW_NEEDS,
                trust=Trust.GOOD,
                equation="eq. 8-14",
                end_grain=END_GRAIN_SCREW,
            ),
            screw_snaps,
        ),
        words=_WORDS,
        complete=size_from_table("lag screw", "size", ROOT_OF_LAG),
        check=_lag_check,
    ),
    _STRUCTURAL,
)
