"""Coverage of what is said beside the ratio: the quick interval, one group's limits, the chance
that one piece beats another."""

import math
from dataclasses import dataclass

import numpy as np

from benchmarks.conditions import FAMILY, Condition, draw_pair
from breakwright.stats.families import LOGNORMAL
from breakwright.stats.median import MedianRoot
from breakwright.stats.pivot import chance_to_beat, plausible, quantile_limit
from breakwright.usecases.ratios import Pair, quick_result

__all__ = ["Bounds", "bound_cells", "bound_rows", "try_bounds"]

EXPERIMENTS = 2000
RESAMPLES = 1000


@dataclass(frozen=True)
class Bounds:
    """Shares that held, of the experiments with an estimate in both groups."""

    condition: Condition
    estimates: int
    quick: float
    median: float
    p5_75: float
    p5_95: float
    chance: float


def bound_cells() -> list[Condition]:
    """n by capping, lognormal, the stronger group's limits and the pair's."""
    return [Condition("bounds", n, capped) for n in (3, 5, 10, 20) for capped in (0.0, 0.3, 0.5)]


def try_bounds(condition: Condition, seed: int) -> Bounds:
    """Run one cell: everything is asked of the stronger group, which is the capped one."""
    rng = np.random.default_rng([20241126, seed])
    family = FAMILY[condition.fitted]
    true_p5 = condition.ratio * math.exp(condition.sigma[1] * family.quantile_at(0.05))
    true_chance = _true_chance(condition)
    held = np.zeros(5)
    count = 0
    for k in range(EXPERIMENTS):
        a, b = draw_pair(condition, rng)
        pair = Pair.of(a, b, family=family, resamples=200, seed=k)
        if pair.root is None:
            continue
        count += 1
        quick = quick_result(pair, level=0.95)
        low = -math.inf if quick.lower is None else quick.lower
        high = math.inf if quick.upper is None else quick.upper
        truths = [
            plausible(s, found, resamples=RESAMPLES, seed=k + 7 * i)
            for i, (s, found) in enumerate(((a, pair.fit_reference), (b, pair.fit_group)))
        ]
        size = min(t.mu.size for t in truths)
        spread = chance_to_beat(
            (truths[0].mu[:size], truths[0].sigma[:size]),
            (truths[1].mu[:size], truths[1].sigma[:size]),
            family,
        )
        ends = np.quantile(spread, [0.025, 0.975])
        held += [
            low <= condition.ratio <= high,
            min(MedianRoot(b, pair.fit_group, 399, k).tail(math.log(condition.ratio))) > 0.025,
            quantile_limit(truths[1], p=0.05, confidence=0.75) <= true_p5,
            quantile_limit(truths[1], p=0.05, confidence=0.95) <= true_p5,
            ends[0] <= true_chance <= ends[1],
        ]
    quick_, median, p75, p95, chance = (held / max(count, 1)).tolist()
    return Bounds(condition, count, quick_, median, p75, p95, chance)


def _true_chance(c: Condition) -> float:
    z = math.log(c.ratio) / math.hypot(*c.sigma)
    return float(LOGNORMAL.law.distribution(np.array(z)))


def bound_rows(cells: list[Bounds]) -> list[str]:
    """The table, a row a cell."""
    lines = [
        "| n | capped | quick interval, 95 % | median, 95 % | 5th percentile, 75 % "
        "| the same, 95 % | chance to beat, 95 % |",
        "|---|---|---|---|---|---|---|",
    ]
    for b in cells:
        shares = (b.quick, b.median, b.p5_75, b.p5_95, b.chance)
        told = " | ".join(f"{100 * x:.1f}" for x in shares)
        lines.append(f"| {b.condition.n} | {100 * b.condition.capped:.0f} % | {told} |")
    return lines
