"""What the tests on open breaking data share: reading rules, and the comparison with R."""

import math

import numpy as np
import pytest
from r_recorded import FAMILY, loads

from breakwright.stats.curves import held_curve, log_rank
from breakwright.stats.ratio import SignedRoot
from breakwright.stats.sample import make_sample

Readings = tuple[np.ndarray, np.ndarray]


def exactly(load: np.ndarray) -> Readings:
    return load, load


def capped(load: np.ndarray, limit: float) -> Readings:
    """Every load at or beyond the limit is taken as 'at least the limit'."""
    return np.minimum(load, limit), np.where(load >= limit, math.inf, load)


def to_the_nearest(load: np.ndarray, step: float) -> Readings:
    return load - 0.5 * step, load + 0.5 * step


def assert_as_recorded(case: str, name: str, a: Readings, b: Readings) -> None:
    """Fits, medians, 5th percentiles, ratio and its likelihood limits against R's."""
    root = SignedRoot(make_sample(*a), make_sample(*b), FAMILY[name], resamples=0, seed=1)
    for group, found in (("A", root.fit_a), ("B", root.fit_b)):
        expected = loads(case, group=group, family=name)
        got = [found.mu, found.sigma, found.loglik, found.quantile(0.5), found.quantile(0.05)]
        assert got == pytest.approx(
            [expected[k] for k in ("mu", "sigma", "loglik", "median", "p5")], rel=1e-8
        )
    limits = root.likelihood_limits(0.95)
    expected = loads(case, family=name)
    got = [math.exp(x) for x in (root.estimate, limits.lower, limits.upper)]
    assert got == pytest.approx([expected[k] for k in ("ratio", "lower", "upper")], rel=1e-6)
    assert root.observed(0.0).root ** 2 == pytest.approx(expected["drop0"], rel=1e-6)


def assert_curves_as_recorded(case: str, a: Readings, b: Readings) -> None:
    """Kaplan-Meier (points, area up to the last break, last height) and log-rank against R's."""
    assert log_rank(a, b).statistic == pytest.approx(loads(case)["logrank"], rel=1e-9)
    for group, readings in (("A", a), ("B", b)):
        expected = loads(case, group=group)
        curve = held_curve(*readings)
        before = np.concatenate([[1.0], curve.holding[:-1]])
        breaks = curve.holding < before
        load, holding = curve.load[breaks], curve.holding[breaks]
        assert load.size == expected["held_points"]
        area = (np.diff(np.concatenate([[0.0], load])) * np.append(1.0, holding[:-1])).sum()
        assert area == pytest.approx(expected["held_area"], rel=1e-12)
        assert holding[-1] == pytest.approx(expected["held_last"], abs=1e-12)
