"""Likelihood-ratio limits of a ratio of medians, from R on generated pairs of groups.

Fifteen pairs of 5 to 20 pieces a group with exact, capped, randomly stopped, coarse and mixed
readings, three families each; maximised by optim with each group's own spread, limits by
uniroot (tolerance 1e-10). The quick limits: survreg's covariance with the small-sample factors
and R's t quantiles. Log-rank: survdiff. Script ``r/generated.R`` with ``r/likelihood.R``, R 4.2.2.
"""

import math

import numpy as np
import pytest
from r_recorded import FAMILY, by_id, rows

from breakwright.stats.curves import log_rank
from breakwright.stats.quick import quick_ratio
from breakwright.stats.ratio import SignedRoot
from breakwright.stats.sample import make_sample

DATA = {key: columns for key, columns, _ in by_id("pairs_data.csv")}
RATIOS = rows("pairs_ratios.csv")


def readings(key, group):
    d = DATA[key]
    members = d["group"] == group
    return d["lower"][members], d["upper"][members]


def compared(key, family):
    a, b = (make_sample(*readings(key, group)) for group in ("A", "B"))
    return SignedRoot(a, b, FAMILY[family], resamples=0, seed=1)


def test_the_recording_holds_what_it_claims():
    assert len(DATA) == 15
    assert len(RATIOS) == 45
    assert sum(np.isinf(d["upper"]).any() for d in DATA.values()) >= 8


@pytest.mark.parametrize("row", RATIOS, ids=lambda row: f"{row['id']}-{row['family']}")
def test_ratio_and_limits(row):
    root = compared(row["id"], row["family"])
    limits = root.likelihood_limits(0.95)
    got = [math.exp(x) for x in (root.estimate, limits.lower, limits.upper)]
    assert got == pytest.approx([float(row[k]) for k in ("ratio", "lower", "upper")], rel=1e-6)


@pytest.mark.parametrize("row", RATIOS, ids=lambda row: f"{row['id']}-{row['family']}")
def test_likelihood_lost_by_equal_medians(row):
    root = compared(row["id"], row["family"])
    at_one = root.observed(0.0).root
    assert at_one**2 == pytest.approx(float(row["drop0"]), rel=1e-6, abs=1e-8)
    assert math.copysign(1.0, at_one) == math.copysign(1.0, root.estimate)


@pytest.mark.parametrize("row", RATIOS, ids=lambda row: f"{row['id']}-{row['family']}")
def test_quick_limits(row):
    root = compared(row["id"], row["family"])
    found = quick_ratio(
        root.fit_a,
        root.fit_b,
        exact_a=int(root.a.exact.sum()),
        exact_b=int(root.b.exact.sum()),
        level=0.95,
    )
    got = [math.exp(found.lower), math.exp(found.upper), found.p_up, 1.0 - found.p_lo]
    expected = [float(row[k]) for k in ("quick_lower", "quick_upper", "quick_p", "quick_p")]
    assert got == pytest.approx(expected, rel=1e-7)


RANKED = [row for row in RATIOS if row["family"] == "lognormal" and row["logrank"] != "NA"]


@pytest.mark.parametrize("row", RANKED, ids=lambda row: row["id"])
def test_log_rank(row):
    found = log_rank(readings(row["id"], "A"), readings(row["id"], "B"))
    assert found.statistic == pytest.approx(float(row["logrank"]), rel=1e-10)


def test_nine_pairs_have_a_log_rank():
    assert len(RANKED) == 9
