"""The truth of a simulated trial is never outside its outcome, whatever the rig and the scales."""

import math
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, Phase, find, given, settings
from hypothesis import strategies as st
from simulator import SLACK, Display, Seen, holds, instruments, seen_trials, shows

from breakwright.model.algebra import outcome_of
from breakwright.model.instrument import Instrument
from breakwright.model.interval import Interval
from breakwright.model.outcome import Cause
from breakwright.model.study import Study
from breakwright.model.trial import Ending, Reading, Sharing, Trial

many = settings(
    max_examples=250,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
)
meet = settings(many, max_examples=5000, phases=[Phase.generate])


@many
@given(seen_trials())
def test_outcome_holds_the_true_strength(seen: Seen) -> None:
    outcome = outcome_of(seen.trial, seen.study)
    assert holds(outcome.interval, seen.strength), (outcome, seen)


@settings(many, max_examples=500)
@given(seen_trials(ends=("right",), styles=("exact",)))
def test_outcome_holds_the_true_strength_of_pieces_read_to_the_end(seen: Seen) -> None:
    """More of the trials that have an upper end, so that an end too low cannot hide."""
    outcome = outcome_of(seen.trial, seen.study)
    assert holds(outcome.interval, seen.strength), (outcome, seen)


@many
@given(seen_trials())
def test_no_upper_end_where_the_peak_was_not_seen_or_not_reached(seen: Seen) -> None:
    outcome = outcome_of(seen.trial, seen.study)
    if seen.peak_unseen or not seen.broke_right:
        assert math.isinf(outcome.interval.upper), (outcome, seen)
        assert outcome.cause not in (Cause.MEASURED, Cause.BETWEEN, Cause.AT_MOST)
    elif math.isinf(outcome.interval.upper):
        # Only a display that stood within one step (written as 'between': within that) of its
        # end may be taken for one at its end.
        assert outcome.cause is Cause.OVER_RANGE
        assert any(
            reading.shown.upper + instrument.resolution >= instrument.usable * (1.0 - SLACK)
            for reading, instrument in zip(seen.trial.readings, seen.study.instruments, strict=True)
        )


@many
@given(seen_trials())
def test_limit_is_never_below_what_was_read(seen: Seen) -> None:
    outcome = outcome_of(seen.trial, seen.study)
    assert outcome.limit >= outcome.interval.lower
    assert outcome.steps
    if all(i.capacity is None for i in seen.study.instruments):
        assert math.isinf(outcome.limit)


@many
@given(instruments("scale"), st.floats(50.0, 5000.0))
def test_the_limit_parts_what_can_be_read_from_what_cannot(
    drawn: tuple[Instrument, Display], strength: float
) -> None:
    """A display without a stated error: a piece beyond the limit is 'at least', one below it
    by more than a step of the display has an upper end."""
    instrument = replace(drawn[0], weights=(), factor=(1.0, 1.0), refresh=None)
    number = shows(min(strength, instrument.usable), instrument.resolution)
    trial = Trial("S1", "A", (Reading(Interval.exact(number), "", "scale"),))
    outcome = outcome_of(trial, Study((trial,), ("A",), "A", instruments=(instrument,)))
    if strength > outcome.limit + instrument.resolution:
        assert math.isinf(outcome.interval.upper)
    if strength < outcome.limit - instrument.resolution - 1e-5:
        assert math.isfinite(outcome.interval.upper)


@many
@given(seen_trials())
def test_knowing_less_never_narrows(seen: Seen) -> None:
    """Without the sharing, or with a coarser display, the outcome holds the one before."""
    known = outcome_of(seen.trial, seen.study).interval
    peaks_only = replace(seen.study, sharing=Sharing.SEPARATE_PEAKS)
    trial = replace(seen.trial, together=None)
    same = outcome_of(trial, replace(seen.study, sharing=Sharing.SAME_MOMENT)).interval
    apart = outcome_of(trial, peaks_only).interval
    assert apart.lower <= same.lower
    assert apart.upper >= same.upper
    coarser = replace(
        seen.study,
        instruments=tuple(
            replace(i, resolution=i.resolution * 2.0 + 1.0, weights=())
            for i in seen.study.instruments
        ),
    )
    finer = replace(
        seen.study, instruments=tuple(replace(i, weights=()) for i in seen.study.instruments)
    )
    wide, narrow = outcome_of(seen.trial, coarser), outcome_of(seen.trial, finer)
    assert wide.interval.lower <= narrow.interval.lower
    assert wide.interval.upper >= narrow.interval.upper
    stopped = outcome_of(replace(seen.trial, ending=Ending.STOPPED), seen.study)
    assert stopped.interval == Interval.at_least(known.lower)


@many
@given(seen_trials())
def test_a_display_alone_with_nothing_known_is_taken_as_it_stands(seen: Seen) -> None:
    reading = replace(seen.trial.readings[0], instrument=None)
    trial = replace(
        seen.trial, readings=(reading,), ending=Ending.BROKE, failure=None, together=None
    )
    study = replace(seen.study, trials=(trial,), instruments=(), sharing=None)
    outcome = outcome_of(trial, study)
    assert outcome.interval == reading.shown
    assert math.isinf(outcome.limit)


@pytest.mark.parametrize("cause", list(Cause))
def test_the_simulated_workshop_meets_every_cause(cause: Cause) -> None:
    """Without this the properties above could hold of nothing."""
    found = find(
        seen_trials(),
        lambda seen: outcome_of(seen.trial, seen.study).cause is cause,
        settings=meet,
    )
    assert isinstance(found, Seen)


def test_the_simulated_workshop_meets_upper_ends_that_matter() -> None:
    """A shared, calibrated, levered, slow trial with a finite outcome exists among those drawn."""
    found = find(
        seen_trials(),
        lambda seen: (
            len(seen.trial.readings) > 1
            and bool(seen.trial.rate)
            and all(i.weights and i.factor != (1.0, 1.0) for i in seen.study.instruments)
            and not math.isinf(outcome_of(seen.trial, seen.study).interval.upper)
        ),
        settings=meet,
    )
    assert all(isinstance(reading, Reading) for reading in found.trial.readings)
