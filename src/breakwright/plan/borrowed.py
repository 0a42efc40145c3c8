"""The calibration of many experiments at once: look-alikes lend each other their resamples.

The real analysis resamples each data set under its own fit tied to the tested ratio. What the
root does there depends on that fit only through the ratio of the two scatters and the shares of
each group beyond its capacity (location and scale drop out). So each experiment is resampled a
few times, and its root is compared with the roots of the experiments whose fits lie nearest to
its own in those numbers. That is the real test, with its reference distribution smoothed over a
small neighbourhood; how near it comes is recorded in ``tests/validation``.
"""

import numpy as np
from numpy.typing import NDArray

from breakwright.plan.roots import Tied, fit_pairs
from breakwright.plan.truth import Readings
from breakwright.stats.families import LOGNORMAL, Floats
from breakwright.stats.roots import roots_of

__all__ = ["Tails", "reference_roots", "tails"]


class Tails:
    """One-sided p-values of B experiments: ``up`` of a root this large, ``low`` this small."""

    def __init__(self, up: Floats, low: Floats) -> None:
        self.up = up
        self.low = low


def reference_roots(
    weak: Readings,
    strong: Readings,
    tied: Tied,
    distance: Floats,
    *,
    resamples: int,
    rng: np.random.Generator,
) -> Floats:
    """Roots of ``resamples`` data sets made under each experiment's tied fit; (B, resamples).

    ``weak`` and ``strong`` are the experiments' own readings, which say where pieces ended by
    chance; ``distance`` (B,) is what each fit was tied to.
    """
    columns = np.repeat(np.arange(distance.size), resamples)
    m = tied.m[columns]
    sides, sigmas = [], []
    # The stronger group is moved down by the distance, its limits too, so that the two medians
    # meet and one distance, 0, serves all experiments.
    for readings, moved, beta in (
        (weak, np.zeros(columns.size), tied.beta_weak[columns]),
        (strong, distance[columns], tied.beta_strong[columns]),
    ):
        sigma = 1.0 / beta
        y = m + sigma * rng.standard_normal((readings.y.shape[0], columns.size))
        cap = readings.cap - moved
        chance = np.zeros(y.shape, dtype=np.bool_)
        if readings.by_chance.any():
            ends = _chance_ends(readings, columns, rng) - moved
            chance = (y >= ends) & (ends < cap)
            y = np.where(chance, ends, y)
        capped = ~chance & (y >= cap)
        y = np.where(capped, cap, y)
        sides.append(Readings(y, capped | chance, chance, cap))
        sigmas.append(sigma)
    pairs = fit_pairs(sides[0], sides[1], mu=np.stack([m, m]), sigma=np.stack(sigmas))
    roots = roots_of((pairs.weak, pairs.fit_weak), (pairs.strong, pairs.fit_strong), LOGNORMAL, 0.0)
    return roots.reshape(distance.size, resamples)


def _chance_ends(readings: Readings, columns: NDArray[np.intp], rng: np.random.Generator) -> Floats:
    """Log loads at which each piece of each resample would have ended by chance; inf: never.

    As in ``stats.simulate``: a piece that did keeps its load; the others draw from the
    Kaplan-Meier curve of those loads, given that it lies beyond what they showed.
    """
    n, size = readings.y.shape
    order = np.argsort(readings.y, axis=0, kind="stable")
    y = np.take_along_axis(readings.y, order, axis=0)
    event = np.take_along_axis(readings.by_chance, order, axis=0)
    at_risk = np.arange(n, 0, -1, dtype=np.float64)[:, None]
    holding = np.cumprod(np.where(event, 1.0 - 1.0 / at_risk, 1.0), axis=0)
    start = np.empty_like(holding)
    np.put_along_axis(start, order, holding, axis=0)
    # One ascending line of all curves, each in its own stretch of length 2, is searched at once.
    line = (2.0 * np.arange(size) - holding).T.ravel()
    wanted = 2.0 * columns - rng.random((n, columns.size)) * start[:, columns]
    place = np.searchsorted(line, wanted.ravel(), side="left").reshape(wanted.shape)
    place -= n * columns
    found = np.where(place < n, y[np.minimum(place, n - 1), columns], np.inf)
    return np.where(readings.by_chance[:, columns], readings.y[:, columns], found)


def _look(weak: Readings, strong: Readings, tied: Tied, distance: Floats) -> Floats:
    """What the root's behaviour depends on, each column scaled to its own spread; (B, k)."""
    from scipy.special import ndtr

    columns = [np.log(tied.beta_strong / tied.beta_weak)]
    for readings, m, beta in (
        (weak, tied.m, tied.beta_weak),
        (strong, tied.m + distance, tied.beta_strong),
    ):
        if np.isfinite(readings.cap).all():
            columns.append(ndtr((m - readings.cap) * beta))
        if readings.by_chance.any():
            columns.append(readings.by_chance.mean(axis=0))
    look = np.stack(columns, axis=1)
    spread = look.std(axis=0)
    return np.asarray(look / np.where(spread > 1e-9, spread, 1.0))


def tails(
    weak: Readings,
    strong: Readings,
    tied: Tied,
    distance: Floats,
    *,
    roots: Floats,
    neighbours: int,
) -> Tails:
    """p-values of every experiment from the ``roots`` (B, K) of its ``neighbours`` nearest.

    A resample without a root counts as extreme on both sides, as in the real analysis.
    """
    from scipy.spatial import cKDTree

    look = _look(weak, strong, tied, distance)
    count = min(neighbours, look.shape[0])
    _, near = cKDTree(look).query(look, k=count)
    stars = roots[near.reshape(look.shape[0], count)].reshape(look.shape[0], -1)
    lost = np.isnan(stars).sum(axis=1)
    slack = 1e-9 * (1.0 + np.abs(tied.root))
    total = stars.shape[1] + 1.0
    up = (stars >= (tied.root - slack)[:, None]).sum(axis=1)
    low = (stars <= (tied.root + slack)[:, None]).sum(axis=1)
    return Tails((1.0 + up + lost) / total, (1.0 + low + lost) / total)
