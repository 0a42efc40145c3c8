"""Limits of one group's median: what must hold of them, and where they are known exactly."""

import math

import numpy as np
import pytest
from scipy import stats as scipy_stats

from breakwright.stats.families import FAMILIES, LOGNORMAL
from breakwright.stats.fit import fit
from breakwright.stats.inversion import FARTHEST, crossing, root_crossing, tail_shares
from breakwright.stats.median import MedianRoot
from breakwright.stats.sample import make_sample

LOADS = np.array([41.2, 47.9, 44.3, 52.6, 39.8, 46.1, 49.5])


def median_root(lower, upper, family=LOGNORMAL, resamples=4000, seed=3):
    sample = make_sample(np.asarray(lower, float), np.asarray(upper, float))
    return MedianRoot(sample, fit(sample.lower, sample.upper, family), resamples, seed)


@pytest.mark.parametrize("n", [3, 5, 7])
def test_exact_lognormal_readings_give_student_s_interval(n):
    """The signed root of a normal mean is a monotone function of Student's t, so calibrating it
    gives the t interval of the logs (scipy), to the simulation's error (3 % of the width)."""
    x = LOADS[:n]
    it = median_root(x, x, resamples=20_000)
    logs = np.log(x)
    low, high = scipy_stats.t.interval(0.95, n - 1, logs.mean(), logs.std(ddof=1) / n**0.5)
    assert it.limit(sign=-1.0, error=0.025) == pytest.approx(low, abs=0.03 * (high - low))
    assert it.limit(sign=1.0, error=0.025) == pytest.approx(high, abs=0.03 * (high - low))


@pytest.mark.parametrize("family", FAMILIES, ids=lambda f: f.name)
def test_limits_hold_the_estimate_and_nest(family):
    top = np.where(LOADS > 49.0, np.inf, LOADS)
    low = np.minimum(LOADS, 49.0)
    it = median_root(low, top, family, 1000)
    narrow = [it.limit(sign=s, error=0.1) for s in (-1.0, 1.0)]
    wide = [it.limit(sign=s, error=0.01) for s in (-1.0, 1.0)]
    assert wide[0] < narrow[0] < it.estimate < narrow[1] < wide[1]


def test_two_of_three_capped_leaves_the_median_open_or_far():
    """Its true median may lie well beyond the capacity: the upper limit must not stop short of
    it, as that of the generalised pivot does."""
    low, top = [66.0, 70.0, 70.0], [66.0, np.inf, np.inf]
    upper = median_root(low, top).limit(sign=1.0, error=0.025)
    assert upper > math.log(80.0)


def test_large_groups_take_the_likelihood_ratio():
    """scipy's normal quantile: the root at each end."""
    it = median_root(LOADS, LOADS, resamples=0)
    for sign in (-1.0, 1.0):
        end = it.limit(sign=sign, error=0.025)
        n, spread = LOADS.size, np.log(LOADS).std()
        away = end - np.log(LOADS).mean()
        # Closed form for the normal: root^2 = n log(1 + (away/spread)^2).
        assert n * math.log1p((away / spread) ** 2) == pytest.approx(
            scipy_stats.chi2.ppf(0.95, 1), rel=1e-8
        )
    with pytest.raises(ValueError, match="resamples"):
        it.tail(3.8)


def test_crossing_finds_where_a_known_p_value_falls():
    """p = survival of a normal: it falls to 2.5 % at 1.959964 (any table)."""
    found = crossing(
        lambda x: float(scipy_stats.norm.sf(x)), start=0.0, step=0.7, sign=1.0, allowed=0.025
    )
    assert found == pytest.approx(1.959964, abs=0.01)
    left = crossing(
        lambda x: float(scipy_stats.norm.sf(-x)), start=0.0, step=9.0, sign=-1.0, allowed=0.025
    )
    assert left == pytest.approx(-1.959964, abs=0.01)


def test_crossing_says_when_there_is_none():
    assert math.isinf(crossing(lambda x: 0.2, start=0.0, step=0.1, sign=1.0, allowed=0.025))
    assert root_crossing(lambda x: -0.5, start=0.0, step=1.0, sign=1.0, size=2.0) == math.inf
    assert math.log(25.0) == FARTHEST


def test_tail_shares_count_the_data_and_the_lost():
    stars = np.array([-1.0, 0.0, 1.0, 2.0, np.nan])
    assert tail_shares(stars, 1.0) == (pytest.approx(4 / 6), pytest.approx(5 / 6))
