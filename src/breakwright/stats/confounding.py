"""Does something other than the treatment separate the groups? Covariates and blocks."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from breakwright.stats.families import Floats

__all__ = ["BlockShare", "Separation", "block_share", "separation"]


@dataclass(frozen=True, slots=True)
class Separation:
    """How a numeric covariate differs between a group and the reference.

    ``overlap`` is the chance that a piece of the group has the larger value (ties half): 0.5 is
    none, 0 or 1 is complete separation. ``p_value`` is the exact or tie-corrected rank-sum test.
    """

    group_mean: float
    reference_mean: float
    overlap: float
    p_value: float

    @property
    def complete(self) -> bool:
        return self.overlap in (0.0, 1.0)


def separation(group: Floats, reference: Floats) -> Separation | None:
    """Compare a covariate between two groups, (n,) and (m,); None where either is empty or both
    hold one and the same value."""
    g = np.asarray(group, dtype=np.float64)
    r = np.asarray(reference, dtype=np.float64)
    if g.size == 0 or r.size == 0 or (np.ptp(np.concatenate([g, r])) == 0.0):
        return None
    from scipy.stats import mannwhitneyu

    ties = np.unique(np.concatenate([g, r])).size < g.size + r.size
    exact = not ties and g.size * r.size <= 400
    found = mannwhitneyu(g, r, method="exact" if exact else "asymptotic")
    overlap = float(found.statistic) / (g.size * r.size)
    p = float(found.pvalue)
    return Separation(float(g.mean()), float(r.mean()), overlap, 1.0 if math.isnan(p) else p)


@dataclass(frozen=True, slots=True)
class BlockShare:
    """``shared`` blocks hold pieces of both groups, out of ``total``; ``p_value`` of 'no link'."""

    shared: int
    total: int
    p_value: float


def block_share(group: Sequence[str], reference: Sequence[str]) -> BlockShare | None:
    """Compare the blocks (boards, days) of two groups' pieces; None with a single block."""
    names = sorted(set(group) | set(reference))
    if len(names) < 2 or not group or not reference:
        return None
    counts = np.array([[list(x).count(name) for name in names] for x in (group, reference)])
    from scipy.stats import chi2_contingency

    shared = int(((counts > 0).all(axis=0)).sum())
    return BlockShare(shared, len(names), float(chi2_contingency(counts, correction=False).pvalue))
