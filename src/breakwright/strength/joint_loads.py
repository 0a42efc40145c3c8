"""What a joint of two pieces of wood bears, as loads of a part's numbers and as mechanisms."""

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np

from breakwright.strength.density import characteristic_density, ovendry_gravity
from breakwright.strength.dowel_bearing import nail_bearing
from breakwright.strength.fastener import root_tension, yield_moment
from breakwright.strength.lateral_eurocode import (
    MODES,
    embedding_strength,
    embedding_strength_predrilled,
    single_shear,
    single_shear_modes,
)
from breakwright.strength.lateral_nds import MODES_NDS, yield_modes
from breakwright.strength.mechanism import Floats, Key, KeyUse, Mechanism, Values
from breakwright.strength.pull_through import head_pull_through_eurocode
from breakwright.strength.trust import Trust
from breakwright.strength.withdrawal import wood_screw

__all__ = [
    "HEAD_STRENGTH",
    "PULLED_THROUGH",
    "SPLIT_NOTE",
    "across",
    "axial_characteristic",
    "head_pull_through",
    "nail_shear",
    "only_when",
    "screw_pull",
    "screw_shear",
    "shear_ways",
]

# What turns a mean pull into a 5th percentile, to go with characteristic shear (CV 0.20).
_TO_CHARACTERISTIC = math.exp(-1.6448536269514722 * math.sqrt(math.log1p(0.2**2)))
_YIELD_NOTE = (
    "this is the load of yielding; such joints carry more before they part (the Wood Handbook "
    "tells of 3.5 to 7 times the proportional limit for nails)"
)
SPLIT_NOTE = "splitting from a short end or edge distance is not in it"

# Declared by the makers of screws, about 9 to 13 MPa (from memory).
HEAD_STRENGTH = Key(
    "head_strength_MPa",
    "pull-through strength declared for the screw, at 350 kg/m³",
    KeyUse.PROPERTY,
    3.0,
    60.0,
    cv=0.15,
    default=10.0,
)

Words = Mapping[str, str]
Load = Callable[[Values], Floats]


def head_pull_through(density: str) -> Mechanism:
    """Return 'head pull-through' of the piece whose density is under the key ``density``."""

    def load(v: Values) -> Floats:
        return head_pull_through_eurocode(
            characteristic_density(v[density]),
            head=v["head_mm"],
            strength=v["head_strength_MPa"],
            reference_density=np.asarray(350.0),
        )

    return Mechanism(
        "head pull-through",
        load,
        (density, "head_mm", "head_strength_MPa"),
        Trust.FAIR,
        "Eurocode 5, EN 1995-1-1:2004+A1:2008, eq. 8.40b (from memory)",
        characteristic=True,
        notes=("for a piece thicker than about half the head; a thin panel bends first",),
    )


def _effective_diameter(v: Values) -> Floats:
    # Eurocode 5, 8.7.1: 1.1 times the root where the thread is in the plane of shear; a nail has
    # no root.
    return np.asarray(1.1 * v["root_mm"] if "root_mm" in v else v["diameter_mm"])


def _eurocode_modes(v: Values, embedding: Callable[..., Floats]) -> dict[str, Floats]:
    d = _effective_diameter(v)
    return single_shear_modes(
        embedding(characteristic_density(v["side_density_kg_m3"]), diameter=d),
        embedding(characteristic_density(v["density_kg_m3"]), diameter=d),
        diameter=d,
        t1=v["side_thickness_mm"],
        t2=v["penetration_mm"],
        moment=yield_moment(v["fastener_tensile_MPa"], diameter=d),
    )


PULLED_THROUGH = head_pull_through("side_density_kg_m3")


def screw_pull(v: Values) -> Floats:
    return wood_screw(
        v["specific_gravity"], diameter=v["diameter_mm"], thread_length=v["thread_length_mm"]
    )


def axial_characteristic(v: Values) -> Floats:
    """What one screw holds when pulled: out, through, or until it snaps; 5th percentile."""
    out = _TO_CHARACTERISTIC * screw_pull(v)
    snap = root_tension(v["fastener_tensile_MPa"], root=v["root_mm"])
    return np.asarray(np.minimum(np.minimum(out, PULLED_THROUGH.load(v)), snap))


def screw_shear(embedding: Callable[..., Floats]) -> Load:
    def load(v: Values) -> Floats:
        return single_shear(_eurocode_modes(v, embedding), axial=axial_characteristic(v), most=1.0)

    return load


def nail_shear(embedding: Callable[..., Floats]) -> Load:
    # Smooth nails: the rope effect, at most 15 %, is left out.
    def load(v: Values) -> Floats:
        return single_shear(_eurocode_modes(v, embedding), axial=np.asarray(0.0), most=0.0)

    return load


def _weakest(modes: Mapping[str, Floats], words: Mapping[str, str]) -> str:
    first = min(modes, key=lambda m: float(np.min(modes[m])))
    return f"the weakest way to give: {words[first]} (mode {first})"


def _eurocode_remark(embedding: Callable[..., Floats]) -> Callable[[Values], str]:
    return lambda v: _weakest(_eurocode_modes(v, embedding), MODES)


def _nds_modes(v: Values) -> dict[str, Floats]:
    return yield_modes(
        nail_bearing(ovendry_gravity(v["specific_gravity"])),
        nail_bearing(ovendry_gravity(v["side_specific_gravity"])),
        diameter=v["root_mm"] if "root_mm" in v else v["diameter_mm"],
        inner=v["penetration_mm"],
        outer=v["side_thickness_mm"],
        bend_yield=v["bend_yield_MPa"],
    )


def _nds_shear(v: Values) -> Floats:
    return np.asarray(np.min(np.stack(np.broadcast_arrays(*_nds_modes(v).values())), axis=0))


def across(words: Words) -> bool:
    return words.get("load", "across") == "across"


def _by(rules: str, drilled: str) -> Callable[[Words], bool]:
    def when(words: Words) -> bool:
        return (
            across(words)
            and words.get("rules", "eurocode") == rules
            and words.get("predrilled", "no") == drilled
        )

    return when


def shear_ways(
    needs: tuple[str, ...], make: Callable[[Callable[..., Floats]], Load], bends: str
) -> tuple[Mechanism, ...]:
    """'shear' by Eurocode 5, undrilled and predrilled, and by the NDS; ``bends`` is the key of the
    diameter that bends: the root of a screw, the shank of a nail."""
    ways = []
    for drilled, embedding in (
        ("no", embedding_strength),
        ("yes", embedding_strength_predrilled),
    ):
        ways.append(
            Mechanism(
                "shear",
                make(embedding),
                needs,
                Trust.FAIR,
                "Eurocode 5, EN 1995-1-1, eq. 8.6 (from memory), smallest of six modes",
                characteristic=True,
                notes=(_YIELD_NOTE, SPLIT_NOTE),
                when=_by("eurocode", drilled),
                remark=_eurocode_remark(embedding),
            )
        )
    ways.append(
        Mechanism(
            "shear",
            _nds_shear,
            (
                "specific_gravity",
                "side_specific_gravity",
                bends,
                "penetration_mm",
                "side_thickness_mm",
                "bend_yield_MPa",
            ),
            Trust.FAIR,
            "NDS 2018, 12.3.1 (from memory), smallest of six yield modes, not divided by R_d",
            notes=(_YIELD_NOTE, SPLIT_NOTE),
            when=lambda w: across(w) and w.get("rules") == "nds",
            remark=lambda v: _weakest(_nds_modes(v), MODES_NDS),
        )
    )
    return tuple(ways)


def only_when(ways: tuple[Mechanism, ...], load: str) -> tuple[Mechanism, ...]:
    def narrowed(way: Mechanism) -> Callable[[Words], bool]:
        return lambda w: w.get("load", "across") == load and (way.when is None or way.when(w))

    return tuple(replace(way, when=narrowed(way)) for way in ways)
