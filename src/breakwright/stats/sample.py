"""One group's readings, with what each piece could have shown had it been weaker or stronger."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.stats.families import Floats

__all__ = ["Sample", "make_sample", "thinned"]


@dataclass(frozen=True)
class Sample:
    """Readings of one group, loads in N, each array of shape (n,).

    ``lower``/``upper``: the closed intervals. ``cap``: the largest load that could have been
    read on the piece (inf: none known). ``chance_cap``: True where an 'at least' reading ended
    at a load that was itself a matter of chance (another way of breaking, an accident), so that
    the pieces that did break could have ended like that too. ``floor``: the smallest load that
    could have been read (0: none).
    """

    lower: Floats
    upper: Floats
    cap: Floats
    chance_cap: NDArray[np.bool_]
    floor: Floats

    @property
    def size(self) -> int:
        return int(self.lower.size)

    @property
    def exact(self) -> NDArray[np.bool_]:
        """Pieces with a two-sided reading that starts above 0 (narrow or wide), shape (n,)."""
        return np.asarray(np.isfinite(self.upper) & (self.lower > 0.0))

    @property
    def at_least(self) -> NDArray[np.bool_]:
        return np.asarray(np.isposinf(self.upper))

    @property
    def width(self) -> Floats:
        """Width of the two-sided readings (N), 0 elsewhere."""
        high = np.where(self.exact, self.upper, self.lower)
        return np.asarray(np.where(self.exact, high - self.lower, 0.0))


def make_sample(
    lower: Floats,
    upper: Floats,
    *,
    cap: Floats | None = None,
    chance_cap: NDArray[np.bool_] | None = None,
    floor: Floats | None = None,
) -> Sample:
    """Build a sample from closed intervals (N, shape (n,)), checking that they fit together.

    Where no ``cap`` is given, an 'at least' reading is its own cap, and the others get the
    common one if all 'at least' readings that are not a matter of chance share it.
    """
    lower = np.asarray(lower, dtype=np.float64)
    upper = np.asarray(upper, dtype=np.float64)
    n = lower.size
    if upper.shape != (n,) or lower.shape != (n,):
        raise ValueError(
            f"lower and upper are vectors of one length; got {lower.shape}, {upper.shape}"
        )
    if np.isnan(lower).any() or np.isnan(upper).any() or (lower > upper).any() or (lower < 0).any():
        raise ValueError("each reading needs 0 <= lower <= upper")
    at_least = np.isposinf(upper)
    chance = np.zeros(n, dtype=np.bool_) if chance_cap is None else chance_cap & at_least
    if cap is None:
        fixed = np.unique(lower[at_least & ~chance])
        common = float(fixed[0]) if fixed.size == 1 else np.inf
        cap = np.full(n, common)
    # Whatever was said of the instrument, a piece read at a load could be read at that load.
    measured = np.isfinite(upper) & (lower > 0.0)
    cap = np.where(measured & (cap < lower), np.inf, cap)
    cap = np.where(at_least & ~chance, lower, cap)
    if floor is None:
        at_most = (lower == 0.0) & np.isfinite(upper)
        floors = np.unique(upper[at_most])
        floor = np.full(n, float(floors[0]) if floors.size == 1 else 0.0)
        floor = np.where(measured & (floor > upper), 0.0, floor)
        floor = np.where(at_most, upper, floor)
    return Sample(lower, upper, cap, chance, floor)


def thinned(sample: Sample, *, most: int, exact: int) -> Sample:
    """At most ``most`` of the pieces, evenly through the sorted readings; the whole sample where
    fewer than ``exact`` two-sided readings would be left of it.

    For simulating what a very large group does beside a small one: its own error is then
    negligible, and stays so.
    """
    if sample.size <= most:
        return sample
    order = np.lexsort((sample.upper, sample.lower))
    keep = order[np.linspace(0, sample.size - 1, most).round().astype(np.intp)]
    few = Sample(
        sample.lower[keep],
        sample.upper[keep],
        sample.cap[keep],
        sample.chance_cap[keep],
        sample.floor[keep],
    )
    return few if int(few.exact.sum()) >= exact else sample
