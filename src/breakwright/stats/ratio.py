"""The ratio of two groups' medians by the calibrated signed root at the tested ratio.

For a trial log-ratio d the signed root of the likelihood ratio, r(d), is compared not with the
normal curve but with what it does in resamples made under the fit that is constrained to d, with
the capacities put on again. d belongs to the interval while both one-sided p-values exceed half
the allowed error. After Jeng & Meeker (2000), Comparisons of approximate confidence interval
procedures for type I censored data, Technometrics 42(2), 135-148, who did it for one sample;
here by inverting the test for a ratio. See docs/methods.md.
"""

import math
from dataclasses import dataclass, field

import numpy as np

from breakwright.stats.cells import Batch, from_intervals
from breakwright.stats.constrained import best_of_starts
from breakwright.stats.families import Family, Floats
from breakwright.stats.fit import BatchFit, Fit, fit, fit_batch
from breakwright.stats.inversion import crossing, root_crossing, tail_shares
from breakwright.stats.roots import roots_of
from breakwright.stats.sample import Sample, thinned
from breakwright.stats.simulate import draw, resample

__all__ = ["Limits", "SignedRoot", "Tail"]

_TIGHT = 1e-16
# A larger group is resampled as this many of its pieces: beside a group so small that it must be
# simulated, its own error adds under half a per cent to the variance of the ratio either way.
_MOST_RESAMPLED = 2_000
_FEWEST_EXACT = 100


@dataclass(frozen=True, slots=True)
class Tail:
    """One trial distance d: the signed root and its calibrated one-sided p-values."""

    distance: float
    root: float
    p_up: float  # chance of a root this large or larger: small d are refused by it
    p_lo: float  # chance of a root this small or smaller: large d are refused by it


@dataclass(frozen=True, slots=True)
class Limits:
    """Ends of an interval for log(ratio); -inf / inf where there is no limit."""

    lower: float
    upper: float
    level: float


@dataclass(frozen=True)
class _Point:
    """The observed data's constrained maximum at a distance (on the centred scale)."""

    m: float
    beta_a: float
    beta_b: float
    root: float


@dataclass
class SignedRoot:
    """Test and interval for log(median B / median A) from two samples that both have estimates.

    ``resamples`` data sets a distance; the same ``seed`` gives the same bytes. Raises ValueError
    if a group has no estimate (ask ``fit`` first: it says why).
    """

    a: Sample
    b: Sample
    family: Family
    resamples: int
    seed: int
    _tails: dict[float, Tail] = field(default_factory=dict, init=False)

    def __post_init__(self) -> None:
        self.fit_a: Fit = fit(self.a.lower, self.a.upper, self.family)
        self.fit_b: Fit = fit(self.b.lower, self.b.upper, self.family)
        if self.fit_a.missing or self.fit_b.missing:
            raise ValueError("both groups need an estimate")
        law = self.family.law
        self.centre = 0.5 * (self.fit_a.mu + self.fit_b.mu)
        self.batch_a = self._observed(self.a)
        self.batch_b = self._observed(self.b)
        self._full_a = self._fit_one(self.batch_a, self.fit_a)
        self._full_b = self._fit_one(self.batch_b, self.fit_b)
        self.m_a = self.fit_a.mu + self.fit_a.sigma * law.z50 - self.centre
        self.m_b = self.fit_b.mu + self.fit_b.sigma * law.z50 - self.centre
        streams = np.random.SeedSequence(self.seed).spawn(2)
        self._draws = (
            None
            if self.resamples == 0
            else tuple(
                draw(
                    thinned(s, most=_MOST_RESAMPLED, exact=_FEWEST_EXACT),
                    self.family,
                    resamples=self.resamples,
                    rng=np.random.default_rng(stream),
                )
                for s, stream in zip((self.a, self.b), streams, strict=True)
            )
        )

    @property
    def estimate(self) -> float:
        """The maximum-likelihood log-ratio of medians."""
        return self.m_b - self.m_a

    def _observed(self, sample: Sample) -> Batch:
        low, high = self.family.scale(sample.lower), self.family.scale(sample.upper)
        return from_intervals(low[:, None], high[:, None], centre=self.centre)

    def _fit_one(self, batch: Batch, found: Fit) -> BatchFit:
        beta = np.array([1.0 / found.sigma])
        alpha = np.array([(found.mu - self.centre) / found.sigma])
        return fit_batch(batch, self.family.law, alpha=alpha, beta=beta, tolerance=_TIGHT)

    def observed(self, distance: float) -> _Point:
        """The constrained maximum and the signed root of the data at ``distance``."""
        precise = [1.0 / (f.sigma * f.sigma) * s.exact.sum() for f, s in self._sides()]
        balance = (precise[0] * self.m_a + precise[1] * (self.m_b - distance)) / sum(precise)
        starts = tuple(np.array([m]) for m in (balance, self.m_a, self.m_b - distance))
        found = best_of_starts(
            self.batch_a,
            self.batch_b,
            self.family.law,
            distance=np.array([distance]),
            starts=starts,
            beta_a=np.array([1.0 / self.fit_a.sigma]),
            beta_b=np.array([1.0 / self.fit_b.sigma]),
            tolerance=_TIGHT,
        )
        full = float(self._full_a.loglik[0] + self._full_b.loglik[0])
        drop = max(0.0, full - float(found.loglik[0]))
        root = math.copysign(math.sqrt(2.0 * drop), self.estimate - distance)
        return _Point(float(found.m[0]), float(found.beta_a[0]), float(found.beta_b[0]), root)

    def _sides(self) -> tuple[tuple[Fit, Sample], tuple[Fit, Sample]]:
        return (self.fit_a, self.a), (self.fit_b, self.b)

    def roots(self, distance: float, point: _Point) -> Floats:
        """Signed roots of the resamples made under the constrained fit; (B,), nan: no root."""
        if self._draws is None:
            raise ValueError("this signed root was made with resamples=0")
        law = self.family.law
        sides = []
        for draws, beta, shift in zip(
            self._draws, (point.beta_a, point.beta_b), (0.0, distance), strict=True
        ):
            sigma = 1.0 / beta
            mu = point.m + shift - sigma * law.z50
            batch = resample(
                draws, self.family, mu=mu + self.centre, sigma=sigma, centre=self.centre
            )
            ones = np.ones(batch.size)
            done = fit_batch(batch, law, alpha=mu * beta * ones, beta=beta * ones)
            sides.append((batch, done))
        return roots_of(sides[0], sides[1], self.family, distance)

    def tail(self, distance: float) -> Tail:
        """Calibrated one-sided p-values at ``distance``; computed once a distance."""
        known = self._tails.get(distance)
        if known is None:
            point = self.observed(distance)
            stars = self.roots(distance, point)
            p_up, p_lo = tail_shares(stars, point.root)
            known = Tail(distance, point.root, p_up, p_lo)
            self._tails[distance] = known
        return known

    def likelihood_limits(self, level: float) -> Limits:
        """The likelihood-ratio interval against the normal curve: for groups that are large."""
        from scipy.special import ndtri

        size = float(ndtri(0.5 + 0.5 * level))
        ends = [
            root_crossing(
                lambda d: self.observed(d).root,
                start=self.estimate,
                step=self._rough_width(),
                sign=sign,
                size=size,
            )
            for sign in (-1.0, 1.0)
        ]
        return Limits(ends[0], ends[1], level)

    def _rough_width(self) -> float:
        variance = sum(f.covariance[0] for f, _ in self._sides())
        return 2.0 * math.sqrt(variance) if variance > 0.0 else 1.0

    def limits(self, level: float) -> Limits:
        """The calibrated interval for log(ratio) at ``level`` (two-sided)."""
        allowed = 0.5 * (1.0 - level)
        step = self._rough_width()
        lower = crossing(
            lambda d: self.tail(d).p_up, start=self.estimate, step=step, sign=-1.0, allowed=allowed
        )
        upper = crossing(
            lambda d: self.tail(d).p_lo, start=self.estimate, step=step, sign=1.0, allowed=allowed
        )
        return Limits(lower, upper, level)
