"""From a trial to its outcome: the steps of ``model.steps`` in their order, with cause and words.

The order, and why: what a display shows is made wide by its resolution, and opened upward if the
display was at its end, while it is still in the display's own numbers; then it becomes a true
load (calibration) and a load on the piece (lever, angle, friction); only loads on the piece can
be added (sharing); what was missed between two refreshes belongs to the total; how the trial
ended comes last, because it only ever removes the upper end.

A tare does not move the outcome. The strength asked for is the load put on after zeroing; what
the piece bore from the hanging rig alone is not in it. A tare does eat range: the display ends
at capacity less tare.

Which cause is named when several took the upper end away: the one that happened at the largest
load. 'Rig failed' and 'stopped' before all, since then nothing of the piece broke; then 'wrong
way', which ended the loading for good even where the display had run out before it; then a lost
screen, a range run out, a display without a number, and last a reading written as 'at least'.
"""

import math

from breakwright.model.errors import ImpossibleValue
from breakwright.model.gauge import Bench, Gauge, same_word
from breakwright.model.interval import Interval, IntervalKind
from breakwright.model.loadtext import load_text, number_text, span_text
from breakwright.model.outcome import Cause, Outcome
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
from breakwright.model.study import Study
from breakwright.model.trial import Ending, Reading, Sharing, Trial
from breakwright.model.units import ForceUnit

__all__ = ["outcome_of", "outcome_on"]

_BY_ENDING = {
    Ending.OVER_RANGE: Cause.OVER_RANGE,
    Ending.SCREEN_LOST: Cause.SCREEN_LOST,
    Ending.STOPPED: Cause.STOPPED,
    Ending.RIG_FAILED: Cause.RIG_FAILED,
}
_UNBROKEN = (Ending.STOPPED, Ending.RIG_FAILED)
_ENDED = {
    Cause.OVER_RANGE: "the display ran out of range before the end",
    Cause.SCREEN_LOST: "the display was lost before the end",
    Cause.STOPPED: "stopped before it broke",
    Cause.RIG_FAILED: "the rig gave way before the piece did",
}


def outcome_of(trial: Trial, study: Study) -> Outcome:
    """What ``trial`` tells of the strength asked for. For many trials use ``outcome_on``.

    Two scales share a load, both with steps of 5 N; the right one showed 490 N for a weight of
    500 N +- 2 N, so its factor is 498/492.5 = 1.01117 to 502/487.5 = 1.02974. At the moment of
    the break they showed 1200 N and 1100 N. Left: 1197.5 to 1202.5 N. Right: 1097.5 x 1.01117 =
    1109.76 to 1102.5 x 1.02974 = 1135.29 N. Together: 2307.3 to 2337.8 N.

    >>> from breakwright.model.instrument import Instrument, KnownWeight
    >>> def shown(newtons, name):
    ...     return Reading(Interval.exact(newtons), str(newtons), name)
    >>> trial = Trial("T1", "wedged", (shown(1200.0, "left"), shown(1100.0, "right")))
    >>> left = Instrument("left", capacity=1500.0, resolution=5.0)
    >>> check = KnownWeight(500.0, 490.0, 2.0)
    >>> right = Instrument("right", capacity=1500.0, resolution=5.0, weights=(check,))
    >>> study = Study((trial,), ("wedged",), "wedged", instruments=(left, right),
    ...               sharing=Sharing.SAME_MOMENT)
    >>> found = outcome_of(trial, study)
    >>> round(found.interval.lower, 1), round(found.interval.upper, 1), found.cause.value
    (2307.3, 2337.8, 'measured')

    Raises ``ImpossibleValue`` for a trial without a reading.
    """
    return outcome_on(trial, Bench.of(study))


def outcome_on(trial: Trial, bench: Bench) -> Outcome:
    """As ``outcome_of``, with what the study says worked out beforehand."""
    readings = trial.readings
    if not readings:
        raise ImpossibleValue(f"specimen {trial.specimen!r} has no reading, so no outcome")
    unit = bench.unit
    steps: list[str] = []
    gauges = [bench.gauge(reading) for reading in readings]
    loads = [
        _load_on_piece(reading, gauge, unit=unit, steps=steps)
        for reading, gauge in zip(readings, gauges, strict=True)
    ]
    interval = loads[0] if len(loads) == 1 else _shared(loads, bench.sharing, steps, unit)
    if trial.together is not None:
        interval = _with_together(interval, trial.together, gauges, steps=steps, unit=unit)
    if trial.rate:
        interval = _with_missed(interval, trial.rate, gauges, steps=steps, unit=unit)

    cause = _why_open(trial, gauges, bench)
    if cause is None:
        cause = _how_known(trial, interval, bench.sharing)
    else:
        interval = unseen_above(interval)
        words = _words_of_end(trial, cause, bench)
        if words:
            steps.append(f"{words}: {span_text(interval, unit)}")
    return Outcome(interval, cause, _limit(loads, gauges, interval), tuple(steps))


def _load_on_piece(
    reading: Reading, gauge: Gauge, *, unit: ForceUnit, steps: list[str]
) -> Interval:
    shown = reading.shown
    text = f"shown {span_text(shown, unit)}"
    instrument = gauge.instrument
    if instrument is None:
        if reading.instrument is not None:
            text = f"{text} on «{reading.instrument}»"
        steps.append(text)
        return shown
    name = f"«{instrument.name}»"
    interval = shown
    if gauge.resolution:
        interval = to_resolution(shown, gauge.resolution)
        nearest = load_text(gauge.resolution, unit)
        steps.append(f"{text} on {name}, to the nearest {nearest}: {span_text(interval, unit)}")
    else:
        steps.append(f"{text} on {name}")
    if range_ran_out(shown, resolution=gauge.resolution, usable=gauge.usable):
        interval = unseen_above(interval)
        steps.append(f"{_end_of_range(gauge, unit)}: {span_text(interval, unit)}")
    if gauge.calibration.checked:
        interval = calibrated(interval, gauge.calibration)
        steps.append(_words_of_calibration(gauge, shown, interval, unit))
    if gauge.factor != (1.0, 1.0):
        interval = through_rig(interval, gauge.factor)
        times = _times(*gauge.factor)
        steps.append(f"lever, angle or friction, {times}: {span_text(interval, unit)}")
    return interval


def _shared(loads: list[Interval], sharing: Sharing, steps: list[str], unit: ForceUnit) -> Interval:
    if sharing is Sharing.SAME_MOMENT:
        interval = at_same_moment(loads)
        words = "read at the same moment, added up"
    else:
        interval = from_separate_peaks(loads)
        words = "peaks of different moments, at least the largest and at most the sum"
    steps.append(f"{words}: {span_text(interval, unit)}")
    return interval


def _with_together(
    interval: Interval,
    together: float,
    gauges: list[Gauge],
    *,
    steps: list[str],
    unit: ForceUnit,
) -> Interval:
    least = least_seen_together(
        together,
        half_steps=sum(gauge.resolution for gauge in gauges) / 2.0,
        smallest_factor=min(gauge.smallest for gauge in gauges),
    )
    known = seen_together(interval, least)
    if known is not interval:
        seen = load_text(together, unit)
        steps.append(f"{seen} seen at one moment on all displays: {span_text(known, unit)}")
    return known


def _with_missed(
    interval: Interval,
    rate: float,
    gauges: list[Gauge],
    *,
    steps: list[str],
    unit: ForceUnit,
) -> Interval:
    refresh = max((gauge.refresh or 0.0 for gauge in gauges), default=0.0)
    if refresh == 0.0 or math.isinf(interval.upper):
        return interval
    wider = missed_between_refreshes(interval, rate=rate, refresh=refresh)
    steps.append(
        f"up to {load_text(rate * refresh, unit)} may have been missed between two shown values "
        f"({number_text(refresh)} s apart): {span_text(wider, unit)}"
    )
    return wider


def _why_open(trial: Trial, gauges: list[Gauge], bench: Bench) -> Cause | None:
    """Why there is no upper end, or None if there may be one."""
    ending = trial.ending
    if ending in _UNBROKEN:
        return _BY_ENDING[ending]
    if bench.counts_word is not None:
        word = same_word(trial.failure)
        if word is not None and word != bench.counts_word:
            return Cause.WRONG_WAY
    if ending is not Ending.BROKE:
        return _BY_ENDING[ending]
    for reading, gauge in zip(trial.readings, gauges, strict=True):
        if range_ran_out(reading.shown, resolution=gauge.resolution, usable=gauge.usable):
            return Cause.OVER_RANGE
    if len(trial.readings) < bench.displays:
        return Cause.SCREEN_LOST
    if any(math.isinf(reading.shown.upper) for reading in trial.readings):
        return Cause.AT_LEAST
    return None


def _how_known(trial: Trial, interval: Interval, sharing: Sharing) -> Cause:
    """The cause of an outcome with an upper end: how the readings were written."""
    kinds = {reading.shown.kind for reading in trial.readings}
    if kinds == {IntervalKind.EXACT}:
        apart = len(trial.readings) > 1 and sharing is Sharing.SEPARATE_PEAKS
        open_between = apart and interval.kind is not IntervalKind.EXACT
        return Cause.BETWEEN if open_between else Cause.MEASURED
    return Cause.AT_MOST if kinds == {IntervalKind.AT_MOST} else Cause.BETWEEN


def _limit(loads: list[Interval], gauges: list[Gauge], interval: Interval) -> float:
    """The largest load on the piece that could have been read for certain (N).

    One display: the last load it shows, half a step below its end, times its smallest factor.
    Several: the total at which the first would run out if the load went on being shared as it
    was in this trial. Never below what was read.
    """
    limits = [gauge.limit for gauge in gauges]
    if len(limits) == 1:
        return max(limits[0], interval.lower)
    return max(first_to_run_out([load.lower for load in loads], limits), interval.lower)


def _words_of_end(trial: Trial, cause: Cause, bench: Bench) -> str | None:
    if cause is Cause.WRONG_WAY:
        broke = (trial.failure or "").strip()
        return f"broke as «{broke}», not as «{(bench.counts or '').strip()}»"
    if trial.ending is not Ending.BROKE:
        return _ENDED[cause]
    if cause is Cause.SCREEN_LOST:
        return (
            f"{len(trial.readings)} of {bench.displays} displays with a number in this row, "
            "the others may have borne any load"
        )
    return None  # the reading's own step has said it


def _end_of_range(gauge: Gauge, unit: ForceUnit) -> str:
    instrument = gauge.instrument
    assert instrument is not None
    assert instrument.capacity is not None
    ends = load_text(gauge.usable, unit)
    if instrument.tare:
        zeroed = load_text(instrument.tare, unit)
        ends = f"{ends} ({load_text(instrument.capacity, unit)} less {zeroed} zeroed away)"
    return f"«{instrument.name}» ends at {ends}, so the load may have gone on rising"


def _words_of_calibration(
    gauge: Gauge, shown: Interval, interval: Interval, unit: ForceUnit
) -> str:
    found = gauge.calibration
    words = (
        f"checked with known weights, {_times(found.smallest, found.largest)}: "
        f"{span_text(interval, unit)}"
    )
    if gauge.beyond_checked(shown):
        words = f"{words}, unverified above {load_text(found.verified_up_to, unit)}"
    return words


def _times(smallest: float, largest: float) -> str:
    if smallest == largest:
        return f"times {number_text(smallest)}"
    return f"times {number_text(smallest)} to {number_text(largest)}"
