"""lifelines (C. Davidson-Pilon; MIT licence) as a reference on random censored readings.

lifelines stops its optimiser early, so estimates are held to 1e-4 and the log-likelihood, which
is flat at its top, to 1e-7; ours must not be the lower one.
"""

import math

import numpy as np
import pytest
from r_recorded import FAMILY
from random_readings import SAMPLES, capped

from breakwright.stats.curves import held_curve, log_rank, log_rank_all
from breakwright.stats.families import WEIBULL
from breakwright.stats.fit import fit
from breakwright.stats.regression import regress

pytestmark = pytest.mark.filterwarnings("ignore")  # lifelines' own, not ours


def lifelines_fit(name, readings):
    import lifelines

    if name == "lognormal":
        theirs = lifelines.LogNormalFitter()
    else:
        theirs = lifelines.WeibullFitter() if name == "weibull" else lifelines.LogLogisticFitter()
    theirs.fit_interval_censoring(readings.lower, readings.upper)
    first, second = theirs.params_.to_numpy()
    if name == "lognormal":
        return first, second, theirs.log_likelihood_
    return math.log(first), 1.0 / second, theirs.log_likelihood_


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("name", ["lognormal", "weibull", "loglogistic"])
def test_fit(name, sample):
    readings = SAMPLES[sample]
    mu, sigma, loglik = lifelines_fit(name, readings)
    ours = fit(readings.lower, readings.upper, FAMILY[name])
    assert ours.mu == pytest.approx(mu, abs=1e-4)
    assert ours.sigma == pytest.approx(sigma, rel=1e-4)
    assert ours.loglik == pytest.approx(loglik, abs=1e-7)
    assert ours.loglik >= loglik - 1e-10


def test_kaplan_meier():
    from lifelines import KaplanMeierFitter

    readings = capped(105, n=25, share=0.4)
    theirs = KaplanMeierFitter().fit(readings.lower, ~readings.right)
    curve = held_curve(readings.lower, readings.upper)
    at = theirs.survival_function_at_times(curve.load).to_numpy()
    assert list(curve.holding) == pytest.approx(list(at), abs=1e-12)


def test_log_rank():
    from lifelines.statistics import logrank_test, multivariate_logrank_test

    groups = [capped(seed, n=n, share=0.3) for seed, n in ((106, 12), (107, 9), (108, 15))]
    a, b = groups[:2]
    theirs = logrank_test(a.lower, b.lower, ~a.right, ~b.right)
    ours = log_rank((a.lower, a.upper), (b.lower, b.upper))
    assert ours.statistic == pytest.approx(theirs.test_statistic, rel=1e-9)
    assert ours.p_value == pytest.approx(theirs.p_value, rel=1e-7)

    label = np.repeat(np.arange(3), [g.lower.size for g in groups])
    theirs = multivariate_logrank_test(
        np.concatenate([g.lower for g in groups]),
        label,
        np.concatenate([~g.right for g in groups]),
    )
    ours = log_rank_all([(g.lower, g.upper) for g in groups])
    assert ours.statistic == pytest.approx(theirs.test_statistic, rel=1e-9)
    assert ours.p_value == pytest.approx(theirs.p_value, rel=1e-7)


def test_regression():
    import pandas as pd
    from lifelines import WeibullAFTFitter

    readings = SAMPLES["mixed-40"]
    x = np.random.default_rng(109).standard_normal(readings.lower.size)
    frame = pd.DataFrame({"lower": readings.lower, "upper": readings.upper, "x": x})
    theirs = WeibullAFTFitter().fit_interval_censoring(frame, "lower", "upper")
    ours = regress(readings.lower, readings.upper, np.column_stack([np.ones(x.size), x]), WEIBULL)
    table = theirs.params_
    assert ours.coef[0] == pytest.approx(table["lambda_", "Intercept"], abs=1e-4)
    assert ours.coef[1] == pytest.approx(table["lambda_", "x"], abs=1e-4)
    assert 1.0 / ours.sigma == pytest.approx(math.exp(table["rho_", "Intercept"]), rel=1e-4)
    assert ours.loglik == pytest.approx(theirs.log_likelihood_, abs=1e-7)
