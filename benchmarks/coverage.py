"""Coverage and width of the interval for the ratio, and false verdicts, by simulation.

An interval covers the true ratio when both its one-sided p-values there exceed half the error,
so coverage needs one evaluation an experiment; the ends themselves (for the width) are found in
a part of the experiments.
"""

import math
import os
import sys
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from benchmarks.bounds import bound_cells, bound_rows, try_bounds
from benchmarks.conditions import (
    FAMILY,
    Condition,
    draw_pair,
    identical_cells,
    main_cells,
    other_cells,
)
from breakwright.usecases.ratios import Pair, ratio_result
from breakwright.usecases.result import RatioMethod, VerdictKind
from breakwright.usecases.verdicts import kind_of

__all__ = ["run"]

LEVEL = 0.95
RESAMPLES = 399  # 1 + 399 makes the test at 2.5 % exact; more resamples do not change coverage
EXPERIMENTS = 2000
WIDTHS = 60


@dataclass(frozen=True)
class Cell:
    """What was counted in one cell. Misses in experiments with an estimate in both groups;
    ``limit_wrong`` counts one-sided limits (a group wholly capped) that the truth lies beyond."""

    condition: Condition
    experiments: int
    estimates: int
    missed_low: int
    missed_high: int
    limits: int
    limit_wrong: int
    width: float
    open_ends: float

    @property
    def coverage(self) -> float:
        return 1.0 - (self.missed_low + self.missed_high) / max(self.estimates, 1)


def cover(condition: Condition, seed: int) -> Cell:
    """Run one cell's experiments."""
    rng = np.random.default_rng([20241124, seed])
    truth = math.log(condition.ratio)
    family = FAMILY[condition.fitted]
    low = high = estimates = limits = wrong = opened = 0
    widths: list[float] = []
    error = 0.5 * (1.0 - LEVEL)
    for k in range(EXPERIMENTS):
        a, b = draw_pair(condition, rng)
        pair = Pair.of(a, b, family=family, resamples=RESAMPLES, seed=k)
        if pair.root is None:
            found = ratio_result(pair, level=LEVEL, seed=k, resamples=RESAMPLES)
            if found.method is RatioMethod.SIGN:
                limits += 1
                above = found.lower is not None and found.lower > condition.ratio
                below = found.upper is not None and found.upper < condition.ratio
                wrong += above or below
            continue
        estimates += 1
        tail = pair.root.tail(truth)
        low += tail.p_up <= error
        high += tail.p_lo <= error
        if len(widths) + opened < WIDTHS:
            ends = pair.root.limits(LEVEL)
            if math.isfinite(ends.lower) and math.isfinite(ends.upper):
                widths.append(ends.upper - ends.lower)
            else:
                opened += 1
    tried = len(widths) + opened
    return Cell(
        condition,
        EXPERIMENTS,
        estimates,
        low,
        high,
        limits,
        wrong,
        # An open end is wider than any: the median over all that were tried.
        float(np.median([*widths, *[math.inf] * opened])) if tried else math.nan,
        opened / max(tried, 1),
    )


@dataclass(frozen=True)
class Verdicts:
    """False verdicts on identical groups: 'stronger' or 'weaker' of any kind."""

    condition: Condition
    experiments: int
    stronger: int
    weaker: int

    @property
    def rate(self) -> float:
        return (self.stronger + self.weaker) / self.experiments


_SAYS_STRONGER = {VerdictKind.STRONGER, VerdictKind.STRONGER_MATTERS}
_SAYS_WEAKER = {VerdictKind.WEAKER, VerdictKind.WEAKER_MATTERS}


def false_verdicts(condition: Condition, seed: int) -> Verdicts:
    """Verdicts on two groups that are the same; a limit beyond 1 is a verdict too."""
    rng = np.random.default_rng([20241125, seed])
    family = FAMILY[condition.fitted]
    stronger = weaker = 0
    for k in range(EXPERIMENTS):
        a, b = draw_pair(condition, rng)
        pair = Pair.of(a, b, family=family, resamples=RESAMPLES, seed=k)
        if pair.root is not None:
            tail = pair.root.tail(0.0)
            error = 0.5 * (1.0 - LEVEL)
            stronger += tail.p_up <= error
            weaker += tail.p_lo <= error
            continue
        found = ratio_result(pair, level=LEVEL, seed=k, resamples=RESAMPLES)
        kind = kind_of(found, worth=None)
        # Less sure than asked for, a limit is printed with its confidence and is no claim.
        sure = found.level >= 0.5 * (1.0 + LEVEL) - 1e-9
        above = kind is VerdictKind.ONLY_LOWER_LIMIT and (found.lower or 0.0) > 1.0
        below = kind is VerdictKind.ONLY_UPPER_LIMIT and (found.upper or math.inf) < 1.0
        stronger += kind in _SAYS_STRONGER or (sure and above)
        weaker += kind in _SAYS_WEAKER or (sure and below)
    return Verdicts(condition, EXPERIMENTS, stronger, weaker)


Made = TypeVar("Made")


def _each(task: Callable[[Condition, int], Made], cells: Sequence[Condition]) -> list[Made]:
    made = []
    with ProcessPoolExecutor(max_workers=os.cpu_count()) as pool:
        for i, cell in enumerate(pool.map(task, cells, range(len(cells)))):
            made.append(cell)
            print(f"  {i + 1} of {len(cells)}", file=sys.stderr, flush=True)
    return made


def _rows(cells: Sequence[Cell]) -> list[str]:
    lines = [
        "| truth | n | capped | coverage % | too high / too low % | no two-sided interval % "
        "| of one-sided limits wrong % | median width (log) | open end % |",
        "|---|---|---|---|---|---|---|---|---|",
    ]
    for c in cells:
        k = c.condition
        one_sided = f"{100 * c.limit_wrong / c.limits:.1f}" if c.limits else "–"
        width = f"{c.width:.2f}" if math.isfinite(c.width) else "open"
        lines.append(
            f"| {k.label} | {k.n} | {100 * k.capped:.0f} % | {100 * c.coverage:.1f} "
            f"| {100 * c.missed_low / max(c.estimates, 1):.1f} / "
            f"{100 * c.missed_high / max(c.estimates, 1):.1f} "
            f"| {100 * (1 - c.estimates / c.experiments):.1f} | {one_sided} | {width} "
            f"| {100 * c.open_ends:.0f} |"
        )
    return lines


def _verdict_rows(cells: Sequence[Verdicts]) -> list[str]:
    lines = [
        "| truth | n | capped | 'stronger' % | 'weaker' % | together % |",
        "|---|---|---|---|---|---|",
    ]
    for v in cells:
        k = v.condition
        stronger, weaker = 100 * v.stronger / v.experiments, 100 * v.weaker / v.experiments
        lines.append(
            f"| {k.truth} | {k.n} | {100 * k.capped:.0f} % | {stronger:.1f} | {weaker:.1f} "
            f"| {100 * v.rate:.1f} |"
        )
    rates = [v.rate for v in cells]
    lines.append(f"\nOn average {100 * np.mean(rates):.1f} %, at most {100 * max(rates):.1f} %.")
    return lines


def run() -> str:
    """All the tables, as the text for ``docs/benchmarks.md``."""
    start = time.monotonic()
    error = 100 * math.sqrt(0.05 * 0.95 / EXPERIMENTS)
    lines = [
        f"{EXPERIMENTS} experiments a cell, nominal {100 * LEVEL:.0f} %, {RESAMPLES} resamples an "
        f"experiment; standard error of a coverage near 95 %: {error:.1f}. Scatter sigma 0.2 on "
        "log load and a true ratio of 1.5 unless said; one capacity for both groups; 'capped' is "
        "the share of the stronger group's pieces beyond it. Coverage is of the experiments that "
        "had a two-sided interval; where one group was wholly capped a one-sided limit is given, "
        "and its errors are counted apart.",
        "",
        "### The interval for the ratio",
        "",
    ]
    lines += _rows(_each(cover, main_cells()))
    lines += ["", "### Harder conditions", ""]
    lines += _rows(_each(cover, other_cells()))
    lines += ["", "### False verdicts on two identical groups", ""]
    lines += _verdict_rows(_each(false_verdicts, identical_cells()))
    lines += ["", "### What stands beside the ratio", ""]
    lines += bound_rows(_each(try_bounds, bound_cells()))
    minutes = (time.monotonic() - start) / 60.0
    lines += ["", f"Took {minutes:.0f} minutes on {os.cpu_count()} cores."]
    return "\n".join(lines)
