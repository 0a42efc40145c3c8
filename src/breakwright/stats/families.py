"""The families of strength distributions: three laws of z, on log load or on load itself.

Every family is location-scale in y (log load, or load for the normal): z = (y - mu)/sigma. The
log-likelihood of each of the four kinds of reading is concave in z for all three laws, which
the fits rely on. A law's functions take an array of z of any shape and return the value with
its first and second derivative in z, each of that shape.

Laws: standard normal, smallest extreme value (log of a Weibull variable), logistic. See
Meeker, Escobar & Pascual, Statistical Methods for Reliability Data, 2nd ed. (2022), chapter 4
(chapter from memory).
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

__all__ = [
    "FAMILIES",
    "LOGLOGISTIC",
    "LOGNORMAL",
    "NORMAL",
    "WEIBULL",
    "Family",
    "Floats",
    "Law",
    "Triple",
]

Floats = NDArray[np.floating[Any]]
Triple = tuple[Floats, Floats, Floats]

HALF_LOG_2PI = 0.5 * math.log(2.0 * math.pi)
_ROOT_HALF = math.sqrt(0.5)
_ROOT_2_OVER_PI = math.sqrt(2.0 / math.pi)
_LOG_HALF = math.log(0.5)


@dataclass(frozen=True)
class Law:
    """A law of z: log density, log survival, log distribution, quantile and distribution.

    ``gaussian`` marks the one law whose exact readings reduce to their count, mean and spread.
    """

    density: Callable[[Floats], Triple]
    survival: Callable[[Floats], Triple]
    below: Callable[[Floats], Triple]
    quantile: Callable[[Floats], Floats]
    distribution: Callable[[Floats], Floats]
    z50: float
    gaussian: bool


@dataclass(frozen=True)
class Family:
    """A named family: its law, and whether it is the log of the load that is location-scale."""

    name: str
    law: Law
    logs: bool

    def scale(self, load: Floats) -> Floats:
        """Loads (N, may be 0 or inf) on the scale of y; the log of 0 is -inf, silently."""
        if not self.logs:
            return np.asarray(load, dtype=np.float64)
        with np.errstate(divide="ignore"):
            return np.asarray(np.log(load), dtype=np.float64)

    def unscale(self, y: float) -> float:
        return math.exp(y) if self.logs else y

    def quantile_at(self, p: float) -> float:
        """The z below which a share ``p`` of pieces breaks, 0 < p < 1."""
        return float(self.law.quantile(np.array(p)))


def _normal_density(z: Floats) -> Triple:
    return -0.5 * z * z - HALF_LOG_2PI, -z, np.full_like(z, -1.0)


def _normal_survival(z: Floats) -> Triple:
    from scipy.special import erfcx

    # erfcx overflows below -26; there the survival is 1 to the last bit anyway.
    x = np.maximum(z * _ROOT_HALF, -25.0)
    scaled = erfcx(x)
    hazard = _ROOT_2_OVER_PI / scaled
    return np.log(scaled) + (_LOG_HALF - x * x), -hazard, hazard * (z - hazard)


def _normal_below(z: Floats) -> Triple:
    value, first, second = _normal_survival(-z)
    return value, -first, second


def _normal_quantile(p: Floats) -> Floats:
    from scipy.special import ndtri

    return np.asarray(ndtri(p), dtype=np.float64)


def _normal_distribution(z: Floats) -> Floats:
    from scipy.special import ndtr

    return np.asarray(ndtr(z), dtype=np.float64)


# exp(z) past this would overflow in a product; a survival of exp(-exp(300)) is 0 either way.
_SEV_TOP = 300.0


def _sev_density(z: Floats) -> Triple:
    e = np.exp(np.minimum(z, _SEV_TOP))
    return z - e, 1.0 - e, -e


def _sev_survival(z: Floats) -> Triple:
    e = np.exp(np.minimum(z, _SEV_TOP))
    return -e, -e, -e


def _sev_below(z: Floats) -> Triple:
    e = np.exp(np.clip(z, -_SEV_TOP, _SEV_TOP))
    # d log F = e / (exp(e) - 1), with its limit 1 for small e and 0 for large.
    first = np.where(e < 1e-8, 1.0 - 0.5 * e, e / np.expm1(np.clip(e, 1e-8, 700.0)))
    value = np.where(z < -_SEV_TOP, z, np.log(-np.expm1(-np.maximum(e, 1e-300))))
    return value, first, first * (1.0 - e - first)


def _sev_quantile(p: Floats) -> Floats:
    return np.asarray(np.log(-np.log1p(-p)), dtype=np.float64)


def _sev_distribution(z: Floats) -> Floats:
    return np.asarray(-np.expm1(-np.exp(np.minimum(z, _SEV_TOP))), dtype=np.float64)


def _logistic_distribution(z: Floats) -> Floats:
    from scipy.special import expit

    return np.asarray(expit(z), dtype=np.float64)


def _logistic_density(z: Floats) -> Triple:
    f = _logistic_distribution(z)
    log_f = -np.logaddexp(0.0, -z)
    return 2.0 * log_f - z, 1.0 - 2.0 * f, -2.0 * f * (1.0 - f)


def _logistic_survival(z: Floats) -> Triple:
    f = _logistic_distribution(z)
    return -np.logaddexp(0.0, z), -f, -f * (1.0 - f)


def _logistic_below(z: Floats) -> Triple:
    value, first, second = _logistic_survival(-z)
    return value, -first, second


def _logistic_quantile(p: Floats) -> Floats:
    from scipy.special import logit

    return np.asarray(logit(p), dtype=np.float64)


_NORMAL_LAW = Law(
    _normal_density,
    _normal_survival,
    _normal_below,
    _normal_quantile,
    _normal_distribution,
    z50=0.0,
    gaussian=True,
)
_SEV_LAW = Law(
    _sev_density,
    _sev_survival,
    _sev_below,
    _sev_quantile,
    _sev_distribution,
    z50=math.log(math.log(2.0)),
    gaussian=False,
)
_LOGISTIC_LAW = Law(
    _logistic_density,
    _logistic_survival,
    _logistic_below,
    _logistic_quantile,
    _logistic_distribution,
    z50=0.0,
    gaussian=False,
)

LOGNORMAL = Family("lognormal", _NORMAL_LAW, logs=True)
WEIBULL = Family("weibull", _SEV_LAW, logs=True)
LOGLOGISTIC = Family("loglogistic", _LOGISTIC_LAW, logs=True)
NORMAL = Family("normal", _NORMAL_LAW, logs=False)

# The first is the default; the rest show how much the answer hangs on it.
FAMILIES = (LOGNORMAL, WEIBULL, LOGLOGISTIC)
