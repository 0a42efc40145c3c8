"""The interval and the impossible values that the model's types refuse."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from breakwright.model.errors import ImpossibleValue
from breakwright.model.instrument import Instrument, KnownWeight
from breakwright.model.interval import Interval, IntervalKind

repeatable = settings(derandomize=True, deadline=None)
loads = st.floats(0.0, 1e6)


@pytest.mark.parametrize(
    ("interval", "kind"),
    [
        (Interval.exact(5.0), IntervalKind.EXACT),
        (Interval.exact(0.0), IntervalKind.EXACT),
        (Interval.at_least(5.0), IntervalKind.AT_LEAST),
        (Interval.at_least(0.0), IntervalKind.AT_LEAST),
        (Interval.at_most(5.0), IntervalKind.AT_MOST),
        (Interval(4.0, 5.0), IntervalKind.BETWEEN),
    ],
)
def test_kinds(interval: Interval, kind: IntervalKind) -> None:
    assert interval.kind is kind


@pytest.mark.parametrize(
    "ends",
    [(-1.0, 2.0), (2.0, 1.0), (math.inf, math.inf), (math.nan, 1.0), (1.0, math.nan)],
)
def test_impossible_intervals(ends: tuple[float, float]) -> None:
    with pytest.raises(ImpossibleValue, match="0 <= lower <= upper"):
        Interval(*ends)


def test_impossible_steps() -> None:
    with pytest.raises(ImpossibleValue, match="only ever widened"):
        Interval.exact(5.0).widened(down=-1.0)
    for smallest, largest in ((0.0, 1.0), (2.0, 1.0), (1.0, math.inf)):
        with pytest.raises(ImpossibleValue, match="factor range"):
            Interval.exact(5.0).scaled(smallest, largest)


@repeatable
@given(loads, loads, loads, loads, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_sum_and_hull_hold_every_pair(
    a: float, b: float, c: float, d: float, u: float, w: float
) -> None:
    one, two = Interval(min(a, b), max(a, b)), Interval(min(c, d), max(c, d))
    x = min(one.lower + u * one.width, one.upper)
    y = min(two.lower + w * two.width, two.upper)
    assert (one + two).holds(x + y)
    assert one.hull(two).holds(x)
    assert one.hull(two).holds(y)


@repeatable
@given(loads, loads, st.floats(-1e6, 1e6))
def test_a_shift_keeps_the_width_above_the_floor(a: float, b: float, by: float) -> None:
    interval = Interval(min(a, b), max(a, b))
    after = interval.shifted(by)
    assert after.holds(max(0.0, interval.lower + by))
    assert after.holds(max(0.0, interval.upper + by))
    if interval.lower + by >= 0.0:
        assert after.width == pytest.approx(interval.width, abs=1e-6)


@pytest.mark.parametrize(
    "wrong",
    [
        {"capacity": 0.0},
        {"resolution": -1.0},
        {"refresh": 0.0},
        {"capacity": 100.0, "tare": 100.0},
        {"factor": (2.0, 1.0)},
    ],
)
def test_impossible_instruments(wrong: dict) -> None:
    with pytest.raises(ImpossibleValue, match="'scale'"):
        Instrument("scale", **wrong)


def test_impossible_weights() -> None:
    for true, shown, tolerance in ((0.0, 1.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 1.0)):
        with pytest.raises(ImpossibleValue):
            KnownWeight(true, shown, tolerance)


def test_a_tare_eats_range() -> None:
    assert Instrument("scale", capacity=450.0, tare=10.0).usable == 440.0
    assert math.isinf(Instrument("scale").usable)
