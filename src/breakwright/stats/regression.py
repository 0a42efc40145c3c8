"""Regression of log load on groups and covariates with a common scale, from censored readings.

In Olsen's parameters (gamma = coefficients/sigma, beta = 1/sigma) the log-likelihood is jointly
concave, so the same damped Newton step as in ``fit`` serves, for one data set and p columns.
"""

import math
from dataclasses import dataclass

import numpy as np

from breakwright.stats.cells import Batch, from_intervals
from breakwright.stats.families import Family, Floats
from breakwright.stats.likelihood import sums
from breakwright.stats.newton import damping

__all__ = ["Regression", "regress"]

_ROUNDS = 200
_SETTLED = 1e-18  # squared decrement: the distance from the maximum is half of it


@dataclass(frozen=True)
class Regression:
    """Coefficients (p,) on the scale of y, sigma, log-likelihood of the loads, covariance.

    ``covariance`` is (p + 1, p + 1), of the coefficients and log sigma, from the observed
    information. ``exact`` counts two-sided readings.
    """

    coef: Floats
    sigma: float
    loglik: float
    covariance: Floats
    exact: int


def regress(lower: Floats, upper: Floats, design: Floats, family: Family) -> Regression:
    """Fit y = design @ coef + sigma*z; closed intervals (N, (n,)), design (n, p) of full rank.

    Raises ValueError where no estimate exists (collinear columns, a column that separates
    'at least' readings from the rest, or no scatter left).
    """
    lower = np.asarray(lower, dtype=np.float64)
    upper = np.asarray(upper, dtype=np.float64)
    design = np.asarray(design, dtype=np.float64)
    low, high = family.scale(lower), family.scale(upper)
    if not family.logs:
        low = np.where(lower == 0.0, -np.inf, low)
    if np.linalg.matrix_rank(design) < design.shape[1]:
        raise ValueError("the columns of the design say the same thing twice")
    ends = np.where(np.isfinite(low), low, high)
    # A shift of y is taken off for accuracy only where the columns can give it back.
    ones = np.linalg.lstsq(design, np.ones(lower.size), rcond=None)[0]
    centre = float(np.mean(ends)) if np.allclose(design @ ones, 1.0, atol=1e-9) else 0.0
    start = np.linalg.lstsq(design, ends - centre, rcond=None)[0]
    spread = float(np.std(ends - centre - design @ start))
    beta = 1.0 / max(spread, 1e-3)
    # One column a piece: each reading is a data set of its own, so that sums stay by reading.
    batch = from_intervals(low[None, :], high[None, :], centre=centre)
    p = design.shape[1]
    point = np.append(start * beta, beta)
    kept, move, best = point, np.zeros(p + 1), -math.inf
    for _ in range(_ROUNDS):
        gamma, beta = point[:p], float(point[p])
        loglik, gradient, hessian = _derivatives(batch, design, family, gamma, beta)
        if not loglik >= best - 1e-13 * (1.0 + abs(best)):
            move = 0.4 * move
            point = kept + move
            continue
        kept, best = point, loglik
        try:
            step = np.linalg.solve(-hessian, gradient)
        except np.linalg.LinAlgError as error:
            raise ValueError("no estimate: the readings leave a coefficient free") from error
        decrement = float(gradient @ step)
        if not math.isfinite(decrement):
            raise ValueError("no estimate: the fit ran away")
        if decrement < _SETTLED:
            break
        scale = float(damping(np.array(decrement), float(lower.size)))
        if step[p] < 0.0:
            scale = min(scale, 0.65 * beta / -float(step[p]))
        move = scale * step
        point = kept + move
    else:
        raise ValueError("no estimate: the fit did not settle (a coefficient runs away)")
    sigma = 1.0 / beta
    coef = gamma * sigma
    covariance = _covariance(-hessian, coef, beta)
    coef = coef + centre * ones
    exact = low == high
    jacobian = float(low[exact].sum()) if family.logs else 0.0
    two_sided = int((np.isfinite(low) & np.isfinite(high)).sum())
    return Regression(coef, sigma, loglik - jacobian, covariance, two_sided)


def _derivatives(
    batch: Batch, design: Floats, family: Family, gamma: Floats, beta: float
) -> tuple[float, Floats, Floats]:
    alpha = design @ gamma
    s = sums(batch, family.law, alpha, np.full(batch.size, beta))
    gradient = np.append(-design.T @ s.first, s.first_y.sum() + s.exact.sum() / beta)
    p = design.shape[1]
    hessian = np.empty((p + 1, p + 1))
    hessian[:p, :p] = design.T @ (s.second[:, None] * design)
    hessian[:p, p] = hessian[p, :p] = -design.T @ s.second_y
    hessian[p, p] = s.second_yy.sum() - s.exact.sum() / (beta * beta)
    return float(s.loglik.sum()), gradient, hessian


def _covariance(information: Floats, coef: Floats, beta: float) -> Floats:
    """From the information in (gamma, beta) to the covariance of (coef, log sigma)."""
    p = coef.size
    jacobian = np.zeros((p + 1, p + 1))  # d(gamma, beta)/d(coef, log sigma)
    jacobian[:p, :p] = beta * np.eye(p)
    jacobian[:p, p] = -coef * beta
    jacobian[p, p] = -beta
    return np.linalg.inv(jacobian.T @ information @ jacobian)
