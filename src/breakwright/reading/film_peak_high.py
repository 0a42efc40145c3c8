"""The upper end of a peak: what each display may have gone on to before it showed the fall.

After its last value a display has one refresh in which the load can rise unseen by (loading rate)
x (time); where it was dark, out of range or out of sight while the load left, there is no end.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from breakwright.model.film import Shown
from breakwright.reading.film_peak_low import FALLEN
from breakwright.reading.film_rate import rate_before, unseen_rise
from breakwright.reading.film_samples import Samples

__all__ = ["Reach", "fall_of", "highest_together", "reach_of"]

# What hides no value: a display unreadable for less than a refresh, or so many s.
_HIDDEN_S = 0.12


@dataclass(frozen=True, slots=True)
class Reach:
    """What may have come unseen on one display after its last value: at most ``beyond`` (N), None
    for no end; ``shown`` is what stood there when the load left, ``span`` its number in the trace.
    ``rate`` in N/s, None: cannot be told. ``fell`` is the sample that showed the fall, if any."""

    beyond: float | None
    shown: Shown
    span: int
    rate: float | None
    fell: int | None


def fall_of(one: Samples, place: int, *, until: float) -> int | None:
    """Return the first sample after ``place``, begun by ``until`` (s), that shows the load gone:
    less than half of the most shown since ``place``."""
    top = 0.0
    for number in range(place, len(one.samples)):
        sample = one.samples[number]
        if sample.came > until and number > place:
            return None
        if sample.load is None:
            continue
        if number > place and sample.load <= FALLEN * top:
            return number
        top = max(top, sample.load)
    return None


def reach_of(one: Samples, place: int, *, gone_at: float | None, ends: float) -> Reach:
    """Return what ``one`` says after sample ``place``, the one at the peak.

    ``gone_at`` (s) is when the load was seen gone on any display, None if it never was; the pull
    ends at ``ends``.
    """
    slack = 2.0 * (one.refresh or 0.5)
    limit = ends if gone_at is None else max(ends, gone_at) + slack
    fell = fall_of(one, place, until=limit)
    last, top, hidden, hint = place, place, 0.0, 0.0
    for number in range(place, len(one.samples) if fell is None else fell):
        sample = one.samples[number]
        if number > place and fell is None and sample.came > (gone_at or ends):
            break
        if sample.load is not None:
            last, hidden = number, 0.0
            top = number if sample.load > (one.samples[top].load or 0.0) else top
            continue
        hidden += sample.end - sample.came
        hint = max(hint, sample.hint or 0.0)
        if sample.shown is Shown.OVER_RANGE or hidden > max(one.refresh or 0.0, _HIDDEN_S):
            return Reach(None, sample.shown, sample.span, _rate(one, top), fell)
    sample = one.samples[last]
    rate = _rate(one, top)
    if sample.load is None:
        return Reach(None, sample.shown, sample.span, rate, fell)
    if one.capacity is not None and sample.load + one.step / 2.0 >= one.capacity:
        return Reach(None, Shown.OVER_RANGE, sample.span, rate, fell)
    if rate is None or (fell is None and gone_at is None):
        return Reach(None, Shown.VALUE, sample.span, rate, fell)
    time = one.missed(last) + hidden
    beyond = unseen_rise(one, top, time) or 0.0
    if hint > (one.samples[top].load or 0.0):
        # One frame is too little to claim a value by, and enough to leave room for it.
        beyond = max(beyond, hint + one.step - (one.samples[top].load or 0.0))
    return Reach(beyond, Shown.VALUE, sample.span, rate, fell)


def highest_together(displays: Sequence[Samples], time: float) -> tuple[float | None, ...]:
    """Return the most that each display may have borne at ``time``, by what it showed then and
    next (N); None where it told nothing."""
    found: list[float | None] = []
    for one in displays:
        place = one.at(time)
        own, after = one.samples[place].load, one.next_load(place)
        if own is None:
            found.append(None)
        else:
            found.append(own if after is None else max(own, after))
    return tuple(found)


def _rate(one: Samples, place: int) -> float | None:
    while place > 0 and one.samples[place].load is None:
        place -= 1
    return rate_before(one, place)
