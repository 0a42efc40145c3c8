"""The chance of seeing a ratio, without capping, against the noncentral t.

For exact lognormal readings with one scatter the trade's test is the t test on the logs, whose
power is a tail of the noncentral t with noncentrality (log ratio/sigma) sqrt(n/2): Cohen, J.
(1988), Statistical Power Analysis for the Behavioral Sciences, 2nd ed., chapter 2 (chapter from
memory; the numbers are scipy.stats.nct's). Our analysis does not suppose equal scatter, as
Welch's test does not, so its degrees of freedom lie between n - 1 and 2n - 2; Welch's are
averaged over the F law of the two variances' ratio (Welch, B. L. (1947), Biometrika 34, 28-35).
"""

import math

import numpy as np
import pytest
from scipy import stats

from breakwright.plan.power import Effort, make_trials, power_of
from breakwright.plan.truth import Truth

EXPERIMENTS = 4000
EFFORT = Effort(experiments=EXPERIMENTS, resamples=10, neighbours=200)


def noncentral(degrees, shift):
    return stats.nct.sf(stats.t.ppf(0.975, degrees), degrees, shift)


def welch_power(pieces, shift):
    """Noncentral t averaged over Welch's degrees of freedom: (n - 1)(1 + F)^2/(1 + F^2)."""
    middle = (np.arange(200) + 0.5) / 200
    f = stats.f.ppf(middle, pieces - 1, pieces - 1)
    return float(noncentral((pieces - 1) * (1 + f) ** 2 / (1 + f * f), shift).mean())


@pytest.mark.parametrize(
    ("sigma", "ratio", "pieces"),
    [(0.2, 1.25, 10), (0.2, 1.25, 17), (0.3, 1.5, 10), (0.25, 1.2, 28), (0.1, 1.15, 8)],
)
def test_chance_is_that_of_the_noncentral_t(sigma, ratio, pieces):
    """Within Monte Carlo error: four standard errors of the experiments and of the critical value.

    The latter comes from 10 x 4,000 resamples, 2.5 % of them beyond it: its normal score is
    known to sqrt(0.025 x 0.975/40,000)/0.058 = 0.013.
    """
    shift = math.log(ratio) / sigma * math.sqrt(pieces / 2.0)
    expected = welch_power(pieces, shift)
    rng = np.random.default_rng([7, pieces])
    trials = make_trials(
        Truth(sigma, math.log(ratio)), pieces=pieces, experiments=EXPERIMENTS, rng=rng
    )
    found = power_of(trials, error=0.05, effort=EFFORT, rng=rng).chance
    critical = 0.013 * float(stats.norm.pdf(stats.norm.ppf(expected)))
    error = math.hypot(math.sqrt(expected * (1.0 - expected) / EXPERIMENTS), critical)
    assert found == pytest.approx(expected, abs=4.0 * error)


@pytest.mark.parametrize("pieces", [4, 6])
def test_small_groups_pay_for_unequal_scatter(pieces):
    """Below the t test that knows the scatters to be equal, above the one with n - 1 degrees."""
    sigma, ratio = 0.2, 1.35
    shift = math.log(ratio) / sigma * math.sqrt(pieces / 2.0)
    rng = np.random.default_rng([9, pieces])
    trials = make_trials(
        Truth(sigma, math.log(ratio)), pieces=pieces, experiments=EXPERIMENTS, rng=rng
    )
    found = power_of(trials, error=0.05, effort=EFFORT, rng=rng).chance
    assert noncentral(pieces - 1, shift) - 0.01 < found < noncentral(2 * pieces - 2, shift) + 0.01
