"""Scales under a load: plain statics, and the guide to measurement uncertainty.

Sources: statics of a beam on two supports; anything with more supports against scipy's linear
programme and against stiffness equations written out here; GUM (JCGM 100) 4.3.7, the standard
uncertainty of a step q is q/sqrt(12) (from memory). Printed numbers: the project's facts,
'Measurement' (recomputed there).
"""

import math

import numpy as np
import pytest
from scipy.optimize import linprog

from breakwright.model.foresight import Layout
from breakwright.model.instrument import Instrument, KnownWeight
from breakwright.model.study import Study
from breakwright.rig.buying import capacity_needed
from breakwright.rig.check_fit import fit_checks
from breakwright.rig.lognormal import P99_Z, log_sigma
from breakwright.rig.placing import best_of, shares_at
from breakwright.rig.scales import sets_of
from breakwright.rig.statics import (
    doubled_error,
    share_range,
    shares_of_two,
    shares_on_springs,
)

KG = 9.80665


def test_two_scales_20_mm_off_the_middle_of_500():
    """1840 and 2160 N of 4 kN; one read and doubled is 8 % wrong (the facts, 'Two scales')."""
    found = 4000.0 * shares_of_two(270.0, 0.0, 500.0)
    assert found.tolist() == pytest.approx([1840.0, 2160.0], abs=1e-9)
    assert 2.0 * found[1] / 4000.0 - 1.0 == pytest.approx(0.08, abs=1e-12)
    assert float(doubled_error(20.0, 500.0)) == pytest.approx(0.08, abs=1e-12)


def test_the_sum_does_not_depend_on_where_the_load_is():
    places = np.linspace(0.0, 500.0, 11)
    assert shares_of_two(places, 0.0, 500.0).sum(axis=0) == pytest.approx(np.ones(11), abs=1e-12)


@pytest.mark.parametrize("at", [0.0, 90.0, 240.0, 410.0])
def test_the_range_of_shares_is_what_a_linear_programme_finds(at):
    """Four supports, not evenly spaced: min and max of each reaction (scipy.optimize.linprog)."""
    supports = (0.0, 150.0, 260.0, 410.0)
    balance = np.array([np.ones(4), supports])
    for k, (low, high) in enumerate(share_range((at, at), supports)):
        ends = []
        for sign in (1.0, -1.0):
            goal = np.zeros(4)
            goal[k] = sign
            ends.append(sign * linprog(goal, A_eq=balance, b_eq=[1.0, at]).fun)
        assert (low, high) == pytest.approx(ends, abs=1e-9)


def test_a_stiff_beam_on_equal_springs_by_its_two_equations():
    """Height and tilt of the beam from the stiffness equations, then each spring's force."""
    supports = np.array([0.0, 120.0, 300.0, 500.0])
    at = 210.0
    stiffness = np.array([[4.0, supports.sum()], [supports.sum(), np.square(supports).sum()]])
    height, tilt = np.linalg.solve(stiffness, [1.0, at])
    assert shares_on_springs(at, tuple(supports)) == pytest.approx(height + tilt * supports)


def test_two_supports_leave_no_range_and_springs_agree_with_statics():
    shares, _ = shares_at(270.0, 0.0, (0.0, 500.0))
    assert [tuple(s) for s in shares] == [
        pytest.approx((0.46, 0.46, 0.46)),
        pytest.approx((0.54, 0.54, 0.54)),
    ]
    assert shares_on_springs(270.0, (0.0, 500.0)).tolist() == pytest.approx([0.46, 0.54])


def test_the_best_place_is_the_best_of_all_places():
    """Aim and limit for unequal scales and a load that wanders, against a search by brute force."""
    places, loads, wander = (40.0, 640.0), (1800.0, 3100.0), 25.0
    best = best_of(places, loads, wander=wander)
    tried = {}
    for at in np.linspace(70.0, 610.0, 5401):
        shares, _ = shares_at(float(at), wander, places)
        tried[at] = min(load / s.high for load, s in zip(loads, shares, strict=True))
    brute = max(tried, key=lambda a: tried[a])
    assert best.at == pytest.approx(brute, abs=0.1)
    assert best.limit == pytest.approx(tried[brute], rel=1e-3)


def test_the_capacity_of_the_worked_example():
    """4.5 kN on average at a CV of 0.30, 54 % on one of two scales: 470 kg (the facts)."""
    sigma = log_sigma(0.30)
    p99 = 4500.0 / math.sqrt(1.09) * math.exp(P99_Z * sigma)
    assert p99 == pytest.approx(8500.0, abs=50.0)  # printed as 8.5 kN
    needed = capacity_needed(p99, share=0.54, factor=1.0, tare=0.0, resolution=0.0)
    assert needed / KG == pytest.approx(470.0, abs=0.5)


def test_the_uncertainty_of_two_readings_and_two_tares():
    """Steps of 0.1 kg: 0.566 N (the facts; q/sqrt(12) four times)."""
    scales = tuple(Instrument(n, capacity=2000.0, resolution=0.1 * KG) for n in ("left", "right"))
    study = Study(
        (),
        ("plain",),
        "plain",
        instruments=scales,
        layout=Layout(scale_at={"left": 0.0, "right": 500.0}, load_at=250.0),
    )
    (found,) = sets_of(study, {}, offers=())
    assert found.resolution_error == pytest.approx(0.566, abs=5e-4)


def test_the_load_missed_between_two_refreshes():
    """55 N/s at 0.1 s: 5.5 N (the facts, 'Peak-hold lag')."""
    scale = Instrument("one", capacity=2000.0, refresh=0.1)
    study = Study((), ("plain",), "plain", instruments=(scale,), layout=Layout(rate=55.0))
    (found,) = sets_of(study, {}, offers=())
    assert found.missed == pytest.approx(5.5, abs=1e-12)


def test_the_line_through_the_checks_is_scipys():
    """scipy.stats.linregress on the same points."""
    from scipy.stats import linregress

    true = [49.0, 98.1, 196.1, 294.2, 392.3]
    shown = [48.6, 97.9, 195.2, 293.4, 390.1]
    found = fit_checks([KnownWeight(t, s) for t, s in zip(true, shown, strict=True)])
    line = linregress(shown, true)
    assert found.slope == pytest.approx(line.slope, rel=1e-12)
    assert found.zero == pytest.approx(line.intercept, rel=1e-9)
    assert found.slope_error == pytest.approx(line.stderr, rel=1e-9)
    assert fit_checks([KnownWeight(49.0, 48.6)] * 2) is None
