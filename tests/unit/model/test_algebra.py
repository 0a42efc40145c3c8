"""Outcomes of single trials, each worked by hand in the comment or name beside it."""

import math
from dataclasses import replace

import pytest

from breakwright.model.algebra import outcome_of
from breakwright.model.errors import ImpossibleValue
from breakwright.model.instrument import Instrument, KnownWeight
from breakwright.model.interval import Interval
from breakwright.model.outcome import Cause, Outcome
from breakwright.model.study import Study
from breakwright.model.trial import Ending, Reading, Sharing, Trial
from breakwright.model.units import ForceUnit, to_newtons

LEFT = Instrument("left", capacity=450.0, resolution=2.0, tare=10.0)
RIGHT = Instrument("right", capacity=800.0, resolution=5.0)


def read(load: float | Interval, name: str | None = None) -> Reading:
    shown = load if isinstance(load, Interval) else Interval.exact(load)
    return Reading(shown, str(load), name)


def trial(*loads: float | Interval | Reading) -> Trial:
    names = (None,) if len(loads) == 1 else ("left", "right", "third")
    readings = [
        load if isinstance(load, Reading) else read(load, name)
        for load, name in zip(loads, names, strict=False)
    ]
    return Trial("P1", "wedged", tuple(readings))


def outcome(one: Trial, *instruments: Instrument, others: tuple[Trial, ...] = ()) -> Outcome:
    return outcome_of(one, study(one, *instruments, others=others))


def study(one: Trial, *instruments: Instrument, others: tuple[Trial, ...] = ()) -> Study:
    return Study((one, *others), ("wedged",), "wedged", instruments=instruments)


def test_a_bare_reading_is_taken_as_it_stands() -> None:
    assert outcome(trial(412.0)) == Outcome(
        Interval.exact(412.0), Cause.MEASURED, math.inf, ("shown 412 N",)
    )


@pytest.mark.parametrize(
    ("shown", "cause"),
    [
        (Interval.exact(412.0), Cause.MEASURED),
        (Interval(405.0, 420.0), Cause.BETWEEN),
        (Interval.at_most(30.0), Cause.AT_MOST),
        (Interval.at_least(412.0), Cause.AT_LEAST),
    ],
)
def test_each_way_of_writing_keeps_its_ends(shown: Interval, cause: Cause) -> None:
    found = outcome(trial(shown))
    assert (found.interval, found.cause) == (shown, cause)


def test_resolution_in_words() -> None:
    found = outcome(trial(412.0), LEFT)
    assert found.interval == Interval(411.0, 413.0)
    assert found.steps == ("shown 412 N on «left», to the nearest 2 N: 411 to 413 N",)
    # The last number below the end of 440 N that is surely no end is 438, so up to 439 N.
    assert found.limit == 439.0


def test_a_reading_at_the_end_of_the_range_is_at_least() -> None:
    found = outcome(trial(440.0), LEFT)
    assert (found.interval, found.cause) == (Interval.at_least(439.0), Cause.OVER_RANGE)
    assert found.limit == 439.0
    assert found.steps[-1] == (
        "«left» ends at 440 N (450 N less 10 N zeroed away), "
        "so the load may have gone on rising: at least 439 N"
    )


def test_a_tare_does_not_move_the_strength() -> None:
    light = replace(LEFT, tare=0.0)
    assert outcome(trial(412.0), LEFT).interval == outcome(trial(412.0), light).interval


def test_calibration_then_lever_in_words() -> None:
    """Shown 390 N +- 1; known 200 N shown as 200 +- 1: times 200/201 to 200/199; lever 2 to 2.1.
    389 x 0.995025 x 2 = 774.129; 391 x 1.005025 x 2.1 = 825.226."""
    scale = replace(LEFT, weights=(KnownWeight(200.0, 200.0),), factor=(2.0, 2.1))
    found = outcome(trial(390.0), scale)
    assert found.interval.lower == pytest.approx(774.129, abs=5e-4)
    assert found.interval.upper == pytest.approx(825.226, abs=5e-4)
    assert found.limit == pytest.approx(439.0 * 200.0 / 201.0 * 2.0)
    assert found.steps[1:] == (
        "checked with known weights, times 0.995025 to 1.00503: 387.065 to 392.965 N, "
        "unverified above 200 N",
        "lever, angle or friction, times 2 to 2.1: 774.129 to 825.226 N",
    )


def test_a_reading_about_the_heaviest_weight_is_not_unverified() -> None:
    scale = replace(LEFT, weights=(KnownWeight(200.0, 200.0),))
    assert "unverified" not in " ".join(outcome(trial(200.0), scale).steps)
    assert "unverified above 200 N" in " ".join(outcome(trial(206.0), scale).steps)


def test_two_scales_at_the_same_moment() -> None:
    """412 +- 1 and 300 +- 2.5: 708.5 to 715.5. The left one bore 411 of 708.5 and can read 439:
    it runs out first, at 439 x 708.5 / 411 = 756.77 N."""
    one = trial(412.0, 300.0)
    shared = replace(study(one, LEFT, RIGHT), sharing=Sharing.SAME_MOMENT)
    found = outcome_of(one, shared)
    assert (found.interval, found.cause) == (Interval(708.5, 715.5), Cause.MEASURED)
    assert found.limit == pytest.approx(756.77, abs=5e-3)
    assert found.steps[-1] == "read at the same moment, added up: 708.5 to 715.5 N"


@pytest.mark.parametrize("stated", [Sharing.SEPARATE_PEAKS, None])
def test_two_scales_with_peaks_of_different_moments(stated: Sharing | None) -> None:
    one = trial(412.0, 300.0)
    apart = replace(study(one, LEFT, RIGHT), sharing=stated)
    found = outcome_of(one, apart)
    assert (found.interval, found.cause) == (Interval(411.0, 715.5), Cause.BETWEEN)
    # 700 N was seen on both at one moment, to 1 + 2.5 N.
    seen = outcome_of(replace(one, together=700.0), apart)
    assert seen.interval == Interval(696.5, 715.5)
    assert seen.steps[-1] == "700 N seen at one moment on all displays: 696.5 to 715.5 N"
    impossible = outcome_of(replace(one, together=900.0), apart)
    assert impossible.interval == Interval(896.5, 896.5)


def test_one_of_two_scales_at_its_end() -> None:
    one = trial(440.0, 300.0)
    both = study(one, LEFT, RIGHT)
    same = outcome_of(one, replace(both, sharing=Sharing.SAME_MOMENT))
    assert (same.interval, same.cause) == (Interval.at_least(736.5), Cause.OVER_RANGE)
    assert same.limit == 736.5
    apart = outcome_of(one, replace(both, sharing=Sharing.SEPARATE_PEAKS))
    assert apart.interval == Interval.at_least(439.0)


def test_a_display_without_a_number_may_have_borne_anything() -> None:
    one, two = trial(412.0), trial(412.0, 300.0)
    found = outcome(one, LEFT, others=(two,))
    assert (found.interval, found.cause) == (Interval.at_least(411.0), Cause.SCREEN_LOST)
    assert found.steps[-1].startswith("1 of 2 displays with a number in this row")
    unused = trial(412.0, 0.0)  # a written zero says that the second bore nothing
    assert outcome(unused, LEFT, others=(two,)).interval == Interval(411.0, 413.0)


def test_what_was_missed_belongs_to_the_total_and_is_added_once() -> None:
    """60 N/s for at most 0.5 s: 30 N, though both displays are slow."""
    slow = (replace(LEFT, refresh=0.5), replace(RIGHT, refresh=0.25))
    one = replace(trial(412.0, 300.0), rate=60.0)
    found = outcome_of(one, replace(study(one, *slow), sharing=Sharing.SAME_MOMENT))
    assert found.interval == Interval(708.5, 745.5)
    assert found.steps[-1] == (
        "up to 30 N may have been missed between two shown values (0.5 s apart): 708.5 to 745.5 N"
    )
    unknown = outcome_of(replace(one, rate=None), study(one, *slow))
    assert unknown.interval.upper == 715.5


@pytest.mark.parametrize(
    ("ending", "cause", "words"),
    [
        (Ending.OVER_RANGE, Cause.OVER_RANGE, "the display ran out of range before the end"),
        (Ending.SCREEN_LOST, Cause.SCREEN_LOST, "the display was lost before the end"),
        (Ending.STOPPED, Cause.STOPPED, "stopped before it broke"),
        (Ending.RIG_FAILED, Cause.RIG_FAILED, "the rig gave way before the piece did"),
    ],
)
def test_an_early_end_leaves_at_least(ending: Ending, cause: Cause, words: str) -> None:
    found = outcome(replace(trial(412.0), ending=ending), LEFT)
    assert (found.interval, found.cause) == (Interval.at_least(411.0), cause)
    assert found.steps[-1] == f"{words}: at least 411 N"


def counting(one: Trial, *instruments: Instrument) -> Outcome:
    return outcome_of(one, replace(study(one, *instruments), counts="Pull-out"))


def test_a_break_of_another_kind_is_at_least() -> None:
    found = counting(replace(trial(412.0), failure="shank"), LEFT)
    assert (found.interval, found.cause) == (Interval.at_least(411.0), Cause.WRONG_WAY)
    assert found.steps[-1] == "broke as «shank», not as «Pull-out»: at least 411 N"


@pytest.mark.parametrize("failure", ["pull-out", "  PULL-OUT ", None, " "])
def test_the_kind_that_counts_or_nothing_said_is_measured(failure: str | None) -> None:
    found = counting(replace(trial(412.0), failure=failure), LEFT)
    assert (found.interval, found.cause) == (Interval(411.0, 413.0), Cause.MEASURED)


@pytest.mark.parametrize(
    ("ending", "load", "cause"),
    [
        (Ending.BROKE, 440.0, Cause.WRONG_WAY),  # it broke beyond the end of the display
        (Ending.OVER_RANGE, 412.0, Cause.WRONG_WAY),
        (Ending.SCREEN_LOST, 412.0, Cause.WRONG_WAY),
        (Ending.STOPPED, 440.0, Cause.STOPPED),  # nothing broke: the word tells of something else
        (Ending.RIG_FAILED, 412.0, Cause.RIG_FAILED),
    ],
)
def test_the_cause_named_is_the_one_at_the_largest_load(
    ending: Ending, load: float, cause: Cause
) -> None:
    found = counting(replace(trial(load), ending=ending, failure="shank"), LEFT)
    assert (found.interval, found.cause) == (Interval.at_least(load - 1.0), cause)


def test_at_most_stays_unless_it_did_not_break_so() -> None:
    one = trial(Interval.at_most(30.0))
    assert outcome(one, LEFT).interval == Interval.at_most(31.0)
    assert counting(replace(one, failure="shank"), LEFT).interval == Interval.at_least(0.0)


def test_which_instrument_a_reading_belongs_to() -> None:
    assert outcome(trial(read(412.0, "left")), LEFT, RIGHT).interval == Interval(411.0, 413.0)
    assert outcome(trial(read(412.0, "right")), LEFT, RIGHT).interval == Interval(409.5, 414.5)
    assert outcome(trial(read(412.0)), LEFT, RIGHT).interval == Interval.exact(412.0)
    stranger = outcome(trial(read(412.0, "old")), LEFT)
    assert stranger.interval == Interval.exact(412.0)
    assert stranger.steps == ("shown 412 N on «old»",)


def test_words_are_in_the_unit_of_the_study() -> None:
    one = trial(to_newtons(90.0, ForceUnit.KGF))
    scale = Instrument("crane", resolution=to_newtons(0.5, ForceUnit.KGF))
    found = outcome_of(one, replace(study(one, scale), unit=ForceUnit.KGF))
    assert found.steps == ("shown 90 kgf on «crane», to the nearest 0.5 kgf: 89.75 to 90.25 kgf",)


def test_a_reading_beyond_the_capacity_keeps_its_lower_end() -> None:
    found = outcome(trial(500.0), LEFT)
    assert (found.interval, found.limit) == (Interval.at_least(499.0), 499.0)


def test_a_trial_without_a_reading_has_no_outcome() -> None:
    empty = Trial("P1", "wedged", (), void="dropped")
    with pytest.raises(ImpossibleValue, match="'P1' has no reading"):
        outcome(empty)
