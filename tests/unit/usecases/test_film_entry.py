"""A pull off a film as an entry: every load in its place, nothing missed counted twice."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from breakwright.model.algebra import outcome_of
from breakwright.model.errors import InputRefused
from breakwright.model.event import Entry
from breakwright.model.film import Break, DisplayMark, DisplayTrace, PeakWindow, Quad, Shown
from breakwright.model.instrument import Instrument
from breakwright.model.interval import Interval
from breakwright.model.study import Study
from breakwright.model.trial import Ending, Reading, Sharing, Trial
from breakwright.model.units import NEWTONS_PER, ForceUnit, to_newtons
from breakwright.usecases.film_entry import entry_of

KGF = NEWTONS_PER[ForceUnit.KGF]
QUAD = Quad((0.0, 0.0), (9.0, 0.0), (9.0, 4.0), (0.0, 4.0))
LEFT = Instrument("left", capacity=50.0 * KGF, resolution=0.05 * KGF, refresh=0.25)
RIGHT = replace(LEFT, name="right")


def study(*instruments: Instrument, sharing: Sharing | None = Sharing.SAME_MOMENT) -> Study:
    return Study((), ("x",), "x", unit=ForceUnit.KGF, instruments=instruments, sharing=sharing)


def trace(name: str, unit: str = "kgf") -> DisplayTrace:
    return DisplayTrace(DisplayMark(name, QUAD, unit=unit), (), 0.25, 2, 0.05, 0.0, 0.0)


BOTH = (trace("left"), trace("right"))


def pull(*windows: PeakWindow, ending: Ending = Ending.BROKE, rate: float | None = None) -> Break:
    lower = sum(w.lower for w in windows) * KGF
    open_above = any(w.upper is None for w in windows)
    upper = None if open_above else sum(w.upper or 0.0 for w in windows) * KGF
    return Break(
        1, 0.0, 9.0, (8.0, 8.1), 7.9, lower, upper, windows, ending,
        None if rate is None else rate * KGF, (),
    )  # fmt: skip


def window(name: str, lower: float, upper: float | None) -> PeakWindow:
    shown = Shown.BLANK if upper is None else Shown.VALUE
    return PeakWindow(name, lower, upper, shown, 0)


def entry(found: Break, of: Study, displays: tuple[DisplayTrace, ...] = BOTH) -> Entry:
    return entry_of(found, of, displays=displays, film="a.mp4")


def test_the_loads_stand_in_the_order_of_the_study() -> None:
    found = pull(window("right", 21.10, 21.10), window("left", 20.70, 20.70))
    typed = entry(found, study(LEFT, RIGHT))
    assert typed.loads == ("20.70", "21.10")
    assert (typed.unit, typed.ended, typed.rate) == ("kgf", Ending.BROKE, None)
    assert typed.note == "read off a.mp4 at 7.90 s"


def test_a_lost_display_is_at_least_and_the_others_stay_plain() -> None:
    found = pull(
        window("left", 20.70, 20.93),
        window("right", 21.10, None),
        ending=Ending.SCREEN_LOST,
        rate=0.91,
    )
    typed = entry(found, study(LEFT, RIGHT))
    assert typed.loads == ("20.70", ">21.10")
    assert (typed.ended, typed.rate) == (Ending.SCREEN_LOST, "0.91")


def test_the_study_reckons_with_the_rate_where_that_covers_what_was_missed() -> None:
    windows = (window("left", 20.70, 20.80), window("right", 21.10, 21.20))
    # 0.9 kgf/s times 0.25 s is 0.225 kgf, more than the 0.2 kgf that the film leaves open.
    typed = entry(pull(*windows, rate=0.9), study(LEFT, RIGHT))
    assert (typed.loads, typed.rate) == (("20.70", "21.10"), "0.9")
    # 0.5 kgf/s times 0.25 s is 0.125 kgf and would cut the truth off.
    slow = entry(pull(*windows, rate=0.5), study(LEFT, RIGHT))
    assert (slow.loads, slow.rate) == (("20.70..20.80", "21.10..21.20"), None)


def test_without_a_refresh_time_in_the_study_the_film_says_it_all() -> None:
    bare = replace(LEFT, refresh=None)
    typed = entry(pull(window("left", 27.35, 27.6034), rate=3.0), study(bare))
    assert (typed.loads, typed.rate) == (("27.35..27.61",), None)


def test_another_unit_is_converted_outward() -> None:
    found = pull(window("left", 100.0, 110.0))
    typed = entry(found, study(replace(LEFT, refresh=None)), (trace("left", "N"),))
    # 100 N = 10.197162... kgf and 110 N = 11.216878... kgf (standard gravity).
    assert typed.loads == ("10.1971..11.2169",)


def test_separate_peaks_get_the_sum_that_was_seen() -> None:
    found = pull(window("left", 20.0, 20.0), window("right", 21.5, 21.5))
    typed = entry(found, study(LEFT, RIGHT, sharing=Sharing.SEPARATE_PEAKS))
    assert (typed.loads, typed.together) == (("20.00", "21.50"), "41.5")


def test_one_scale_of_several_is_named() -> None:
    typed = entry(pull(window("right", 21.5, 21.5)), study(LEFT, RIGHT, sharing=None))
    assert (typed.loads, typed.scale) == (("21.50",), "right")


def test_a_study_without_instruments_gets_the_sum_as_a_range() -> None:
    found = replace(pull(window("a", 20.0, 20.0)), lower=19.975 * KGF, upper=20.125 * KGF)
    assert entry(found, study(), (trace("a"),)).loads == ("19.975..20.125",)


@pytest.mark.parametrize(
    ("found", "of"),
    [
        (pull(window("middle", 1.0, 1.0)), study(LEFT, RIGHT)),
        (pull(window("left", 1.0, 1.0)), study(LEFT, RIGHT)),
        (pull(window("left", 1.0, 1.0), window("right", 1.0, 1.0)), study(LEFT)),
        (
            pull(window("left", 1.0, 1.0), window("right", 1.0, 1.0)),
            study(LEFT, RIGHT, sharing=None),
        ),
        (pull(window("left", -3.0, -3.0)), study(LEFT)),
    ],
)
def test_displays_that_the_study_does_not_read_are_refused(found: Break, of: Study) -> None:
    displays = (*BOTH, trace("middle"))
    with pytest.raises(InputRefused) as caught:
        entry(found, of, displays)
    (problem,) = caught.value.problems
    assert problem.code == "displays-not-of-study"
    assert problem.do


loads = st.integers(1, 900).map(lambda n: n * 0.05)
gaps = st.floats(0.0, 3.0)


@given(loads, loads, gaps, gaps, st.one_of(st.none(), st.floats(0.01, 20.0)))
def test_the_outcome_holds_all_that_the_film_leaves_open(
    left: float, right: float, more_left: float, more_right: float, rate: float | None
) -> None:
    """For any peak the study's own algebra must end at or outside of the film's two ends."""
    windows = (
        window("left", left, left + more_left),
        window("right", right, right + more_right),
    )
    of = study(LEFT, RIGHT)
    typed = entry(pull(*windows, rate=rate), of)
    readings = tuple(
        Reading(_interval(text), text, name)
        for text, name in zip(typed.loads, ("left", "right"), strict=True)
    )
    given_rate = None if typed.rate is None else float(typed.rate) * KGF
    trial = Trial("p", "x", readings, ending=typed.ended, rate=given_rate)
    found = outcome_of(trial, replace(of, trials=(trial,))).interval
    assert found.lower <= (left + right - 0.05) * KGF + 1e-6
    if not math.isinf(found.upper):
        assert found.upper >= (left + right + more_left + more_right + 0.05) * KGF - 1e-6
        # Not counted twice: the wider of the two ways and half steps, no more.
        most = max(more_left + more_right, (rate or 0.0) * 1.001 * 0.25)
        assert found.upper <= (left + right + most + 0.05 + 0.03) * KGF


def _interval(text: str) -> Interval:
    low, _, high = text.partition("..")
    lower = to_newtons(float(low), ForceUnit.KGF)
    return Interval(lower, to_newtons(float(high), ForceUnit.KGF) if high else lower)
