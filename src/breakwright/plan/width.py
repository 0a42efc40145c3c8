"""How wide the interval for the ratio will be, and how often it will have no end."""

import math
from dataclasses import dataclass

import numpy as np

from breakwright.plan.borrowed import reference_roots, tails
from breakwright.plan.power import Effort, Trials
from breakwright.plan.roots import tie
from breakwright.stats.families import Floats
from breakwright.stats.inversion import FARTHEST

__all__ = ["Width", "width_of"]

# Where the p-value is looked at: multiples of where a t interval would end, and the farthest.
_LADDER = (0.75, 0.95, 1.15, 1.5, 2.5, 5.0)
_RESAMPLES = 4
_NEIGHBOURS = 120


@dataclass(frozen=True, slots=True)
class Width:
    """``log_width`` is the middle value of log(upper/lower), inf where half have no end;
    ``open_ended`` the share of experiments that lack an upper or a lower limit."""

    pieces: int
    log_width: float
    open_ended: float


def width_of(trials: Trials, *, level: float, effort: Effort, rng: np.random.Generator) -> Width:
    """Both ends of the interval in the first ``effort.widths`` of ``trials``.

    The one-sided p-values are computed at seven distances on either side of the estimate; an end
    lies where the normal score of p crosses that of half the error, by linear interpolation.
    """
    from scipy.special import ndtri, stdtrit

    tried = np.arange(min(effort.widths, trials.pairs.both.size))
    rows = tried[trials.pairs.both[tried]]
    if rows.size < 2:
        return Width(trials.pieces, math.inf, 1.0)
    half = 0.5 * (1.0 - level)
    freedom = 1.5 * max(trials.pieces - 1, 1)
    reach = float(stdtrit(freedom, 1.0 - half)) * math.sqrt(1.0 + 1.0 / (trials.pieces - 1))
    pairs = trials.pairs.take(rows)
    steps = np.minimum(np.outer(pairs.error * reach, _LADDER), FARTHEST)
    steps = np.concatenate([steps, np.full((rows.size, 1), FARTHEST)], axis=1)
    rungs = steps.shape[1]
    columns = np.tile(np.repeat(np.arange(rows.size), rungs), 2)
    sign = np.repeat([-1.0, 1.0], rows.size * rungs)
    distance = pairs.estimate[columns] + sign * np.tile(steps.ravel(), 2)
    weak, strong = trials.weak.take(rows[columns]), trials.strong.take(rows[columns])
    tied = tie(pairs.take(columns), distance)
    roots = reference_roots(weak, strong, tied, distance, resamples=_RESAMPLES, rng=rng)
    found = tails(weak, strong, tied, distance, roots=roots, neighbours=_NEIGHBOURS)
    p = np.where(sign < 0.0, found.up, found.low)
    score = np.asarray(ndtri(np.minimum(p, 1.0 - 1e-9))).reshape(2, rows.size, rungs)
    target = float(ndtri(half))
    total = sum(_ends(score[k], steps, target=target) for k in (0, 1))
    every = np.full(tried.size, np.inf)
    every[: rows.size] = total
    return Width(trials.pieces, float(np.median(every)), float(np.isinf(every).mean()))


def _ends(score: Floats, steps: Floats, *, target: float) -> Floats:
    """Distance from the estimate to the end, inf where the p-value never falls so far; (E,)."""
    below = score <= target
    first = np.argmax(below, axis=1)
    rows = np.arange(first.size)
    inner = np.maximum(first - 1, 0)
    x0 = np.where(first > 0, steps[rows, inner], 0.0)
    y0 = np.where(first > 0, score[rows, inner], 0.0)
    x1, y1 = steps[rows, first], score[rows, first]
    share = (y0 - target) / np.maximum(y0 - y1, 1e-12)
    return np.where(below.any(axis=1), x0 + share * (x1 - x0), np.inf)
