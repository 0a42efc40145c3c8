"""Which of two lognormal strengths gives first: stress-strength interference.

Source: the closed form P = Phi[(mu_s - mu_r)/sqrt(sigma_s^2 + sigma_r^2)] for two independent
lognormals (any textbook of structural reliability; from memory), with the project's own table of
recomputed values, which a Monte Carlo run of 10^6 pairs had confirmed at one point (1.295 %).
Here the closed form is also held against numbers that know nothing of it: an integral of one
density times the other's distribution, and scipy's bivariate normal for what is shared.
"""

import math

import numpy as np
import pytest
from scipy import integrate, stats

from breakwright.rig.contenders import Contender, goes_before
from breakwright.rig.findings import Method
from breakwright.rig.lognormal import chance_first, log_sigma
from breakwright.rig.weakest import Draws, finish, race


def lognormal(part, *, mean, cv, intended=False, shared=()):
    """A contender from its mean and CV: median = mean/sqrt(1 + CV^2)."""
    own = math.sqrt(log_sigma(cv) ** 2 - sum(v * v for _, v in shared))
    loadings = (*shared, ((part, part, "equation"), own))
    return Contender(part, part, intended, mean / math.sqrt(1.0 + cv * cv), loadings)


# Mean ratio rig over specimen, chance in per cent as printed: the project's table of recomputed
# values, 'Weakest link' (specimen CV 0.25, rig CV 0.20); half a unit of the last printed digit.
@pytest.mark.parametrize(
    ("ratio", "percent", "half"),
    [(1.5, 9.4, 0.05), (2.0, 1.30, 0.005), (2.5, 0.17, 0.005), (3.0, 0.022, 0.0005)],
)
def test_the_table_of_mean_ratios(ratio, percent, half):
    specimen = lognormal("specimen", mean=1.0, cv=0.25, intended=True)
    rig = lognormal("rig", mean=ratio, cv=0.20)
    assert 100.0 * goes_before(rig, specimen) == pytest.approx(percent, abs=half)


# Strip 4.5 kN at CV 0.30 against bending of a plate 100 x 18 with an 8 mm hole, 55 MPa at CV 0.15,
# F = 4 f W/S with W = (b - d) t^2/6 (the project's facts, same place; recomputed).
@pytest.mark.parametrize(
    ("span", "percent"), [(100.0, 0.3), (150.0, 5.9), (200.0, 24.6), (250.0, 49.6)]
)
def test_a_plate_that_bends_before_its_thread_strips(span, percent):
    section = (100.0 - 8.0) * 18.0**2 / 6.0
    strips = lognormal("strip", mean=4500.0, cv=0.30, intended=True)
    bends = lognormal("bend", mean=4.0 * 55.0 * section / span, cv=0.15)
    assert 100.0 * goes_before(bends, strips) == pytest.approx(percent, abs=0.05)


def test_the_closed_form_is_the_integral():
    """P(B < A) as the integral of A's density times B's distribution (scipy, quadrature)."""
    a = stats.lognorm(s=0.3, scale=4300.0)
    b = stats.lognorm(s=0.15, scale=6000.0)
    area, _ = integrate.quad(lambda x: a.pdf(x) * b.cdf(x), 500.0, 80000.0, epsabs=1e-12)
    found = float(chance_first(math.log(4300.0 / 6000.0), 0.3, 0.15))
    assert found == pytest.approx(area, abs=1e-9)


def test_simulation_agrees_with_the_closed_form():
    """A third contender far away forces the simulation; 200,000 draws, four standard errors."""
    specimen = lognormal("specimen", mean=1.0, cv=0.25, intended=True)
    rig = lognormal("rig", mean=2.0, cv=0.20)
    far = lognormal("far", mean=1000.0, cv=0.20)
    found = finish([specimen, rig, far], Draws(11, 200_000))
    exact = goes_before(rig, specimen)
    assert found.method is Method.SIMULATION
    assert found.chances[1] == pytest.approx(exact, abs=4.0 * math.sqrt(exact / 200_000))
    assert sum(found.chances) == pytest.approx(1.0, abs=1e-12)


def test_three_ways_against_the_multivariate_normal():
    """P(first is the smallest of three) is a bivariate normal probability of the two differences
    (scipy.stats.multivariate_normal), with a source of scatter that two of them share."""
    board = ("plate", "thickness_mm", "input")
    one = lognormal("strip", mean=4500.0, cv=0.30, intended=True, shared=((board, 0.10),))
    two = lognormal("bend", mean=6500.0, cv=0.25, shared=((board, 0.20),))
    three = lognormal("screw", mean=7000.0, cv=0.20)
    logs = np.log([c.median for c in (one, two, three)])
    cov = np.diag([c.sigma**2 for c in (one, two, three)])
    cov[0, 1] = cov[1, 0] = 0.10 * 0.20
    differences = np.array([[1.0, -1.0, 0.0], [1.0, 0.0, -1.0]])
    exact = stats.multivariate_normal(differences @ logs, differences @ cov @ differences.T).cdf(
        [0.0, 0.0]
    )
    found = finish([one, two, three], Draws(5, 200_000)).chances[0]
    assert found == pytest.approx(exact, abs=4.0 * math.sqrt(exact * (1 - exact) / 200_000))


def test_a_shared_property_is_drawn_once():
    """Two ways that share all of their scatter never change places, whatever the board; with
    their own scatter instead they would in a third of all boards."""
    board = ("plate", "mor_MPa", "input")
    shared = ((board, log_sigma(0.2)),)
    weak = Contender("plate", "bend", True, 1000.0, shared)
    strong = Contender("plate", "split", False, 1100.0, shared)
    far = Contender("jack", "stalls", False, 1e6, ((("jack", "stalls", "equation"), 0.1),))
    assert goes_before(strong, weak) == 0.0
    assert finish([weak, strong, far], Draws(1, 20_000)).chances == (1.0, 0.0, 0.0)
    own = ((("plate", "split", "equation"), log_sigma(0.2)),)
    apart = Contender("plate", "split", False, 1100.0, own)
    assert goes_before(apart, weak) == pytest.approx(0.367, abs=5e-4)  # from the closed form


def test_the_same_seed_gives_the_same_race_and_another_does_not():
    contenders = [lognormal(str(k), mean=1.0 + 0.1 * k, cv=0.2, intended=k == 0) for k in range(4)]
    one, two, other = (race("g", contenders, Draws(seed, 20_000)) for seed in (1, 1, 2))
    assert one == two
    assert one.ways != other.ways
