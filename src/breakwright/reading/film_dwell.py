"""How long the values of a display stood, where its refresh was not told: so that a rhythm found
in the picture is not a multiple of the true one, and one not found is not guessed too short."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from breakwright.reading.film_viterbi import Stretch

__all__ = ["dwells_of", "not_longer", "usual_dwell"]

# Of the shortest stays so many may be torn rows and gaps; fewer stays than this tell nothing.
_SHORTEST = 0.1
_SHORT = 0.25
_FEW = 8
_TWO = 2
_NEAR = 0.25


def dwells_of(story: Sequence[Stretch], times: Sequence[float]) -> tuple[float, ...]:
    """Return how long (s) each value stood that lies between two others."""
    return tuple(
        times[after.began] - times[here.began]
        for (before, here), (_, after) in pairwise(pairwise(story))
        if None not in (before.label.value, here.label.value, after.label.value)
    )


def not_longer(refresh: float, dwells: Sequence[float]) -> float:
    """Return ``refresh`` (s), or the whole part of it that several values stood for.

    A load that stands still lets a display miss so many beats that a multiple looks like it.

    >>> round(not_longer(0.75, [0.233, 0.233, 0.5, 0.75, 0.75, 0.5]), 3)
    0.25
    >>> not_longer(0.25, [0.1, 0.233, 0.267, 0.25, 0.25, 0.5])
    0.25
    """
    if not dwells:
        return refresh
    parts = round(refresh / float(np.quantile(dwells, _SHORTEST)))
    if parts < 2:
        return refresh
    part = refresh / parts
    support = sum(abs(dwell / part - 1.0) <= _NEAR for dwell in dwells)
    return part if support >= max(_TWO, _SHORTEST * len(dwells)) else refresh


def usual_dwell(dwells: Sequence[float]) -> float | None:
    """Return what values stand for at least (s), a quarter of them left out; None: too few.

    >>> usual_dwell([0.13, 0.25, 0.25, 0.25, 0.25, 0.25, 0.5, 0.5])
    0.25
    """
    return float(np.quantile(dwells, _SHORT)) if len(dwells) >= _FEW else None
