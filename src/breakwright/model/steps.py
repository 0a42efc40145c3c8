"""The single steps from a number on a display to the load a piece bore: pure, one idea each.

Each step keeps its promise for every load it is given: if the truth was in the interval before,
the truth is in the interval after. What each step assumes of the world is in its docstring.
All loads in N. ``model.algebra`` puts the steps in order.
"""

import math
from collections.abc import Sequence

from breakwright.model.calibration import Calibration
from breakwright.model.errors import ImpossibleValue
from breakwright.model.interval import Interval

__all__ = [
    "at_same_moment",
    "calibrated",
    "first_to_run_out",
    "from_separate_peaks",
    "least_seen_together",
    "missed_between_refreshes",
    "range_ran_out",
    "seen_together",
    "through_rig",
    "to_resolution",
    "unseen_above",
]

# Two ways of reaching the same load in N (a tare taken off before or after the unit is
# converted) differ in the last bits of a float; a reading that equals the capacity must not
# pass for one below it.
_SAME = 1.0 - 1e-9


def to_resolution(shown: Interval, resolution: float) -> Interval:
    """Half a step of the display either way; the display rounds to its nearest step.

    >>> to_resolution(Interval.exact(412.0), 2.0)
    Interval(lower=411.0, upper=413.0)
    """
    half = resolution / 2.0
    return shown.widened(down=half, up=half)


def range_ran_out(shown: Interval, *, resolution: float, usable: float) -> bool:
    """Whether the display may have been at its end: the reading reaches ``usable`` (N shown).

    Half a step is added, because a display that stops at ``usable`` shows the step nearest to
    it, which may lie below. A plain 'at most' is a person's word, not a number that a display
    stopped at, and never counts as run out.
    """
    highest = shown.lower if math.isinf(shown.upper) else shown.upper
    if shown.lower == 0.0 < highest:
        return False
    return highest + resolution / 2.0 >= usable * _SAME


def unseen_above(interval: Interval) -> Interval:
    """The load went on, or could have gone on, unseen: only the lower end is left."""
    return interval.open_upward()


def calibrated(interval: Interval, calibration: Calibration) -> Interval:
    """True load from shown load, for any factor that the checks allow."""
    return interval.scaled(calibration.smallest, calibration.largest)


def through_rig(interval: Interval, factor: tuple[float, float]) -> Interval:
    """Load on the piece from load on the instrument: lever, angle, pulley, guide friction."""
    return interval.scaled(*factor)


def at_same_moment(parts: Sequence[Interval]) -> Interval:
    """The sum of loads that were read at one and the same moment, the moment of the peak.

    >>> at_same_moment([Interval(1.0, 2.0), Interval(3.0, 5.0)])
    Interval(lower=4.0, upper=7.0)
    """
    if not parts:
        raise ImpossibleValue("a load needs at least one reading")
    total = parts[0]
    for part in parts[1:]:
        total = total + part
    return total


def from_separate_peaks(parts: Sequence[Interval]) -> Interval:
    """The largest total that instruments bore together, from the peak of each at its own moment.

    The total was at least the largest single peak, since the others pull with the piece or not
    at all, and at most the sum of the peaks, since at no moment was any of them beyond its own.

    >>> from_separate_peaks([Interval(1.0, 2.0), Interval(3.0, 5.0)])
    Interval(lower=3.0, upper=7.0)
    """
    return Interval(max(part.lower for part in parts), at_same_moment(parts).upper)


def least_seen_together(together: float, *, half_steps: float, smallest_factor: float) -> float:
    """The least load (N) behind a sum of displays read at one moment.

    ``half_steps`` is the sum of half the steps of all displays. How the sum was split is not
    known, so the smallest of the displays' factors is used for all of it.
    """
    return max(0.0, together - half_steps) * smallest_factor


def seen_together(interval: Interval, least: float) -> Interval:
    """The total was at least ``least`` (N) at some moment, so its peak was no lower.

    This is a second fact, not a step that narrows: where it contradicts the first (a sum above
    the sum of the peaks), both ends move up, so that neither is thrown away.
    """
    if least <= interval.lower:
        return interval
    return Interval(least, max(interval.upper, least))


def missed_between_refreshes(interval: Interval, *, rate: float, refresh: float) -> Interval:
    """Widen upward by what the load can have risen by since the display last changed.

    ``rate`` is the rate at which the load on the piece rose, in N/s, at its fastest; ``refresh``
    the longest time in s between two shown values among the instruments that shared the load.
    It is added once to the total, not once an instrument: in the last ``refresh`` seconds the
    total rose by no more than ``rate * refresh``, whoever took it. Assumes that no instrument
    was let off while the total rose.

    >>> missed_between_refreshes(Interval(411.0, 413.0), rate=50.0, refresh=0.5)
    Interval(lower=411.0, upper=438.0)
    """
    return interval.widened(up=rate * refresh)


def first_to_run_out(loads: Sequence[float], limits: Sequence[float]) -> float:
    """The total (N) at which the first display runs out, were the load shared as it was.

    ``loads`` are what each instrument bore in this trial, ``limits`` the most each could have
    read. An instrument that bore nothing never runs out; if none bore anything the shares are
    unknown and the sum of the limits is given, which no total can exceed.

    >>> first_to_run_out([300.0, 100.0], [600.0, 600.0])
    800.0
    """
    total = sum(loads)
    if total <= 0.0:
        return sum(limits)
    return min(
        (limit * total / load for load, limit in zip(loads, limits, strict=True) if load > 0.0),
        default=math.inf,
    )
