"""How fast the load rose on one display before a moment, rounded upward."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_samples import Samples

__all__ = ["rate_before", "unseen_rise"]

# The rise is looked at over so many refreshes and s; fewer values than this tell no line.
_REFRESHES = 12
_LONGEST_S = 6.0
_LINE = 5
_OFF_LINE = 0.2
# Windows of so many refreshes where the rise is not steady.
_SHORT = 2
# A value that took more frames than this to be read may have come in any of them.
_UNSEEN_FRAMES = 3.0
# A line that rises by no more steps of the display is a hold, and what follows a hold is a stroke.
_RISING_STEPS = 2.0
# The refresh is known to about so much.
_ROUND_UP = 1.01
# How far back (s, and refreshes at least) a stroke still tells of the next one: a person works the
# jack in a rhythm. The share of the load that is near zero.
_OF_LATE_S, _OF_LATE = 3.0, 3
_NEAR_ZERO = 0.05

Floats = NDArray[np.float64]


def rate_before(samples: Samples, place: int) -> float | None:
    """Return the loading rate (N/s, at least 0) up to sample ``place``, None: cannot be told.

    Where the values lie on a line within their rounding, it is the line's slope and two standard
    errors; else the steepest rise over two refreshes, a step of the display included, so that a
    jack's last stroke is not averaged away.
    """
    points = _points(samples, place)
    if points is None:
        return None
    line = _steady(*points, samples)
    return max(0.0, line if line is not None else _steepest(*points, samples.step))


def unseen_rise(samples: Samples, place: int, time: float) -> float | None:
    """Return how much (N) the load may have risen unseen in ``time`` (s) after sample ``place``,
    None: cannot be told.

    A steady pull goes on at its rate. A jack's strokes do not: as much as between any two values
    of this pull may come between the last one and the break, also after a hold.
    """
    points = _points(samples, place)
    if points is None:
        return None
    clock, shown = points
    line = _steady(clock, shown, samples)
    if line is not None and float(shown[-1] - shown[0]) > _RISING_STEPS * samples.step:
        return max(0.0, line * time * _ROUND_UP)
    turns = max(1.0, round(time / samples.refresh)) if samples.refresh else 1.0
    step = turns * _largest_step(samples, place)
    if step > 0.0:
        return step
    rate = line if line is not None else _steepest(clock, shown, samples.step)
    return max(0.0, rate * time * _ROUND_UP)


def _largest_step(samples: Samples, place: int) -> float:
    """The largest rise (N) from one value to the next of late, since the load was near zero."""
    near_zero = _NEAR_ZERO * (samples.samples[place].load or 0.0)
    of_late = samples.samples[place].came - max(_OF_LATE_S, _OF_LATE * (samples.refresh or 0.0))
    largest, later = 0.0, samples.samples[place].load
    for number in range(place - 1, -1, -1):
        load = samples.samples[number].load
        if load is None:
            continue
        if later is not None:
            largest = max(largest, later - load)
        if load <= near_zero or samples.samples[number].came < of_late:
            break
        later = load
    return largest


def _points(samples: Samples, place: int) -> tuple[Floats, Floats] | None:
    """Times (s) and loads (N) of the values up to ``place`` that tell its rate; None: too few."""
    end = samples.samples[place]
    if end.load is None:
        return None
    refresh = samples.refresh
    span = min(_LONGEST_S, _REFRESHES * refresh) if refresh else _LONGEST_S / 2.0
    times, loads = [end.came], [end.load]
    for number in range(place - 1, -1, -1):
        sample, later = samples.samples[number], samples.samples[number + 1]
        if times[0] - sample.came > span and len(times) > 1:
            break
        if sample.load is None:
            if sample.end - sample.start > (refresh or 0.3):
                break
            continue
        if later.load is not None and sample.load > later.load + 3.0 * samples.step:
            break  # a slip: the rise before it was another
        times.append(_came(samples, number))
        loads.append(sample.load)
    if len(times) < 2:
        return None
    clock = np.array(times[::-1])
    shown = np.array(loads[::-1])
    if refresh:
        clock, shown = _each_refresh(clock, shown, refresh)
    return clock, shown


def _came(samples: Samples, number: int) -> float:
    """When the value came: where frames are missing before it, a refresh before the next one."""
    sample = samples.samples[number]
    unseen = sample.start - sample.came > _UNSEEN_FRAMES * samples.frame
    if samples.refresh is None or not unseen:
        return sample.came
    left = samples.samples[number + 1].came
    return min(max(left - samples.refresh, sample.came), sample.start)


def _each_refresh(clock: Floats, shown: Floats, refresh: float) -> tuple[Floats, Floats]:
    """On the display's own beat, where a value that stood for several refreshes is as many
    samples: how long a change takes to be seen varies, the beat does not."""
    turn = np.exp(2j * np.pi * clock / refresh).sum()
    phase = float(np.angle(turn)) / (2.0 * np.pi) * refresh
    beats = np.round((clock - phase) / refresh)
    fresh = np.append(True, np.diff(beats) > 0)
    # Two values on one beat: the later one is kept, the earlier came late.
    last = np.append(fresh[1:], True)
    beats, shown = beats[last], shown[last]
    every = np.arange(beats[0], beats[-1] + 1)
    return every * refresh + phase, shown[np.searchsorted(beats, every, side="right") - 1]


def _steady(clock: Floats, shown: Floats, samples: Samples) -> float | None:
    """The rate (N/s) of a steady pull, None where it is none or too few values tell."""
    if len(clock) < _LINE:
        return None
    return _line(clock, shown, samples.step, samples.frame)


def _line(clock: Floats, shown: Floats, step: float, frame: float) -> float | None:
    slope, off, error = _fit(clock, shown)
    # Rounding leaves up to half a step; a time is known to within a frame.
    far = np.abs(off) > 0.75 * step + abs(slope) * 1.05 * frame
    if not np.any(far):
        return slope + 2.0 * error
    slope, off = _median_line(clock, shown)
    far = np.abs(off) > 0.75 * step + abs(slope) * 1.05 * frame
    # One value that was read a refresh late or early is not a change of the rate, but at the end.
    if np.count_nonzero(far) > _OFF_LINE * len(clock) or np.any(far[-2:]):
        return None
    keep = ~far
    slope, off, error = _fit(clock[keep], shown[keep])
    if np.any(np.abs(off) > 0.75 * step + abs(slope) * 1.05 * frame):
        return None
    return slope + 2.0 * error


def _fit(clock: Floats, shown: Floats) -> tuple[float, Floats, float]:
    """Slope, what is left, and the slope's standard error."""
    centred = clock - clock.mean()
    spread = float((centred**2).sum())
    slope = float((centred * shown).sum() / spread)
    off = shown - shown.mean() - slope * centred
    error = float(np.sqrt(float((off**2).sum()) / max(len(clock) - 2, 1) / spread))
    return slope, off, error


def _median_line(clock: Floats, shown: Floats) -> tuple[float, Floats]:
    """Slope and what is left of a line that one value far off does not tilt."""
    early, late = np.triu_indices(len(clock), 1)
    time = clock[late] - clock[early]
    some = time > 0.0
    slope = float(np.median((shown[late] - shown[early])[some] / time[some]))
    off = shown - slope * clock
    return slope, off - float(np.median(off))


def _steepest(clock: Floats, shown: Floats, step: float) -> float:
    pairs = zip(clock.tolist(), shown.tolist(), strict=True)
    points: Sequence[tuple[float, float]] = list(pairs)
    width = min(_SHORT, len(points) - 1)
    ahead = zip(points, points[width:], strict=False)
    usual = float(np.median([b - a for (a, _), (b, _) in pairwise(points)]))
    return max(
        (late[1] - early[1] + step) / max(late[0] - early[0], 0.5 * usual * width)
        for early, late in ahead
    )
