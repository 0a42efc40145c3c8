"""How often a display shows a new value, from the rhythm in which its picture changes."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_track import DisplayTrack

__all__ = ["frame_time", "refined", "refresh_of"]

Floats = NDArray[np.float64]

# A rhythm shorter than two frames cannot be told, one longer than this is none.
_SLOWEST_S = 2.5
_TEETH = 4
# How much higher the comb's teeth stand than its gaps, of a highest possible 1, and how many
# changes it takes. Common practice, no source: below this, noise makes such combs as well.
_CLEAR = 0.2
_FEW_CHANGES = 8
_AS_HIGH = 0.75
# Changes further apart than so many refreshes cannot be counted off; what is refined stays so near.
_NEAR = 12.0
_SAME = 0.06


def frame_time(times: Floats) -> float:
    """Return the usual time between two frames (s); 1/30 where there are not two."""
    return float(np.median(np.diff(times))) if len(times) > 1 else 1.0 / 30.0


def refresh_of(track: DisplayTrack) -> float | None:
    """Return the time between two values of a display (s), None where it cannot be told.

    The autocorrelation of the picture's change is compared at the multiples of a time and half
    way between them: only the refresh itself, not its half nor its double, is high on the first
    and low on the second. The lags are those of the frames' own time stamps.
    """
    times, apart = track.times, frame_time(track.times)
    if len(times) < 4 or apart <= 0.0:
        return None
    energy = _energy(track)
    if np.count_nonzero(energy > 0.0) < _FEW_CHANGES:
        return None
    place = np.round((times - times[0]) / apart).astype(np.intp)
    grid = np.zeros(place[-1] + 1)
    np.maximum.at(grid, place, energy)
    longest = min(len(grid) - 1, int(_SLOWEST_S * (_TEETH + 0.5) / apart) + 2)
    if longest < 4:
        return None
    alike = _autocorrelation(grid, longest)
    # Tried in steps so fine that the last tooth moves by a fifth of a frame.
    tried = np.arange(2.0, min(_SLOWEST_S / apart, longest / 1.5) + 1e-9, 0.2 / _TEETH)
    if len(tried) == 0:
        return None
    lags = np.arange(1, _TEETH + 1)
    at = tried[:, None] * lags
    half = tried[:, None] * (lags - 0.5)
    known = at <= longest
    place_of = np.arange(longest + 1)
    teeth = np.where(known, np.interp(at, place_of, alike), 0.0).sum(axis=1)
    gaps = np.where(known, np.interp(half, place_of, alike), 0.0).sum(axis=1)
    comb = (teeth - gaps) / known.sum(axis=1)
    if comb.max() < _CLEAR:
        return None
    # Three times the refresh, half of it off the beat as well, is as high: the first is meant.
    best = int(np.flatnonzero(comb >= _AS_HIGH * comb.max())[0])
    while best + 1 < len(comb) and comb[best + 1] >= comb[best]:
        best += 1
    return float(_fine(tried, comb, best) * apart)


def _energy(track: DisplayTrack) -> Floats:
    """The change of each frame, noise taken off and large jumps cut, where it could be seen."""
    change = np.where((track.trust > 0.0) & (track.inside > 0.9), track.change, 0.0)
    change = change.astype(np.float64)
    low, floor = np.quantile(change, (0.05, 0.25))
    over = np.maximum(change - floor - 4.0 * (floor - low), 0.0)
    if np.any(over > 0.0):
        over = np.minimum(over / float(np.median(over[over > 0.0])), 1.5)
    # One segment that comes or goes hardly shows in the picture, but in what is read.
    reads = [texts[0] if texts else "" for texts in track.texts]
    other = np.array([False, *(a != b and "" not in (a, b) for a, b in pairwise(reads))])
    over = np.asarray(np.maximum(over, 0.7 * other), np.float64)
    # The first frame of a change, not the frames in which it fades.
    first = over.copy()
    first[1:] = np.maximum(over[1:] - 0.7 * over[:-1], 0.0)
    return first


def _autocorrelation(signal: Floats, longest: int) -> Floats:
    """Lags 0..longest, 1 at lag 0, less what chance alone would give."""
    size = 1 << int(np.ceil(np.log2(len(signal) + longest + 1)))
    spectrum = np.fft.rfft(signal, size)
    raw = np.fft.irfft(np.abs(spectrum) ** 2, size)[: longest + 1]
    count = len(signal) - np.arange(longest + 1)
    alike = np.asarray(raw / raw[0] * (len(signal) / np.maximum(count, 1)), np.float64)
    # A refresh between two frames falls to one or the other.
    spread = alike.copy()
    spread[1:-1] = alike[1:-1] + 0.5 * (alike[:-2] + alike[2:])
    return spread


def _fine(tried: Floats, comb: Floats, best: int) -> float:
    """The middle of the teeth's plateau around the best one."""
    near = comb >= 0.97 * comb[best]
    low = high = best
    while low > 0 and near[low - 1]:
        low -= 1
    while high + 1 < len(near) and near[high + 1]:
        high += 1
    return float((tried[low] + tried[high]) / 2.0)


def refined(refresh: float, changes: Sequence[float]) -> float:
    """Return ``refresh`` (s) made exact by the times (s) at which values changed.

    Where all changes are whole multiples of it apart, two or more, it was a part of the true one.
    """
    apart = np.diff(np.asarray(changes, np.float64))
    near = apart < _NEAR * refresh
    beats = np.round(apart / refresh)
    usable = near & (beats > 0)
    counts = beats[usable]
    # Too long a refresh makes the peak's interval wider than it need be, too short a one wrong.
    for part in (4, 3, 2):
        if len(counts) >= 2 and np.mean(counts % part == 0) >= 0.9:
            return refined(refresh * part, changes)
    if len(counts) < _FEW_CHANGES - 2:
        return refresh
    # Slope through each unbroken run: time over number of refreshes.
    runs = np.split(np.arange(len(apart)), np.flatnonzero(~usable))
    moments, weights = 0.0, 0.0
    for run in runs:
        run = run[usable[run]]
        if len(run) < 3:
            continue
        steps = np.concatenate([[0.0], np.cumsum(beats[run])])
        times = np.concatenate([[0.0], np.cumsum(apart[run])])
        steps -= steps.mean()
        moments += float((steps * times).sum())
        weights += float((steps**2).sum())
    exact = moments / weights if weights else refresh
    return exact if abs(exact / refresh - 1.0) < _SAME else refresh
