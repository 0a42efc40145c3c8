"""How far single pieces scatter, from what is known, and how far a few pilots would tell it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

__all__ = [
    "ASSUMED_CV",
    "PilotScatter",
    "cv_of",
    "material_sigma",
    "pilot_factors",
    "pilot_scatter",
    "sigma_of",
]

# Usual scatter of home-made wood joints where nothing else is known (common practice, no source).
ASSUMED_CV = 0.25
# Nearer together than this (of log load) pilots tell the display's steps and not the scatter.
_NO_SCATTER = 0.005


@dataclass(frozen=True, slots=True)
class PilotScatter:
    """``sigma`` of log load from ``pilots`` pieces, and its one-sided upper limit."""

    pilots: int
    sigma: float
    sigma_upper: float


def sigma_of(cv: float) -> float:
    """Standard deviation of log load for a coefficient of variation: sqrt(ln(1 + cv^2)).

    >>> round(sigma_of(0.25), 4)
    0.2462
    """
    return math.sqrt(math.log1p(cv * cv))


def cv_of(sigma: float) -> float:
    """Coefficient of variation for a standard deviation of log load: sqrt(exp(sigma^2) - 1).

    >>> round(cv_of(sigma_of(0.3)), 12)
    0.3
    """
    return math.sqrt(math.expm1(sigma * sigma))


def material_sigma(sigma: float, *, model_share: float) -> float:
    """Scatter from piece to piece within a prediction's scatter, of log load.

    sigma * sqrt(1 - model_share): the equation's own error (its share of the variance) moves all
    pieces together and so is no scatter between them.

    >>> material_sigma(0.5, model_share=0.64)
    0.3
    """
    return sigma * math.sqrt(max(0.0, 1.0 - model_share))


def pilot_scatter(loads: Sequence[float], *, confidence: float = 0.8) -> PilotScatter | None:
    """Scatter of log load from pilots, with its one-sided upper limit; None: they tell none.

    s^2 = sum (ln x - mean)^2/(n - 1); upper limit s sqrt((n - 1)/chi2), chi2 the (1 - confidence)
    quantile of the chi-square with n - 1 degrees of freedom. ``loads`` in N, two or more that
    differ. Planning on the upper 80 % limit keeps the chance wished for in four plans of five:
    Browne, R. H. (1995), On the use of a pilot sample for sample size determination, Statistics
    in Medicine 14, 1933-1940 (from memory). Loads whose logs are 0.1 apart and 5 pieces: chi2
    at 20 % with 4 degrees is 1.6488 (tables).

    >>> found = pilot_scatter([100.0 * math.exp(0.1 * k) for k in range(5)])
    >>> round(found.sigma, 5), round(found.sigma_upper / found.sigma, 4)
    (0.15811, 1.5576)
    """
    from scipy.special import chdtri

    if len(loads) < 2:
        return None
    logs = np.log(np.asarray(loads, dtype=np.float64))
    sigma = float(logs.std(ddof=1))
    if sigma < _NO_SCATTER:
        return None
    freedom = logs.size - 1
    # chdtri gives the point with this much of the chi-square above it.
    return PilotScatter(
        logs.size, sigma, sigma * math.sqrt(freedom / float(chdtri(freedom, confidence)))
    )


def pilot_factors(pilots: int, *, confidence: float = 0.8) -> tuple[float, float]:
    """What the true scatter may be over the scatter found in so many pilots (two-sided limits).

    sqrt((n - 1)/chi2) at both ends; chi2 with 4 degrees at 10 % and 90 %: 1.0636, 7.7794 (tables).

    >>> [round(f, 3) for f in pilot_factors(5)]
    [0.717, 1.939]
    """
    from scipy.special import chdtri

    if pilots < 2:
        raise ValueError("the scatter needs two pilots or more")
    freedom = pilots - 1
    tail = 0.5 * (1.0 - confidence)
    low, high = (math.sqrt(freedom / float(chdtri(freedom, q))) for q in (tail, 1.0 - tail))
    return low, high
