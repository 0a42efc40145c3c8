"""A hidden ceiling: readings piled up at a common top value that nobody marked as 'at least'.

A scale that stops at its capacity gives the same top value again and again. Strengths don't: how
near the top readings would lie to each other by chance follows from a fit in which everything in
the pile counts as 'at least' its lowest reading.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.stats.families import LOGNORMAL, Floats
from breakwright.stats.fit import fit

__all__ = ["Pile", "find_pile"]

_HAIR = 0.004  # 'within a hair': this share of the top value, or the display's own step
_SURPRISE = 0.005


@dataclass(frozen=True)
class Pile:
    """Readings within ``low..high`` (N) at the top; ``members`` is a mask for each group.

    ``chance``: how likely so many readings of one and the same fit lie that near the top.
    """

    low: float
    high: float
    count: int
    chance: float
    members: tuple[NDArray[np.bool_], ...]


def find_pile(groups: Sequence[tuple[Floats, Floats]], *, step: float) -> Pile | None:
    """Look for a pile at the top of all the groups together; intervals in N, ``step`` the
    display's resolution (0: unknown). None where the top readings are as scattered as they
    should be.

    At least three readings make a pile, and nothing two-sided may lie above it.
    """
    measured = [np.isfinite(u) & (lo > 0.0) for lo, u in groups]
    middles = [
        np.where(m, 0.5 * (lo + np.where(m, u, lo)), 0.0)
        for (lo, u), m in zip(groups, measured, strict=True)
    ]
    every = np.concatenate([x[m] for x, m in zip(middles, measured, strict=True)])
    if every.size < 4:
        return None
    top = float(every.max())
    hair = max(_HAIR * top, 0.51 * step)
    low = top - hair
    members = tuple(m & (x >= low) for x, m in zip(middles, measured, strict=True))
    count = int(sum(int(x.sum()) for x in members))
    if count < 3:
        return None
    low = float(min(x[p].min() for x, p in zip(middles, members, strict=True) if p.any()))
    # Widen to the step the display shows: equal readings lie within one step, not within none.
    reach = max(top - low, step, _finest_step(every))
    expected = 0.0
    for (lo, u), member in zip(groups, members, strict=True):
        as_held = np.where(member, low, lo), np.where(member, np.inf, u)
        found = fit(as_held[0], as_held[1], LOGNORMAL)
        if found.missing is None:
            z = (np.log(np.array([top - reach, top + 0.5 * reach])) - found.mu) / found.sigma
            share = np.diff(LOGNORMAL.law.distribution(z))[0]
            expected += float(share) * lo.size
        elif member.any():
            # Nothing below the pile to fit: the spread of a tenth is narrower than wood gives.
            expected += 0.4 * lo.size * 1.5 * reach / (0.1 * top)
    from scipy.special import gammainc

    # The top reading is there by choice; the others fall near it as Poisson would have them.
    chance = float(gammainc(count - 1, max(expected, 1e-12)))
    if chance > _SURPRISE:
        return None
    return Pile(low, top, count, chance, members)


def _finest_step(readings: Floats) -> float:
    """The smallest distance between different readings: the display's step, or less."""
    distinct = np.unique(readings)
    return float(np.diff(distinct).min()) if distinct.size > 1 else 0.0
