"""The calibrated signed root done again, slowly and plainly, on two small groups.

Jeng, S.-L. & Meeker, W. Q. (2000), Comparisons of approximate confidence interval procedures for
type I censored data, Technometrics 42(2), 135-148, describe calibration by simulation for one
sample; the project turns it to a ratio of medians (docs/methods.md). Here each step is one loop
over resamples with scipy.optimize on the plain log-likelihood, started from several points; only
the standard errors z are shared with the engine, so that roots can be compared one by one. The
readings are made up; the last test draws random numbers of its own.
"""

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
import pytest
from scipy.optimize import minimize, minimize_scalar
from scipy.special import log_ndtr

from breakwright.stats.families import LOGNORMAL, WEIBULL
from breakwright.stats.ratio import SignedRoot
from breakwright.stats.sample import make_sample
from breakwright.stats.simulate import draw

RESAMPLES = 80
SEED = 5
CAP = 500.0
A = np.array([310.0, 362.0, 405.0, 288.0, 441.0])
B = np.array([402.0, 500.0, 455.0, 500.0, 377.0])
B_HELD = B == CAP


def normal_terms(z, held):
    return np.where(held, log_ndtr(-z), -0.5 * z * z - 0.5 * math.log(2 * math.pi))


def extreme_terms(z, held):
    return np.where(held, 0.0, z) - np.exp(np.minimum(z, 300.0))


TERMS = {"lognormal": normal_terms, "weibull": extreme_terms}
Z50 = {"lognormal": 0.0, "weibull": math.log(math.log(2.0))}
FAMILY = {"lognormal": LOGNORMAL, "weibull": WEIBULL}


@dataclass(frozen=True)
class Group:
    """Log loads and whether each was held ('at least'), both (n,)."""

    y: np.ndarray
    held: np.ndarray

    def loglik(self, name, median, log_sigma):
        """Log-likelihood of log load with the law's median at ``median``."""
        if abs(log_sigma) > 25.0:
            return -1e9
        z = (self.y - median) * math.exp(-log_sigma) + Z50[name]
        return float(TERMS[name](z, self.held).sum() - (~self.held).sum() * log_sigma)


def climb(function, starts):
    """The highest of several climbs: a simplex, then a gradient from where it ended."""
    best_value, best_point = -math.inf, None
    for start in starts:
        point = np.asarray(start, dtype=float)
        for method, options in (
            ("Nelder-Mead", {"xatol": 1e-5, "fatol": 1e-9, "maxiter": 2000}),
            ("BFGS", {"gtol": 1e-7}),
        ):
            point = minimize(lambda p: -function(p), point, method=method, options=options).x
            value = function(point)
            if value > best_value:
                best_value, best_point = value, point
    return best_value, best_point


def free(name, group):
    """Unconstrained maximum: (loglik, median, log sigma)."""
    rough = math.log(max(float(group.y.std()), 0.02))
    value, point = climb(lambda p: group.loglik(name, p[0], p[1]), [(group.y.mean(), rough)])
    return value, point[0], point[1]


def together(name, a, b, distance, free_a, free_b):
    """Maximum with B's median ``distance`` above A's: (loglik, (median of A, two log sigmas))."""

    def both(p):
        return a.loglik(name, p[0], p[1]) + b.loglik(name, p[0] + distance, p[2])

    def start(m):
        # A group moved from its own median starts with the spread that the move itself needs.
        away_a, away_b = m - free_a[1], m + distance - free_b[1]
        return (
            m,
            math.log(math.hypot(math.exp(free_a[2]), away_a)),
            math.log(math.hypot(math.exp(free_b[2]), away_b)),
        )

    ends = free_a[1], free_b[1] - distance
    return climb(both, [start(m) for m in (*ends, 0.5 * sum(ends))])


def root_of_held(name, other, held, distance):
    """Size of the root where every piece of ``held`` is 'at least' its cap; other may move."""
    value, median, log_sigma = free(name, other)
    needed = max(median, held.y.max() + distance)
    moved = minimize_scalar(
        lambda s: -other.loglik(name, needed, s),
        bounds=(log_sigma - 1.0, log_sigma + 8.0),
        method="bounded",
        options={"xatol": 1e-9},
    )
    moved_by = max(0.0, value + moved.fun)
    return math.sqrt(2.0 * min(moved_by, held.y.size * math.log(2.0)))


def signed_root(name, a, b, distance):
    if a.held.all() and b.held.all():
        return 0.0
    if b.held.all():
        return root_of_held(name, a, b, -distance)
    if a.held.all():
        return -root_of_held(name, b, a, distance)
    free_a, free_b = free(name, a), free(name, b)
    value, _ = together(name, a, b, distance, free_a, free_b)
    size = math.sqrt(max(0.0, 2.0 * (free_a[0] + free_b[0] - value)))
    return math.copysign(size, free_b[1] - free_a[1] - distance)


def read(y):
    cap = math.log(CAP)
    return Group(np.minimum(y, cap), y >= cap)


# Which group is the reference: 'BA' mirrors the comparison, so that it is A that gets capped.
ORDERS = {"AB": ((A, np.zeros(5, dtype=bool)), (B, B_HELD))}
ORDERS["BA"] = ORDERS["AB"][::-1]
# A narrow reference against two pieces, one of them capped: giving way costs log 2 a piece.
ORDERS["narrow"] = (
    (np.array([302.0, 311.0, 318.0, 290.0, 325.0]), np.zeros(5, dtype=bool)),
    (np.array([495.0, 500.0]), np.array([False, True])),
)


def observed_groups(order):
    return tuple(Group(np.log(load), held) for load, held in ORDERS[order])


@cache
def engine(name, order, resamples):
    """Both groups on one instrument: a group without 'at least' could have been capped too."""
    samples = [
        make_sample(load, np.where(held, math.inf, load), cap=np.full(load.size, CAP))
        for load, held in ORDERS[order]
    ]
    return SignedRoot(*samples, FAMILY[name], resamples=resamples, seed=SEED)


def plain_roots(name, order, distance, errors):
    """Resamples under the constrained fit from given standard errors, root by root.

    Returns the roots and how often the reference and the other group were wholly capped.
    """
    a, b = observed_groups(order)
    _, (median, log_a, log_b) = together(name, a, b, distance, free(name, a), free(name, b))
    roots, capped = [], np.zeros(2, dtype=int)
    for z_a, z_b in zip(*(e.T for e in errors), strict=True):
        star_a = read(median + math.exp(log_a) * (z_a - Z50[name]))
        star_b = read(median + distance + math.exp(log_b) * (z_b - Z50[name]))
        roots.append(signed_root(name, star_a, star_b, distance))
        capped += star_a.held.all(), star_b.held.all()
    return np.array(roots), capped


@cache
def shared_roots(name, order, distance):
    """The loop's roots from the engine's own standard errors."""
    root = engine(name, order, RESAMPLES)
    streams = np.random.SeedSequence(SEED).spawn(2)
    errors = tuple(
        draw(s, FAMILY[name], resamples=RESAMPLES, rng=np.random.default_rng(stream)).z
        for s, stream in zip((root.a, root.b), streams, strict=True)
    )
    return plain_roots(name, order, distance, errors)


# Distance 0 decides 'stronger'; the far ones often cap the whole of the stronger group.
CASES = [
    ("lognormal", "AB", 0.0),
    ("lognormal", "BA", -0.65),
    ("lognormal", "narrow", 0.4),
    ("weibull", "AB", 0.6),
]


@pytest.mark.parametrize(("name", "order", "distance"), CASES)
def test_observed_root(name, order, distance):
    expected = signed_root(name, *observed_groups(order), distance)
    found = engine(name, order, RESAMPLES).observed(distance)
    assert found.root == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize(("name", "order", "distance"), CASES)
def test_roots_of_resamples_and_p_values(name, order, distance):
    """Root by root, and the p-values that follow from them."""
    expected, _ = shared_roots(name, order, distance)
    root = engine(name, order, RESAMPLES)
    got = root.roots(distance, root.observed(distance))
    assert got == pytest.approx(expected, abs=1e-4)

    observed = signed_root(name, *observed_groups(order), distance)
    tail = root.tail(distance)
    p_up = (1 + (expected >= observed).sum()) / (RESAMPLES + 1)
    p_lo = (1 + (expected <= observed).sum()) / (RESAMPLES + 1)
    assert (tail.p_up, tail.p_lo) == pytest.approx((p_up, p_lo), abs=1e-12)


def test_wholly_capped_groups_are_among_the_resamples():
    """Else the comparison above would say nothing about them."""
    assert shared_roots("lognormal", "BA", -0.65)[1][0] >= 10
    assert shared_roots("weibull", "AB", 0.6)[1][1] >= 10
    cheapest = math.sqrt(2.0 * 2 * math.log(2.0))
    assert (np.abs(shared_roots("lognormal", "narrow", 0.4)[0] - cheapest) < 1e-9).sum() >= 3


@pytest.mark.parametrize("name", ["lognormal", "weibull"])
def test_p_value_from_other_random_numbers(name):
    """Within four standard errors of the two simulations together."""
    rng = np.random.default_rng(71)
    loops, resamples = 100, 4000
    shape = 2, 5, loops
    if name == "lognormal":
        errors = rng.standard_normal(shape)
    else:
        errors = np.log(rng.standard_exponential(shape))
    roots, _ = plain_roots(name, "AB", 0.2, tuple(errors))
    observed = signed_root(name, *observed_groups("AB"), 0.2)
    p = (1 + (roots >= observed).sum()) / (loops + 1)
    found = engine(name, "AB", resamples).tail(0.2).p_up
    error = math.sqrt(found * (1.0 - found) * (1.0 / loops + 1.0 / resamples))
    assert p == pytest.approx(found, abs=4.0 * error)
