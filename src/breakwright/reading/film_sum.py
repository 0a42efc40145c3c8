"""The load on all displays at one moment, each held until its next value; never a sum of peaks
of different moments."""

from collections.abc import Sequence
from itertools import pairwise

from breakwright.model.film import DisplayTrace, SumSpan
from breakwright.reading.film_samples import Samples, samples_of

__all__ = ["all_samples", "total_of", "total_of_samples"]


def all_samples(displays: Sequence[DisplayTrace]) -> tuple[Samples, ...]:
    """Return the samples of every display."""
    return tuple(
        samples_of(trace, [other for other in displays if other is not trace]) for trace in displays
    )


def total_of(displays: Sequence[DisplayTrace]) -> tuple[SumSpan, ...]:
    """Return the sum (N), without gaps, half a step of each display included.

    While a display changes it may show the old or the new value; where one of them shows no
    value there is no sum.
    """
    return total_of_samples(all_samples(displays))


def total_of_samples(displays: Sequence[Samples]) -> tuple[SumSpan, ...]:
    """As ``total_of``, of samples."""
    if not displays or any(not one.samples for one in displays):
        return ()
    first = max(one.samples[0].start for one in displays)
    last = min(one.samples[-1].end for one in displays)
    edges = sorted(
        {
            time
            for one in displays
            for sample in one.samples
            for time in (sample.start, sample.until, sample.end)
            if first <= time <= last
        }
    )
    half = sum(one.step for one in displays) / 2.0
    spans: list[SumSpan] = []
    for start, end in pairwise(edges):
        low, high = 0.0, 0.0
        missing = False
        for one in displays:
            found = _shown(one, start)
            if found is None:
                missing = True
                break
            low += found[0]
            high += found[1]
        lower, upper = (None, None) if missing else (low - half, high + half)
        if spans and (spans[-1].lower, spans[-1].upper) == (lower, upper):
            spans[-1] = SumSpan(spans[-1].start, end, lower, upper)
        else:
            spans.append(SumSpan(start, end, lower, upper))
    return tuple(spans)


def _shown(one: Samples, time: float) -> tuple[float, float] | None:
    place = one.shown_at(time)
    sample = one.samples[place]
    if sample.load is None:
        return None
    if time < sample.until or place + 1 == len(one.samples):
        return sample.load, sample.load
    after = one.samples[place + 1].load
    if after is None:
        return None
    return min(sample.load, after), max(sample.load, after)
