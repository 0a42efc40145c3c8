"""Simulated readings and their roots: the very ones that the analysis makes of them."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import norm

from breakwright.plan.borrowed import _chance_ends, reference_roots, tails
from breakwright.plan.power import make_trials
from breakwright.plan.roots import tie
from breakwright.plan.truth import Readings, Truth, draw_readings, share_beyond
from breakwright.stats.families import LOGNORMAL
from breakwright.stats.ratio import SignedRoot
from breakwright.stats.sample import make_sample
from breakwright.stats.simulate import draw

TRUTH = Truth(0.25, math.log(1.3), cap_weak=0.3, cap_strong=0.3, wrong_weak=0.2, wrong_strong=0.2)


def sample_of(readings, column):
    """One experiment as the analysis gets it, with loads in N."""
    y, held = readings.y[:, column], readings.held[:, column]
    load = np.exp(y)
    return make_sample(
        load,
        np.where(held, np.inf, load),
        cap=np.full(load.size, math.exp(float(readings.cap))),
        chance_cap=readings.by_chance[:, column],
    )


@pytest.mark.parametrize("distance", [0.0, 0.5, -0.4])
def test_roots_are_those_of_the_analysis(distance):
    rng = np.random.default_rng(4)
    trials = make_trials(TRUTH, pieces=6, experiments=60, rng=rng)
    rows = np.flatnonzero(trials.pairs.both)
    assert rows.size > 50
    tied = tie(trials.pairs.take(rows), np.full(rows.size, distance))
    for k, row in enumerate(rows):
        root = SignedRoot(
            sample_of(trials.weak, row), sample_of(trials.strong, row), LOGNORMAL, 0, 1
        )
        point = root.observed(distance)
        assert tied.root[k] == pytest.approx(point.root, abs=2e-4)
        assert trials.pairs.take(rows).estimate[k] == pytest.approx(root.estimate, abs=1e-5)
        assert tied.m[k] == pytest.approx(point.m + root.centre, abs=1e-3)


def test_p_values_are_those_of_the_analysis():
    """Each experiment with its own 2,000 resamples and no neighbour, against its own 4,000."""
    rng = np.random.default_rng(8)
    trials = make_trials(TRUTH, pieces=5, experiments=12, rng=rng)
    rows = np.flatnonzero(trials.pairs.both)
    for distance in (0.0, 0.6):
        d = np.full(rows.size, distance)
        tied = tie(trials.pairs.take(rows), d)
        weak, strong = trials.weak.take(rows), trials.strong.take(rows)
        roots = reference_roots(weak, strong, tied, d, resamples=2000, rng=rng)
        found = tails(weak, strong, tied, d, roots=roots, neighbours=1)
        for k, row in enumerate(rows):
            pair = sample_of(trials.weak, row), sample_of(trials.strong, row)
            tail = SignedRoot(*pair, LOGNORMAL, 4000, 3).tail(distance)
            for p, expected in ((found.up[k], tail.p_up), (found.low[k], tail.p_lo)):
                # Four and a half standard errors of both simulations; 48 comparisons are made.
                error = math.sqrt(expected * (1 - expected) * (1 / 2000 + 1 / 4000))
                assert p == pytest.approx(expected, abs=4.5 * error + 1e-3)


def test_readings_follow_what_is_supposed():
    rng = np.random.default_rng(2)
    weak, strong = draw_readings(TRUTH, pieces=8, experiments=20_000, rng=rng)
    for side, median in ((weak, 0.0), (strong, TRUTH.distance)):
        # Without a capacity the other way would come first in a fifth; the capacity spares some.
        other = -norm.ppf(0.2) * math.sqrt(2.0) * 0.25 + 0.25 * rng.standard_normal(400_000)
        own = 0.25 * rng.standard_normal(400_000)
        chance = (median + other < np.minimum(median + own, 0.3)).mean()
        assert side.by_chance.mean() == pytest.approx(chance, abs=0.004)
        fixed = (np.minimum(own, other) + median >= 0.3).mean()
        assert (side.held & ~side.by_chance).mean() == pytest.approx(fixed, abs=0.004)
        assert (side.y <= 0.3).all()
        assert (side.y[side.held & ~side.by_chance] == 0.3).all()
    assert share_beyond(0.3, median=0.3, sigma=0.1) == 0.5
    assert share_beyond(math.inf, median=0.3, sigma=0.1) == 0.0


def test_unlimited_truth_loses_the_capacity_only():
    free = TRUTH.unlimited
    assert (free.cap_weak, free.cap_strong) == (math.inf, math.inf)
    assert replace(free, cap_weak=0.3, cap_strong=0.3) == TRUTH
    for wrong in ({"sigma": 0.0}, {"distance": -1.0}, {"wrong_strong": 1.0}):
        with pytest.raises(ValueError, match=r"scatter|share"):
            Truth(**{"sigma": 0.2, "distance": 0.1, **wrong})


def test_ends_by_chance_follow_the_analysis():
    """Mean and never-share of the drawn ends, against the analysis' own draws, piece by piece."""
    y = np.log(np.array([[300.0], [350.0], [390.0], [420.0], [460.0], [500.0]]))
    chance = np.array([[False], [True], [False], [True], [False], [False]])
    held = chance.copy()
    held[5] = True
    readings = Readings(y, held, chance, np.asarray(math.log(500.0)))
    rng = np.random.default_rng(6)
    ends = _chance_ends(readings, np.zeros(40_000, dtype=np.intp), rng)
    draws = draw(sample_of(readings, 0), LOGNORMAL, resamples=40_000, rng=rng)
    expected = np.broadcast_to(draws.cap, (6, 40_000))
    # The analysis folds the capacity in.
    found = np.minimum(ends, math.log(500.0))
    assert found.mean(axis=1) == pytest.approx(expected.mean(axis=1), abs=0.004)
    assert (found == expected.max()).mean(axis=1) == pytest.approx(
        (expected == expected.max()).mean(axis=1), abs=0.012
    )
    assert (found[chance[:, 0]] == y[chance[:, 0]]).all()
