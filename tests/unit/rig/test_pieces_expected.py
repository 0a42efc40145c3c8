"""Where a group's strength comes from, and in which order the sources win."""

import math

import numpy as np
import pytest
from invented_kinds import CATALOGUE, peg, study

from breakwright.model.foresight import Expected
from breakwright.rig.findings import Origin
from breakwright.rig.lognormal import P99_Z, log_sigma
from breakwright.rig.look import look_at

GROUPS = ("plain", "wedged")


def pieces(*parts, **more):
    return look_at(study(*parts, groups=GROUPS, **more), CATALOGUE).pieces


def test_without_anything_it_is_predicted_and_the_other_group_is_the_same():
    found = pieces(peg())
    assert found["plain"].origin is Origin.PREDICTED
    assert found["plain"].median == pytest.approx(4000.0)
    # Inputs: glue 0.2; the equation of class 'good' adds ln(1.25)/1.645 to it.
    sigma = math.hypot(log_sigma(0.2), math.log(1.25) / 1.6448536269514722)
    assert found["plain"].sigma == pytest.approx(sigma)
    assert found["plain"].cv == pytest.approx(0.2)
    assert found["plain"].p99 == pytest.approx(4000.0 * math.exp(P99_Z * sigma))
    assert found["wedged"].origin is Origin.SAME
    assert found["wedged"].median == found["plain"].median


def test_the_smallest_ratio_worth_knowing_stands_in_for_an_unknown_ratio():
    found = pieces(peg(), worth=1.2)["wedged"]
    assert found.origin is Origin.RATIO_WORTH
    assert found.median == pytest.approx(4800.0)


def test_a_stated_ratio_wins_over_numbers_of_its_own_and_over_worth():
    own = peg(by_group={"wedged": {"depth_mm": 15.0}})
    stated = pieces(own, worth=1.2, expected=Expected(ratio={"wedged": 0.8}))["wedged"]
    assert (stated.origin, stated.median) == (Origin.RATIO_GIVEN, pytest.approx(3200.0))
    predicted = pieces(own, worth=1.2)["wedged"]
    assert (predicted.origin, predicted.median) == (Origin.PREDICTED, pytest.approx(6000.0))


def test_a_stated_median_is_taken_and_the_equation_gives_the_ratio():
    own = peg(by_group={"wedged": {"depth_mm": 15.0}})
    found = pieces(own, expected=Expected(median=3000.0, cv=0.3))
    assert found["plain"].origin is Origin.GIVEN
    assert found["plain"].sigma == pytest.approx(log_sigma(0.3))
    assert found["wedged"].origin is Origin.RATIO_EQUATION
    assert found["wedged"].median == pytest.approx(4500.0)


def test_a_stated_scatter_leaves_the_equations_own_doubt_in():
    found = pieces(peg(), expected=Expected(cv=0.3))["plain"]
    assert found.cv == pytest.approx(0.3)
    model = math.log(1.25) / 1.6448536269514722
    assert found.sigma == pytest.approx(math.hypot(log_sigma(0.3), model))


def test_pilots_pull_the_prediction_to_themselves_and_narrow_it():
    plain = pieces(peg())["plain"]
    found = pieces(peg(), expected=Expected(pilots=(2900.0, 3100.0, 3000.0)))["plain"]
    assert found.origin is Origin.PILOTS
    assert found.calibrated_on == 3
    assert 3000.0 < found.median < plain.median
    assert found.sigma < plain.sigma


def test_pilots_are_not_counted_twice_where_own_tests_are_in_the_prediction():
    tested = peg(own_tests=(2900.0, 3100.0, 3000.0))
    found = pieces(tested, expected=Expected(pilots=(2900.0, 3100.0, 3000.0)))["plain"]
    assert found.median == pieces(tested)["plain"].median


def test_pilots_alone_stand_for_themselves():
    pilots = (2900.0, 3100.0, 3300.0)
    found = pieces(expected=Expected(pilots=pilots))["plain"]
    logs = np.log(pilots)
    assert found.median == pytest.approx(math.exp(logs.mean()))
    assert found.scatter == pytest.approx(logs.std(ddof=1))
    assert found.sigma == pytest.approx(logs.std(ddof=1) * math.sqrt(4.0 / 3.0))
    assert not found.scatter_assumed
    assert pieces(expected=Expected(pilots=pilots[:2]))["plain"].scatter_assumed


def test_nothing_known_is_no_strength():
    assert pieces() == {}
