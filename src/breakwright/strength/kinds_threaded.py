"""Bolts and threaded rod: they stretch, snap, or strip their thread or the nut's."""

from collections.abc import Mapping
from types import MappingProxyType

from breakwright.strength.bolt_bending import off_axis_load
from breakwright.strength.bolts import bolt_stretch, tension_load
from breakwright.strength.kind_words import (
    grade_numbers,
    grade_sentences,
    thread_numbers,
    thread_sentences,
)
from breakwright.strength.mechanism import Floats, Key, KeyUse, Kind, Mechanism, Values
from breakwright.strength.stripping import bolt_strip_area, nut_strip_area, strip_load
from breakwright.strength.thread_limits import loosest_limits
from breakwright.strength.threads import CUT_METRIC, stress_area
from breakwright.strength.trust import Trust

__all__ = ["BOLT", "DIAMETER", "PITCH"]

DIAMETER = Key(
    "diameter_mm", 'diameter over the thread; or say thread = "M8"', KeyUse.SIZE, 1.5, 100.0
)
PITCH = Key(
    "pitch_mm", 'distance between threads; or say thread = "5/16-18"', KeyUse.SIZE, 0.2, 8.0
)
# A standard nut is about 0.8 to 0.9 diameters high.
_NUT_HEIGHT = 0.8
_MINIMUM_CV = 0.05  # how much over its grade's minimum the middle one lies: 9 %; judgement
_AREA = ("diameter_mm", "pitch_mm", "stress_area_cut")


def _area(v: Values) -> Floats:
    return stress_area(v["diameter_mm"], v["pitch_mm"], v["stress_area_cut"])


def _bolt_strips(v: Values) -> Floats:
    limits = loosest_limits(v["diameter_mm"], v["pitch_mm"])
    area = bolt_strip_area(v["engagement_mm"], v["pitch_mm"], limits.nut_minor, limits.bolt_pitch)
    return strip_load(area, v["tensile_MPa"])


def _nut_strips(v: Values) -> Floats:
    limits = loosest_limits(v["diameter_mm"], v["pitch_mm"])
    area = nut_strip_area(v["engagement_mm"], v["pitch_mm"], limits.bolt_major, limits.nut_pitch)
    return strip_load(area, v["nut_tensile_MPa"])


def _complete(numbers: Mapping[str, float], words: Mapping[str, str]) -> Mapping[str, float]:
    found = thread_numbers(words)
    found |= grade_numbers({**found, **numbers}, words)
    every = {**found, **numbers}
    if "diameter_mm" in every:
        found["engagement_mm"] = _NUT_HEIGHT * every["diameter_mm"]
    if "tensile_MPa" in every:
        found["nut_tensile_MPa"] = every["tensile_MPa"]
    return found


def _check(numbers: Mapping[str, float], words: Mapping[str, str]) -> tuple[str, ...]:
    return (*thread_sentences(numbers, words), *grade_sentences(numbers, words))


def _stretch(v: Values, load: Floats) -> Floats:
    return bolt_stretch(load, v["length_mm"], _area(v), v["moe_MPa"])


BOLT = Kind(
    name="bolt",
    meaning="a bolt, screw or threaded rod in a nut or a tapped hole, pulled",
    keys=(
        DIAMETER,
        PITCH,
        Key(
            "stress_area_cut",
            "pitches taken off the diameter for the stress area: 0.9743 inch, 0.9382 metric",
            KeyUse.PROPERTY,
            0.8,
            1.3,
            default=CUT_METRIC,
        ),
        Key(
            "proof_MPa",
            'stress it must bear unstretched; or say grade = "8.8"',
            KeyUse.PROPERTY,
            50.0,
            2000.0,
            cv=_MINIMUM_CV,
        ),
        Key(
            "tensile_MPa",
            'least tensile strength; or say grade = "grade 5"',
            KeyUse.PROPERTY,
            50.0,
            2500.0,
            cv=_MINIMUM_CV,
        ),
        Key(
            "nut_tensile_MPa",
            "tensile strength of what the thread sits in; as the bolt's if left out",
            KeyUse.PROPERTY,
            50.0,
            2500.0,
            cv=_MINIMUM_CV,
        ),
        Key(
            "engagement_mm",
            "length of thread engaged; 0.8 diameters if left out",
            KeyUse.SIZE,
            0.5,
            500.0,
        ),
        Key(
            "offset_mm",
            "how far beside the bolt's axis the load runs",
            KeyUse.SETTING,
            0.0,
            100.0,
            default=0.0,
        ),
        Key("length_mm", "free length that stretches", KeyUse.SIZE, 1.0, 5000.0, default=100.0),
        Key(
            "moe_MPa",
            "modulus of elasticity; steel 205,000",
            KeyUse.PROPERTY,
            10_000.0,
            250_000.0,
            default=205_000.0,
        ),
    ),
    words=MappingProxyType({"thread": None, "grade": None, "until": ("it stretches", "it snaps")}),
    mechanisms=(
        Mechanism(
            "stretches for good",
            lambda v: off_axis_load(v["proof_MPa"], _area(v), v["offset_mm"]),
            (*_AREA, "proof_MPa", "offset_mm"),
            Trust.GOOD,
            "proof stress of the grade (ISO 898-1, SAE J429) on the stress area; statics",
            characteristic=True,
            cv_if_characteristic=_MINIMUM_CV,
            notes=('for a bolt that is to be snapped, say until = "it snaps"',),
            when=lambda w: w.get("until") != "it snaps",
        ),
        Mechanism(
            "snaps",
            lambda v: tension_load(_area(v), v["tensile_MPa"]),
            (*_AREA, "tensile_MPa"),
            Trust.GOOD,
            "least tensile strength of the grade (ISO 898-1, SAE J429) on the stress area",
            characteristic=True,
            cv_if_characteristic=_MINIMUM_CV,
        ),
        Mechanism(
            "bolt thread strips",
            _bolt_strips,
            ("diameter_mm", "pitch_mm", "engagement_mm", "tensile_MPa"),
            Trust.FAIR,
            "Machinery's Handbook, strength of screw threads; loosest class 2A in 2B",
            characteristic=True,
            cv_if_characteristic=0.1,
        ),
        Mechanism(
            "nut thread strips",
            _nut_strips,
            ("diameter_mm", "pitch_mm", "engagement_mm", "nut_tensile_MPa"),
            Trust.FAIR,
            "Machinery's Handbook, strength of screw threads; loosest class 2A in 2B",
            characteristic=True,
            cv_if_characteristic=0.1,
        ),
    ),
    complete=_complete,
    deflection=_stretch,
    check=_check,
)
