"""What more pieces would bring, against a brute force that analyses every experiment for real.

No outside source carries these numbers: they were counted with ``settle_bruteforce.py`` beside
this file, 600 experiments for each number of further pieces (seeds 0 to 599), each given to the
comparison of ``breakwright answer`` with 399 resamples of its own. A part of the count is made
again here.

``plan.further`` judges by the quick interval. Where nothing is out of range the two agree; where
the scale runs out the quick interval is wider (docs/benchmarks.md), so that the chance is given
too low and the number of pieces too high; the other way by 3 points at most, at the largest
numbers.
"""

import math

import numpy as np
import pytest
from settle_bruteforce import CASES, count, in_hand, truth_of

from breakwright.plan.further import Hand, Judge, Truths, chances_after

EXPERIMENTS = 600
COUNTED = {
    "plain": (125, 277, 385),
    "alike, 1.25 worth knowing": (472, 564, 597),
    "capped": (354, 474, 558),
}


def chances_of(name):
    case = CASES[name]
    cap = math.log(case.cap)
    hands = tuple(Hand(np.minimum(y, cap), y >= cap) for y in in_hand(case))
    mu, sigma = (np.stack([np.full(2000, side[k]) for side in truth_of(case)]) for k in (0, 1))
    return chances_after(
        hands,
        Truths(mu, sigma, cap),
        sizes=case.sizes,
        judge=Judge(0.95, case.worth),
        seed=4,
    )


@pytest.mark.parametrize("name", ["plain", "alike, 1.25 worth knowing"])
def test_as_counted_where_nothing_is_out_of_range(name):
    """Within 7 points: two standard errors of the count are 4, and the quick interval's own
    difference from the calibrated one comes on top."""
    for found, counted in zip(chances_of(name), COUNTED[name], strict=True):
        assert found == pytest.approx(counted / EXPERIMENTS, abs=0.07)


def test_on_the_safe_side_where_the_scale_runs_out():
    """Never more than two standard errors too hopeful, at most 15 points too gloomy."""
    for found, counted in zip(chances_of("capped"), COUNTED["capped"], strict=True):
        share = counted / EXPERIMENTS
        assert share - 0.15 <= found <= share + 0.04


def test_some_of_the_count_made_again():
    """Other seeds: within four standard errors of both counts."""
    name, again = "plain", 60
    p = COUNTED[name][1] / EXPERIMENTS
    error = math.sqrt(p * (1.0 - p) * (1.0 / again + 1.0 / EXPERIMENTS))
    found = count(CASES[name], CASES[name].sizes[1], experiments=again, first=10_000) / again
    assert found == pytest.approx(p, abs=4.0 * error)
