"""Lognormal strengths: scatter from a coefficient of variation, quantiles, who goes first."""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["P5_Z", "P99_Z", "chance_first", "log_sigma", "share_above", "share_to_z"]

P5_Z = -1.6448536269514722
P99_Z = 2.3263478740408408


def log_sigma(cv: float) -> float:
    """Scatter of the log of a lognormal quantity from its coefficient of variation.

    sigma = sqrt(ln(1 + CV^2))

    cv: coefficient of variation, a plain number, 0 or more.
    Valid for lognormal quantities of any scatter.

    >>> round(log_sigma(0.30), 4)
    0.2936

    Source: definition of the lognormal distribution; physics facts, 'Weakest link' (recomputed).
    """
    return math.sqrt(math.log1p(cv * cv))


def chance_first(
    log_ratio: ArrayLike, sigma_a: ArrayLike, sigma_b: ArrayLike, covariance: ArrayLike = 0.0
) -> NDArray[np.float64]:
    """Chance that B, the one with median exp(-log_ratio) times A's, is the smaller of the two.

    P(B < A) = Phi[log_ratio / sqrt(s_a^2 + s_b^2 - 2 cov)]

    log_ratio: ln(median A / median B), any shape. sigma_a, sigma_b: scatter of log load.
    covariance: of the two logs, for what they share. Shapes broadcast.
    Valid for jointly lognormal strengths. Without any scatter it is 0, 1/2 or 1.

    Specimen of CV 0.25, rig part of CV 0.20 and twice its mean; medians are mean/sqrt(1+CV^2):

    >>> ratio = math.log(1.0 / 2.0) + 0.5 * math.log((1 + 0.20**2) / (1 + 0.25**2))
    >>> round(100.0 * float(chance_first(ratio, log_sigma(0.25), log_sigma(0.20))), 2)
    1.3

    Source: stress-strength interference of two lognormals, physics facts 'Weakest link'
    (recomputed; 1.30 %).
    """
    from scipy.special import ndtr

    away = np.asarray(log_ratio, dtype=float)
    variance = np.square(sigma_a) + np.square(sigma_b) - 2.0 * np.asarray(covariance)
    # Rounding may leave a hair above or below nothing where two ways are one and the same.
    sigma = np.sqrt(np.maximum(variance, 1e-18))
    return np.asarray(ndtr(away / sigma), dtype=np.float64)


def share_above(load: float, median: float, sigma: float) -> float:
    """Share of lognormal strengths above ``load``.

    P(F > load) = Phi[ln(median/load)/sigma]

    load: N; median: N, above 0. sigma: scatter of log load, 0 or more.
    Valid for lognormal strengths; all of them are above a load of nothing.

    Median 4.31 kN at a CV of 0.30 (mean 4.5 kN) against 8.53 kN, its 99th percentile:

    >>> round(share_above(8531.0, 4500.0 / math.sqrt(1.09), log_sigma(0.30)), 4)
    0.01

    Source: definition of the lognormal distribution; physics facts, 'Scale limits' (recomputed).
    """
    from statistics import NormalDist

    if load <= 0.0:
        return 1.0
    if sigma <= 0.0:
        return 1.0 if median > load else 0.0
    return NormalDist().cdf(math.log(median / load) / sigma)


def share_to_z(share_below: float) -> float:
    """The standard normal quantile: how many sigmas above the median ``share_below`` stay under.

    z = Phi^-1(share)

    share_below: between 0 and 1.

    >>> round(share_to_z(0.99), 4)
    2.3263

    Source: standard normal distribution.
    """
    from statistics import NormalDist

    return NormalDist().inv_cdf(share_below)
