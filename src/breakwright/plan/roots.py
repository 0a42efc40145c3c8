"""Many experiments at once: both groups' fits, and the maximum with their medians held apart."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.plan.truth import Readings, batch_of
from breakwright.stats.cells import Batch
from breakwright.stats.constrained import best_of_starts
from breakwright.stats.families import LOGNORMAL, Floats
from breakwright.stats.fit import BatchFit, fit_batch
from breakwright.stats.roots import all_capped

__all__ = ["Pairs", "Tied", "fit_pairs", "median_variance", "tie"]

_LAW = LOGNORMAL.law


@dataclass(frozen=True)
class Pairs:
    """Two groups in B experiments with their own fits, on log load."""

    weak: Batch
    strong: Batch
    fit_weak: BatchFit
    fit_strong: BatchFit

    @property
    def both(self) -> NDArray[np.bool_]:
        """Experiments in which both groups have an estimate, (B,)."""
        return np.asarray(self.fit_weak.exists & self.fit_strong.exists)

    @property
    def strong_capped(self) -> NDArray[np.bool_]:
        """Experiments whose stronger group is 'at least' throughout, (B,)."""
        return all_capped(self.strong)

    def take(self, rows: NDArray[np.intp]) -> "Pairs":
        return Pairs(
            self.weak.take(rows),
            self.strong.take(rows),
            _rows(self.fit_weak, rows),
            _rows(self.fit_strong, rows),
        )

    @property
    def estimate(self) -> Floats:
        """Log-ratio of the medians, (B,)."""
        return np.asarray(self.fit_strong.mu - self.fit_weak.mu)

    @property
    def error(self) -> Floats:
        """Standard error of the log-ratio from the information, (B,)."""
        return np.sqrt(median_variance(self.fit_weak) + median_variance(self.fit_strong))


@dataclass(frozen=True)
class Tied:
    """The maximum with the medians held apart by a distance, and its signed root, each (B,)."""

    root: Floats
    m: Floats
    beta_weak: Floats
    beta_strong: Floats


def _rows(found: BatchFit, rows: NDArray[np.intp]) -> BatchFit:
    return BatchFit(
        found.alpha[rows],
        found.beta[rows],
        found.loglik[rows],
        found.exists[rows],
        found.info_aa[rows],
        found.info_ab[rows],
        found.info_bb[rows],
    )


def median_variance(found: BatchFit) -> Floats:
    """Variance of mu = alpha/beta from the information in (alpha, beta), (B,)."""
    det = found.info_aa * found.info_bb - found.info_ab**2
    mu = found.mu
    variance = (found.info_bb + 2.0 * mu * found.info_ab + mu * mu * found.info_aa) / det
    return np.asarray(np.where(variance > 0.0, variance / found.beta**2, found.sigma**2))


def fit_pairs(weak: Readings, strong: Readings, *, mu: Floats, sigma: Floats) -> Pairs:
    """Fit both groups of every experiment; ``mu`` and ``sigma`` are starts, each (2, B)."""
    batches = batch_of(weak), batch_of(strong)
    fits = [
        fit_batch(batch, _LAW, alpha=m / s, beta=1.0 / s)
        for batch, m, s in zip(batches, mu, sigma, strict=True)
    ]
    return Pairs(*batches, *fits)


def tie(pairs: Pairs, distance: Floats) -> Tied:
    """Tied maxima and signed roots of pairs that all have estimates; ``distance`` is (B,).

    The root is r(d) = sign(d_hat - d) sqrt(2 (l_hat - l(d))), from the same three starts as in
    ``stats.ratio`` (docs/methods.md).
    """
    m_weak, m_strong = pairs.fit_weak.mu, pairs.fit_strong.mu
    w_weak = 1.0 / median_variance(pairs.fit_weak)
    w_strong = 1.0 / median_variance(pairs.fit_strong)
    balance = (w_weak * m_weak + w_strong * (m_strong - distance)) / (w_weak + w_strong)
    found = best_of_starts(
        pairs.weak,
        pairs.strong,
        _LAW,
        distance=distance,
        starts=(balance, m_weak, m_strong - distance),
        beta_a=pairs.fit_weak.beta,
        beta_b=pairs.fit_strong.beta,
    )
    drop = np.maximum(0.0, pairs.fit_weak.loglik + pairs.fit_strong.loglik - found.loglik)
    root = np.copysign(np.sqrt(2.0 * drop), m_strong - m_weak - distance)
    return Tied(root, found.m, found.beta_a, found.beta_b)
