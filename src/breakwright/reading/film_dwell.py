"""How long the values of a display stood, where its refresh was not told: so that a rhythm found
in the picture is not a multiple of the true one, and one not found is not guessed too short."""

from collections.abc import Sequence

import numpy as np

from breakwright.reading.film_segments import lies_between
from breakwright.reading.film_viterbi import Stretch

__all__ = ["dwells_of", "not_longer", "usual_dwell"]

# Of the shortest stays so many may be torn rows and gaps; fewer stays than this tell nothing.
_SHORTEST = 0.1
_SHORT = 0.25
_FEW = 8
_TWO = 2
_NEAR = 0.25
# Of the usual stay.
_SOON = 0.6


def dwells_of(story: Sequence[Stretch], times: Sequence[float]) -> tuple[float, ...]:
    """Return how long (s) each value stood that lies between two others. What can be the mixture
    of its neighbours and left soon belongs to the value after it."""
    dwells: list[float] = []
    usual = _stays(story, times, range(1, len(story) - 1))
    short = _SOON * float(np.median(usual)) if usual else 0.0
    whole = [
        number
        for number in range(1, len(story) - 1)
        if not (_mixed(story, number) and _stay(story, times, number) < short)
    ]
    for number in whole:
        if not _within(story, number):
            continue
        mixed = number - 1 not in whole and number > 1 and _within(story, number - 1)
        extra = _stay(story, times, number - 1) if mixed else 0.0
        dwells.append(_stay(story, times, number) + extra)
    return tuple(dwells)


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


def _stays(story: Sequence[Stretch], times: Sequence[float], places: Sequence[int]) -> list[float]:
    return [_stay(story, times, number) for number in places if _within(story, number)]


def _stay(story: Sequence[Stretch], times: Sequence[float], number: int) -> float:
    return times[story[number + 1].began] - times[story[number].began]


def _within(story: Sequence[Stretch], number: int) -> bool:
    return all(stretch.label.value is not None for stretch in story[number - 1 : number + 2])


def _mixed(story: Sequence[Stretch], number: int) -> bool:
    before, here, after = (stretch.label.text for stretch in story[number - 1 : number + 2])
    return (
        _within(story, number) and here not in (before, after) and lies_between(here, before, after)
    )
