"""Pulls and their peaks in made-up traces, where the truth is known."""

import math
from collections.abc import Callable, Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from breakwright.model.errors import ImpossibleValue
from breakwright.model.trial import Ending
from breakwright.reading.stream_lines import Sample
from breakwright.reading.stream_peak import Doubt, Peak, peak_of
from breakwright.reading.stream_pulls import Phase, PullEnd, PullFinder, PullRules

RULES = PullRules(threshold=50.0, resolution=1.0)


def peaks(samples: Iterable[Sample], rules: PullRules = RULES) -> list[Peak]:
    finder = PullFinder(rules)
    pulls = [pull for s in samples if (pull := finder.feed(s)) is not None]
    last = finder.end()
    return [peak_of(pull, rules) for pull in (*pulls, last) if pull is not None]


def sampled(
    load: Callable[[float], float], *, until: float, every: float = 0.1, phase: float = 0.0
) -> list[Sample]:
    count = int((until - phase) / every)
    return [Sample(t, load(t)) for t in (phase + every * n for n in range(count))]


def ramp(rate: float, breaks: float, *, begins: float = 1.0) -> Callable[[float], float]:
    end = begins + breaks / rate

    def load(t: float) -> float:
        return 0.0 if t < begins or t > end else rate * (t - begins)

    return load


def test_a_clean_pull() -> None:
    (peak,) = peaks(sampled(ramp(100.0, 1234.0), until=20.0))
    assert peak.ending is Ending.BROKE
    assert peak.interval.holds(1234.0)
    # One sample's rise, the step of 1 N and its share in the rate.
    assert peak.interval.width < 100.0 * 0.1 + 1.0 + 1.0
    assert peak.doubts == ()
    assert peak.rate == pytest.approx(100.0, rel=0.04)


@given(
    rate=st.floats(20.0, 2000.0),
    breaks=st.floats(300.0, 20_000.0),
    every=st.sampled_from([0.0125, 0.1, 0.25]),
    phase=st.floats(0.0, 0.999),
    step=st.sampled_from([0.1, 1.0, 5.0]),
    stated=st.booleans(),
)
def test_the_interval_holds_the_true_peak_of_a_steady_rise(
    rate: float, breaks: float, every: float, phase: float, step: float, stated: bool
) -> None:
    begins = 2.0
    # A pull of at least half a second and of some ten thousand samples at most.
    breaks = min(max(breaks, 0.5 * rate), 100.0 * rate)
    true = ramp(rate, breaks, begins=begins)
    until = begins + breaks / rate + 4.0
    trace = [
        Sample(s.time, step * round((s.load or 0.0) / step))
        for s in sampled(true, until=until, every=every, phase=phase * every)
    ]
    rules = PullRules(threshold=50.0, resolution=step, rate=rate if stated else None)
    (peak,) = peaks(trace, rules)
    slack = 1e-9 * breaks
    assert peak.interval.lower - slack <= breaks <= peak.interval.upper + slack
    # ... and it is not merely wide: a sample's rise, the step, and the step's part in the rate.
    if Doubt.FEW_SAMPLES in peak.doubts:
        return
    assert peak.interval.width <= (rate + step / 0.2) * every * 1.6 + step + slack


@given(
    st.lists(st.floats(0.0, 400.0), min_size=20, max_size=150),
    st.floats(0.0, 0.99),
)
def test_the_interval_holds_the_true_peak_of_a_jerky_rise_below_the_stated_rate(
    rates: list[float], phase: float
) -> None:
    # Each tenth of a second has a rate of its own, none above 400 N/s.
    knots = [0.0]
    for rate in rates:
        knots.append(knots[-1] + 0.1 * rate)

    def load(t: float) -> float:
        n = int(t / 0.1)
        return knots[n] + rates[n] * (t - 0.1 * n) if n < len(rates) else 0.0

    rules = PullRules(threshold=50.0, resolution=0.0, rate=400.0)
    found = peaks(
        sampled(load, until=0.1 * len(rates) + 4.0, every=0.13, phase=0.13 * phase), rules
    )
    for peak in found:
        assert peak.interval.lower - 1e-6 <= knots[-1] <= peak.interval.upper + 1e-6
    assert found or knots[-1] < 50.0 + 400.0 * 0.13 + 1e-6


def test_a_slip_taken_up_again_does_not_end_the_pull() -> None:
    def load(t: float) -> float:
        if t < 1.0 or t > 12.0:
            return 0.0
        return 100.0 if 5.0 < t < 6.0 else 100.0 * (t - 1.0)

    (peak,) = peaks(sampled(load, until=20.0))
    assert peak.interval.holds(1100.0)
    assert (peak.slips, peak.doubts) == (1, (Doubt.SLIPPED,))


def test_several_pulls_in_one_run_are_parted() -> None:
    one, two = ramp(100.0, 700.0), ramp(200.0, 900.0, begins=15.0)
    found = peaks(sampled(lambda t: one(t) + two(t), until=30.0))
    assert [p.interval.holds(true) for p, true in zip(found, (700.0, 900.0), strict=True)] == [
        True,
        True,
    ]
    assert all(p.doubts == () for p in found)


def test_a_rise_before_the_load_came_to_rest_is_no_piece_of_its_own_without_a_person() -> None:
    def load(t: float) -> float:
        if t < 1.0:
            return 0.0
        if t < 11.0:
            return 100.0 * (t - 1.0)
        return 300.0 if t < 15.0 else min(300.0 + 100.0 * (t - 15.0), 800.0) if t < 22.0 else 0.0

    found = peaks(sampled(load, until=30.0))
    assert [Doubt.ROSE_AGAIN in p.doubts for p in found] == [False, True]
    assert Doubt.ROSE_AGAIN.holds


def test_a_display_that_runs_out_leaves_at_least() -> None:
    rising = sampled(ramp(100.0, 2000.0), until=25.0)
    trace = [Sample(s.time, None if (s.load or 0.0) > 1500.0 else s.load) for s in rising]
    (peak,) = peaks(trace)
    assert (peak.ending, peak.interval.upper) == (Ending.OVER_RANGE, math.inf)
    assert 1480.0 < peak.interval.lower <= 1500.0
    assert Doubt.RAN_OUT in peak.doubts


def test_a_peak_at_the_stated_capacity_is_at_least() -> None:
    def load(t: float) -> float:
        return min(ramp(100.0, 2000.0)(t), 1500.0)

    (peak,) = peaks(sampled(load, until=25.0), PullRules(resolution=1.0, capacity=1500.0))
    assert (peak.ending, peak.interval.upper) == (Ending.OVER_RANGE, math.inf)
    assert peak.interval.lower == 1499.5


def test_no_number_while_nothing_hangs_on_it_is_no_pull() -> None:
    finder = PullFinder(RULES)
    for n in range(50):
        assert finder.feed(Sample(n * 0.1, None if n > 10 else 0.0)) is None
    assert finder.phase is Phase.REST
    assert finder.over_at_rest == 39


@pytest.mark.parametrize("gap", ["silence", "cable"])
def test_lines_missing_at_the_break_leave_at_least(gap: str) -> None:
    whole = sampled(ramp(100.0, 1000.0), until=20.0)
    trace = [s for s in whole if not 9.0 < s.time < 13.0]
    if gap == "cable":
        trace = [Sample(s.time - (3.9 if s.time > 12.0 else 0.0), s.load) for s in trace]
        place = next(n for n, s in enumerate(trace) if s.time > 9.0)
        trace[place] = Sample(trace[place].time, trace[place].load, after_gap=True)
    (peak,) = peaks(trace)
    assert (peak.ending, peak.interval.upper) == (Ending.SCREEN_LOST, math.inf)
    assert peak.interval.lower == pytest.approx(799.5, abs=1.0)
    assert Doubt.LOST_AT_BREAK in peak.doubts


def test_lines_missing_on_the_way_up_are_told_and_cost_nothing() -> None:
    trace = [s for s in sampled(ramp(100.0, 1000.0), until=20.0) if not 4.0 < s.time < 7.0]
    (peak,) = peaks(trace)
    assert peak.interval.holds(1000.0)
    assert peak.interval.width < 15.0
    assert peak.doubts == (Doubt.GAP_INSIDE,)


def test_an_end_while_the_piece_bore_needs_a_person() -> None:
    (peak,) = peaks(sampled(ramp(100.0, 5000.0), until=20.0))
    assert (peak.ending, peak.interval.upper) == (Ending.SCREEN_LOST, math.inf)
    assert peak.doubts == (Doubt.CUT,)
    assert Doubt.CUT.holds


@pytest.mark.parametrize("when", [6.0, 10.9])
def test_a_lone_sample_stays_within_the_range_and_is_told(when: float) -> None:
    trace = sampled(ramp(100.0, 1000.0), until=20.0)
    place = min(range(len(trace)), key=lambda n: abs(trace[n].time - when))
    trace[place] = Sample(trace[place].time, 3000.0)
    (peak,) = peaks(trace)
    assert Doubt.LONE_SAMPLE in peak.doubts
    assert peak.shown == 3000.0
    assert peak.interval.holds(1000.0)
    assert peak.interval.holds(3000.0)


def test_letting_off_the_jack_is_not_taken_for_a_break() -> None:
    def load(t: float) -> float:
        return max(0.0, 100.0 * (t - 1.0) if t < 9.0 else 800.0 - 150.0 * (t - 9.0))

    (peak,) = peaks(sampled(load, until=25.0))
    assert peak.doubts == (Doubt.SLOW_FALL,)
    assert Doubt.SLOW_FALL.holds


def test_a_cell_that_does_not_stand_at_zero_is_told_and_left_alone() -> None:
    true = ramp(100.0, 1000.0, begins=5.0)
    (peak,) = peaks(sampled(lambda t: true(t) + 20.0, until=20.0))
    assert peak.doubts == (Doubt.NOT_AT_ZERO,)
    assert peak.rest == 20.0
    assert peak.interval.holds(1020.0)


def test_a_pull_shown_as_negative() -> None:
    true = ramp(100.0, 1000.0)
    trace = sampled(lambda t: -true(t), until=20.0)
    assert peaks(trace) == []
    (peak,) = peaks(trace, PullRules(resolution=1.0, sign=-1.0))
    assert peak.interval.holds(1000.0)


def test_without_times_the_largest_step_is_what_may_be_missed() -> None:
    trace = [Sample(0.0, s.load) for s in sampled(ramp(100.0, 1000.0), until=15.0)]
    rules = PullRules(resolution=1.0, stay=0.0)
    (peak,) = peaks(trace, rules)
    assert peak.rate is None
    assert peak.interval.holds(1000.0)
    assert peak.interval.width < 12.0


@given(
    st.lists(
        st.tuples(
            st.one_of(st.none(), st.floats(-1e9, 1e9)),
            st.floats(0.0, 4.0),
            st.booleans(),
        ),
        max_size=60,
    )
)
def test_any_trace_gives_intervals_and_no_exception(
    steps: list[tuple[float | None, float, bool]],
) -> None:
    time, trace = 0.0, []
    for load, wait, gap in steps:
        time += wait
        trace.append(Sample(time, load, gap))
    finder = PullFinder(RULES)
    pulls = [pull for s in trace if (pull := finder.feed(s)) is not None]
    if finder.phase is not Phase.REST:
        last = finder.end()
        assert last is not None
        assert last.end in PullEnd
        pulls.append(last)
    assert finder.end() is None
    for pull in pulls:
        peak = peak_of(pull, RULES)
        shown = [s.load for s in pull.samples if s.load is not None]
        if shown:
            assert peak.interval.upper >= max(shown) - 0.5
        if Doubt.LONE_SAMPLE not in peak.doubts and shown:
            assert peak.interval.lower == max(0.0, max(shown) - 0.5)


@pytest.mark.parametrize("wrong", [{"threshold": 0.0}, {"drop": 1.0}, {"stay": -1.0}])
def test_rules_that_end_no_pull_are_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(ImpossibleValue):
        PullRules(**wrong)
