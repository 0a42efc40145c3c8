"""The chance of 'stronger' by brute force: every experiment analysed by the real program.

Independent of the planner: readings are drawn here, one experiment after the other, and each is
given to the comparison that ``breakwright answer`` makes, with resamples of its own (399). Run

    python tests/validation/power_bruteforce.py CASE EXPERIMENTS
    python tests/validation/power_bruteforce.py CASE EXPERIMENTS PIECES

to print one case's counts of 'stronger' at five numbers of pieces, or the middle width of the
interval at one; ``test_power_bruteforce.py`` records both.
"""

import math
import sys
from dataclasses import dataclass

import numpy as np

from breakwright.stats.families import LOGNORMAL
from breakwright.stats.sample import make_sample
from breakwright.usecases.ratios import Pair, ratio_result

RESAMPLES = 399


@dataclass(frozen=True)
class Case:
    """``capped`` is the share of the stronger group's pieces beyond the common capacity."""

    cv: float
    ratio: float
    capped: float
    wrong_way: float
    chance: float
    sizes: tuple[int, ...]

    @property
    def sigma(self):
        return math.sqrt(math.log1p(self.cv**2))

    @property
    def cap(self):
        """The common capacity, the reference's median being 1 N."""
        if self.capped == 0.0:
            return math.inf
        z = LOGNORMAL.quantile_at(1.0 - self.capped)
        return self.ratio * math.exp(self.sigma * z)


CASES = {
    "plain": Case(0.20, 1.25, 0.0, 0.0, 0.8, (10, 12, 14, 16, 18)),
    "30 % capped": Case(0.20, 1.25, 0.3, 0.0, 0.8, (10, 12, 14, 16, 18)),
    "60 % capped": Case(0.20, 1.25, 0.6, 0.0, 0.8, (12, 14, 16, 18, 20)),
    "few pieces, 30 % capped": Case(0.15, 1.5, 0.3, 0.0, 0.8, (3, 4, 5, 6, 7)),
    "wide, wrong way and 30 % capped": Case(0.30, 1.4, 0.3, 0.2, 0.8, (12, 15, 18, 21, 24)),
    "90 % sure, wrong way": Case(0.25, 1.3, 0.0, 0.25, 0.9, (18, 21, 24, 27, 30)),
}


def readings(case, median, pieces, rng):
    sigma = case.sigma
    load = median * np.exp(sigma * rng.standard_normal(pieces))
    cap = case.cap
    other = np.full(pieces, np.inf)
    if case.wrong_way:
        # The other way breaks first in the share asked for: a difference of two normals.
        away = -LOGNORMAL.quantile_at(case.wrong_way) * sigma * math.sqrt(2.0)
        other = median * np.exp(away + sigma * rng.standard_normal(pieces))
    chance = other < np.minimum(load, cap)
    held = chance | (load >= cap)
    shown = np.minimum(np.minimum(load, other), cap)
    return make_sample(
        shown, np.where(held, np.inf, shown), cap=np.full(pieces, cap), chance_cap=chance
    )


def experiment(case, pieces, seed):
    rng = np.random.default_rng([20250101, pieces, seed])
    reference = readings(case, 1.0, pieces, rng)
    group = readings(case, case.ratio, pieces, rng)
    return Pair.of(reference, group, family=LOGNORMAL, resamples=RESAMPLES, seed=seed)


def stronger(case, pieces, seed):
    """Does the real analysis of one simulated experiment say 'stronger' at 95 %?"""
    pair = experiment(case, pieces, seed)
    if pair.root is not None:
        return pair.root.tail(0.0).p_up <= 0.025
    found = ratio_result(pair, level=0.95, seed=seed, resamples=RESAMPLES)
    return found.level >= 0.975 - 1e-9 and found.lower is not None and found.lower > 1.0


def count(case, pieces, *, experiments, first=0):
    return sum(stronger(case, pieces, seed) for seed in range(first, first + experiments))


def log_width(case, pieces, seed):
    """Log of upper over lower limit of one simulated experiment, inf where one is missing."""
    pair = experiment(case, pieces, seed)
    if pair.root is None:
        return math.inf
    ends = pair.root.limits(0.95)
    return ends.upper - ends.lower


def widths(case, pieces, *, experiments):
    """The middle log width and the share of experiments without both limits."""
    found = np.array([log_width(case, pieces, seed) for seed in range(experiments)])
    return float(np.median(found)), float(np.isinf(found).mean())


if __name__ == "__main__":
    name, wanted = sys.argv[1], int(sys.argv[2])
    if len(sys.argv) > 3:
        middle, lacking = widths(CASES[name], int(sys.argv[3]), experiments=wanted)
        sys.stdout.write(f"{name}: {sys.argv[3]}: log width {middle:.4f}, open {lacking:.3f}\n")
        raise SystemExit
    for size in CASES[name].sizes:
        found = count(CASES[name], size, experiments=wanted)
        sys.stdout.write(f"{name}: {size}: {found} of {wanted}\n")
        sys.stdout.flush()
