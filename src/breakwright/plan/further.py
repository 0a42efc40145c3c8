"""What more pieces would bring to a test that has begun: readings in hand, and more drawn.

The readings in hand stay what they are; only the further ones are drawn, from truths that the
readings allow. Each experiment is judged by the quick interval (``stats.quick``), which needs no
resamples, so that hundreds of experiments at a dozen numbers of pieces take a second.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from breakwright.plan.roots import Pairs, fit_pairs, median_variance
from breakwright.plan.truth import Readings
from breakwright.stats.families import Floats

__all__ = ["Hand", "Judge", "Truths", "chances_after", "first_enough"]


@dataclass(frozen=True)
class Hand:
    """One group's readings so far: log loads (n,), ``held`` marks 'at least'."""

    y: Floats
    held: NDArray[np.bool_]


@dataclass(frozen=True)
class Truths:
    """One truth an experiment: ``mu`` and ``sigma`` of log load, reference first, each (2, B).

    ``cap`` is the log of the largest load that can be read (inf: none); ``wrong`` the share of
    further pieces that break another way, first the reference's.
    """

    mu: Floats
    sigma: Floats
    cap: float = math.inf
    wrong: tuple[float, float] = (0.0, 0.0)

    @property
    def size(self) -> int:
        return int(self.mu.shape[1])

    @property
    def unlimited(self) -> "Truths":
        """The same with a scale that never runs out."""
        return replace(self, cap=math.inf)


@dataclass(frozen=True, slots=True)
class Judge:
    """When the matter is settled: the interval at ``level`` excludes the ratio 1, or lies wholly
    within 1/``worth`` to ``worth`` (None: no smallest ratio worth knowing was stated)."""

    level: float
    worth: float | None


def chances_after(
    hands: tuple[Hand, Hand], truths: Truths, *, sizes: Sequence[int], judge: Judge, seed: int
) -> Floats:
    """Chance that the matter is settled after so many more pieces in each group, (len(sizes),).

    ``sizes`` rise. The same seed draws the same pieces whatever the truths, so that truths can be
    compared; the chances are made never to fall (isotonic regression), as the few hundred
    experiments leave a wave of a point or two.
    """
    from scipy.optimize import isotonic_regression

    rng = np.random.default_rng(np.random.SeedSequence([seed, 43]))
    shape = (2, max(sizes), truths.size)
    own, other = rng.standard_normal(shape), rng.standard_normal(shape)
    drawn = [_draw(truths, side, own[side], other[side]) for side in (0, 1)]
    seen = [
        _settled([_together(hands[k], drawn[k], more) for k in (0, 1)], truths, judge).mean()
        for more in sizes
    ]
    return np.asarray(isotonic_regression(np.array(seen)).x)


def first_enough(chances: Floats, *, sizes: Sequence[int], chance: float) -> int | None:
    """The smallest number of further pieces that has the ``chance``; None beyond the sizes.

    Between the sizes by linear interpolation.
    """
    every = np.arange(sizes[0], sizes[-1] + 1)
    enough = np.interp(every, sizes, chances) >= chance
    return int(every[np.argmax(enough)]) if enough.any() else None


def _draw(truths: Truths, side: int, own: Floats, other: Floats) -> Readings:
    """Further readings of one group, (pieces, B), as ``plan.truth.draw_readings`` draws them."""
    from scipy.special import ndtri

    mu, sigma, wrong = truths.mu[side], truths.sigma[side], truths.wrong[side]
    y = mu + sigma * own
    chance = np.zeros(y.shape, dtype=np.bool_)
    if wrong > 0.0:
        away = -float(ndtri(wrong)) * math.sqrt(2.0)
        first = mu + sigma * (away + other)
        chance = first < np.minimum(y, truths.cap)
        y = np.where(chance, first, y)
    capped = ~chance & (y >= truths.cap)
    cap = np.asarray(truths.cap)
    return Readings(np.where(capped, cap, y), capped | chance, chance, cap)


def _together(hand: Hand, drawn: Readings, more: int) -> Readings:
    size = drawn.y.shape[1]
    y = np.broadcast_to(hand.y[:, None], (hand.y.size, size))
    held = np.broadcast_to(hand.held[:, None], y.shape)
    return Readings(
        np.concatenate([y, drawn.y[:more]]),
        np.concatenate([held, drawn.held[:more]]),
        # Each 'at least' in hand ended at a load of its own.
        np.concatenate([held, drawn.by_chance[:more]]),
        drawn.cap,
    )


def _settled(sides: Sequence[Readings], truths: Truths, judge: Judge) -> NDArray[np.bool_]:
    """Is the matter settled, by the quick interval; False where there is none. (B,)"""
    from scipy.special import stdtrit

    reference, group = sides
    pairs = fit_pairs(reference, group, mu=truths.mu, sigma=truths.sigma)
    exact = np.stack([reference.exact, group.exact])
    told = pairs.both & (exact.min(axis=0) >= 2.0)
    free = np.maximum(exact - 1.0, 1.0)
    parts = _variances(pairs) * (free + 1.0) / free
    with np.errstate(invalid="ignore", divide="ignore"):
        total = parts.sum(axis=0)
        freedom = total**2 / (parts**2 / free).sum(axis=0)
        reach = stdtrit(freedom, 0.5 + 0.5 * judge.level) * np.sqrt(total)
        estimate = pairs.estimate
        lower, upper = estimate - reach, estimate + reach
        settled = (lower > 0.0) | (upper < 0.0)
        if judge.worth is not None:
            edge = math.log(judge.worth)
            settled |= (lower > -edge) & (upper < edge)
    return np.asarray(told & settled)


def _variances(pairs: Pairs) -> Floats:
    return np.stack([median_variance(pairs.fit_weak), median_variance(pairs.fit_strong)])
