"""How supports in a line share one load: by the balance of forces, and what it leaves open."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["best_position", "doubled_error", "share_range", "shares_of_two", "shares_on_springs"]


def shares_of_two(load_at: ArrayLike, first_at: float, second_at: float) -> NDArray[np.float64]:
    """Shares of a load on a beam over two supports.

    R1 = (x2 - p)/(x2 - x1), R2 = (p - x1)/(x2 - x1)

    load_at: position p of the load, mm, any shape. first_at, second_at: positions of the
    supports, mm, different. Returns shares, shape (2, ...); they add up to 1.
    Valid for a beam that rests freely; a share below 0 means that the beam lifts off there.

    4 kN, 20 mm off the middle of 500 mm:

    >>> [round(4000.0 * float(r), 1) for r in shares_of_two(270.0, 0.0, 500.0)]
    [1840.0, 2160.0]

    Source: statics; physics facts, 'Two scales' (1840/2160 N).
    """
    second = (np.asarray(load_at, dtype=float) - first_at) / (second_at - first_at)
    return np.stack([1.0 - second, second])


def doubled_error(off_centre: ArrayLike, span: float) -> NDArray[np.float64]:
    """Relative error of reading one of two scales and doubling it.

    error = 2 a / L

    off_centre: distance a of the load from the middle, mm. span: L between the scales, mm.
    Valid for two supports and a load between them; too much or too little, by side.

    >>> round(float(doubled_error(20.0, 500.0)), 3)
    0.08

    Source: statics; physics facts, 'Two scales' (8 %).
    """
    return np.asarray(2.0 * np.abs(np.asarray(off_centre, dtype=float)) / span, dtype=np.float64)


def shares_on_springs(load_at: float, supports: Sequence[float]) -> NDArray[np.float64]:
    """Shares of a load on a stiff beam over equally stiff supports in a line.

    R_i = 1/n + (p - m)(x_i - m)/sum_j (x_j - m)^2, m the mean of the x_j

    load_at: position p, mm. supports: positions x_i, mm, not all one. Returns shape (n,).
    Valid for a beam much stiffer than the scales; for two supports it is plain statics.

    Three scales, 100 mm apart, the load over the middle one, then over the last:

    >>> [round(float(r), 3) for r in shares_on_springs(100.0, (0.0, 100.0, 200.0))]
    [0.333, 0.333, 0.333]
    >>> [round(float(r), 3) for r in shares_on_springs(200.0, (0.0, 100.0, 200.0))]
    [-0.167, 0.333, 0.833]

    Source: statics of a rigid beam on equal springs (derived; the rivet-group formula).
    """
    at = np.asarray(supports, dtype=float)
    mean = at.mean()
    shares = 1.0 / at.size + (load_at - mean) * (at - mean) / np.square(at - mean).sum()
    return np.asarray(shares, dtype=np.float64)


def share_range(
    load_at: tuple[float, float], supports: Sequence[float]
) -> tuple[tuple[float, float], ...]:
    """The least and largest share of each support that a balance of forces allows.

    min, max R_i  with  sum R = 1, sum R x = p, all R >= 0, p between load_at[0] and load_at[1]

    load_at: range of the load's position, mm, within the supports. supports: positions, mm.
    Returns (least, largest) for each support. Valid whatever the stiffness of beam and scales:
    the extremes are reached with two supports bearing all (a corner of the linear programme).

    Two supports have one answer; three in a line have a range, from nothing to the whole:

    >>> share_range((270.0, 270.0), (0.0, 500.0))
    ((0.46, 0.46), (0.54, 0.54))
    >>> share_range((100.0, 100.0), (0.0, 100.0, 200.0))
    ((0.0, 0.5), (0.0, 1.0), (0.0, 0.5))

    Source: statics (derived).
    """
    at = [float(x) for x in supports]
    places = [load_at[0], load_at[1], *(x for x in at if load_at[0] < x < load_at[1])]
    found = [[1.0, 0.0] for _ in at]
    for p in places:
        for left in range(len(at)):
            for right in range(len(at)):
                if not at[left] <= p <= at[right]:
                    continue
                bears = [0.0] * len(at)
                span = at[right] - at[left]
                bears[left] = 1.0 if span == 0.0 else (at[right] - p) / span
                if span > 0.0:
                    bears[right] = (p - at[left]) / span
                for k, share in enumerate(bears):
                    found[k][0] = min(found[k][0], share)
                    found[k][1] = max(found[k][1], share)
    return tuple((low, high) for low, high in found)


def best_position(
    first_at: float, second_at: float, capacities: tuple[float, float], *, wander: float
) -> float:
    """Where a load that wanders should be aimed so that two scales read the most.

    p = [U2 (x2 + w) + U1 (x1 - w)]/(U1 + U2)

    first_at, second_at: positions, mm. capacities: U1, U2, the loads that the scales can bear, N.
    wander: w, how far off the aim the load may lie, mm. Returns p, mm.
    Valid for two supports; the worst case to either side then runs out at the same load. Kept
    between the supports.

    >>> best_position(0.0, 500.0, (1000.0, 1000.0), wander=20.0)
    250.0
    >>> best_position(0.0, 500.0, (1000.0, 3000.0), wander=0.0)
    375.0

    Source: statics (derived): (x2 - p + w)/U1 = (p - x1 + w)/U2.
    """
    first, second = capacities
    aim = (second * (second_at + wander) + first * (first_at - wander)) / (first + second)
    return min(max(aim, min(first_at, second_at)), max(first_at, second_at))
