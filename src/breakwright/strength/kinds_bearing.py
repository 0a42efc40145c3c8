"""Kinds of part in which wood is crushed: under a head, under the side of a pin."""

from types import MappingProxyType

import numpy as np

from breakwright.strength.density import ovendry_gravity
from breakwright.strength.dowel_bearing import bolt_bearing, nail_bearing
from breakwright.strength.joint_loads import HEAD_STRENGTH, head_pull_through
from breakwright.strength.mechanism import Floats, Key, KeyUse, Kind, Mechanism, Values
from breakwright.strength.trust import Trust
from breakwright.strength.wood_keys import CLASSES, DENSITY, GRAVITY, HEAD

__all__ = ["BEARING_KINDS"]

_THIN = 6.35  # 1/4 inch: below it the bearing strength does not depend on the grain (NDS 12.3.3)


def _crushed(v: Values) -> Floats:
    gravity, diameter = ovendry_gravity(v["specific_gravity"]), v["diameter_mm"]
    strength = np.where(
        diameter < _THIN,
        nail_bearing(gravity),
        bolt_bearing(gravity, diameter=diameter, angle_deg=v["angle_deg"]),
    )
    return np.asarray(strength * diameter * v["thickness_mm"])


BEARING_KINDS = (
    Kind(
        name="head pull-through",
        meaning="a screw's head or a washer pulled through the piece that it holds down",
        keys=(HEAD, DENSITY, HEAD_STRENGTH),
        mechanisms=(head_pull_through("density_kg_m3"),),
        words=MappingProxyType({"material": None, "material_class": CLASSES}),
    ),
    Kind(
        name="bearing under a pin",
        meaning="wood crushed by the side of a bolt, pin or nail that passes through it",
        keys=(
            Key("diameter_mm", "diameter of the pin", KeyUse.SIZE, 1.0, 25.4, cv=0.01),
            Key(
                "thickness_mm", "thickness of the wood on the pin", KeyUse.SIZE, 2.0, 500.0, cv=0.02
            ),
            GRAVITY,
            Key(
                "angle_deg",
                "angle between load and grain (0: along the grain)",
                KeyUse.SETTING,
                0.0,
                90.0,
                default=0.0,
            ),
        ),
        mechanisms=(
            Mechanism(
                "wood crushes under the pin",
                _crushed,
                ("specific_gravity", "diameter_mm", "thickness_mm", "angle_deg"),
                Trust.FAIR,
                "Wood Handbook FPL-GTR-282, eq. 8-3 (thin) and NDS 2018 12.3.3 with Hankinson",
                notes=("the pin stays straight; splitting ahead of it is not in this",),
            ),
        ),
        words=MappingProxyType({"material": None, "material_class": CLASSES}),
    ),
)
