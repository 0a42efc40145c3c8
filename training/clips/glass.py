"""How fast segments follow what they are told, and what of it each frame catches."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from training.clips.face import Face
from training.clips.glyphs import SEGMENTS, Variants, row_of
from training.clips.indicator import Showing

__all__ = ["Caught", "Glass", "caught"]

Levels = NDArray[np.float32]

_NEAR = 0.2  # a segment this near to where it goes looks as if it were there


@dataclass(frozen=True, slots=True)
class Glass:
    """Time constants (s) of a segment going dark (``rise``: towards lit) and clear (``fall``);
    ``cascade``: each place gets its new digit this much later than the one to its right.
    ``cycle``: places are lit in turns, once in so many seconds (0: all at once)."""

    rise: float = 0.012
    fall: float = 0.015
    cascade: float = 0.0
    cycle: float = 0.0


@dataclass(frozen=True, slots=True)
class Caught:
    """What F frames catch of S segments: ``above`` and ``below`` (F, S) the levels in the rows
    above and below the part ``tear`` (F,) of the window. ``settled`` (F,): no segment is on its
    way, all rows show one thing. ``current`` (F,) is the number of the showing."""

    above: Levels
    below: Levels
    tear: NDArray[np.float64]
    settled: NDArray[np.bool_]
    current: NDArray[np.int64]


def caught(
    face: Face,
    shown: Sequence[Showing],
    glass: Glass,
    *,
    tops: NDArray[np.float64],
    bottoms: NDArray[np.float64],
    exposure: float,
) -> Caught:
    """Return what frames catch whose first and last row of the window are taken at ``tops`` and
    ``bottoms`` (F,) in s, each row over ``exposure`` s."""
    targets = np.stack([_target(face, one, face.look.variants) for one in shown])
    delays = np.zeros(len(face.names))
    for place in range(face.places):
        first = place * len(SEGMENTS)
        delays[first : first + len(SEGMENTS)] = glass.cascade * (face.places - 1 - place)
    starts = np.array([one.time for one in shown])
    above = _levels(targets, starts, delays, glass, tops)
    below = _levels(targets, starts, delays, glass, bottoms)
    current = np.maximum(np.searchsorted(starts, tops, side="right") - 1, 0)
    last = np.maximum(np.searchsorted(starts, bottoms, side="right") - 1, 0)
    inside = np.clip((starts[last] - tops) / np.maximum(bottoms - tops, 1e-9), 0.0, 1.0)
    tear = np.where(last > current, inside, 1.0)
    goal = targets[last]
    still = (np.abs(above - goal).max(axis=1) < _NEAR) & (np.abs(below - goal).max(axis=1) < _NEAR)
    if glass.cycle > 0.0:
        share = _turns(face.places, glass.cycle, tops, exposure)
        gain = np.ones_like(above)
        for place in range(face.places):
            first = place * len(SEGMENTS)
            gain[:, first : first + len(SEGMENTS)] = share[:, place, None]
        lit_least = np.where(goal > 0.5, gain, 1.0).min(axis=1)
        still &= lit_least > 0.35
        above, below = above * gain, below * gain
    return Caught(above, below, tear, still, last)


def _target(face: Face, showing: Showing, variants: Variants) -> Levels:
    row = row_of(showing.text, face.places, variants)
    on = [f"{place}{s}" for place, lit in enumerate(row.places) for s in lit]
    on += [f"icon {mark}" for mark in showing.marks]
    return np.isin(np.array(face.names), on).astype(np.float32)


def _levels(
    targets: Levels,
    starts: NDArray[np.float64],
    delays: NDArray[np.float64],
    glass: Glass,
    times: NDArray[np.float64],
) -> Levels:
    """The levels at ``times`` of segments that are told ``targets`` (N, S) at ``starts`` (N,)
    plus each one's delay, and follow as an exponential."""
    level = targets[0].astype(np.float64)
    goal = level.copy()
    events = sorted(
        {
            (float(start + delay), number, float(delay))
            for number, start in enumerate(starts)
            for delay in np.unique(delays)
        }
    )
    found = np.empty((len(times), targets.shape[1]), np.float32)
    now, at = float(min(times[0], events[0][0])), 0
    for frame, time in enumerate(times):
        while at < len(events) and events[at][0] <= time:
            moment, number, delay = events[at]
            level = _followed(level, goal, glass, moment - now)
            now = moment
            mine = delays == delay
            goal[mine] = targets[number][mine]
            at += 1
        level = _followed(level, goal, glass, float(time) - now)
        now = float(time)
        found[frame] = level
    return found


def _followed(
    level: NDArray[np.float64], goal: NDArray[np.float64], glass: Glass, step: float
) -> NDArray[np.float64]:
    if step <= 0.0:
        return level
    rise = math.exp(-step / glass.rise) if glass.rise > 0 else 0.0
    fall = math.exp(-step / glass.fall) if glass.fall > 0 else 0.0
    return np.asarray(goal + (level - goal) * np.where(goal > level, rise, fall))


def _turns(
    places: int, cycle: float, times: NDArray[np.float64], exposure: float
) -> NDArray[np.float32]:
    """How bright each place comes out (F, places), 0 to 1, when each is lit for its part of the
    ``cycle`` in turn and a frame sees ``exposure`` s of it."""
    slot = cycle / places
    steps = np.linspace(0.0, exposure, 48, endpoint=False)
    phase = (times[:, None] + steps[None, :]) % cycle
    mine = (phase[:, :, None] // slot) == np.arange(places)[None, None, :]
    seen = mine.mean(axis=1) * exposure
    fair = exposure / places
    return np.asarray(np.minimum(seen / fair, 1.0), np.float32)
