import numpy as np
import pytest
from scipy.integrate import quad

from breakwright.strength.beams import (
    beam_bending_load,
    beam_bending_stress,
    beam_moment,
    beam_shear_load,
    beam_shear_stress,
    equal_loads_apart,
)
from breakwright.strength.deflection import beam_deflection
from breakwright.strength.metal_beams import box_inertia, metal_beam_load


@pytest.mark.parametrize("share", [0.0, 0.1, 0.5, 0.9, 1.0])
def test_the_spread_load_weakens_as_its_own_moments_say(share: float) -> None:
    """Against adaptive quadrature of the moment diagram to the 18th power."""
    span, spread = 1000.0, 1000.0 * share

    def moment(x: float) -> float:
        """Over the moment in the middle, at a distance x from a support."""
        edge = (span - spread) / 2.0
        m = x / 2.0 - (0.0 if x <= edge else (x - edge) ** 2 / (2.0 * spread))
        return m / float(beam_moment(1.0, span, spread))

    found, _ = quad(lambda x: moment(x) ** 18, 0.0, span / 2.0, points=[(span - spread) / 2.0])
    expected = (19.0 * 2.0 / span * found - 1.0) * span / 18.0
    assert float(equal_loads_apart(span, spread)) == pytest.approx(expected, rel=1e-6, abs=1e-6)


def test_many_spreads_at_once() -> None:
    spreads = np.array([0.0, 100.0, 400.0])
    at_once = equal_loads_apart(np.full(3, 400.0), spreads)
    one_by_one = [float(equal_loads_apart(400.0, s)) for s in spreads]
    assert at_once == pytest.approx(one_by_one)


def test_the_load_brings_the_stress() -> None:
    size = {"width_mm": 38.0, "depth_mm": 89.0, "span_mm": 406.0}
    load = beam_bending_load(85.0, **size, spread_mm=0.0)
    stress = beam_bending_stress(beam_moment(load, 406.0, 0.0), 38.0, 89.0)
    # 89 x 406 mm is the test piece's area within 0.02 %: no size effect.
    assert float(stress) == pytest.approx(85.0, rel=1e-4)
    load = beam_shear_load(7.8, **size)
    assert float(beam_shear_stress(load / 2.0, 38.0, 89.0)) == pytest.approx(7.8)


def test_a_spread_load_breaks_later_but_not_twice_as_late() -> None:
    size = {"width_mm": 38.0, "depth_mm": 89.0, "span_mm": 400.0}
    point = float(beam_bending_load(85.0, **size, spread_mm=0.0))
    spread = float(beam_bending_load(85.0, **size, spread_mm=400.0))
    # Twice by the moment, times (1 + 18 * 0.16)^(-1/18) by the size effect.
    assert spread / point == pytest.approx(2.0 * 3.88 ** (-1 / 18), rel=1e-3)


def test_deflection_in_arrays() -> None:
    size = {"width_mm": 38.0, "depth_mm": 89.0, "span_mm": 400.0, "spread_mm": 0.0}
    loads = np.array([1000.0, 2000.0])
    found = beam_deflection(loads, **size, moe_MPa=13_400.0, e_over_g=16.0)
    assert found[1] == pytest.approx(2.0 * found[0])


def test_a_box_is_its_bar_less_its_hole() -> None:
    whole, hole = 40.0 * 60.0**3 / 12.0, 34.0 * 54.0**3 / 12.0
    assert float(box_inertia(40.0, 60.0, 3.0)) == pytest.approx(whole - hole)
    assert float(box_inertia(40.0, 60.0, 0.0)) == pytest.approx(whole)
    # A wall of half the width leaves no hole.
    assert float(box_inertia(40.0, 60.0, 20.0)) == pytest.approx(whole)


def test_a_metal_beam_yields_at_its_faces() -> None:
    load = metal_beam_load(
        235.0, width_mm=40.0, depth_mm=40.0, wall_mm=3.0, span_mm=400.0, spread_mm=0.0
    )
    stress = float(load) * 400.0 / 4.0 * 20.0 / float(box_inertia(40.0, 40.0, 3.0))
    assert stress == pytest.approx(235.0)
