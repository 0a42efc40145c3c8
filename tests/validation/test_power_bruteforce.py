"""The planned number of pieces against a brute force that analyses every experiment for real.

No outside source carries these numbers: they were counted with ``power_bruteforce.py`` beside this
file, 1,500 experiments for each number of pieces (seeds 0 to 1,499), each given to the comparison
of ``breakwright answer`` with 399 resamples of its own. That took 20 minutes; the planner takes
seconds, as experiments that look alike lend each other their resamples (docs/planning.md). A
part of the count is made again here.
"""

import math

import numpy as np
import pytest
from power_bruteforce import CASES, count
from scipy.special import ndtri

from breakwright.plan.power import Effort, make_trials
from breakwright.plan.table import first_within, make_table, row_at
from breakwright.plan.truth import Truth
from breakwright.plan.width import width_of

EXPERIMENTS = 1500
# 'stronger' at each of the case's five numbers of pieces.
COUNTED = {
    "plain": (963, 1110, 1204, 1271, 1363),
    "30 % capped": (944, 1089, 1189, 1258, 1352),
    "60 % capped": (943, 1052, 1149, 1212, 1302),
    "few pieces, 30 % capped": (731, 1124, 1387, 1469, 1495),
    "wide, wrong way and 30 % capped": (1017, 1160, 1288, 1354, 1412),
    "90 % sure, wrong way": (1171, 1260, 1333, 1402, 1416),
}
# Middle log width and share without both limits: 400 experiments, all ends found for real.
WIDTHS = {
    ("plain", 10): (0.3680, 0.000),
    ("30 % capped", 8): (0.4730, 0.000),
    ("60 % capped", 5): (1.7498, 0.265),
    ("wide, wrong way and 30 % capped", 12): (0.5857, 0.000),
}


def truth_of(case):
    cap = math.log(case.cap)
    return Truth(case.sigma, math.log(case.ratio), cap, cap, case.wrong_way, case.wrong_way)


def brute_pieces(name):
    """The number of pieces at which the counted chance reaches the wish.

    The normal score of the chance against sqrt n, a straight line through the five counts, each
    with the weight that its binomial error gives.
    """
    case = CASES[name]
    p = np.array(COUNTED[name]) / EXPERIMENTS
    score = ndtri(p)
    weight = np.exp(-0.5 * score**2) / np.sqrt(p * (1.0 - p))
    slope, start = np.polyfit(np.sqrt(case.sizes), score, 1, w=weight)
    return math.ceil(((ndtri(case.chance) - start) / slope) ** 2)


@pytest.fixture(scope="module")
def tables():
    return {
        name: make_table(
            truth_of(case),
            error=0.05,
            level=0.95,
            # Half the experiments where breaks of the wrong kind make each take longer, as in use.
            effort=Effort(experiments=1000 if case.wrong_way else 2000, widths=2),
            seed=3,
        )
        for name, case in CASES.items()
    }


@pytest.mark.parametrize("name", CASES)
def test_planned_number_within_one_piece(tables, name):
    planned = first_within(tables[name], chance=CASES[name].chance)
    assert abs(planned - brute_pieces(name)) <= 1


@pytest.mark.parametrize("name", CASES)
def test_planned_chance_at_each_number(tables, name):
    """Within 4.5 points: four standard errors of the count are 4.5 at most (the planner's own
    are smaller, as its curve is smooth)."""
    for pieces, counted in zip(CASES[name].sizes, COUNTED[name], strict=True):
        chance = row_at(tables[name], pieces).chance
        assert chance == pytest.approx(counted / EXPERIMENTS, abs=0.045)


@pytest.mark.parametrize(("name", "pieces"), WIDTHS)
def test_planned_width(name, pieces):
    """Within 8 %: of 400 widths the middle one has a standard error of about 2 %, three to five
    where a quarter is open; the planner's 400 likewise."""
    middle, lacking = WIDTHS[name, pieces]
    rng = np.random.default_rng(14)
    trials = make_trials(truth_of(CASES[name]), pieces=pieces, experiments=400, rng=rng)
    found = width_of(trials, level=0.95, effort=Effort(experiments=400, widths=400), rng=rng)
    allowed = 0.08 if lacking < 0.1 else 0.16
    assert found.log_width == pytest.approx(middle, rel=allowed)
    assert found.open_ended == pytest.approx(lacking, abs=4.0 * math.sqrt(0.5 * 0.25 / 200) + 0.005)


@pytest.mark.parametrize("name", ["few pieces, 30 % capped", "wide, wrong way and 30 % capped"])
def test_some_of_the_count_made_again(name):
    """Other seeds: within four standard errors of both counts."""
    case = CASES[name]
    again = 80
    pieces, counted = case.sizes[1], COUNTED[name][1]
    p = counted / EXPERIMENTS
    error = math.sqrt(p * (1.0 - p) * (1.0 / again + 1.0 / EXPERIMENTS))
    found = count(case, pieces, experiments=again, first=10_000) / again
    assert found == pytest.approx(p, abs=4.0 * error)


def test_the_recorded_cases_are_as_capped_as_they_say():
    """Share of the stronger group beyond the capacity, by its definition; three cases at 30 %."""
    capped = [case.capped for case in CASES.values()]
    assert len(capped) == 6
    assert capped.count(0.3) == 3
    for case in CASES.values():
        z = (math.log(case.ratio) - math.log(case.cap)) / case.sigma
        share = 0.0 if math.isinf(case.cap) else 0.5 * math.erfc(-z / math.sqrt(2.0))
        assert share == pytest.approx(case.capped, abs=1e-9)
