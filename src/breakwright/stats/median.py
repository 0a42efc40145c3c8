"""Limits of one group's median by the calibrated signed root at the tested median.

Jeng & Meeker (2000), Technometrics 42(2), 135-148: for one sample with a fixed capacity, the
signed root calibrated by simulation keeps its promise where Wald and the likelihood ratio do
not. Under capping the generalised pivot (``stats.pivot``) is good for the weak tail, which was
seen, but not for the median, which may lie beyond most readings.
"""

import math
from dataclasses import dataclass, field

import numpy as np

from breakwright.stats.cells import Batch, from_intervals
from breakwright.stats.constrained import profile_at
from breakwright.stats.families import Floats
from breakwright.stats.fit import Fit, fit_batch
from breakwright.stats.inversion import crossing, root_crossing, tail_shares
from breakwright.stats.roots import all_capped
from breakwright.stats.sample import Sample
from breakwright.stats.simulate import draw, resample

__all__ = ["MedianRoot"]

_TIGHT = 1e-16


@dataclass
class MedianRoot:
    """Test and limits for the median of a group that has an estimate; loads in N.

    ``resamples`` data sets a trial median; the same ``seed``, the same limits. With
    ``resamples`` 0 the likelihood ratio is taken against the normal curve (large groups).
    """

    sample: Sample
    found: Fit
    resamples: int
    seed: int
    _tails: dict[float, tuple[float, float]] = field(default_factory=dict, init=False)

    def __post_init__(self) -> None:
        family = self.found.family
        self.estimate = self.found.mu + self.found.sigma * family.law.z50
        low, high = family.scale(self.sample.lower), family.scale(self.sample.upper)
        self._batch = from_intervals(low[:, None], high[:, None], centre=self.estimate)
        alpha = np.array([(self.found.mu - self.estimate) / self.found.sigma])
        beta = np.array([1.0 / self.found.sigma])
        full = fit_batch(self._batch, family.law, alpha=alpha, beta=beta, tolerance=_TIGHT)
        self._full = float(full.loglik[0])
        rng = np.random.default_rng(np.random.SeedSequence([self.seed, 11]))
        self._draws = (
            draw(self.sample, family, resamples=self.resamples, rng=rng) if self.resamples else None
        )

    def _observed(self, m: float) -> tuple[float, float]:
        """(beta, root) of the data with the median held at ``m`` (log load)."""
        away = m - self.estimate
        start = np.array([1.0 / math.hypot(self.found.sigma, away)])
        beta, loglik = profile_at(
            self._batch, self.found.family.law, m=np.array([away]), beta=start, tolerance=_TIGHT
        )
        drop = max(0.0, self._full - float(loglik[0]))
        return float(beta[0]), math.copysign(math.sqrt(2.0 * drop), -away)

    def tail(self, m: float) -> tuple[float, float]:
        """Calibrated (p_up, p_lo) at a trial median ``m`` (log load)."""
        if self._draws is None:
            raise ValueError("this median was made with resamples=0")
        known = self._tails.get(m)
        if known is None:
            beta, root = self._observed(m)
            law = self.found.family.law
            sigma = 1.0 / beta
            mu = m - sigma * law.z50
            batch = resample(self._draws, self.found.family, mu=mu, sigma=sigma, centre=m)
            known = tail_shares(self._roots(batch, beta), root)
            self._tails[m] = known
        return known

    def _roots(self, batch: Batch, beta: float) -> Floats:
        """Signed roots of resamples at their own true median, which is 0 on their scale."""
        law = self.found.family.law
        ones = np.ones(batch.size)
        full = fit_batch(batch, law, alpha=-law.z50 * ones, beta=beta * ones)
        out = np.full(batch.size, np.nan)
        rows = np.flatnonzero(full.exists)
        m_hat = (full.alpha[rows] + law.z50) / full.beta[rows]
        start = full.beta[rows] / np.sqrt(1.0 + (full.beta[rows] * m_hat) ** 2)
        _, tied = profile_at(batch.take(rows), law, m=np.zeros(rows.size), beta=start)
        drop = np.maximum(0.0, full.loglik[rows] - tied)
        out[rows] = np.copysign(np.sqrt(2.0 * drop), m_hat)
        capped = all_capped(batch)
        if capped.any() and batch.right is not None:
            # All held: the median is anywhere beyond the largest limit for nothing, or below it
            # at log 2 a piece (a scatter without bound).
            top = np.where(batch.right.weight > 0.0, batch.right.y, -np.inf).max(axis=0)
            pieces = batch.right.weight.sum(axis=0)
            cost = np.where(top > 0.0, np.sqrt(2.0 * math.log(2.0) * pieces), 0.0)
            out[capped] = cost[capped]
        return out

    def limit(self, *, sign: float, error: float) -> float:
        """The lower (sign -1) or upper (sign 1) limit of the median with one-sided ``error``, in
        log load; sign * inf where there is none."""
        step = 2.0 * math.sqrt(max(self.found.covariance[0], 1e-12))
        if self._draws is None:
            from scipy.special import ndtri

            return root_crossing(
                lambda m: self._observed(m)[1],
                start=self.estimate,
                step=step,
                sign=sign,
                size=float(ndtri(1.0 - error)),
            )
        side = 0 if sign < 0.0 else 1
        return crossing(
            lambda m: self.tail(m)[side],
            start=self.estimate,
            step=step,
            sign=sign,
            allowed=error,
        )
