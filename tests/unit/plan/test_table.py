"""The table: never falling, the same for the same seed, worse for a smaller scale."""

import math

import numpy as np
import pytest
from scipy.stats import norm, t

from breakwright.plan.power import Effort, Power, make_trials, power_of
from breakwright.plan.table import (
    LARGEST,
    SIZES,
    SMALLEST,
    first_within,
    make_table,
    row_at,
    smooth,
    smooth_chance,
)
from breakwright.plan.truth import Truth
from breakwright.plan.width import Width, width_of

QUICK = Effort(experiments=500, resamples=6, neighbours=100, widths=60)
FREE = Truth(0.2, math.log(1.3))
TIGHT = Truth(0.2, math.log(1.3), cap_weak=0.15, cap_strong=0.15)


@pytest.fixture(scope="module")
def tables():
    return {
        name: make_table(truth, error=0.05, level=0.95, effort=QUICK, seed=9)
        for name, truth in (("free", FREE), ("tight", TIGHT))
    }


def test_same_seed_same_bytes(tables):
    again = make_table(TIGHT, error=0.05, level=0.95, effort=QUICK, seed=9)
    assert again == tables["tight"]
    assert make_table(TIGHT, error=0.05, level=0.95, effort=QUICK, seed=10) != again


def test_more_pieces_never_do_worse(tables):
    for table in tables.values():
        assert [r.pieces for r in table.rows] == list(range(SMALLEST, LARGEST + 1))
        chances = [r.chance for r in table.rows]
        widths = [r.log_width for r in table.rows]
        assert chances == sorted(chances)
        assert widths == sorted(widths, reverse=True)
        assert {r.pieces for r in table.rows if r.simulated} == set(SIZES)


def test_a_scale_that_runs_out_costs(tables):
    """More than half of the stronger group and a fifth of the weaker lie beyond it."""
    free, tight = tables["free"], tables["tight"]
    for n in (5, 10, 20):
        assert row_at(tight, n).chance < row_at(free, n).chance
        assert row_at(tight, n).log_width > row_at(free, n).log_width
        assert row_at(free, n).capped == 0.0
        expected = n * (norm.cdf(-0.15 / 0.2) + norm.cdf((math.log(1.3) - 0.15) / 0.2))
        assert row_at(tight, n).capped == pytest.approx(expected, rel=0.04)
    assert row_at(tight, 3).open_ended > 0.1
    assert row_at(free, 3).open_ended == 0.0
    wish = {"chance": 0.8}
    assert first_within(tight, **wish) > first_within(free, **wish)
    assert row_at(free, 2) is None
    assert row_at(free, 41) is None


def test_width_of_uncapped_groups_is_that_of_the_t_interval(tables):
    """Two equal groups, known formula: 2 t s sqrt(2/n), s at its median; Welch's degrees are
    between n - 1 and 2n - 2. Within 5 %: sixty experiments a size, smoothed."""
    for n in (5, 10, 20, 40):
        width = row_at(tables["free"], n).log_width
        low, high = (2 * t.ppf(0.975, f) * 0.2 * math.sqrt(2 / n) for f in (2 * n - 2, n - 1))
        assert 0.93 * low < width < 1.03 * high


def test_same_groups_are_called_stronger_as_rarely_as_promised():
    """No difference, half capped: 2.5 % on the one side; 4,000 experiments, four errors."""
    rng = np.random.default_rng(12)
    effort = Effort(experiments=4000)
    truth = Truth(0.2, 0.0, cap_weak=0.0, cap_strong=0.0)
    trials = make_trials(truth, pieces=8, experiments=4000, rng=rng)
    found = power_of(trials, error=0.05, effort=effort, rng=rng)
    assert found.chance == pytest.approx(0.025, abs=0.01)
    assert found.chance > 0.01


def test_wholly_capped_groups_give_no_width_and_still_a_chance():
    """Nearly all of the stronger group beyond the capacity, the weaker far below it: from seven
    pieces on the sign test alone says 'stronger' (2^-7 < 1.25 %), as the answer would."""
    truth = Truth(0.1, math.log(2.0), cap_weak=0.3, cap_strong=0.3)
    rng = np.random.default_rng(1)
    chances = {}
    for pieces in (5, 8):
        trials = make_trials(truth, pieces=pieces, experiments=300, rng=rng)
        effort = Effort(experiments=300, widths=100)
        found = power_of(trials, error=0.05, effort=effort, rng=rng)
        chances[pieces] = found.chance
        assert found.unanswered > 0.99
        width = width_of(trials, level=0.95, effort=effort, rng=rng)
        assert (width.log_width, width.open_ended) == (math.inf, 1.0)
    assert chances[5] < 0.01
    assert chances[8] > 0.95


def test_smoothing_finds_the_curve_behind_binomial_counts():
    """A one-sided z test's chance, known exactly, with the counts' own noise put on."""
    sizes, every = np.array(SIZES, float), np.arange(3.0, 41.0)
    rng = np.random.default_rng(7)
    for slope in (0.12, 0.5, 2.0):
        truth = norm.cdf(slope * np.sqrt(every) - 1.96)
        counts = rng.binomial(4000, norm.cdf(slope * np.sqrt(sizes) - 1.96))
        fitted = smooth_chance(sizes, counts / 4000, every=every, experiments=4000)
        assert fitted == pytest.approx(truth, abs=0.02)


@pytest.mark.parametrize("chance", [0.0, 1.0])
def test_smoothing_of_none_and_of_all(chance):
    every = np.arange(3.0, 41.0)
    sizes = np.array(SIZES, float)
    fitted = smooth_chance(sizes, np.full(sizes.size, chance), every=every, experiments=500)
    assert fitted == pytest.approx(np.full(every.size, chance), abs=0.005)


def test_a_width_that_is_missing_stays_missing():
    widths = [Width(n, math.inf if n < 7 else 3.0 / math.sqrt(n), 0.0) for n in SIZES]
    powers = [Power(n, 0.5, 0.0, 0.0) for n in SIZES]
    table = smooth(powers, widths, experiments=500)
    assert [r.pieces for r in table.rows if math.isinf(r.log_width)] == [3, 4, 5, 6]
    assert row_at(table, 9).log_width == pytest.approx(1.0, rel=1e-6)
    assert first_within(table, width=math.exp(1.0001)) == 9
    assert first_within(table, chance=0.9) is None


def test_an_effort_too_small_for_a_p_value_is_refused():
    with pytest.raises(ValueError, match="199"):
        Effort(experiments=500, resamples=1, neighbours=100)
