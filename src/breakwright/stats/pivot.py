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

__all__ = ["FEWEST_TRUTHS", "Plausible", "chance_to_beat", "plausible", "quantile_limit"]

# Above this many readings times resamples the pivot is taken from the normal approximation of
# (mu, log sigma), which by then (over a thousand readings) differs in the fourth digit only.
_LARGEST_WORK = 4_000_000
# With fewer plausible truths than this (most resamples had no estimate) no limit is taken.
FEWEST_TRUTHS = 100


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

    For two normals Phi((mu_b - mu_a)/sqrt(sigma_a^2 + sigma_b^2)); else the integral over the
    group with the smaller scatter, by the trapezoidal rule in the logit of its share broken,
    where the integrand is smooth and dies away at both ends (error below 1e-9).
    """
    mu_a, sigma_a = a
    mu_b, sigma_b = b
    if family.law.gaussian:
        return family.law.distribution((mu_b - mu_a) / np.hypot(sigma_a, sigma_b))
    logit = np.linspace(-24.0, 24.0, 129)
    share = 1.0 / (1.0 + np.exp(-logit))
    weight = share * share[::-1] * (logit[1] - logit[0])
    z = family.law.quantile(share)
    over_b = sigma_b <= sigma_a
    inner_mu, inner_sigma = np.where(over_b, mu_b, mu_a), np.where(over_b, sigma_b, sigma_a)
    outer_mu, outer_sigma = np.where(over_b, mu_a, mu_b), np.where(over_b, sigma_a, sigma_b)
    y = inner_mu[:, None] + inner_sigma[:, None] * z
    below = family.law.distribution((y - outer_mu[:, None]) / outer_sigma[:, None]) @ weight
    return np.asarray(np.where(over_b, below, 1.0 - below))
