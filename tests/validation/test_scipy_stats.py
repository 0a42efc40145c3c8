"""scipy.stats (BSD licence) as a reference: CensoredData fits, its likelihoods, its sign test.

The likelihood is put together from scipy's own logpdf, logsf, logcdf and cdf, so that it shares
nothing with the code under test; scipy's fit stops at about 1e-5.
"""

import math

import numpy as np
import pytest
from r_recorded import FAMILY
from random_readings import SAMPLES
from scipy import stats

from breakwright.stats.fit import fit
from breakwright.stats.sign import median_at_least

LAWS = {
    "lognormal": lambda mu, sigma: stats.lognorm(sigma, scale=math.exp(mu)),
    "weibull": lambda mu, sigma: stats.weibull_min(1.0 / sigma, scale=math.exp(mu)),
    "loglogistic": lambda mu, sigma: stats.fisk(1.0 / sigma, scale=math.exp(mu)),
}


def scipy_loglik(name, readings, mu, sigma):
    law = LAWS[name](mu, sigma)
    low, high = readings.lower, readings.upper
    between = readings.between
    return (
        law.logpdf(low[readings.exact]).sum()
        + law.logsf(low[readings.right]).sum()
        + law.logcdf(high[readings.left]).sum()
        + np.log(law.cdf(high[between]) - law.cdf(low[between])).sum()
    )


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("name", LAWS)
def test_log_likelihood_at_our_estimate(name, sample):
    readings = SAMPLES[sample]
    ours = fit(readings.lower, readings.upper, FAMILY[name])
    expected = scipy_loglik(name, readings, ours.mu, ours.sigma)
    assert ours.loglik == pytest.approx(expected, rel=1e-11)


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("name", LAWS)
def test_no_nearby_point_is_likelier(name, sample):
    readings = SAMPLES[sample]
    ours = fit(readings.lower, readings.upper, FAMILY[name])
    top = scipy_loglik(name, readings, ours.mu, ours.sigma)
    step = 1e-4 * ours.sigma
    for d_mu, d_sigma in ((step, 0), (-step, 0), (0, step), (0, -step), (step, step)):
        assert scipy_loglik(name, readings, ours.mu + d_mu, ours.sigma + d_sigma) < top


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize(
    ("name", "law"),
    [("lognormal", stats.lognorm), ("weibull", stats.weibull_min), ("loglogistic", stats.fisk)],
)
def test_fit(name, law, sample):
    readings = SAMPLES[sample]
    data = stats.CensoredData(
        uncensored=readings.lower[readings.exact],
        right=readings.lower[readings.right],
        left=readings.upper[readings.left],
        interval=np.column_stack([readings.lower, readings.upper])[readings.between],
    )
    with np.errstate(all="ignore"):
        shape, _, scale = law.fit(data, floc=0)
    ours = fit(readings.lower, readings.upper, FAMILY[name])
    assert ours.mu == pytest.approx(math.log(scale), abs=2e-5)
    assert ours.sigma == pytest.approx(shape if name == "lognormal" else 1.0 / shape, rel=1e-4)


@pytest.mark.parametrize("n", [3, 4, 5, 6, 10])
def test_all_pieces_held_a_load_is_a_sign_test(n):
    """scipy.stats.quantile_test of 'the median is at most the load': its p-value is the doubt."""
    held = np.full(n, 440.0)
    found = median_at_least(held, confidence=0.5)
    doubt = stats.quantile_test(held + 1.0, q=440.0, p=0.5, alternative="greater").pvalue
    assert found.load == 440.0
    assert found.confidence == pytest.approx(1.0 - doubt, rel=1e-12)
