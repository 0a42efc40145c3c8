"""Ten pieces a group, four of B stopped, made up for this project; computed in R 4.2.2.

Medians and profile-likelihood limits: survreg's families in ``r/likelihood.R``, each group with
a spread of its own, maximised by optim, limits by uniroot. Log-rank: survdiff of survival 3.5-3.
Chance: numerical integral. All in ``r/check_values.R``.
"""

import math

import numpy as np
import pytest
from r_recorded import FAMILY, values

from breakwright.stats.curves import log_rank
from breakwright.stats.pivot import chance_to_beat
from breakwright.stats.ratio import SignedRoot
from breakwright.stats.sample import make_sample

A = np.array([41.2, 47.9, 44.3, 52.6, 39.8, 46.1, 49.5, 43.7, 45.0, 50.4])
B = np.array([61.3, 55.8, 70.0, 66.4, 70.0, 58.9, 63.2, 48.5, 70.0, 67.7])
B_STOPPED = np.array([0, 0, 1, 0, 1, 0, 0, 1, 1, 0], dtype=bool)
B_UPPER = np.where(B_STOPPED, math.inf, B)

# R, optim on the profile likelihood: ratio of medians, 95 % limits, to six decimals.
PRINTED = {
    "lognormal": (1.441342, 1.312333, 1.621719),
    "weibull": (1.433632, 1.301214, 1.595900),
    "loglogistic": (1.437604, 1.303524, 1.612405),
}


def compared(name):
    return SignedRoot(make_sample(A, A), make_sample(B, B_UPPER), FAMILY[name], resamples=0, seed=1)


@pytest.mark.parametrize("name", PRINTED)
def test_ratio_and_profile_limits(name):
    root = compared(name)
    limits = root.likelihood_limits(0.95)
    got = [math.exp(x) for x in (root.estimate, limits.lower, limits.upper)]
    assert got == pytest.approx(PRINTED[name], abs=5e-7)
    recorded = values("two-groups", name)
    assert got == pytest.approx([recorded[k] for k in ("ratio", "lower", "upper")], rel=1e-7)


@pytest.mark.parametrize("name", PRINTED)
def test_likelihood_lost_by_equal_medians(name):
    root = compared(name).observed(0.0).root
    assert root > 0.0
    assert root**2 == pytest.approx(values("two-groups", name)["drop0"], rel=1e-8)


def test_log_rank_as_printed():
    found = log_rank((A, A), (B, B_UPPER))
    assert found.statistic == pytest.approx(21.27131, abs=5e-6)  # R survdiff
    assert found.statistic == pytest.approx(values("two-groups")["logrank"], rel=1e-10)


@pytest.mark.parametrize("name", PRINTED)
def test_chance_that_one_of_b_beats_one_of_a(name):
    root = compared(name)
    a, b = ((np.array([found.mu]), np.array([found.sigma])) for found in (root.fit_a, root.fit_b))
    expected = values("two-groups", name)["chance"]  # R, integrate(rel.tol = 1e-12)
    assert chance_to_beat(a, b, FAMILY[name])[0] == pytest.approx(expected, abs=1e-6)
