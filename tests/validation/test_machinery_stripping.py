"""Thread stripping areas and engagement.

Areas: 'Selected ANSI UNC/UNF thread stress and shear areas', class 2A/2B, engaged over one
diameter (square inches), as reprinted by an engineering reference site after ASME B1.1 and
FED-STD-H28; nut strip areas per inch of engagement as a fastener dealer prints them. Length of
engagement: Machinery's Handbook, formula (1), 5/16-18 (0.223 in).
"""

import math

import pytest

from breakwright.strength.stripping import bolt_strip_area, engagement_to_snap, nut_strip_area
from breakwright.strength.thread_limits import loosest_limits
from breakwright.strength.thread_names import find_thread
from breakwright.strength.threads import stress_area

_SQ_IN = 25.4**2
PRINTED = [
    # thread, bolt strip area, nut strip area
    ("#10-24", 0.050, "0.076"),
    ("#10-32", 0.052, "0.074"),
    ("1/4-20", 0.092, "0.135"),
    ("1/4-28", 0.093, "0.130"),
    ("5/16-18", 0.147, "0.213"),
    ("3/8-16", 0.216, "0.310"),
    ("3/8-24", 0.217, "0.299"),
    ("7/16-14", 0.296, "0.428"),
    ("1/2-13", 0.389, "0.562"),
    ("1/2-20", 0.400, "0.541"),
    ("9/16-12", 0.503, "0.717"),
    ("5/8-11", 0.624, "0.891"),
    ("5/8-18", 0.624, "0.853"),
    ("3/4-10", 0.910, "1.29"),
    ("3/4-16", 0.924, "1.24"),
    ("7/8-9", 1.24, "1.77"),
    ("7/8-14", 1.26, "1.71"),
    ("1-8", 1.66, "2.33"),
]
PER_INCH = [
    ("#4-40", "0.221"),
    ("#4-48", "0.216"),
    ("#6-32", "0.281"),
    ("#8-32", "0.334"),
    ("#10-24", "0.401"),
    ("1/4-20", "0.539"),
    ("5/16-18", "0.682"),
    ("3/8-16", "0.828"),
    ("1/2-13", "1.12"),
    ("5/8-11", "1.42"),
    ("3/4-10", "1.72"),
]


def half_a_digit(printed: str) -> float:
    return 0.5 * 10.0 ** -len(printed.partition(".")[2])


def rounded_limits(diameter_mm: float, pitch_mm: float, engaged_mm: float) -> float:
    """What rounding the two limits of size to 0.0001 in., as the standard does, can move."""
    d, p, engaged = (x / 25.4 for x in (diameter_mm, pitch_mm, engaged_mm))
    by_major = p / 2.0 + 2.0 * d / math.sqrt(3.0)
    return math.pi / p * engaged * 0.5e-4 * (by_major + d / math.sqrt(3.0))


@pytest.mark.parametrize(("name", "bolt", "nut"), PRINTED)
def test_strip_areas_over_one_diameter(name: str, bolt: float, nut: str) -> None:
    thread = find_thread(name)
    d, p = thread.diameter_mm, thread.pitch_mm
    limits = loosest_limits(d, p)
    found = nut_strip_area(d, p, limits.bolt_major, limits.nut_pitch) / _SQ_IN
    allowed = half_a_digit(nut) + rounded_limits(d, p, d)
    assert float(found) == pytest.approx(float(nut), abs=allowed)
    # The printed table takes the nut's largest minor diameter rounded to 0.001 in.
    found = bolt_strip_area(d, p, limits.nut_minor, limits.bolt_pitch) / _SQ_IN
    assert float(found) == pytest.approx(bolt, rel=0.015)


@pytest.mark.parametrize(("name", "printed"), PER_INCH)
def test_nut_strip_area_per_inch(name: str, printed: str) -> None:
    thread = find_thread(name)
    limits = loosest_limits(thread.diameter_mm, thread.pitch_mm)
    found = nut_strip_area(25.4, thread.pitch_mm, limits.bolt_major, limits.nut_pitch) / _SQ_IN
    allowed = half_a_digit(printed) + rounded_limits(thread.diameter_mm, thread.pitch_mm, 25.4)
    assert float(found) == pytest.approx(float(printed), abs=allowed)


def test_engagement_to_snap_5_16_18() -> None:
    thread = find_thread("5/16-18")
    limits = loosest_limits(thread.diameter_mm, thread.pitch_mm)
    area = stress_area(thread.diameter_mm, thread.pitch_mm, thread.cut)
    found = engagement_to_snap(area, thread.pitch_mm, limits.nut_minor, limits.bolt_pitch)
    assert float(found) / 25.4 == pytest.approx(0.223, abs=0.0005)
    # At that engagement, the strip area is twice the stress area: the formula's own premise.
    strip = bolt_strip_area(found, thread.pitch_mm, limits.nut_minor, limits.bolt_pitch)
    assert float(strip) == pytest.approx(2.0 * float(area), rel=1e-12)


def test_the_thread_fills_seven_eighths_of_the_cylinder() -> None:
    """FED-STD-H28's nut area with basic sizes: 7/8 of pi D L, whatever the thread."""
    for name in ("M8", "5/16-18", "M20x1.5"):
        thread = find_thread(name)
        d, p = thread.diameter_mm, thread.pitch_mm
        basic_pitch = d - 0.375 * math.sqrt(3.0) * p
        area = float(nut_strip_area(10.0, p, d, basic_pitch))
        assert area == pytest.approx(0.875 * math.pi * d * 10.0, rel=1e-12)
