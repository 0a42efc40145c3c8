"""R's survival 3.5-3 (T. Therneau, A Package for Survival Analysis in R) on generated data.

Fifty data sets of 2 to 60 readings, exact, 'at least', 'at most' and 'between' in many mixtures,
drawn in R, plus corners written by hand; each fitted by ``survreg(..., rel.tolerance = 1e-13)``
in three families and checked there against optim on a likelihood written out separately. Script
``r/generated.R``; data and numbers beside it. (survreg's loglik counts loads, not log loads.)
"""

import numpy as np
import pytest
from r_recorded import FAMILY, by_id, rows

from breakwright.stats.fit import fit

DATA = {key: columns for key, columns, _ in by_id("generated_data.csv")}
FITS = rows("generated_fits.csv")


def test_the_recording_holds_what_it_claims():
    assert len(DATA) == 50
    assert len(FITS) == 150
    kinds = {"exact": 0, "right": 0, "left": 0, "between": 0}
    for d in DATA.values():
        right, left = np.isinf(d["upper"]), d["lower"] == 0.0
        kinds["right"] += right.any()
        kinds["left"] += left.any()
        kinds["exact"] += (d["lower"] == d["upper"]).any()
        kinds["between"] += (~right & ~left & (d["lower"] < d["upper"])).any()
    assert min(kinds.values()) >= 10


@pytest.mark.parametrize("row", FITS, ids=lambda row: f"{row['id']}-{row['family']}")
def test_fit(row):
    d = DATA[row["id"]]
    found = fit(d["lower"], d["upper"], FAMILY[row["family"]])
    assert found.missing is None
    expected = [float(row[k]) for k in ("mu", "sigma", "loglik", "var_mu", "var_logsigma")]
    got = [found.mu, found.sigma, found.loglik, found.covariance[0], found.covariance[2]]
    assert got == pytest.approx(expected, rel=1e-8)
    # The covariance may vanish: it is held to the size of the two variances.
    size = (found.covariance[0] * found.covariance[2]) ** 0.5
    assert found.covariance[1] == pytest.approx(float(row["cov_mu_logsigma"]), abs=1e-8 * size)


@pytest.mark.parametrize("name", ["lognormal", "weibull", "loglogistic"])
@pytest.mark.parametrize("width", [1e-3, 1e-5, 1e-7])
def test_a_narrow_interval_is_its_width_times_the_density(name, width):
    """By definition of a density; R loses these digits, so no recorded value is asked of it.

    What remains is the next term of the density (width squared) and the rounding of the ends.
    """
    load = np.array([100.0, 108.0, 117.0, 125.0, 131.0])
    exact = fit(load, load, FAMILY[name])
    low, high = load * (1 - 0.5 * width), load * (1 + 0.5 * width)
    narrow = fit(low, high, FAMILY[name])
    rounding = 1e-14 / width
    assert narrow.mu == pytest.approx(exact.mu, abs=width**2 + rounding)
    assert narrow.sigma == pytest.approx(exact.sigma, rel=50 * width**2 + rounding)
    expected = exact.loglik + np.log(high - low).sum()
    assert narrow.loglik == pytest.approx(expected, abs=100 * width**2 + rounding)
