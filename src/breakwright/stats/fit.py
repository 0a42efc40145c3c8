"""Maximum likelihood of one family on many small data sets at once, and on one.

The log-likelihood is jointly concave in (alpha, beta), so a Newton step divided by 1 plus the
Newton decrement climbs (Nesterov & Nemirovskii's damped step for self-concordant functions),
with a cap on any fall in beta, which must stay positive. A step that lowers the likelihood all
the same is cut back.

An estimate exists only if no single load explains every reading, i.e. the largest lower end
lies above the smallest upper end; else sigma runs to 0. Without one exact or two-sided reading
sigma may also run to infinity.
"""

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from breakwright.stats.cells import Batch, from_intervals
from breakwright.stats.families import Family, Floats, Law
from breakwright.stats.likelihood import Sums, sums
from breakwright.stats.newton import damping, readings

__all__ = ["BatchFit", "Fit", "Missing", "estimable", "fit", "fit_batch"]

_ROUNDS = 80
_SLACK = 1e-13  # a fall of the log-likelihood by rounding alone
_LARGEST_FALL = 0.35  # beta keeps at least this share of itself in one step
_SCATTER_TOP = 1e4  # sigma this many times the spread of the readings has run away


class Missing(StrEnum):
    """Why there is no estimate."""

    NO_READING = "no-reading"
    ONE_VALUE = "one-value-explains-all"
    ALL_AT_LEAST = "all-at-least"
    ALL_AT_MOST = "all-at-most"
    UNBOUNDED_SCATTER = "unbounded-scatter"


@dataclass(frozen=True)
class BatchFit:
    """Estimates of ``B`` data sets on the batch's shifted scale, each (B,).

    ``exists`` is False where the data set has no estimate (the numbers there mean nothing).
    The three information numbers are minus the Hessian in (alpha, beta).
    """

    alpha: Floats
    beta: Floats
    loglik: Floats
    exists: NDArray[np.bool_]
    info_aa: Floats
    info_ab: Floats
    info_bb: Floats

    @property
    def mu(self) -> Floats:
        return self.alpha / self.beta

    @property
    def sigma(self) -> Floats:
        return 1.0 / self.beta


@dataclass(frozen=True, slots=True)
class Fit:
    """One data set's estimate: ``mu`` and ``sigma`` of log load (of load for the normal family).

    ``loglik`` is of the loads themselves (with the Jacobian of the log for exact readings).
    ``covariance`` is of (mu, log sigma), from the observed information. ``missing`` says why
    there is no estimate; then the numbers are nan.
    """

    family: Family
    mu: float
    sigma: float
    loglik: float
    covariance: tuple[float, float, float]
    missing: Missing | None

    def quantile(self, p: float) -> float:
        """The load (N) below which a share ``p`` of pieces breaks."""
        return self.family.unscale(self.mu + self.sigma * self.family.quantile_at(p))


def _extremes(batch: Batch) -> tuple[Floats, Floats]:
    """Largest lower end and smallest upper end of each data set."""
    largest = np.full(batch.size, -np.inf)
    smallest = np.full(batch.size, np.inf)
    for spot, is_low, is_high in (
        (batch.exact, True, True),
        (batch.right, True, False),
        (batch.left, False, True),
    ):
        if spot is None:
            continue
        there = spot.weight > 0.0
        if is_low:
            largest = np.maximum(largest, np.where(there, spot.y, -np.inf).max(axis=0))
        if is_high:
            smallest = np.minimum(smallest, np.where(there, spot.y, np.inf).min(axis=0))
    if batch.between is not None:
        span = batch.between
        there = span.weight > 0.0
        largest = np.maximum(largest, np.where(there, span.low, -np.inf).max(axis=0))
        smallest = np.minimum(smallest, np.where(there, span.high, np.inf).min(axis=0))
    return largest, smallest


def estimable(batch: Batch) -> NDArray[np.bool_]:
    """True where no single load explains every reading, so that an estimate exists; (B,)."""
    largest, smallest = _extremes(batch)
    return largest > smallest


def fit_batch(
    batch: Batch, law: Law, *, alpha: Floats, beta: Floats, tolerance: float = 1e-9
) -> BatchFit:
    """Fit every data set, starting from (alpha, beta), each (B,).

    ``tolerance`` bounds the squared Newton decrement at the end, which is twice the distance of
    the log-likelihood from its maximum.
    """
    size = batch.size
    exists = estimable(batch)
    out = {k: np.full(size, np.nan) for k in ("alpha", "beta", "loglik", "aa", "ab", "bb")}
    rows = np.flatnonzero(exists)
    work = batch if rows.size == size else batch.take(rows)
    point = np.stack([alpha[rows], beta[rows]]).astype(np.float64)
    kept, move = point.copy(), np.zeros_like(point)
    best = np.full(rows.size, -np.inf)
    count = readings(work)

    for step in range(_ROUNDS):
        if rows.size == 0:
            break
        a, b = point
        s = sums(work, law, a, b)
        worse = ~(s.loglik >= best - _SLACK * (1.0 + np.abs(best)))
        g_a = -s.first
        g_b = s.first_y + s.exact / b
        aa, ab, bb = _information(s, b)
        det = aa * bb - ab * ab
        d_a = (bb * g_a - ab * g_b) / det
        d_b = (aa * g_b - ab * g_a) / det
        decrement = g_a * d_a + g_b * d_b
        done = ~worse & ~(decrement > tolerance)
        if step == _ROUNDS - 1:
            # Not settled in 80 rounds: sigma is running away (no estimate inside the range).
            exists[rows[~done]] = False
            done[:] = True
        if done.any():
            # One last full step costs nothing: the sums are at hand and it squares the error.
            full = done & np.isfinite(d_a) & (b + d_b > 0.0)
            take = rows[done]
            out["alpha"][take] = np.where(full, a + d_a, a)[done]
            out["beta"][take] = np.where(full, b + d_b, b)[done]
            out["loglik"][take] = (s.loglik + np.where(full, 0.5 * decrement, 0.0))[done]
            out["aa"][take], out["ab"][take], out["bb"][take] = aa[done], ab[done], bb[done]
        going = np.flatnonzero(~done)
        if going.size == 0:
            break
        fall = np.where(d_b < 0.0, (1.0 - _LARGEST_FALL) * b / np.maximum(-d_b, 1e-300), np.inf)
        scale = np.minimum(damping(decrement, count), fall)
        kept = np.where(worse, kept, point)
        best = np.where(worse, best, s.loglik)
        move = np.where(worse, 0.4 * move, scale * np.stack([d_a, d_b]))
        point = kept + move
        # Finished data sets ride along (and only improve) until thinning the batch pays.
        if going.size < 0.7 * rows.size:
            work, rows, best, count = work.take(going), rows[going], best[going], count[going]
            point, kept, move = point[:, going], kept[:, going], move[:, going]
    return BatchFit(
        out["alpha"], out["beta"], out["loglik"], exists, out["aa"], out["ab"], out["bb"]
    )


def _information(s: Sums, beta: Floats) -> tuple[Floats, Floats, Floats]:
    return -s.second, s.second_y, s.exact / (beta * beta) - s.second_yy


def rough_start(low: Floats, high: Floats) -> tuple[float, float]:
    """A start (mu, sigma) from the ends of the readings on the scale of y, any finite ones."""
    ends = np.where(np.isfinite(low), low, high)
    both = np.isfinite(low) & np.isfinite(high)
    middle = np.where(both, 0.5 * (low + np.where(both, high, low)), ends)
    spread = float(np.std(middle))
    size = max(1.0, float(np.abs(middle).max()))
    return float(np.mean(middle)), max(spread, 1e-3 * size)


def fit(lower: Floats, upper: Floats, family: Family) -> Fit:
    """Fit ``family`` to one data set of closed intervals of load (N), each end of shape (n,).

    >>> import numpy as np
    >>> from breakwright.stats.families import LOGNORMAL
    >>> load = np.array([100.0, 120.0, 150.0])
    >>> found = fit(load, load, LOGNORMAL)
    >>> round(found.quantile(0.5), 3)
    121.644
    """
    lower = np.asarray(lower, dtype=np.float64)
    upper = np.asarray(upper, dtype=np.float64)
    missing = _why_none(lower, upper)
    if missing is None:
        low, high = family.scale(lower), family.scale(upper)
        if not family.logs:
            low = np.where(lower == 0.0, -np.inf, low)
        mu, sigma = rough_start(low, high)
        batch = from_intervals(low[:, None], high[:, None], centre=mu)
        start = np.array([1.0 / sigma])
        done = fit_batch(batch, family.law, alpha=np.zeros(1), beta=start, tolerance=1e-20)
        found = float(done.sigma[0])
        if done.exists[0] and found < _SCATTER_TOP * sigma:
            exact = low[(low == high)]
            jacobian = float(np.sum(exact)) if family.logs else 0.0
            return Fit(
                family,
                mu + float(done.mu[0]),
                found,
                float(done.loglik[0]) - jacobian,
                _covariance(done),
                None,
            )
        missing = Missing.UNBOUNDED_SCATTER
    nan = math.nan
    return Fit(family, nan, nan, nan, (nan, nan, nan), missing)


def _why_none(lower: Floats, upper: Floats) -> Missing | None:
    if lower.size == 0:
        return Missing.NO_READING
    if np.isposinf(upper).all():
        return Missing.ALL_AT_LEAST
    if (lower == 0.0).all():
        return Missing.ALL_AT_MOST
    if lower.max() <= upper.min():
        return Missing.ONE_VALUE
    return None


def _covariance(done: BatchFit) -> tuple[float, float, float]:
    """Variances of mu and log sigma and their covariance: (vv mu, v mu-logsigma, vv logsigma)."""
    aa, ab, bb = float(done.info_aa[0]), float(done.info_ab[0]), float(done.info_bb[0])
    beta = float(done.beta[0])
    mu = float(done.alpha[0]) / beta
    # alpha = mu*beta, beta = exp(-t) with t = log sigma: d(alpha, beta)/d(mu, t).
    a_mu, a_t, b_t = beta, -mu * beta, -beta
    i_mm = a_mu * a_mu * aa
    i_mt = a_mu * (a_t * aa + b_t * ab)
    i_tt = a_t * a_t * aa + 2.0 * a_t * b_t * ab + b_t * b_t * bb
    det = i_mm * i_tt - i_mt * i_mt
    if not det > 0.0:
        return (math.nan, math.nan, math.nan)
    return (i_tt / det, -i_mt / det, i_mm / det)
