"""Whole readings of made-up films: peaks that hold the truth, endings and doubts."""

from collections.abc import Callable

import numpy as np
import pytest
from film_tracks import (
    Filmed,
    Load,
    Screen,
    film_facts,
    filmed,
    mark,
    pull,
    rewritten,
    without_frames,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from breakwright.model.film import DisplayMark, FilmReading, Shown
from breakwright.model.trial import Ending
from breakwright.reading.film_read import read_tracks

GHOSTS = Screen(ghost=1)
LATER = Screen(ghost=1, phase=0.07)
Edit = Callable[[Filmed], Filmed]


def same(seen: Filmed) -> Filmed:
    return seen


def read(
    left: Load,
    right: Load,
    *,
    until: float = 9.0,
    screen: Screen = GHOSTS,
    edit: Edit = same,
    other: Edit = same,
    **known: float | str,
) -> FilmReading:
    """Two displays, refreshed at different moments."""
    first = filmed(left, until=until, screen=screen, mark=marked("left", **known))
    second = filmed(right, until=until, screen=LATER, mark=marked("right", **known), seed=5)
    return read_tracks([edit(first).track, other(second).track], film_facts(until))


def marked(name: str, **known: float | str) -> DisplayMark:
    return mark(name, **{"decimals": 1, "resolution": 0.1, **known})


def codes(reading: FilmReading) -> set[str]:
    return {doubt.code for doubt in reading.doubts}


def test_a_clean_pull_on_two_displays() -> None:
    reading = read(pull(20.0, 100.0), pull(20.0, 100.0))
    (found,) = reading.breaks
    assert found.ending is Ending.BROKE
    assert found.lower <= 200.0 <= (found.upper or 0.0)
    assert found.moment[0] <= 6.0 <= found.moment[1]
    assert found.rate == pytest.approx(40.0, rel=0.03)
    assert found.slips == ()
    assert codes(reading) == set()
    shown = [one.lower for one in reading.total if one.lower is not None]
    # The largest sum of simultaneous values, never that of two maxima of different moments.
    assert max(shown) == pytest.approx(found.lower, abs=1e-9)


@settings(max_examples=30)
@given(
    rate=st.floats(5.0, 40.0),
    peak=st.floats(60.0, 150.0),
    share=st.floats(0.6, 1.4),
    refreshes=st.tuples(*[st.sampled_from([0.1, 0.125, 0.25, 0.5])] * 2),
    phases=st.tuples(*[st.floats(0.0, 0.99)] * 2),
    ghost=st.integers(0, 1),
    noise=st.sampled_from([0.0, 0.03]),
    seed=st.integers(0, 1000),
)
def test_the_interval_holds_the_true_peak_and_is_no_wider_than_a_refresh(
    rate: float,
    peak: float,
    share: float,
    refreshes: tuple[float, float],
    phases: tuple[float, float],
    ghost: int,
    noise: float,
    seed: int,
) -> None:
    until = 1.0 + peak / rate + 1.5
    tracks = []
    for number, (refresh, phase, part) in enumerate(
        zip(refreshes, phases, (1.0, share), strict=True)
    ):
        screen = Screen(refresh=refresh, phase=phase * refresh, ghost=ghost, noise=noise)
        seen = filmed(
            pull(rate * part, peak * part),
            until=until,
            screen=screen,
            mark=marked(f"scale {number}", refresh=refresh),
            seed=seed + number,
        )
        tracks.append(seen.track)
    (found,) = read_tracks(tracks, film_facts(until)).breaks
    truth = peak * (1.0 + share)
    assert found.lower - 1e-9 <= truth
    assert found.upper is None or truth <= found.upper + 1e-9
    if noise == 0.0:
        # One refresh of each display and its step, and what the rate is rounded up by.
        allowed = rate * refreshes[0] + share * rate * refreshes[1] + 0.2
        assert found.ending is Ending.BROKE
        assert found.upper is not None
        assert found.upper - found.lower <= 1.35 * allowed


@pytest.mark.parametrize(
    ("edit", "shown", "ending", "code"),
    [
        (lambda s: rewritten(s, slice(135, None), ("", 0.9), contrast=0.01),
         Shown.BLANK, Ending.SCREEN_LOST, "screen-lost"),
        (lambda s: rewritten(s, slice(170, 200), trust=0.0),
         Shown.OUT_OF_SIGHT, Ending.SCREEN_LOST, "screen-lost"),
        (lambda s: rewritten(s, slice(140, 200), ("E1", 0.4), ("", 0.4)),
         Shown.UNREADABLE, Ending.SCREEN_LOST, "unreadable-at-peak"),
        (lambda s: rewritten(s, slice(140, 184), ("----", 0.95)),
         Shown.OVER_RANGE, Ending.OVER_RANGE, "over-range"),
    ],
)  # fmt: skip
def test_a_display_lost_at_the_break_leaves_at_least(
    edit: Edit, shown: Shown, ending: Ending, code: str
) -> None:
    reading = read(pull(20.0, 100.0), pull(20.0, 100.0), edit=edit)
    (found,) = reading.breaks
    assert (found.ending, found.upper) == (ending, None)
    assert found.windows[0].shown is shown
    assert 100.0 < found.lower <= 200.0
    assert code in codes(reading)
    assert any(one.lower is None for one in reading.total)


def test_lost_early_the_other_displays_own_later_value_counts() -> None:
    dark: Edit = lambda s: rewritten(s, slice(60, None), ("", 0.9), contrast=0.01)  # noqa: E731
    (found,) = read(pull(20.0, 100.0), pull(20.0, 100.0), edit=dark).breaks
    assert found.windows[0].lower == 0.0
    assert 95.0 < found.lower <= 100.0
    assert found.upper is None


def test_the_capacity_reached_is_over_range() -> None:
    screen = Screen(ghost=1, capacity=80.0)
    reading = read(pull(20.0, 100.0), pull(20.0, 70.0), screen=screen, capacity=80.0)
    (found,) = reading.breaks
    assert found.ending is Ending.OVER_RANGE
    assert found.windows[0].shown is Shown.OVER_RANGE


def test_a_display_that_holds_its_peak_is_said_and_does_not_end_the_pull() -> None:
    screen = Screen(ghost=1, hold=True)
    reading = read(pull(20.0, 100.0), pull(20.0, 100.0), screen=screen)
    (found,) = reading.breaks
    assert found.lower <= 200.0 <= (found.upper or 0.0)
    assert codes(reading) == {"held-after-break"}


def test_a_display_that_hangs_is_said_and_its_value_kept() -> None:
    reading = read(lambda t: min(20.0 * max(t - 1.0, 0.0), 40.0), pull(20.0, 100.0))
    hung = [span for span in reading.displays[0].spans if span.frozen]
    assert [span.value for span in hung] == [40.0]
    assert "frozen" in codes(reading)
    assert not any(span.frozen for span in reading.displays[1].spans)


def test_a_slip_is_no_break_and_moves_the_peak_nowhere() -> None:
    def slipping(t: float) -> float:
        if t < 4.0:
            return 20.0 * max(t - 1.0, 0.0)
        return 45.0 + 20.0 * (t - 4.0) if t < 7.0 else 0.0

    (found,) = read(slipping, pull(20.0, 120.0)).breaks
    assert len(found.slips) == 1
    assert found.slips[0] == pytest.approx(4.0, abs=0.3)
    assert found.lower <= slipping(6.999) + 120.0 <= (found.upper or 0.0)


def test_load_that_goes_over_to_the_other_display_is_not_counted_twice() -> None:
    # At 4 s the left lets go of 40 and the right takes them: the sum never passes 2 x 60 + 20.
    def left(t: float) -> float:
        return 0.0 if t < 1.0 or t > 5.0 else 20.0 * (t - 1.0) - (40.0 if t >= 4.0 else 0.0)

    def right(t: float) -> float:
        return 0.0 if t < 1.0 or t > 5.0 else 20.0 * (t - 1.0) + (40.0 if t >= 4.0 else 0.0)

    (found,) = read(left, right).breaks
    assert found.lower <= 160.0 <= (found.upper or np.inf)


def test_several_pulls_are_split_at_zero() -> None:
    def twice(t: float) -> float:
        return pull(20.0, 60.0)(t) + pull(20.0, 90.0, begins=7.0)(t)

    found = read(twice, twice, until=13.0).breaks
    assert [one.number for one in found] == [1, 2]
    assert found[0].lower <= 120.0 <= (found[0].upper or 0.0)
    assert found[1].lower <= 180.0 <= (found[1].upper or 0.0)
    assert found[0].end < found[1].start


def test_a_film_that_ends_under_load_leaves_at_least() -> None:
    reading = read(pull(20.0, 300.0), pull(20.0, 300.0), until=6.0)
    (found,) = reading.breaks
    assert (found.ending, found.upper) == (Ending.SCREEN_LOST, None)
    assert "cut-under-load" in codes(reading)


def test_a_load_let_off_slowly_is_doubted() -> None:
    def let_off(t: float) -> float:
        return pull(20.0, 100.0)(t) if t < 6.0 else max(0.0, 100.0 - 20.0 * (t - 6.0))

    reading = read(let_off, let_off, until=13.0)
    assert "slow-fall" in codes(reading)
    assert reading.breaks[0].lower <= 200.0 <= (reading.breaks[0].upper or 0.0)


def test_a_load_that_stays_is_doubted() -> None:
    both = pull(20.0, 100.0, left=30.0)
    reading = read(both, both)
    assert "drop-without-break" in codes(reading)
    assert reading.breaks[0].lower <= 200.0 <= (reading.breaks[0].upper or 0.0)


def test_another_unit_is_noticed_and_not_added() -> None:
    kilograms = pull(20.0, 100.0)
    reading = read(lambda t: kilograms(t) * (2.2046226 if t > 4.0 else 1.0), kilograms)
    assert "unit-switched" in codes(reading)
    (found,) = reading.breaks
    assert found.upper is None
    assert 100.0 < found.lower <= 200.0


def test_a_pull_without_such_a_jump_has_no_other_unit() -> None:
    for rate in (10.0, 40.0, 90.0):
        reading = read(pull(rate, 150.0), pull(rate, 150.0), until=1.0 + 150.0 / rate + 1.5)
        assert not codes(reading) & {"unit-switched", "decimals-doubtful"}


def test_numbers_that_jump_by_ten_are_doubted() -> None:
    steady = pull(20.0, 100.0)
    reading = read(lambda t: steady(t) * (10.0 if t > 4.0 else 1.0), steady)
    assert "decimals-doubtful" in codes(reading)
    assert reading.breaks[0].lower <= 200.0


def test_a_display_that_is_never_read_says_why() -> None:
    dim: Edit = lambda s: rewritten(s, slice(0, None), ("", 0.9), contrast=0.01)  # noqa: E731
    reading = read(pull(20.0, 100.0), pull(20.0, 100.0), edit=dim)
    (doubt,) = [doubt for doubt in reading.doubts if doubt.code == "never-read"]
    assert (doubt.display, doubt.text, doubt.amount) == ("left", "no-contrast", 1.0)


def test_a_hole_in_the_film_at_the_break_leaves_at_least() -> None:
    cut: Edit = lambda s: without_frames(s, slice(170, 200))  # noqa: E731
    reading = read(pull(20.0, 100.0), pull(20.0, 100.0), edit=cut, other=cut)
    assert reading.breaks[0].upper is None
    assert "gap-in-film" in codes(reading)


def test_a_peak_of_one_frame_is_flagged_and_not_taken_as_sure() -> None:
    # At the very top a number stands for one frame: it may be a fault of the picture.
    spike: Edit = lambda s: rewritten(s, slice(178, 179), ("180.0", 0.99))  # noqa: E731
    (found,) = read(pull(20.0, 100.0), pull(20.0, 100.0), edit=spike).breaks
    assert found.lower <= 200.0 <= (found.upper or np.inf)


def test_nothing_pulled_is_no_break() -> None:
    reading = read(lambda _: 0.0, lambda _: 0.0, until=3.0)
    assert reading.breaks == ()
    assert codes(reading) == {"no-break"}


def test_a_film_that_ended_early_says_so() -> None:
    seen = filmed(pull(20.0, 50.0), until=5.0)
    reading = read_tracks([seen.track], film_facts(5.0, ended_early="the file is cut off"))
    assert "ended-early" in codes(reading)


def test_units_are_brought_to_newtons() -> None:
    plain = read(pull(20.0, 100.0), pull(20.0, 100.0)).breaks[0]
    heavy = read(pull(20.0, 100.0), pull(20.0, 100.0), unit="kgf").breaks[0]
    # 9.80665 m/s2: BIPM, The International System of Units, 9th ed.
    assert heavy.lower == pytest.approx(9.80665 * plain.lower)
    assert heavy.upper == pytest.approx(9.80665 * (plain.upper or 0.0))
    for one, other in zip(heavy.windows, plain.windows, strict=True):
        assert (one.lower, one.upper) == pytest.approx((other.lower, other.upper))


def test_no_displays_are_an_empty_reading() -> None:
    reading = read_tracks([], film_facts(5.0))
    assert (reading.displays, reading.total, reading.breaks) == ((), (), ())
