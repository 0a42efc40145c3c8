"""Samples and their resamples: limits put on again, widths kept, chance limits drawn."""

import numpy as np
import pytest

from breakwright.stats.families import LOGNORMAL
from breakwright.stats.sample import make_sample, thinned
from breakwright.stats.simulate import draw, resample


def batch_of(sample, mu, sigma, b=4000, seed=1):
    draws = draw(sample, LOGNORMAL, resamples=b, rng=np.random.default_rng(seed))
    return resample(draws, LOGNORMAL, mu=mu, sigma=sigma, centre=mu)


def test_a_common_cap_is_told_by_the_readings():
    sample = make_sample(np.array([50.0, 70.0, 70.0]), np.array([50.0, np.inf, np.inf]))
    assert sample.cap.tolist() == [70.0, 70.0, 70.0]


def test_a_reading_above_the_cap_shows_that_the_cap_was_not_its_own():
    sample = make_sample(np.array([80.0, 70.0]), np.array([80.0, np.inf]))
    assert sample.cap.tolist() == [np.inf, 70.0]


def test_share_capped_is_the_law_s():
    """P(load >= cap) of the lognormal itself, to 4 standard errors of 40,000 draws."""
    sample = make_sample(np.full(10, 1.0), np.full(10, 1.0), cap=np.full(10, np.exp(0.1)))
    batch = batch_of(sample, 0.0, 0.2)
    share = batch.right.weight.sum() / 40_000
    truth = 1.0 - float(LOGNORMAL.law.distribution(np.array(0.5)))
    assert share == pytest.approx(truth, abs=4 * (truth * (1 - truth) / 40_000) ** 0.5)
    assert batch.moments.count.sum() + batch.right.weight.sum() == 40_000


def test_wide_readings_hold_the_load_they_came_from():
    lower = np.array([90.0, 95.0, 100.0])
    sample = make_sample(lower, lower + 10.0)
    draws = draw(sample, LOGNORMAL, resamples=500, rng=np.random.default_rng(2))
    batch = resample(draws, LOGNORMAL, mu=np.log(100.0), sigma=0.05, centre=np.log(100.0))
    truth = 0.05 * draws.z
    assert batch.between is not None
    assert (batch.between.low <= truth).all()
    assert (batch.between.high >= truth).all()
    width = np.exp(batch.between.high) - np.exp(batch.between.low)
    assert width * 100.0 == pytest.approx(np.full((3, 500), 10.0))


def test_fine_readings_are_resampled_as_exact():
    lower = np.array([90.0, 95.0, 100.0])
    sample = make_sample(lower, lower + 0.1)
    assert batch_of(sample, np.log(100.0), 0.2).between is None


def test_chance_limits_follow_kaplan_meier_beyond_the_reading():
    """Two pieces ended by chance at 40 and 60, one broke at 50. Kaplan-Meier of the chance ends:
    2/3 after 40 and 0 after 60; given more than 50 the broken piece would have ended at 60."""
    lower = np.array([40.0, 60.0, 50.0])
    upper = np.array([np.inf, np.inf, 50.0])
    chance = np.array([True, True, False])
    sample = make_sample(lower, upper, chance_cap=chance)
    draws = draw(sample, LOGNORMAL, resamples=50, rng=np.random.default_rng(3))
    assert np.exp(draws.cap[2]) == pytest.approx(np.full(50, 60.0))
    assert np.exp(draws.cap[0]) == pytest.approx(np.full(50, 40.0))


def test_a_piece_beyond_every_chance_limit_has_none():
    lower = np.array([40.0, 90.0])
    sample = make_sample(lower, np.array([np.inf, 90.0]), chance_cap=np.array([True, False]))
    draws = draw(sample, LOGNORMAL, resamples=50, rng=np.random.default_rng(3))
    assert np.isinf(draws.cap[1]).all()


def test_a_floor_is_put_on_again():
    lower = np.array([0.0, 35.0, 40.0, 33.0])
    upper = np.array([30.0, 35.0, 40.0, 33.0])
    sample = make_sample(lower, upper)
    assert sample.floor.tolist() == [30.0, 30.0, 30.0, 30.0]
    batch = batch_of(sample, np.log(35.0), 0.2)
    truth = float(LOGNORMAL.law.distribution(np.array(np.log(30.0 / 35.0) / 0.2)))
    share = batch.left.weight.sum() / 16_000
    assert share == pytest.approx(truth, abs=4 * (truth * (1 - truth) / 16_000) ** 0.5)


@pytest.mark.parametrize("bad", [([1.0], [0.5]), ([-1.0], [1.0]), ([np.nan], [1.0])])
def test_impossible_readings_are_refused(bad):
    with pytest.raises(ValueError, match="lower <= upper"):
        make_sample(np.array(bad[0]), np.array(bad[1]))


def test_a_thinned_group_is_spread_like_the_whole():
    rng = np.random.default_rng(4)
    load = np.exp(4 + 0.2 * rng.standard_normal(30_000))
    capped = load > 70.0
    whole = make_sample(np.minimum(load, 70.0), np.where(capped, np.inf, load))
    few = thinned(whole, most=1000, exact=100)
    assert few.size == 1000
    assert few.at_least.mean() == pytest.approx(capped.mean(), abs=0.002)
    # Quantiles of the thinned group lie within one step of its own ranks.
    assert np.median(few.lower) == pytest.approx(np.median(whole.lower), rel=1e-3)


def test_a_group_with_few_exact_readings_is_not_thinned():
    lower = np.r_[np.full(5000, 70.0), np.linspace(50.0, 69.0, 60)]
    upper = np.r_[np.full(5000, np.inf), np.linspace(50.0, 69.0, 60)]
    whole = make_sample(lower, upper)
    assert thinned(whole, most=1000, exact=50) is whole
