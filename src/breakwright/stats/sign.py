"""A group whose every reading is 'at least': what may still be said, without a distribution.

If more than half of all pieces would break at or below c, then n pieces that all hold more than
c are a matter of (1/2)^n. So the median is at least the j-th smallest of the n loads held with
confidence 1 - P(Binomial(n, 1/2) > n - j), the sign test turned round (Dixon & Mood 1946, JASA
41, 557-566).
"""

import math
from dataclasses import dataclass

import numpy as np

from breakwright.stats.families import Floats

__all__ = ["AtLeastMedian", "median_at_least"]


@dataclass(frozen=True, slots=True)
class AtLeastMedian:
    """The median is at least ``load`` (N) with ``confidence`` (one-sided)."""

    load: float
    confidence: float


def median_at_least(held: Floats, *, confidence: float) -> AtLeastMedian:
    """The largest load which the median reaches with ``confidence``, from loads held (N, (n,)).

    With too few pieces for that confidence: the smallest load held and the confidence that
    n pieces give it, 1 - 2^-n. Raises ValueError without a piece.

    >>> import numpy as np
    >>> median_at_least(np.full(5, 440.0), confidence=0.95)
    AtLeastMedian(load=440.0, confidence=0.96875)
    """
    loads = np.sort(np.asarray(held, dtype=np.float64))
    n = loads.size
    if n == 0:
        raise ValueError("no load was held")
    best = AtLeastMedian(float(loads[0]), 1.0 - 0.5**n)
    for j in range(1, n + 1):
        # n - j + 1 pieces or more held loads[j - 1]; the tail of the binomial beyond n - j.
        tail = sum(math.comb(n, k) for k in range(n - j + 1, n + 1)) / 2**n
        if 1.0 - tail < confidence:
            break
        if loads[j - 1] > best.load:
            best = AtLeastMedian(float(loads[j - 1]), 1.0 - tail)
    return best
