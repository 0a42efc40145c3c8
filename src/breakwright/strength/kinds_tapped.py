"""A plate that holds a thread: wood, board, printed plastic or metal."""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from breakwright.strength.kind_words import (
    metal_numbers,
    metal_sentences,
    thread_numbers,
    thread_sentences,
)
from breakwright.strength.kinds_plates import (
    PLATE_KEYS,
    PLATE_WORDS,
    bending_mechanisms,
    is_metal,
    plate_sag,
)
from breakwright.strength.kinds_threaded import DIAMETER, PITCH
from breakwright.strength.mechanism import Floats, Key, KeyUse, Kind, Mechanism, Values
from breakwright.strength.stripping import nut_strip_area, strip_load
from breakwright.strength.tapped import tapped_strip_load
from breakwright.strength.thread_limits import loosest_limits
from breakwright.strength.threads import engagement_percent, hole_for
from breakwright.strength.trust import Trust

__all__ = ["TAPPED_PLATE"]

_USUAL_PERCENT = 75.0


def _tapped_wood(v: Values) -> Floats:
    percent = engagement_percent(v["diameter_mm"], v["pitch_mm"], v["hole_mm"])
    return tapped_strip_load(v["diameter_mm"], v["engagement_mm"], v["strip_MPa"], percent)


def _tapped_metal(v: Values) -> Floats:
    limits = loosest_limits(v["diameter_mm"], v["pitch_mm"])
    area = nut_strip_area(v["engagement_mm"], v["pitch_mm"], limits.bolt_major, limits.nut_pitch)
    return strip_load(area, v["tensile_MPa"])


def _complete_tapped(numbers: Mapping[str, float], words: Mapping[str, str]) -> Mapping[str, float]:
    found = {k: x for k, x in thread_numbers(words).items() if k != "stress_area_cut"}
    found |= metal_numbers(words)
    if "metal" in words:
        found["e_over_g"] = 2.6
    every = {**found, **numbers}
    if "thickness_mm" in every:
        found["engagement_mm"] = every["thickness_mm"]
    if "diameter_mm" in every and "pitch_mm" in every:
        hole = hole_for(*_arrays(every["diameter_mm"], every["pitch_mm"], _USUAL_PERCENT))
        found["hole_mm"] = float(hole)
    return found


def _arrays(*values: float) -> list[Floats]:
    return [np.asarray(value) for value in values]


def _check_tapped(numbers: Mapping[str, float], words: Mapping[str, str]) -> tuple[str, ...]:
    found = [*thread_sentences(numbers, words), *metal_sentences(words)]
    diameter, pitch = numbers.get("diameter_mm"), numbers.get("pitch_mm")
    hole, width = numbers.get("hole_mm"), numbers.get("width_mm")
    if diameter is not None and hole is not None and hole >= diameter:
        found.append(
            f"hole_mm is {hole:.4g}: a hole as large as the thread ({diameter:.4g} mm) leaves no "
            "thread to pull on; give the drilled hole, which is smaller."
        )
    elif diameter is not None and hole is not None and pitch is not None:
        percent = float(engagement_percent(*_arrays(diameter, pitch, hole)))
        if percent > 100.0:
            least = float(hole_for(*_arrays(diameter, pitch, 100.0)))
            found.append(
                f"hole_mm is {hole:.4g}: that is smaller than the thread's root, no tap cuts it; "
                f"{least:.3g} mm is the least for this thread, "
                f"{float(hole_for(*_arrays(diameter, pitch, _USUAL_PERCENT))):.3g} mm is usual."
            )
    if diameter is not None and width is not None and width <= diameter:
        found.append(
            f"width_mm is {width:.4g}: no wider than the thread ({diameter:.4g} mm); give the "
            "plate's full width."
        )
    if numbers.get("engagement_mm", 0.0) > numbers.get("thickness_mm", float("inf")):
        found.append(
            f"engagement_mm is {numbers['engagement_mm']:.4g}, more than the plate's "
            f"{numbers['thickness_mm']:.4g} mm; give the length with thread in it."
        )
    return tuple(found)


TAPPED_PLATE = Kind(
    name="tapped plate",
    meaning="a plate that holds a thread: it can strip, bend over its supports, or shear",
    keys=(
        DIAMETER,
        PITCH,
        Key(
            "hole_mm",
            "drilled hole; for three quarters of a thread if left out",
            KeyUse.SIZE,
            1.0,
            100.0,
        ),
        Key(
            "engagement_mm",
            "length with thread in it; the thickness if left out",
            KeyUse.SIZE,
            0.5,
            300.0,
        ),
        Key(
            "strip_MPa",
            "effective shear strength of the thread in this material",
            KeyUse.PROPERTY,
            0.1,
            100.0,
            cv=0.28,
        ),
        Key(
            "tensile_MPa",
            "tensile strength of a metal plate",
            KeyUse.PROPERTY,
            10.0,
            2500.0,
            cv=0.05,
        ),
        *PLATE_KEYS,
    ),
    words=MappingProxyType({**PLATE_WORDS, "thread": None}),
    mechanisms=(
        Mechanism(
            "thread strips",
            _tapped_wood,
            ("diameter_mm", "pitch_mm", "hole_mm", "engagement_mm", "strip_MPa"),
            Trust.ORDER,
            "thread area of ASME B1.1; no source for the shear strength of tapped wood",
            notes=("break three first, and give them as own_tests",),
            when=lambda w: not is_metal(w),
        ),
        Mechanism(
            "thread strips",
            _tapped_metal,
            ("diameter_mm", "pitch_mm", "engagement_mm", "tensile_MPa"),
            Trust.FAIR,
            "Machinery's Handbook, strength of screw threads; loosest class 2A in 2B",
            characteristic=True,
            cv_if_characteristic=0.1,
            when=is_metal,
        ),
        *bending_mechanisms("diameter_mm"),
    ),
    complete=_complete_tapped,
    deflection=plate_sag,
    check=_check_tapped,
)
