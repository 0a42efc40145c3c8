"""Curves and tests that suppose no family: Kaplan-Meier and log-rank, both scipy's.

scipy's take exact and right-censored readings. A narrow two-sided reading goes in at its middle;
an 'at most' reading cannot, and then there is no curve and no test.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from breakwright.stats.families import Floats

__all__ = ["Held", "RankTest", "held_curve", "log_rank"]


@dataclass(frozen=True)
class Held:
    """Kaplan-Meier: the share still holding just after each distinct load (N), (k,) each."""

    load: Floats
    holding: Floats


@dataclass(frozen=True, slots=True)
class RankTest:
    """Log-rank: chi-square statistic (1 degree of freedom) and two-sided p-value."""

    statistic: float
    p_value: float


def _censored(lower: Floats, upper: Floats) -> Any:
    from scipy.stats import CensoredData

    if ((lower == 0.0) & np.isfinite(upper)).any():
        raise ValueError("an 'at most' reading has no place on a Kaplan-Meier curve")
    held = np.isposinf(upper)
    middle = 0.5 * (lower[~held] + upper[~held])
    return CensoredData(uncensored=middle, right=lower[held])


def held_curve(lower: Floats, upper: Floats) -> Held:
    """Kaplan-Meier curve of one group of closed intervals (N, (n,)).

    Raises ValueError if there is an 'at most' reading.
    """
    from scipy.stats import ecdf

    curve = ecdf(_censored(np.asarray(lower, float), np.asarray(upper, float))).sf
    return Held(np.asarray(curve.quantiles), np.asarray(curve.probabilities))


def log_rank(a: tuple[Floats, Floats], b: tuple[Floats, Floats]) -> RankTest | None:
    """Log-rank test that two groups, each (lower, upper) in N, hold alike.

    None where no break happened while both groups still had pieces: then nothing is compared.
    Raises ValueError if there is an 'at most' reading.
    """
    from scipy.stats import logrank

    sides = [_censored(*(np.asarray(x, float) for x in side)) for side in (a, b)]
    # Where no break has both groups at risk, scipy divides nothing by nothing.
    with np.errstate(divide="ignore", invalid="ignore"):
        found = logrank(sides[0], sides[1])
    if not math.isfinite(found.pvalue):
        return None
    return RankTest(float(found.statistic) ** 2, float(found.pvalue))


def log_rank_all(groups: Sequence[tuple[Floats, Floats]]) -> RankTest | None:
    """The log-rank test over k >= 2 groups: the k-sample chi-square with k - 1 degrees.

    Mantel-Haenszel form (Peto & Peto 1972, JRSS A 135); scipy has two groups only. For two
    groups it is ``log_rank``. None where some group is never at risk beside the others at a break.
    """
    from scipy.special import chdtrc

    if len(groups) == 2:
        return log_rank(groups[0], groups[1])
    loads, events, label = _flat(groups)
    k = len(groups)
    order = np.argsort(loads, kind="stable")
    loads, events, label = loads[order], events[order], label[order]
    member = (label[:, None] == np.arange(k)).astype(np.float64)
    # At risk just before each reading: all that come at or after its load.
    first = np.searchsorted(loads, loads, side="left")
    at_risk = np.cumsum(member[::-1], axis=0)[::-1][first]
    distinct = np.unique(loads[events])
    index = np.searchsorted(loads, distinct, side="left")
    risk = at_risk[index]
    died = np.stack(
        [
            np.bincount(
                np.searchsorted(distinct, loads[events & (label == g)]), minlength=distinct.size
            )
            for g in range(k)
        ],
        axis=1,
    ).astype(np.float64)
    n, d = risk.sum(axis=1), died.sum(axis=1)
    share = risk / n[:, None]
    away = (died - d[:, None] * share).sum(axis=0)[:-1]
    weight = d * (n - d) / np.maximum(n - 1.0, 1.0)
    spread = np.diag((weight[:, None] * share).sum(axis=0)) - share.T @ (weight[:, None] * share)
    if np.linalg.matrix_rank(spread[:-1, :-1]) < k - 1:
        return None
    statistic = float(away @ np.linalg.solve(spread[:-1, :-1], away))
    return RankTest(statistic, float(chdtrc(k - 1, statistic)))


def _flat(groups: Sequence[tuple[Floats, Floats]]) -> tuple[Floats, Any, Any]:
    loads, events, label = [], [], []
    for g, (lower, upper) in enumerate(groups):
        lower, upper = np.asarray(lower, float), np.asarray(upper, float)
        if ((lower == 0.0) & np.isfinite(upper)).any():
            raise ValueError("an 'at most' reading has no place in a log-rank test")
        held = np.isposinf(upper)
        middle = 0.5 * (lower + np.where(held, lower, upper))
        loads.append(middle)
        events.append(~held)
        label.append(np.full(lower.size, g))
    return np.concatenate(loads), np.concatenate(events), np.concatenate(label)
