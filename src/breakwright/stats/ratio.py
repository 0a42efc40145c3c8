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
from breakwright.stats.constrained import best_of_starts, fit_constrained, profile_at
from breakwright.stats.families import Family, Floats
from breakwright.stats.fit import BatchFit, Fit, fit, fit_batch
from breakwright.stats.sample import Sample
from breakwright.stats.simulate import draw, resample

__all__ = ["Limits", "SignedRoot", "Tail"]

# No shop test tells a ratio of 25 from a larger one; a limit not found by then is no limit.
FARTHEST = math.log(25.0)
_TIGHT = 1e-16
# An end is settled when its score is this near: the simulation's own error is 0.04 at B = 4,000.
_END_SCORE = 0.01
_END_SHARE = 0.003
_LOG_2 = math.log(2.0)
# A fall of the log-likelihood beyond which another hump is looked for: |root| above 1.
_DOUBTFUL = 0.5


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
                draw(s, self.family, resamples=self.resamples, rng=np.random.default_rng(stream))
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
        (batch_a, full_a), (batch_b, full_b) = sides
        out = np.full(self.resamples, np.nan)
        both = np.flatnonzero(full_a.exists & full_b.exists)
        out[both] = _root_of_pairs(
            batch_a.take(both),
            _rows(full_a, both),
            batch_b.take(both),
            _rows(full_b, both),
            self.family,
            distance,
        )
        capped_a, capped_b = _all_capped(batch_a), _all_capped(batch_b)
        out[capped_a & capped_b] = 0.0
        only_b = np.flatnonzero(full_a.exists & capped_b)
        out[only_b] = _capped_root(
            batch_a.take(only_b),
            _rows(full_a, only_b),
            batch_b.take(only_b),
            self.family,
            -distance,
        )
        only_a = np.flatnonzero(full_b.exists & capped_a)
        out[only_a] = -_capped_root(
            batch_b.take(only_a), _rows(full_b, only_a), batch_a.take(only_a), self.family, distance
        )
        return out

    def tail(self, distance: float) -> Tail:
        """Calibrated one-sided p-values at ``distance``; computed once a distance."""
        known = self._tails.get(distance)
        if known is None:
            point = self.observed(distance)
            stars = self.roots(distance, point)
            lost = int(np.isnan(stars).sum())
            near = 1e-9 * (1.0 + abs(point.root))
            up = 1 + int((stars >= point.root - near).sum()) + lost
            lo = 1 + int((stars <= point.root + near).sum()) + lost
            total = self.resamples + 1
            known = Tail(distance, point.root, up / total, lo / total)
            self._tails[distance] = known
        return known

    def likelihood_limits(self, level: float) -> Limits:
        """The likelihood-ratio interval against the normal curve: for groups that are large."""
        from scipy.special import ndtri

        z = float(ndtri(0.5 + 0.5 * level))
        ends = []
        for sign in (-1.0, 1.0):
            inside, outside, width = self.estimate, math.nan, self._rough_width()
            step = width
            while True:
                trial = self.estimate + sign * step
                if -sign * self.observed(trial).root >= z:
                    outside = trial
                    break
                inside = trial
                if step > FARTHEST:
                    break
                step *= 1.7
            if math.isnan(outside):
                ends.append(sign * math.inf)
                continue
            from scipy.optimize import brentq

            ends.append(
                float(
                    brentq(
                        lambda d, s=sign: -s * self.observed(d).root - z,
                        inside,
                        outside,
                        xtol=1e-10,
                    )
                )
            )
        return Limits(ends[0], ends[1], level)

    def _rough_width(self) -> float:
        variance = sum(f.covariance[0] for f, _ in self._sides())
        return 2.0 * math.sqrt(variance) if variance > 0.0 else 1.0

    def limits(self, level: float) -> Limits:
        """The calibrated interval for log(ratio) at ``level`` (two-sided)."""
        return Limits(self._end(level, -1.0), self._end(level, 1.0), level)

    def _end(self, level: float, sign: float) -> float:
        """Where the p-value crosses half the allowed error, by a bracketed secant on its score."""
        from scipy.special import ndtri

        allowed = 0.5 * (1.0 - level)
        target = float(ndtri(allowed))

        def score(d: float) -> float:
            tail = self.tail(d)
            return float(ndtri(tail.p_up if sign < 0.0 else tail.p_lo)) - target

        width = self._rough_width()
        inside, f_in = self.estimate, -target  # p is about one half at the estimate
        step = width
        outside = f_out = math.nan
        while True:
            trial = self.estimate + sign * step
            value = score(trial)
            if value <= 0.0:
                outside, f_out = trial, value
                break
            inside, f_in = trial, value
            if step >= FARTHEST:
                return sign * math.inf
            # Extrapolate, but never by more than a threefold step.
            slope = (-target - value) / step
            reach = step + 1.3 * value / slope if slope > 0.0 else 3.0 * step
            step = min(max(reach, 1.25 * step), 3.0 * step, FARTHEST)
        for _ in range(12):
            if abs(outside - inside) < _END_SHARE * abs(outside - self.estimate):
                break
            guess = inside + (outside - inside) * f_in / (f_in - f_out)
            margin = 0.05 * (outside - inside)
            guess = min(
                max(guess, min(inside + margin, outside - margin)),
                max(inside + margin, outside - margin),
            )
            value = score(guess)
            if abs(value) < _END_SCORE:
                return guess
            if value <= 0.0:
                outside, f_out = guess, value
            else:
                inside, f_in = guess, value
        return inside + (outside - inside) * f_in / (f_in - f_out)


def _rows(found: BatchFit, rows: np.typing.NDArray[np.intp]) -> BatchFit:
    return BatchFit(
        found.alpha[rows],
        found.beta[rows],
        found.loglik[rows],
        found.exists[rows],
        found.info_aa[rows],
        found.info_ab[rows],
        found.info_bb[rows],
    )


def _all_capped(batch: Batch) -> np.typing.NDArray[np.bool_]:
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
    rows: np.typing.NDArray[np.intp],
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
