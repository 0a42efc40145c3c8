"""R's survival 3.5-3: survreg on two covariates with a common scale, on generated data.

Twelve data sets of 12 to 40 readings of all kinds, the three families and the normal on the raw
scale ('at most' there means anything below, as in survreg); the three families checked in R
against optim. Script ``r/generated.R``; data and numbers beside it.
"""

import numpy as np
import pytest
from r_recorded import FAMILY, by_id, rows

from breakwright.stats.regression import regress

DATA = {key: columns for key, columns, _ in by_id("regression_data.csv")}
FITS = rows("regression_fits.csv")


def test_the_recording_holds_what_it_claims():
    assert len(DATA) == 12
    assert len(FITS) == 48


@pytest.mark.parametrize("row", FITS, ids=lambda row: f"{row['id']}-{row['family']}")
def test_regression(row):
    d = DATA[row["id"]]
    design = np.column_stack([np.ones(d["x1"].size), d["x1"], d["x2"]])
    found = regress(d["lower"], d["upper"], design, FAMILY[row["family"]])
    got = [*found.coef, found.sigma, found.loglik]
    assert got == pytest.approx(
        [float(row[k]) for k in ("b0", "b1", "b2", "sigma", "loglik")], rel=1e-8
    )
    error = np.sqrt(np.diag(found.covariance))
    for name in ("v00", "v01", "v02", "v11", "v12", "v22", "v13", "v33"):
        i, j = int(name[1]), int(name[2])
        # A covariance may vanish: each is held to the size of its two standard errors.
        assert found.covariance[i, j] == pytest.approx(
            float(row[name]), abs=1e-7 * error[i] * error[j]
        )
