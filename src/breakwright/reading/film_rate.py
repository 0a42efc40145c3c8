"""How fast the load rose on one display before a moment, rounded upward."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_samples import Samples

__all__ = ["rate_before"]

# The rise is looked at over so many refreshes and s; fewer values than this tell no line.
_REFRESHES = 12
_LONGEST_S = 6.0
_LINE = 5
_OFF_LINE = 0.2
# Windows of so many refreshes where the rise is not steady.
_SHORT = 2

Floats = NDArray[np.float64]


def rate_before(samples: Samples, place: int) -> float | None:
    """Return the loading rate (N/s, at least 0) up to sample ``place``, None: cannot be told.

    Where the values lie on a line within their rounding, it is the line's slope and two standard
    errors; else the steepest rise over two refreshes, a step of the display included, so that a
    jack's last stroke is not averaged away.
    """
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
        times.append(sample.came)
        loads.append(sample.load)
    if len(times) < 2:
        return None
    clock = np.array(times[::-1])
    shown = np.array(loads[::-1])
    if refresh:
        clock, shown = _each_refresh(clock, shown, refresh)
    line = _line(clock, shown, samples.step, samples.frame) if len(clock) >= _LINE else None
    return max(0.0, line if line is not None else _steepest(clock, shown, samples.step))


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


def _line(clock: Floats, shown: Floats, step: float, frame: float) -> float | None:
    slope, off, error = _fit(clock, shown)
    # Rounding leaves up to half a step; a time is known to within a frame.
    far = np.abs(off) > 0.75 * step + abs(slope) * 1.05 * frame
    if not np.any(far):
        return slope + 2.0 * error
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
