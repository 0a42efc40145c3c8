"""What more pieces would bring, by brute force: every experiment analysed by the real program.

Independent of ``plan.further``: readings in hand are drawn once a case, further ones for every
experiment, and each whole is given to the comparison that ``breakwright answer`` makes, with
resamples of its own (399). Run

    python tests/validation/settle_bruteforce.py CASE EXPERIMENTS

to print how many of the experiments are settled after so many more pieces.
"""

import math
import sys
from dataclasses import dataclass

import numpy as np

from breakwright.stats.families import LOGNORMAL
from breakwright.stats.sample import make_sample
from breakwright.usecases.ratios import Pair, ratio_result
from breakwright.usecases.result import VerdictKind
from breakwright.usecases.verdicts import kind_of

RESAMPLES = 399
OPEN = (VerdictKind.NOT_SETTLED, VerdictKind.NO_ANSWER)


@dataclass(frozen=True)
class Case:
    """``now`` pieces a group in hand, their logs standardised so that the medians stand in
    ``ratio`` and each group scatters by ``sigma``; ``cap`` on the scale of the reference's median.
    """

    ratio: float
    sigma: float
    now: int
    cap: float
    worth: float | None
    sizes: tuple[int, ...]


CASES = {
    "plain": Case(1.2, 0.25, 6, math.inf, None, (4, 8, 16)),
    "alike, 1.25 worth knowing": Case(1.02, 0.15, 6, math.inf, 1.25, (3, 6, 12)),
    "capped": Case(1.3, 0.25, 6, 1.5, None, (4, 8, 16)),
}


def in_hand(case):
    """Log loads of the reference and of the group, (2, now): normal scores, the same each time."""
    from scipy.special import ndtri

    scores = ndtri((np.arange(case.now) + 0.5) / case.now)
    scores = case.sigma * scores / scores.std()
    return np.stack([scores, math.log(case.ratio) + scores])


def sample_of(y, cap):
    held = y >= math.log(cap) if math.isfinite(cap) else np.zeros(y.shape, dtype=bool)
    shown = np.exp(np.where(held, math.log(cap) if math.isfinite(cap) else 0.0, y))
    return make_sample(
        shown,
        np.where(held, np.inf, shown),
        cap=np.full(y.size, cap),
        chance_cap=np.zeros(y.size, dtype=bool),
    )


def settled(case, truth, more, seed):
    """Is the matter settled after ``more`` pieces a group drawn from ``truth`` (mu, sigma)?"""
    rng = np.random.default_rng([20260101, more, seed])
    hand = in_hand(case)
    sides = [
        sample_of(np.concatenate([hand[k], mu + sigma * rng.standard_normal(more)]), case.cap)
        for k, (mu, sigma) in enumerate(truth)
    ]
    pair = Pair.of(*sides, family=LOGNORMAL, resamples=RESAMPLES, seed=seed)
    found = ratio_result(pair, level=0.95, seed=seed, resamples=RESAMPLES)
    return kind_of(found, worth=case.worth) not in OPEN


def truth_of(case):
    """The estimates of the readings in hand, as the program fits them."""
    from breakwright.stats.fit import fit

    samples = [sample_of(y, case.cap) for y in in_hand(case)]
    fits = [fit(s.lower, s.upper, LOGNORMAL) for s in samples]
    return [(f.mu, f.sigma) for f in fits]


def count(case, more, *, experiments, first=0):
    truth = truth_of(case)
    return sum(settled(case, truth, more, s) for s in range(first, first + experiments))


if __name__ == "__main__":
    name, wanted = sys.argv[1], int(sys.argv[2])
    for size in CASES[name].sizes:
        sys.stdout.write(f"{name}: {size}: {count(CASES[name], size, experiments=wanted)}\n")
        sys.stdout.flush()
