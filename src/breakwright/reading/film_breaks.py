"""The breaks in a film: for each pull the peak of the simultaneous sum with its two ends."""

from collections.abc import Sequence

from breakwright.model.film import Break, DisplayTrace, PeakWindow, Shown
from breakwright.model.trial import Ending
from breakwright.reading.film_frozen import Why, standstills_of
from breakwright.reading.film_peak_high import Reach, highest_together, reach_of
from breakwright.reading.film_peak_low import FALLEN, Together, together_at
from breakwright.reading.film_pulls import Pull, pulls_of, zeros_of
from breakwright.reading.film_samples import Samples
from breakwright.reading.film_slips import hidden_drop, slips_of
from breakwright.reading.film_sum import all_samples

__all__ = ["breaks_of", "pulls_in"]


def pulls_in(displays: Sequence[DisplayTrace], samples: Sequence[Samples]) -> tuple[Pull, ...]:
    """Return the pulls in the traces."""
    held = [
        (still.display, still.start, still.end)
        for still in standstills_of(displays)
        if still.why is Why.HELD and len(displays) > 1
    ]
    return pulls_of(samples, zeros_of(samples), held=held)


def breaks_of(displays: Sequence[DisplayTrace]) -> tuple[Break, ...]:
    """Return the break of each pull, in the order of the film."""
    samples = all_samples(displays)
    pulls = pulls_in(displays, samples)
    return tuple(
        _break_of(samples, pull, number=number) for number, pull in enumerate(pulls, start=1)
    )


def _break_of(displays: Sequence[Samples], pull: Pull, *, number: int) -> Break:
    times = [
        sample.came
        for one in displays
        for sample in one.samples
        if pull.start <= sample.came <= pull.end
    ]
    story = [together_at(displays, time) for time in sorted(set(times))]
    peak = max(story, key=lambda at: (at.load, at.time))
    gone_at = _gone_at(displays, story, peak) or (pull.end if pull.gone else None)
    reaches = [
        reach_of(one, place, gone_at=gone_at, ends=pull.end)
        for one, place in zip(displays, peak.places, strict=True)
    ]
    reaches = [
        _over_before(one, reach, pull.start, gone_at or pull.end)
        for one, reach in zip(displays, reaches, strict=True)
    ]
    half = sum(one.step for one in displays) / 2.0
    tops = _tops(displays, story, gone_at)
    open_above = any(reach.beyond is None for reach in reaches)
    windows = tuple(
        _window(one, low, top, reach)
        for one, low, top, reach in zip(displays, peak.loads, tops, reaches, strict=True)
    )
    upper = None
    if not open_above:
        shown = max(peak.load, sum(top or 0.0 for top in tops))
        upper = shown + sum(reach.beyond or 0.0 for reach in reaches) + half
    rates = [reach.rate for reach in reaches]
    return Break(
        number=number,
        start=pull.start,
        end=pull.end,
        moment=_moment(displays, peak, reaches, pull),
        peak_at=peak.time,
        lower=max(0.0, peak.load - half),
        upper=upper,
        windows=windows,
        ending=_ending(windows),
        rate=None if None in rates else sum(rate for rate in rates if rate is not None),
        slips=slips_of(story, peak, half=half),
    )


def _gone_at(
    displays: Sequence[Samples], story: Sequence[Together], peak: Together
) -> float | None:
    """When the displays that told something showed less than half of what they had shown."""
    tops = [0.0] * len(displays)
    for at in story:
        loads = [one.samples[one.at(at.time)].load for one in displays]
        known = [number for number, load in enumerate(loads) if load is not None]
        now = sum(loads[number] or 0.0 for number in known)
        tops = [max(top, load or 0.0) for top, load in zip(tops, loads, strict=True)]
        most = sum(tops[number] for number in known)
        if at.time > peak.time and known and now <= FALLEN * most:
            return at.time
    return None


def _tops(
    displays: Sequence[Samples], story: Sequence[Together], gone_at: float | None
) -> tuple[float | None, ...]:
    """What each display showed at most when they showed most together."""
    before = [at.time for at in story if gone_at is None or at.time < gone_at]
    found = [highest_together(displays, time) for time in before or [story[0].time]]
    return max(found, key=lambda loads: sum(load or 0.0 for load in loads))


def _over_before(one: Samples, reach: Reach, start: float, end: float) -> Reach:
    """A display that ran out of range, or lost a fall in the dark, before the peak found."""
    for sample in one.samples:
        inside = sample.came < end and sample.end > start and sample.load is None
        over = inside and sample.shown is Shown.OVER_RANGE
        if over or (inside and reach.beyond is not None and hidden_drop(one, sample)):
            return Reach(None, sample.shown, sample.span, reach.rate, reach.fell)
    return reach


def _window(one: Samples, low: float | None, top: float | None, reach: Reach) -> PeakWindow:
    upper = None
    lower = low or 0.0
    if reach.beyond is not None:
        upper = (max(lower, top or 0.0) + reach.beyond) / one.factor
    return PeakWindow(
        display=one.name,
        lower=lower / one.factor,
        upper=upper,
        shown=reach.shown,
        span=reach.span,
    )


def _ending(windows: Sequence[PeakWindow]) -> Ending:
    if any(window.shown is Shown.OVER_RANGE for window in windows):
        return Ending.OVER_RANGE
    if any(window.upper is None for window in windows):
        return Ending.SCREEN_LOST
    return Ending.BROKE


def _moment(
    displays: Sequence[Samples], peak: Together, reaches: Sequence[Reach], pull: Pull
) -> tuple[float, float]:
    """Between which times the load left: in the last refresh before the first fall shown."""
    falls = [
        (one.samples[reach.fell].came, one, reach.fell)
        for one, reach in zip(displays, reaches, strict=True)
        if reach.fell is not None
    ]
    if not falls:
        return (peak.time, pull.end)
    shown, one, place = min(falls, key=lambda fall: fall[0])
    sample = one.samples[place]
    # Dark or torn just before: the fall may have come any time since the last value.
    earliest = sample.since if one.refresh is None else sample.since - one.refresh
    return (max(min(earliest, shown), min(peak.time - (one.refresh or 0.0), shown)), shown)
