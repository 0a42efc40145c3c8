"""The batched fits against slow and independent ways of finding the same maximum."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize

from breakwright.stats.cells import from_intervals
from breakwright.stats.families import FAMILIES, LOGNORMAL, NORMAL, WEIBULL, Family
from breakwright.stats.fit import Missing, estimable, fit, fit_batch

SLOW = settings(max_examples=40, deadline=None)


def plain_loglik(lower, upper, family, mu, sigma):
    """The definition, reading by reading, with no care for tails or speed."""
    law = family.law
    total = 0.0
    with np.errstate(divide="ignore"):
        low, high = np.log(lower), np.log(upper)
    for a, b in zip(low, high, strict=True):
        if a == b:
            z = np.array((a - mu) / sigma)
            total += float(law.density(z)[0]) - np.log(sigma) - a
        else:
            f = [
                0.0
                if np.isneginf(x)
                else 1.0
                if np.isposinf(x)
                else float(law.distribution(np.array((x - mu) / sigma)))
                for x in (a, b)
            ]
            total += np.log(f[1] - f[0])
    return total


@st.composite
def readings(draw):
    n = draw(st.integers(4, 9))
    seed = draw(st.integers(0, 2**31))
    rng = np.random.default_rng(seed)
    load = np.exp(5.0 + 0.3 * rng.standard_normal(n))
    lower, upper = load.copy(), load.copy()
    for i in range(2, n):
        kind = draw(st.sampled_from(["exact", "right", "left", "between"]))
        if kind == "right":
            lower[i], upper[i] = load[i] * 0.9, np.inf
        elif kind == "left":
            lower[i], upper[i] = 0.0, load[i] * 1.1
        elif kind == "between":
            lower[i], upper[i] = load[i] * 0.95, load[i] * 1.2
    return lower, upper


@SLOW
@given(readings(), st.sampled_from(FAMILIES))
def test_no_point_nearby_is_more_likely(data, family):
    """Definition of a maximum; Nelder-Mead from scipy on the plain likelihood finds no better."""
    lower, upper = data
    found = fit(lower, upper, family)
    if found.missing:
        assert lower.max() <= upper.min()
        return
    best = optimize.minimize(
        lambda p: -plain_loglik(lower, upper, family, p[0], np.exp(p[1])),
        [found.mu, np.log(found.sigma)],
        method="Nelder-Mead",
        options={"xatol": 1e-9, "fatol": 1e-12, "maxiter": 2000},
    )
    assert found.loglik == pytest.approx(
        plain_loglik(lower, upper, family, found.mu, found.sigma), abs=1e-8
    )
    assert -best.fun <= found.loglik + 1e-8


@SLOW
@given(readings(), st.sampled_from(FAMILIES))
def test_units_do_not_matter(data, family):
    """A median in other units is the same median; the scatter of the log stays."""
    lower, upper = data
    a, b = fit(lower, upper, family), fit(4.4482216 * lower, 4.4482216 * upper, family)
    assert a.missing == b.missing
    if a.missing is None:
        assert b.quantile(0.5) == pytest.approx(4.4482216 * a.quantile(0.5), rel=1e-7)
        assert b.sigma == pytest.approx(a.sigma, rel=1e-6)


def test_exact_lognormal_is_the_sample_mean_and_spread():
    """Closed form: mean and root mean squared deviation of the logs."""
    x = np.array([101.0, 133.0, 120.0, 171.0, 95.0])
    found = fit(x, x, LOGNORMAL)
    assert found.mu == pytest.approx(np.log(x).mean(), rel=1e-14)
    assert found.sigma == pytest.approx(np.log(x).std(), rel=1e-12)
    # Covariance of (mu, log sigma): sigma^2/n, 0 and 1/(2n), the textbook information.
    assert found.covariance == pytest.approx((found.sigma**2 / 5, 0.0, 0.1), rel=1e-9, abs=1e-15)


def test_a_narrow_interval_is_its_middle():
    """As its width goes to 0, a two-sided reading tells what an exact one tells, at every width."""
    x = np.array([101.0, 133.0, 120.0, 171.0, 95.0])
    exact = fit(x, x, WEIBULL)
    for width in (1e-2, 1e-3, 1e-4, 1e-5, 1e-7, 1e-9):
        near = fit(x * (1 - width / 2), x * (1 + width / 2), WEIBULL)
        assert near.mu == pytest.approx(exact.mu, abs=width**2 + 1e-9)
        assert near.sigma == pytest.approx(exact.sigma, rel=10 * width**2 + 1e-8)


@pytest.mark.parametrize(
    ("lower", "upper", "code"),
    [
        ([], [], Missing.NO_READING),
        ([70.0, 70.0], [np.inf, np.inf], Missing.ALL_AT_LEAST),
        ([0.0, 0.0], [30.0, 40.0], Missing.ALL_AT_MOST),
        ([50.0, 50.0, 50.0], [50.0, 50.0, 50.0], Missing.ONE_VALUE),
        ([50.0, 60.0], [70.0, 80.0], Missing.ONE_VALUE),
        ([50.0], [50.0], Missing.ONE_VALUE),
        ([40.0, 0.0], [np.inf, 30.0], Missing.UNBOUNDED_SCATTER),
    ],
)
def test_why_there_is_no_estimate(lower, upper, code):
    found = fit(np.array(lower), np.array(upper), LOGNORMAL)
    assert found.missing is code
    assert np.isnan(found.mu)


def test_a_batch_is_the_same_as_one_at_a_time():
    """Thinning the batch as data sets finish must not mix them up."""
    rng = np.random.default_rng(3)
    load = np.exp(0.2 * rng.standard_normal((6, 300)))
    cap = np.exp(0.1)
    lower = np.minimum(load, cap)
    upper = np.where(load >= cap, np.inf, load)
    for family in FAMILIES:
        batch = from_intervals(np.log(lower), np.log(upper), centre=0.0)
        found = fit_batch(
            batch, family.law, alpha=np.zeros(300), beta=np.full(300, 5.0), tolerance=1e-18
        )
        assert (found.exists == estimable(batch)).all()
        for k in range(300):
            one = fit(lower[:, k], upper[:, k], family)
            assert (one.missing is None) == found.exists[k]
            if found.exists[k]:
                assert found.mu[k] == pytest.approx(one.mu, abs=1e-8)
                assert found.sigma[k] == pytest.approx(one.sigma, rel=1e-7)


def test_large_groups_settle():
    rng = np.random.default_rng(1)
    x = np.exp(6.0 + 0.2 * rng.standard_normal(30_000))
    upper = np.where(x > 600.0, np.inf, x)
    lower = np.minimum(x, 600.0)
    for family in FAMILIES:
        found = fit(lower, upper, family)
        assert found.missing is None
    # The truth, to four standard errors of the mean of 30,000 logs.
    assert fit(lower, upper, LOGNORMAL).mu == pytest.approx(6.0, abs=4 * 0.2 / 30_000**0.5)


@SLOW
@given(st.sampled_from([*FAMILIES, NORMAL]), st.floats(-30.0, 6.0))
def test_derivatives_are_those_of_the_value(family: Family, z):
    """Central differences of each law's three functions."""
    h = 1e-5
    law = family.law
    for f in (law.density, law.survival, law.below):
        here = f(np.array([z - h, z, z + h]))
        slope = (here[0][2] - here[0][0]) / (2 * h)
        bend = (here[1][2] - here[1][0]) / (2 * h)
        assert here[1][1] == pytest.approx(slope, rel=1e-5, abs=1e-6)
        assert here[2][1] == pytest.approx(bend, rel=1e-5, abs=1e-6)


@pytest.mark.parametrize("family", [*FAMILIES, NORMAL], ids=lambda f: f.name)
def test_survival_and_distribution_make_one(family):
    z = np.linspace(-6.0, 3.0, 50)
    law = family.law
    total = np.exp(law.survival(z)[0]) + np.exp(law.below(z)[0])
    assert total == pytest.approx(np.ones(50), abs=1e-13)
    assert law.distribution(law.quantile(np.array([0.05, 0.5]))) == pytest.approx([0.05, 0.5])
    assert float(law.distribution(np.array(law.z50))) == pytest.approx(0.5, abs=1e-14)
