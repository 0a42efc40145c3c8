"""Drops before the peak: seen, after which the load rose again, or hidden while it was dark."""

from collections.abc import Sequence

from breakwright.model.film import Shown
from breakwright.reading.film_peak_low import Together
from breakwright.reading.film_samples import Sample, Samples

__all__ = ["hidden_drop", "slips_of"]

# A slip is a drop by so many half steps and this share of the load. Common practice, no source.
_HALF_STEPS = 6.0
_SHARE = 0.02
_HIDDEN_SHARE = 0.9


def slips_of(story: Sequence[Together], peak: Together, *, half: float) -> tuple[float, ...]:
    """Return when (s) the sum dropped before ``peak`` and rose again; ``half`` is half a step of
    all displays together (N)."""
    found: list[float] = []
    top, bottom, since = 0.0, 0.0, None
    for at in story:
        if at.time > peak.time:
            break
        if None in at.loads:
            continue
        enough = max(_HALF_STEPS * half, _SHARE * top)
        if since is None:
            if at.load >= top:
                top = at.load
            elif at.load < top - enough:
                since, bottom = at.time, at.load
        else:
            bottom = min(bottom, at.load)
            if at.load > bottom + enough:
                found.append(since)
                top, since = at.load, None
    return tuple(found)


def hidden_drop(one: Samples, dark: Sample) -> bool:
    """Whether the display showed clearly less after ``dark`` than before, so that a higher load
    and a fall may lie in it."""
    place = one.samples.index(dark)
    before = next((s.load for s in reversed(one.samples[:place]) if s.load is not None), None)
    after = next((s.load for s in one.samples[place + 1 :] if s.load is not None), None)
    if before is None or after is None or dark.shown is Shown.VALUE:
        return False
    long = dark.end - dark.start > max(one.refresh or 0.0, 0.12)
    return long and after < _HIDDEN_SHARE * before - one.step
