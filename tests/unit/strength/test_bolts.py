import numpy as np
import pytest

from breakwright.strength.bolt_bending import off_axis_load, off_axis_stress
from breakwright.strength.bolts import UnknownGrade, find_grade
from breakwright.strength.metal_tables import table
from breakwright.strength.stripping import bolt_strip_area, nut_strip_area
from breakwright.strength.thread_limits import loosest_limits
from breakwright.strength.thread_names import find_thread


@pytest.mark.parametrize("said", ["8.8", "class 8.8", "ISO 8.8", "grade 8.8", "Property class 8.8"])
def test_ways_to_say_a_class(said: str) -> None:
    assert find_grade(said, 8.0).name == "8.8"


@pytest.mark.parametrize("said", ["5", "Grade 5", "gr 5", "Gr.5", "SAE J429 grade 5", "GRADE5"])
def test_ways_to_say_a_grade(said: str) -> None:
    assert find_grade(said, 8.0).name == "grade 5"


@pytest.mark.parametrize("said", ["grade 2", "grade 5", "8.8"])
def test_thick_bolts_of_a_grade_have_other_values(said: str) -> None:
    thin, thick = find_grade(said, 10.0), find_grade(said, 30.0)
    assert thin.tensile_MPa != thick.tensile_MPa


def test_an_unknown_grade_is_told_with_near_ones() -> None:
    with pytest.raises(UnknownGrade, match=r"grade '8\.9'") as caught:
        find_grade("8.9", 8.0)
    assert "8.8" in caught.value.nearest


def test_a_grade_that_ends_at_a_size_is_told() -> None:
    with pytest.raises(UnknownGrade, match="up to a diameter of 16 mm"):
        find_grade("9.8", 20.0)


def test_grades_are_ordered_as_metal_is() -> None:
    for row in table("bolts.csv"):
        assert 0.0 < float(row["proof"]) <= float(row["yield"]) <= float(row["tensile"]), row


def test_an_offset_of_nothing_is_plain_tension() -> None:
    assert float(off_axis_load(580.0, 36.6, 0.0)) == pytest.approx(580.0 * 36.6)


def test_off_axis_load_reaches_its_stress() -> None:
    offset = np.array([0.0, 0.5, 2.0, 10.0])
    load = off_axis_load(580.0, 36.6, offset)
    assert off_axis_stress(load, 36.6, offset) == pytest.approx(580.0)
    assert (np.diff(load) < 0.0).all()


@pytest.mark.parametrize("name", ["#4-40", "1/4-20", "M8", "M20", "1-8"])
def test_the_loosest_thread_has_less_to_shear_than_the_basic_one(name: str) -> None:
    thread = find_thread(name)
    d, p = thread.diameter_mm, thread.pitch_mm
    limits = loosest_limits(d, p)
    basic = d - 0.649519 * p
    loose = nut_strip_area(10.0, p, limits.bolt_major, limits.nut_pitch)
    assert 0.6 < float(loose / nut_strip_area(10.0, p, d, basic)) < 1.0
    loose = bolt_strip_area(10.0, p, limits.nut_minor, limits.bolt_pitch)
    assert 0.6 < float(loose / bolt_strip_area(10.0, p, d - 1.082532 * p, basic)) < 1.0
