"""Joints without metal: a glued lap and a dowel joint."""

from collections.abc import Mapping
from types import MappingProxyType

from breakwright.strength.dowels import dowel_snap_load, dowel_withdrawal
from breakwright.strength.glue import CROSSED, UnknownGlue, end_peak, find_glue, lap_load
from breakwright.strength.kind_words import did_you_mean
from breakwright.strength.mechanism import Floats, Key, KeyUse, Kind, Mechanism, Values
from breakwright.strength.trust import Trust

__all__ = ["DOWEL_JOINT", "GLUED_LAP"]


def _lap(v: Values, strength: Floats) -> Floats:
    return lap_load(strength, v["width_mm"], v["overlap_mm"])


def _peaked(v: Values) -> Floats:
    peak = end_peak(
        v["overlap_mm"],
        thickness_mm=v["thickness_mm"],
        other_thickness_mm=v["other_thickness_mm"],
        moe_MPa=v["moe_MPa"],
        other_moe_MPa=v["moe_MPa"],
        glue_stiffness_N_mm3=v["glue_stiffness_N_mm3"],
    )
    return _lap(v, v["glue_shear_MPa"]) / peak


def _complete_lap(numbers: Mapping[str, float], words: Mapping[str, str]) -> Mapping[str, float]:
    found = {}
    if "thickness_mm" in numbers:
        found["other_thickness_mm"] = numbers["thickness_mm"]
    try:
        if "glue" in words:
            found["glue_shear_MPa"] = find_glue(words["glue"]).middle_MPa
    except UnknownGlue:
        # Told by the check, with the names that are known.
        pass
    return found


def _check_lap(_numbers: Mapping[str, float], words: Mapping[str, str]) -> tuple[str, ...]:
    try:
        if "glue" in words:
            find_glue(words["glue"])
    except UnknownGlue as trouble:
        return (f"{trouble}{did_you_mean(trouble.nearest)} Or give glue_shear_MPa yourself.",)
    return ()


_LAP = ("width_mm", "overlap_mm")
_PEAK = ("thickness_mm", "other_thickness_mm", "moe_MPa", "glue_stiffness_N_mm3")

GLUED_LAP = Kind(
    name="glued lap",
    meaning="two pieces glued over each other, pulled or pushed along the glue line",
    keys=(
        Key("width_mm", "width of the glued area", KeyUse.SIZE, 1.0, 2000.0),
        Key("overlap_mm", "length of the glued area, along the load", KeyUse.SIZE, 1.0, 2000.0),
        Key("thickness_mm", "thickness of one piece", KeyUse.SIZE, 0.5, 300.0),
        Key("other_thickness_mm", "of the other; the same if left out", KeyUse.SIZE, 0.5, 300.0),
        Key(
            "glue_shear_MPa",
            'shear strength of the glue line; or say glue = "pva"',
            KeyUse.PROPERTY,
            0.1,
            80.0,
            cv=0.2,
        ),
        Key(
            "shear_MPa",
            "shear strength of the wood along the grain",
            KeyUse.PROPERTY,
            0.1,
            200.0,
            cv=0.14,
        ),
        Key(
            "moe_MPa",
            "modulus of elasticity of the pieces",
            KeyUse.PROPERTY,
            100.0,
            250_000.0,
            cv=0.22,
        ),
        Key(
            "glue_stiffness_N_mm3",
            "shear modulus of the glue over its thickness",
            KeyUse.PROPERTY,
            1.0,
            1e6,
            cv=0.5,
            default=1e4,
        ),
    ),
    words=MappingProxyType(
        {
            "material": None,
            "glue": None,
            "grain": ("along", "crossed"),
            "ends": ("even", "peak"),
        }
    ),
    mechanisms=(
        Mechanism(
            "glue line shears",
            lambda v: _lap(v, v["glue_shear_MPa"]),
            (*_LAP, "glue_shear_MPa"),
            Trust.FAIR,
            "mean shear stress, as block tests define it; glue strengths from memory",
            notes=('a stiff brittle glue fails from its ends: say ends = "peak"',),
            when=lambda w: w.get("ends") != "peak",
        ),
        Mechanism(
            "glue line fails from its ends",
            _peaked,
            (*_LAP, *_PEAK, "glue_shear_MPa"),
            Trust.ORDER,
            "Volkersen (1938), from memory; least load, where nothing yields",
            when=lambda w: w.get("ends") == "peak",
        ),
        Mechanism(
            "wood shears beside the glue",
            lambda v: _lap(v, v["shear_MPa"]),
            (*_LAP, "shear_MPa"),
            Trust.FAIR,
            "shear strength along the grain, Wood Handbook (2010) Table 5-3a",
            when=lambda w: w.get("grain") != "crossed",
        ),
        Mechanism(
            "wood shears beside the glue",
            lambda v: CROSSED * _lap(v, v["shear_MPa"]),
            (*_LAP, "shear_MPa"),
            Trust.FAIR,
            "a third of the shear strength along the grain, FPL Report 1522",
            when=lambda w: w.get("grain") == "crossed",
        ),
    ),
    complete=_complete_lap,
    check=_check_lap,
)

_FACTORS = ("glue_factor", "fit_factor", "surface_factor")

DOWEL_JOINT = Kind(
    name="dowel joint",
    meaning="a glued dowel pulled out of wood; give count for several",
    keys=(
        Key("dowel_mm", "diameter of the dowel", KeyUse.SIZE, 3.0, 40.0),
        Key("depth_mm", "depth of the dowel in the hole", KeyUse.SIZE, 3.0, 300.0),
        Key(
            "shear_MPa",
            "shear strength of the member along the grain",
            KeyUse.PROPERTY,
            0.1,
            60.0,
            cv=0.14,
        ),
        Key(
            "dowel_shear_MPa",
            "shear strength of the dowel's wood; beech if left out",
            KeyUse.PROPERTY,
            0.1,
            60.0,
            cv=0.14,
            default=13.9,
        ),
        Key(
            "dowel_mor_MPa",
            "bending strength of the dowel's wood; beech if left out",
            KeyUse.PROPERTY,
            1.0,
            300.0,
            cv=0.25,
            default=103.0,
        ),
        Key(
            "glue_factor",
            "1 for a good glue, spread on both",
            KeyUse.SETTING,
            0.1,
            1.2,
            default=1.0,
        ),
        Key("fit_factor", "1 for a hole that fits", KeyUse.SETTING, 0.1, 1.2, default=1.0),
        Key("surface_factor", "1 for a plain dowel", KeyUse.SETTING, 0.1, 1.2, default=1.0),
    ),
    words=MappingProxyType({"material": None, "dowel_material": None}),
    mechanisms=(
        Mechanism(
            "dowel pulls out",
            lambda v: dowel_withdrawal(
                v["dowel_mm"],
                v["depth_mm"],
                v["shear_MPa"],
                v["dowel_shear_MPa"],
                v["glue_factor"] * v["fit_factor"] * v["surface_factor"],
            ),
            ("dowel_mm", "depth_mm", "shear_MPa", "dowel_shear_MPa", *_FACTORS),
            Trust.FAIR,
            "Eckelman, withdrawal of dowels (from memory)",
        ),
        Mechanism(
            "dowel snaps",
            lambda v: dowel_snap_load(v["dowel_mm"], v["dowel_mor_MPa"]),
            ("dowel_mm", "dowel_mor_MPa"),
            Trust.FAIR,
            "statics; modulus of rupture as tensile strength (Wood Handbook, from memory)",
        ),
    ),
)
