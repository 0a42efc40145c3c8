"""The range of factors that checks with known weights allow."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from simulator import instruments, shows

from breakwright.model.calibration import (
    UNCHECKED,
    Calibration,
    calibration_of,
    coarsest_check,
)
from breakwright.model.errors import ImpossibleValue
from breakwright.model.instrument import Instrument, KnownWeight

repeatable = settings(derandomize=True, deadline=None)


def scale(*weights: KnownWeight, resolution: float = 0.0) -> Instrument:
    return Instrument("scale", resolution=resolution, weights=weights)


def test_never_checked_is_a_factor_of_exactly_one() -> None:
    assert calibration_of(scale()) == UNCHECKED == Calibration(1.0, 1.0, 0.0)
    assert not calibration_of(scale()).checked


def test_one_weight_by_hand() -> None:
    """199 / 196 and 201 / 194: a weight of 200 +- 1 N shown as 195 N in steps of 2 N."""
    found = calibration_of(scale(KnownWeight(200.0, 195.0, 1.0), resolution=2.0))
    assert found.smallest == pytest.approx(1.0153061224489797, rel=1e-15)
    assert found.largest == pytest.approx(1.0360824742268042, rel=1e-15)
    assert found.verified_up_to == 200.0


def test_a_display_that_is_not_straight_gets_the_hull() -> None:
    """Right at 100 N, 4 % off at 500 N: between 1 and 500/480 anywhere."""
    found = calibration_of(scale(KnownWeight(100.0, 100.0), KnownWeight(500.0, 480.0)))
    assert (found.smallest, found.largest) == (1.0, 500.0 / 480.0)
    assert found.verified_up_to == 500.0


def test_a_weight_lost_in_half_a_step_says_nothing() -> None:
    light = KnownWeight(4.0, 5.0)
    assert calibration_of(scale(light, resolution=10.0)) == UNCHECKED
    heavy = KnownWeight(500.0, 500.0)
    assert calibration_of(scale(light, heavy, resolution=10.0)) == calibration_of(
        scale(heavy, resolution=10.0)
    )


def test_the_light_weight_that_widens_everything_is_named() -> None:
    light, heavy = KnownWeight(10.0, 10.0), KnownWeight(500.0, 500.0)
    found = coarsest_check(scale(heavy, light, resolution=2.0))
    assert found is not None
    assert found.weight is light
    assert found.with_it == Calibration(10.0 / 11.0, 10.0 / 9.0, 500.0)
    assert found.without_it == Calibration(500.0 / 501.0, 500.0 / 499.0, 500.0)


def test_two_fine_checks_that_disagree_are_not_blamed() -> None:
    apart = scale(KnownWeight(100.0, 100.0), KnownWeight(500.0, 480.0), resolution=0.1)
    assert coarsest_check(apart) is None
    assert coarsest_check(scale(KnownWeight(10.0, 10.0), resolution=2.0)) is None
    assert coarsest_check(scale()) is None


@repeatable
@given(
    st.floats(0.5, 2.0),
    st.sampled_from([0.0, 0.5, 2.0, 10.0]),
    st.lists(
        st.tuples(st.floats(15.0, 2000.0), st.floats(0.0, 0.05), st.floats(-1.0, 1.0)),
        min_size=1,
        max_size=4,
    ),
)
def test_holds_the_factor_of_a_straight_display(
    factor: float, step: float, checks: list[tuple[float, float, float]]
) -> None:
    weights = []
    for stated, share, where in checks:
        tolerance = stated * share
        number = shows((stated + where * tolerance) / factor, step)
        if number > 0.0:
            weights.append(KnownWeight(stated, number, tolerance))
    found = calibration_of(scale(*weights, resolution=step))
    if found.checked:
        assert found.smallest <= factor * (1 + 1e-9)
        assert found.largest >= factor * (1 - 1e-9)
        assert found.verified_up_to == max(w.true for w in weights)


@repeatable
@given(instruments("bent"), st.floats(1.0, 3000.0))
def test_holds_the_factor_of_a_bent_display_at_any_load(drawn, felt: float) -> None:
    instrument, display = drawn
    found = calibration_of(instrument)
    factor = felt / display.shown_for(felt)
    assert found.smallest <= factor * (1 + 1e-9)
    assert found.largest >= factor * (1 - 1e-9)


@pytest.mark.parametrize(
    "wrong", [(0.0, 1.0, 0.0), (1.1, 1.0, 0.0), (1.0, math.inf, 0.0), (1.0, 1.0, -1.0)]
)
def test_impossible_calibrations_are_refused(wrong: tuple[float, float, float]) -> None:
    with pytest.raises(ImpossibleValue):
        Calibration(*wrong)
