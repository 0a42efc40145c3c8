"""Signed roots of many pairs of resampled groups at once, wholly capped ones among them."""

import math

import numpy as np
from numpy.typing import NDArray

from breakwright.stats.cells import Batch
from breakwright.stats.constrained import fit_constrained, profile_at
from breakwright.stats.families import Family, Floats
from breakwright.stats.fit import BatchFit

__all__ = ["all_capped", "roots_of"]

_LOG_2 = math.log(2.0)
# A fall of the log-likelihood beyond which another hump is looked for: |root| above 1.
_DOUBTFUL = 0.5


def roots_of(
    side_a: tuple[Batch, BatchFit], side_b: tuple[Batch, BatchFit], family: Family, distance: float
) -> Floats:
    """Signed roots at ``distance`` of each pair of data sets, (B,), with their free fits given.

    Where a whole group is 'at least', the root is that of the limit (see ``_capped_root``); both
    groups capped tell nothing, 0. nan where a group has no estimate for another reason.
    """
    (batch_a, full_a), (batch_b, full_b) = side_a, side_b
    out = np.full(batch_a.size, np.nan)
    both = np.flatnonzero(full_a.exists & full_b.exists)
    out[both] = _root_of_pairs(
        batch_a.take(both),
        _rows(full_a, both),
        batch_b.take(both),
        _rows(full_b, both),
        family,
        distance,
    )
    capped_a, capped_b = all_capped(batch_a), all_capped(batch_b)
    out[capped_a & capped_b] = 0.0
    only_b = np.flatnonzero(full_a.exists & capped_b)
    out[only_b] = _capped_root(
        batch_a.take(only_b),
        _rows(full_a, only_b),
        batch_b.take(only_b),
        family,
        -distance,
    )
    only_a = np.flatnonzero(full_b.exists & capped_a)
    out[only_a] = -_capped_root(
        batch_b.take(only_a), _rows(full_b, only_a), batch_a.take(only_a), family, distance
    )
    return out


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


def all_capped(batch: Batch) -> NDArray[np.bool_]:
    """True for data sets whose every reading is 'at least', (B,)."""
    nothing = np.zeros(batch.size)
    measured = batch.moments.count
    left = nothing if batch.left is None else batch.left.weight.sum(axis=0)
    between = nothing if batch.between is None else batch.between.weight.sum(axis=0)
    return np.asarray((measured == 0) & (left == 0) & (between == 0))


def _median_variance(found: BatchFit, z50: float) -> Floats:
    """Variance of the median's estimate from the information in (alpha, beta); (B,)."""
    det = found.info_aa * found.info_bb - found.info_ab**2
    # m = (alpha + z50)/beta
    d_a = 1.0 / found.beta
    d_b = -(found.alpha + z50) / (found.beta * found.beta)
    variance = (
        d_a * d_a * found.info_bb - 2.0 * d_a * d_b * found.info_ab + d_b * d_b * found.info_aa
    ) / det
    return np.asarray(np.where(variance > 0.0, variance, found.sigma**2))


def _root_of_pairs(
    a: Batch, full_a: BatchFit, b: Batch, full_b: BatchFit, family: Family, distance: float
) -> Floats:
    """Signed roots of pairs in which both groups have estimates; (B,)."""
    law = family.law
    m_a = (full_a.alpha + law.z50) / full_a.beta
    m_b = (full_b.alpha + law.z50) / full_b.beta
    w_a = 1.0 / _median_variance(full_a, law.z50)
    w_b = 1.0 / _median_variance(full_b, law.z50)
    balance = (w_a * m_a + w_b * (m_b - distance)) / (w_a + w_b)
    full = full_a.loglik + full_b.loglik
    everything = np.arange(a.size)
    best = _tied_loglik(a, full_a, b, full_b, family, distance, m=balance, rows=everything)
    # The tied likelihood may have two humps where the groups disagree, capped ones above all.
    # A root too large would make the interval too wide, so the large ones get two more starts.
    rows = np.flatnonzero(full - best > _DOUBTFUL)
    for start in (m_a, m_b - distance):
        other = _tied_loglik(a, full_a, b, full_b, family, distance, m=start, rows=rows)
        best[rows] = np.fmax(best[rows], other)
    drop = np.maximum(0.0, full - best)
    return np.asarray(np.copysign(np.sqrt(2.0 * drop), m_b - m_a - distance))


def _tied_loglik(
    a: Batch,
    full_a: BatchFit,
    b: Batch,
    full_b: BatchFit,
    family: Family,
    distance: float,
    *,
    m: Floats,
    rows: NDArray[np.intp],
) -> Floats:
    """The largest log-likelihood with the medians tied, of the pairs ``rows``, started at m."""
    law = family.law
    if rows.size == 0:
        return np.zeros(0)
    if rows.size < a.size:
        a, b, m = a.take(rows), b.take(rows), m[rows]
        full_a, full_b = _rows(full_a, rows), _rows(full_b, rows)
    # Moved from its own median, a group needs a wider scatter: the normal's sigma for that.
    away_a = full_a.beta * m - full_a.alpha - law.z50
    away_b = full_b.beta * (m + distance) - full_b.alpha - law.z50
    found = fit_constrained(
        a,
        b,
        law,
        distance=np.full(a.size, distance),
        m=m,
        beta_a=full_a.beta / np.sqrt(1.0 + away_a**2),
        beta_b=full_b.beta / np.sqrt(1.0 + away_b**2),
    )
    return found.loglik


def _capped_root(
    other: Batch, full: BatchFit, capped: Batch, family: Family, distance: float
) -> Floats:
    """The root's size where one group is wholly capped: the cheaper of two ways to give way.

    Either the other group's median moves up to the capped group's limit, or the capped group's
    median sits at its limit with a scatter without bound, which costs log 2 a piece.
    """
    law = family.law
    if other.size == 0:
        return np.zeros(0)
    if capped.right is None:
        raise ValueError("a capped group has 'at least' readings")
    y = np.where(capped.right.weight > 0.0, capped.right.y, -np.inf).max(axis=0)
    pieces = capped.right.weight.sum(axis=0)
    m_hat = (full.alpha + law.z50) / full.beta
    m = np.maximum(m_hat, y + distance)
    beta = full.beta / np.sqrt(1.0 + (full.beta * (m - m_hat)) ** 2)
    _, loglik = profile_at(other, law, m=m, beta=beta)
    moved = np.maximum(0.0, full.loglik - loglik)
    return np.asarray(np.sqrt(2.0 * np.minimum(moved, pieces * _LOG_2)))
