"""Seven readings of all four kinds, made up for this project, fitted by R survival 3.5-3.

``survreg(Surv(lower, upper, type = "interval2") ~ 1)``; script and further digits in
``r/check_values.R`` and ``r/check_values.csv``.
"""

import math

import numpy as np
import pytest
from r_recorded import FAMILY, values

from breakwright.stats.fit import fit

LOWER = np.array([95, 100, 105, 110, 0, 120, 98], dtype=float)
UPPER = np.array([96, 101, 107, math.inf, 90, 120, 98], dtype=float)

# R survreg, as printed to seven digits: mu, sigma.
PRINTED = {
    "lognormal": ("4.631274", "0.1166139"),
    "weibull": ("4.682292", "0.1081213"),
    "loglogistic": ("4.629726", "0.06994105"),
}


def half_a_digit(printed: str) -> float:
    return 0.5 * 10.0 ** -len(printed.partition(".")[2])


@pytest.mark.parametrize("name", PRINTED)
def test_location_and_spread_as_printed(name):
    found = fit(LOWER, UPPER, FAMILY[name])
    for got, printed in zip((found.mu, found.sigma), PRINTED[name], strict=True):
        assert got == pytest.approx(float(printed), abs=half_a_digit(printed))


def test_lognormal_log_likelihood_as_printed():
    assert fit(LOWER, UPPER, FAMILY["lognormal"]).loglik == pytest.approx(
        -20.91325,  # R survreg
        abs=5e-6,
    )


@pytest.mark.parametrize("name", PRINTED)
def test_every_digit_of_survreg(name):
    expected = values("mixed", name)
    found = fit(LOWER, UPPER, FAMILY[name])
    got = [found.mu, found.sigma, found.loglik, found.covariance[0]]
    assert got == pytest.approx(
        [expected[k] for k in ("b0", "sigma", "loglik", "var_b0")], rel=1e-9
    )
