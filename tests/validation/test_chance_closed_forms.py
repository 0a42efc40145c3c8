"""Chance that one piece of B holds more than one of A, where a closed form exists.

Lognormal: Phi(d / sqrt(sa^2 + sb^2)), the law of a difference of normals. Weibull of one shape k:
scale_b^k / (scale_a^k + scale_b^k) (stress-strength reliability; Kotz, Lumelskii & Pensky 2003,
from memory). Loglogistic of one spread s, t = d/s: (1 - (1 + t) e^-t)/(1 - e^-t)^2, derived by
integrating two logistics and checked here against scipy's quadrature. d is the distance of the
locations of log load.
"""

import math

import numpy as np
import pytest

from breakwright.stats.families import LOGLOGISTIC, LOGNORMAL, WEIBULL
from breakwright.stats.pivot import chance_to_beat

DISTANCES = [-0.4, -0.05, 0.1, 0.3, 0.9]
# A sum stands for an integral there: one part in a million, of the smaller chance too.
SUMMED = 1e-6


def chance(family, d, *, sigma_a, sigma_b):
    a = np.array([6.0]), np.array([sigma_a])
    b = np.array([6.0 + d]), np.array([sigma_b])
    return float(chance_to_beat(a, b, family)[0])


@pytest.mark.parametrize("d", DISTANCES)
def test_lognormal(d):
    expected = 0.5 * math.erfc(-d / math.hypot(0.2, 0.3) / math.sqrt(2.0))
    got = chance(LOGNORMAL, d, sigma_a=0.2, sigma_b=0.3)
    assert got == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("d", DISTANCES)
def test_weibull_of_one_shape(d):
    sigma = 0.15
    expected = 1.0 / (1.0 + math.exp(-d / sigma))
    got = chance(WEIBULL, d, sigma_a=sigma, sigma_b=sigma)
    assert got == pytest.approx(expected, rel=SUMMED)
    assert 1.0 - got == pytest.approx(1.0 - expected, rel=1e-4)


def loglogistic_chance(t):
    e = math.exp(-t)
    return (1.0 - (1.0 + t) * e) / (1.0 - e) ** 2


@pytest.mark.parametrize("d", DISTANCES)
def test_loglogistic_of_one_spread(d):
    sigma = 0.12
    expected = loglogistic_chance(d / sigma)
    got = chance(LOGLOGISTIC, d, sigma_a=sigma, sigma_b=sigma)
    assert got == pytest.approx(expected, rel=SUMMED)
    assert 1.0 - got == pytest.approx(1.0 - expected, rel=1e-4)


@pytest.mark.parametrize("t", [-2.0, 0.5, 4.0])
def test_the_logistic_closed_form_itself(t):
    """Not of our code: it shows that the formula held against it above is right."""
    from scipy.integrate import quad
    from scipy.stats import logistic

    found = quad(lambda z: logistic.pdf(z) * logistic.cdf(z + t), -40.0, 40.0, epsabs=1e-12)[0]
    assert loglogistic_chance(t) == pytest.approx(found, rel=1e-9)


UNEQUAL = [(0.3, 0.05, 0.6), (0.3, 0.6, 0.05), (0.9, 0.1, 0.2), (0.5, 0.02, 0.3)]


@pytest.mark.parametrize(("d", "sigma_a", "sigma_b"), UNEQUAL)
@pytest.mark.parametrize(
    ("family", "law"), [(WEIBULL, "weibull_min"), (LOGLOGISTIC, "fisk"), (LOGNORMAL, "lognorm")]
)
def test_unequal_scatter_against_quadrature(family, law, d, sigma_a, sigma_b):
    """scipy.integrate.quad over shares of B, with scipy.stats' laws of load."""
    from scipy import stats
    from scipy.integrate import quad

    def of_load(sigma, scale):
        shape = sigma if law == "lognorm" else 1.0 / sigma
        return getattr(stats, law)(shape, scale=scale)

    a, b = of_load(sigma_a, 1.0), of_load(sigma_b, math.exp(d))
    expected = quad(lambda share: a.cdf(b.ppf(share)), 0.0, 1.0, epsabs=1e-9, limit=400)[0]
    got = chance(family, d, sigma_a=sigma_a, sigma_b=sigma_b)
    assert got == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("family", [LOGNORMAL, WEIBULL, LOGLOGISTIC])
def test_equal_groups_are_a_coin_toss(family):
    assert chance(family, 0.0, sigma_a=0.2, sigma_b=0.2) == pytest.approx(0.5, abs=1e-9)
