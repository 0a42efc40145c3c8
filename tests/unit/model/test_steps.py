"""Each step alone: the truth that was in before is in after; and the few numbers done by hand."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from simulator import holds, shows

from breakwright.model.calibration import Calibration
from breakwright.model.errors import ImpossibleValue
from breakwright.model.interval import Interval
from breakwright.model.steps import (
    at_same_moment,
    calibrated,
    first_to_run_out,
    from_separate_peaks,
    least_seen_together,
    missed_between_refreshes,
    range_ran_out,
    seen_together,
    through_rig,
    to_resolution,
    unseen_above,
)

repeatable = settings(derandomize=True, deadline=None)
loads = st.floats(0.0, 5000.0)
steps = st.sampled_from([0.0, 0.1, 0.5, 2.0, 5.0, 10.0])


@st.composite
def intervals(draw: st.DrawFn) -> Interval:
    low, high = sorted((draw(loads), draw(loads)))
    return Interval(low, draw(st.sampled_from([low, high, math.inf])))


@repeatable
@given(loads, steps)
def test_resolution_holds_the_load_that_was_rounded(load: float, step: float) -> None:
    assert holds(to_resolution(Interval.exact(shows(load, step)), step), load)


@repeatable
@given(intervals(), steps)
def test_resolution_and_opening_never_narrow(interval: Interval, step: float) -> None:
    for after in (to_resolution(interval, step), unseen_above(interval)):
        assert after.lower <= interval.lower
        assert after.upper >= interval.upper


@repeatable
@given(loads, steps, st.floats(50.0, 4000.0))
def test_a_display_at_its_end_is_always_noticed(load: float, step: float, usable: float) -> None:
    number = Interval.exact(shows(min(load, usable), step))
    if load >= usable:
        assert range_ran_out(number, resolution=step, usable=usable)
    elif load < usable - 1.01 * step - 1e-5:
        assert not range_ran_out(number, resolution=step, usable=usable)


@pytest.mark.parametrize(
    ("shown", "ran_out"),
    [
        (Interval.exact(440.0), True),
        (Interval.exact(438.0), False),  # the display still had one step of 2 N to go
        (Interval.exact(439.0), True),  # no step of the display, but half a step from the end
        (Interval(405.0, 440.0), True),
        (Interval(405.0, 430.0), False),
        (Interval.at_least(440.0), True),
        (Interval.at_least(300.0), False),
        (Interval.at_most(440.0), False),
        (Interval.exact(500.0), True),
    ],
)
def test_end_of_a_range_of_440(shown: Interval, ran_out: bool) -> None:
    assert range_ran_out(shown, resolution=2.0, usable=440.0) is ran_out


def test_a_tare_taken_off_in_another_unit_does_not_hide_the_end() -> None:
    lbf = 4.4482216152605
    usable = 100.0 * lbf - 1.2 * lbf
    assert 98.8 * lbf < usable  # the same load twice, one bit apart
    assert range_ran_out(Interval.exact(98.8 * lbf), resolution=0.0, usable=usable)


@repeatable
@given(intervals(), st.floats(0.5, 2.0), st.floats(0.5, 2.0), st.floats(0.0, 1.0))
def test_calibration_and_rig_hold_every_factor(
    interval: Interval, one: float, two: float, where: float
) -> None:
    low, high = sorted((one, two))
    factor = low + where * (high - low)
    for after in (
        calibrated(interval, Calibration(low, high, 100.0)),
        through_rig(interval, (low, high)),
    ):
        assert holds(after, interval.lower * factor)
        assert holds(after, min(interval.upper, 9000.0) * factor)
        assert math.isinf(after.upper) == math.isinf(interval.upper)


@st.composite
def histories(draw: st.DrawFn) -> list[list[float]]:
    """Loads of each instrument (columns) at a few moments (rows)."""
    parts = draw(st.integers(1, 4))
    row = st.lists(loads, min_size=parts, max_size=parts)
    return draw(st.lists(row, min_size=1, max_size=5))


@repeatable
@given(histories(), steps)
def test_sharing_holds_the_peak_of_the_sum(history: list[list[float]], step: float) -> None:
    strength = max(sum(moment) for moment in history)
    at_peak = max(history, key=sum)
    together = max(sum(shows(load, step) for load in moment) for moment in history)
    peaks = [max(column) for column in zip(*history, strict=True)]
    same = at_same_moment([to_resolution(Interval.exact(shows(x, step)), step) for x in at_peak])
    apart = from_separate_peaks(
        [to_resolution(Interval.exact(shows(x, step)), step) for x in peaks]
    )
    least = least_seen_together(together, half_steps=len(peaks) * step / 2.0, smallest_factor=1.0)
    assert holds(same, strength)
    assert holds(apart, strength)
    assert holds(seen_together(apart, least), strength)


@repeatable
@given(
    st.lists(st.tuples(loads, st.floats(0.5, 2.0)), min_size=1, max_size=4),
    st.floats(0.5, 2.0),
)
def test_a_sum_of_displays_with_unlike_factors(
    parts: list[tuple[float, float]], other: float
) -> None:
    truth = sum(shown * factor for shown, factor in parts)
    smallest = min([factor for _, factor in parts] + [other])
    least = least_seen_together(
        sum(shown for shown, _ in parts), half_steps=0.0, smallest_factor=smallest
    )
    assert least <= truth * (1.0 + 1e-9)


def test_a_sum_above_the_sum_of_the_peaks_throws_neither_away() -> None:
    assert seen_together(Interval(300.0, 700.0), 900.0) == Interval(900.0, 900.0)
    assert seen_together(Interval(300.0, 700.0), 500.0) == Interval(500.0, 700.0)
    assert seen_together(Interval(300.0, 700.0), 200.0) == Interval(300.0, 700.0)


@repeatable
@given(
    st.floats(100.0, 5000.0),
    st.floats(0.0, 500.0),
    st.floats(0.0, 1.0),
    st.lists(
        st.tuples(st.floats(0.01, 2.0), st.floats(0.0, 1.0), st.floats(0.01, 1.0)),
        min_size=1,
        max_size=3,
    ),
)
def test_what_rose_since_the_last_shown_values_is_held(
    peak: float, rate: float, slower: float, displays: list[tuple[float, float, float]]
) -> None:
    """Several displays, each with its own refresh, phase and share of a steadily rising load."""
    whole = sum(share for _, _, share in displays)
    seen = [
        Interval.exact(max(0.0, peak - rate * slower * refresh * phase) * share / whole)
        for refresh, phase, share in displays
    ]
    longest = max(refresh for refresh, _, _ in displays)
    after = missed_between_refreshes(at_same_moment(seen), rate=rate, refresh=longest)
    assert holds(after, peak)
    assert after.lower == at_same_moment(seen).lower


@repeatable
@given(
    st.lists(st.tuples(st.floats(0.01, 1.0), st.floats(50.0, 5000.0)), min_size=1, max_size=4),
    st.floats(10.0, 3000.0),
)
def test_first_display_to_run_out(parts: list[tuple[float, float]], total: float) -> None:
    """Just below the total all displays still read; just above it one of them is at its end."""
    whole = sum(share for share, _ in parts)
    loads_now = [total * share / whole for share, _ in parts]
    limits = [limit for _, limit in parts]
    end = first_to_run_out(loads_now, limits)
    below = [end * 0.999 * share / whole for share, _ in parts]
    above = [end * 1.001 * share / whole for share, _ in parts]
    assert all(load < limit for load, limit in zip(below, limits, strict=True))
    assert any(load > limit for load, limit in zip(above, limits, strict=True))
    assert end <= sum(limits) * (1.0 + 1e-9)


def test_shares_unknown_or_limits_unknown() -> None:
    assert first_to_run_out([0.0, 0.0], [600.0, 500.0]) == 1100.0
    assert first_to_run_out([0.0, 10.0], [600.0, 500.0]) == 500.0
    assert math.isinf(first_to_run_out([10.0, 10.0], [math.inf, math.inf]))
    assert first_to_run_out([10.0, 30.0], [math.inf, 600.0]) == 800.0


def test_no_reading_is_refused() -> None:
    with pytest.raises(ImpossibleValue, match="at least one reading"):
        at_same_moment([])
