"""Scatter from pilots, and what a prediction's own error has to do with it."""

import math

import numpy as np
import pytest
from scipy import stats

from breakwright.plan.scatter import (
    cv_of,
    material_sigma,
    pilot_factors,
    pilot_scatter,
    sigma_of,
)

# Chi-square with 4 degrees of freedom below which 20 % lie, from printed tables: 1.649.
CHI2_20_4 = 1.649


def test_upper_limit_from_a_printed_quantile():
    loads = [310.0, 355.0, 402.0, 288.0, 371.0]
    found = pilot_scatter(loads)
    sigma = float(np.log(loads).std(ddof=1))
    assert found.sigma == pytest.approx(sigma, rel=1e-12)
    assert found.sigma_upper == pytest.approx(sigma * math.sqrt(4 / CHI2_20_4), rel=2e-4)


@pytest.mark.parametrize("pilots", [2, 3, 5, 12])
def test_limits_hold_the_truth_as_often_as_they_say(pilots):
    """20,000 draws of pilots; four standard errors of the share are 0.011."""
    rng = np.random.default_rng(pilots)
    logs = 6.0 + 0.3 * rng.standard_normal((20_000, pilots))
    sigma = logs.std(axis=1, ddof=1)
    low, high = pilot_factors(pilots)
    inside = (low * sigma <= 0.3) & (sigma * high >= 0.3)
    assert inside.mean() == pytest.approx(0.8, abs=0.012)
    upper = pilot_scatter(np.exp(logs[0]))
    ratio = upper.sigma_upper / upper.sigma
    assert (sigma * ratio >= 0.3).mean() == pytest.approx(0.8, abs=0.012)


def test_two_sided_limits_against_scipy():
    for n in (2, 3, 4, 5, 30):
        low, high = (math.sqrt((n - 1) / stats.chi2.ppf(q, n - 1)) for q in (0.9, 0.1))
        assert pilot_factors(n) == pytest.approx((low, high), rel=1e-9)


@pytest.mark.parametrize("loads", [(), (400.0,), (400.0, 400.0), (400.0, 400.5, 401.0)])
def test_too_few_or_too_like_to_tell_a_scatter(loads):
    assert pilot_scatter(loads) is None


def test_one_pilot_has_no_factor():
    with pytest.raises(ValueError, match="two pilots or more"):
        pilot_factors(1)


def test_only_the_material_scatters_between_pieces():
    assert material_sigma(0.5, model_share=0.0) == 0.5
    assert material_sigma(0.5, model_share=1.0) == 0.0
    assert material_sigma(math.hypot(0.3, 0.4), model_share=0.4**2 / 0.5**2) == pytest.approx(0.3)
    assert sigma_of(cv_of(0.4)) == pytest.approx(0.4, rel=1e-12)
