"""Plotting positions: which share of pieces each break stands for on probability paper."""

from collections.abc import Sequence
from dataclasses import dataclass

from breakwright.model.interval import IntervalKind
from breakwright.usecases.result import Answer

__all__ = ["Plotted", "median_ranks", "plotted"]


@dataclass(frozen=True, slots=True)
class Plotted:
    """One break: ``load`` (N), the share ``broken`` it stands for, and how it was read."""

    load: float
    broken: float
    kind: IntervalKind


def median_ranks(loads: Sequence[float], capped: Sequence[bool]) -> list[float | None]:
    """Return the share broken at each load, None at a capped one (it sets no point).

    p_i = 1 - (n - c + 1)/(n - 2c + 1) * prod_{uncapped j <= i} (n - j - c + 1)/(n - j - c + 2)
    with ranks j over all loads in order and c = 0.3; at the same load breaks go before capped
    pieces. With nothing capped this is (i - 0.3)/(n + 0.4).

    Source: Michael and Schucany, 'Analysis of data from censored samples', in D'Agostino and
    Stephens (eds), Goodness-of-Fit Techniques (1986), chapter 11; from memory, checked against
    the uncapped case above.

    >>> [round(p, 4) for p in median_ranks([3.0, 1.0, 2.0], [False, False, False])]
    [0.7941, 0.2059, 0.5]
    """
    c, n = 0.3, len(loads)
    order = sorted(range(n), key=lambda i: (loads[i], capped[i], i))
    ranks: list[float | None] = [None] * n
    left = (n - c + 1.0) / (n - 2.0 * c + 1.0)
    for j, i in enumerate(order, 1):
        if not capped[i]:
            left *= (n - j - c + 1.0) / (n - j - c + 2.0)
            ranks[i] = 1.0 - left
    return ranks


def plotted(answer: Answer, group: str) -> tuple[Plotted, ...]:
    """Return the points of one group, in order of load.

    A reading between two loads stands at their middle, one 'at most' at its upper end, which is
    the most it can be; 'at least' readings shift the ranks of those above them.
    """
    pieces = [
        p for p in answer.pieces if p.group == group and p.void is None and p.lower is not None
    ]
    loads = [_stands(p.lower or 0.0, p.upper, p.kind) for p in pieces]
    ranks = median_ranks(loads, [p.upper is None for p in pieces])
    points = [
        Plotted(load, rank, piece.kind)
        for load, rank, piece in zip(loads, ranks, pieces, strict=True)
        if rank is not None and piece.kind is not None and load > 0.0
    ]
    return tuple(sorted(points, key=lambda p: (p.load, p.broken)))


def _stands(lower: float, upper: float | None, kind: IntervalKind | None) -> float:
    if upper is None:
        return lower
    return upper if kind is IntervalKind.AT_MOST else (lower + upper) / 2.0
