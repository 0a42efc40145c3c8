"""One group's limits by the generalised pivot: median, 5th percentile, chance to beat another.

Resamples made under the fit, with the capacities put on again, show how (mu*, sigma*) scatter
about the (mu, sigma) they came from. Turned round, each resample gives one plausible truth:
mu - sigma (mu* - mu)/sigma* and sigma^2/sigma*. Without capping this is exact (it reproduces the
noncentral-t tolerance factors); with capping it is close. Resamples without an estimate are
dropped. Weerahandi, S. (1993), Generalized confidence intervals, JASA 88, 899-905; Lawless, J. F.
(2003), Statistical Models and Methods for Lifetime Data, 2nd ed., section 5.2 (section from
memory).
"""

import math
from dataclasses import dataclass

import numpy as np

from breakwright.stats.families import Family, Floats
from breakwright.stats.fit import Fit, fit_batch
from breakwright.stats.sample import Sample
from breakwright.stats.simulate import draw, resample

__all__ = ["Plausible", "chance_to_beat", "plausible", "quantile_limit"]

# Above this many readings times resamples the pivot is taken from the normal approximation of
# (mu, log sigma), which by then (over a thousand readings) differs in the fourth digit only.
_LARGEST_WORK = 4_000_000


@dataclass(frozen=True)
class Plausible:
    """Plausible truths for one group: ``mu`` and ``sigma`` of log load, each (B',)."""

    family: Family
    mu: Floats
    sigma: Floats

    def quantile(self, p: float) -> Floats:
        """Plausible log quantiles, (B',)."""
        return self.mu + self.sigma * self.family.quantile_at(p)


def plausible(sample: Sample, found: Fit, *, resamples: int, seed: int) -> Plausible:
    """Draw plausible truths for a group that has an estimate; the same seed, the same draws."""
    rng = np.random.default_rng(np.random.SeedSequence([seed, 5]))
    if sample.size * resamples > _LARGEST_WORK:
        return _from_normal(found, resamples=resamples, rng=rng)
    draws = draw(sample, found.family, resamples=resamples, rng=rng)
    batch = resample(draws, found.family, mu=found.mu, sigma=found.sigma, centre=found.mu)
    beta = np.full(resamples, 1.0 / found.sigma)
    stars = fit_batch(batch, found.family.law, alpha=np.zeros(resamples), beta=beta)
    there = stars.exists
    mu_star, sigma_star = stars.mu[there], stars.sigma[there]
    return Plausible(
        found.family,
        found.mu - found.sigma * mu_star / sigma_star,
        found.sigma * found.sigma / sigma_star,
    )


def _from_normal(found: Fit, *, resamples: int, rng: np.random.Generator) -> Plausible:
    v_mu, v_cross, v_log = found.covariance
    chol = np.linalg.cholesky(np.array([[v_mu, v_cross], [v_cross, v_log]]))
    step = chol @ rng.standard_normal((2, resamples))
    return Plausible(found.family, found.mu + step[0], found.sigma * np.exp(step[1]))


def quantile_limit(truths: Plausible, *, p: float, confidence: float) -> float:
    """Load (N) that the p-quantile exceeds with ``confidence``: a one-sided lower limit.

    For p = 0.05 this is the lower tolerance bound: 95 % of pieces hold more, with
    ``confidence``. An upper limit is had with ``1 - confidence``.
    """
    return math.exp(float(np.quantile(truths.quantile(p), 1.0 - confidence)))


def chance_to_beat(a: tuple[Floats, Floats], b: tuple[Floats, Floats], family: Family) -> Floats:
    """Chance that one piece of B holds more than one of A; ``a``, ``b`` are (mu, sigma), (B,).

    The integral of A's distribution over B's density, by Gauss and Legendre on z; for two
    normals it is Phi((mu_b - mu_a)/sqrt(sigma_a^2 + sigma_b^2)), which is used there.
    """
    mu_a, sigma_a = a
    mu_b, sigma_b = b
    if family.law.gaussian:
        return family.law.distribution((mu_b - mu_a) / np.hypot(sigma_a, sigma_b))
    z, weight = _nodes(family)
    y = mu_b[:, None] + sigma_b[:, None] * z
    return np.asarray(family.law.distribution((y - mu_a[:, None]) / sigma_a[:, None]) @ weight)


def _nodes(family: Family) -> tuple[Floats, Floats]:
    """Nodes in z and weights times the density, over all but 2e-10 of the law."""
    low, high = (family.quantile_at(p) for p in (1e-10, 1.0 - 1e-10))
    x, w = np.polynomial.legendre.leggauss(160)
    z = 0.5 * (high - low) * x + 0.5 * (high + low)
    weight = 0.5 * (high - low) * w * np.exp(family.law.density(z)[0])
    return z, weight / weight.sum()
