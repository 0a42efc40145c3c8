"""Holm's step-down: several groups against one reference, with the error kept for all together.

Holm, S. (1979), A simple sequentially rejective multiple test procedure, Scandinavian Journal
of Statistics 6, 65-70.
"""

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["Step", "holm"]


@dataclass(frozen=True, slots=True)
class Step:
    """``adjusted``: the p-value to hold against the whole error; ``share``: the error allowed to
    this comparison when its turn came, which is also the error of the interval that agrees."""

    adjusted: float
    share: float


def holm(p_values: Sequence[float], *, error: float) -> tuple[Step, ...]:
    """Holm's adjusted p-values, in the order given; ``error`` is the error for all together.

    >>> [round(s.adjusted, 3) for s in holm([0.01, 0.04, 0.03], error=0.05)]
    [0.03, 0.06, 0.06]
    """
    k = len(p_values)
    steps: list[Step | None] = [None] * k
    running, stopped_at = 0.0, None
    for rank, i in enumerate(sorted(range(k), key=lambda j: p_values[j])):
        left = k - rank
        running = max(running, min(1.0, left * p_values[i]))
        if stopped_at is None and running > error:
            stopped_at = error / left
        steps[i] = Step(running, error / left if stopped_at is None else stopped_at)
    return tuple(s for s in steps if s is not None)
