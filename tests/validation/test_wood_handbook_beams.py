"""Beams, washers and posts of the Wood Handbook.

USDA Forest Products Laboratory, Wood Handbook FPL-GTR-282 (2021), chapter 9: equations 9-2,
9-13, 9-14, 9-18, 9-20 and 9-25, Table 9-1; FPL-GTR-190 (2010) Table 5-3a for compression across
the grain. The printed example of equation 9-18 is 7,330 lb/in2; the other values were recomputed
by hand from the equations for a 38 x 89 mm beam.
"""

import numpy as np
import pytest

from breakwright.strength.beams import (
    beam_bending_stress,
    beam_moment,
    beam_shear_stress,
    bending_size_factor,
    shear_size_factor,
)
from breakwright.strength.deflection import bending_deflection, shear_deflection
from breakwright.strength.posts import euler_load, post_load
from breakwright.strength.washers import washer_rule_load, washer_settling_load

INCH = 25.4


def test_size_effect_as_printed() -> None:
    """10 in. deep, 18 ft span, loads at the third points, 10,000 lb/in2 of the 2 in. piece."""
    span = 18 * 12 * INCH
    found = 10_000.0 * float(bending_size_factor(10 * INCH, span, span / 3.0))
    assert found == pytest.approx(7327, abs=0.5)
    assert round(found, -1) == 7330


def test_the_test_piece_has_factor_one() -> None:
    """2 in. deep on a 28 in. span with one load: 36125 mm2 is that piece, rounded."""
    assert float(bending_size_factor(2 * INCH, 28 * INCH, 0.0)) == pytest.approx(1.0, abs=1e-5)


def test_stresses_of_a_2_by_4_on_edge() -> None:
    moment = beam_moment(6000.0, 400.0, 0.0)
    assert round(float(beam_bending_stress(moment, 38.0, 89.0)), 2) == 11.96
    assert round(float(beam_shear_stress(3000.0, 38.0, 89.0)), 2) == 1.33


def test_shear_doubles_the_deflection_of_a_short_beam() -> None:
    size = {"span_mm": np.asarray(400.0), "spread_mm": np.asarray(0.0)}
    load = np.asarray(6000.0)
    bending = bending_deflection(load, **size, stiffness_Nmm2=13_400.0 * 38.0 * 89.0**3 / 12.0)
    shear = shear_deflection(load, **size, shear_stiffness_N=13_400.0 / 16.0 * 5 / 6 * 38.0 * 89.0)
    assert [round(float(bending), 3), round(float(shear), 3)] == [0.267, 0.254]


@pytest.mark.parametrize(
    ("spread", "bending_share", "shear_share"), [(0.0, 1 / 48, 1 / 4), (1.0, 5 / 384, 1 / 8)]
)
def test_constants_of_table_9_1(spread: float, bending_share: float, shear_share: float) -> None:
    one = np.asarray(1.0)
    size = {"span_mm": one, "spread_mm": np.asarray(spread)}
    found = bending_deflection(one, **size, stiffness_Nmm2=one)
    assert float(found) == pytest.approx(bending_share, rel=1e-12)
    found = shear_deflection(one, **size, shear_stiffness_N=one)
    assert float(found) == pytest.approx(shear_share, rel=1e-12)


def test_shear_size_effect_in_inches() -> None:
    """The inch form of 9-20, 1.3 * 2/A^(1/5) with A in square inches, agrees within its digits."""
    area = 5.5 * 12 * 12
    metric = float(shear_size_factor(5.5 * INCH, 144 * INCH))
    assert metric == pytest.approx(2.6 / area**0.2, rel=0.01)


def test_posts() -> None:
    size = {"width_mm": 38.0, "depth_mm": 89.0, "buckling_mm": 600.0}
    assert round(float(euler_load(13_400.0, **size)) / 1000.0, 1) == 149.5
    assert round(float(post_load(49.9, 13_400.0, **size)) / 1000.0) == 109
    # Turned on its side the same post is as strong: it buckles about its thin side.
    turned = {**size, "width_mm": 89.0, "depth_mm": 38.0}
    assert float(post_load(49.9, 13_400.0, **turned)) == pytest.approx(
        float(post_load(49.9, 13_400.0, **size)), rel=1e-12
    )


def test_washers() -> None:
    """Douglas-fir under a 38 mm washer with a 9 mm hole; EN 1995-1-1 for M8 and a 30 mm washer."""
    assert round(float(washer_settling_load(5.5, washer_mm=38.0, hole_mm=9.0)) / 1000, 2) == 5.89
    assert round(float(washer_rule_load(2.5, washer_mm=30.0, bolt_mm=8.0)) / 1000, 2) == 4.82
