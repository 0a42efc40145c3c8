"""Many small data sets side by side: the readings of a batch, by kind, ready for the likelihood.

Layout: axis 0 runs over the readings of one data set, axis 1 over the ``size`` data sets of the
batch, so that every sum over readings is a sum over contiguous columns. A kind's ``y`` may have
one column where it is the same for every data set (a capacity, say); its weights never do, and
a weight of 0 stands for 'no such reading in this data set'. Everything is on the scale of y
(log load), shifted so that ``centre`` is 0, which keeps the moments accurate.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from breakwright.stats.families import Floats

__all__ = ["Batch", "Moments", "Span", "Spot", "from_intervals"]


@dataclass(frozen=True)
class Spot:
    """Readings told by one number: exact, at least, or at most. ``y`` and ``weight``: (k, B)."""

    y: Floats
    weight: Floats

    def take(self, rows: NDArray[np.intp]) -> "Spot":
        y = self.y if self.y.shape[1] == 1 else self.y[:, rows]
        return Spot(y, self.weight[:, rows])


@dataclass(frozen=True)
class Span:
    """Readings between two numbers. ``low``, ``high`` and ``weight``: (k, B)."""

    low: Floats
    high: Floats
    weight: Floats

    def take(self, rows: NDArray[np.intp]) -> "Span":
        low = self.low if self.low.shape[1] == 1 else self.low[:, rows]
        high = self.high if self.high.shape[1] == 1 else self.high[:, rows]
        return Span(low, high, self.weight[:, rows])


@dataclass(frozen=True)
class Moments:
    """Count, mean and sum of squared deviations of the exact readings, each (B,)."""

    count: Floats
    mean: Floats
    squares: Floats

    def take(self, rows: NDArray[np.intp]) -> "Moments":
        return Moments(self.count[rows], self.mean[rows], self.squares[rows])


def _moments(exact: Spot | None, size: int) -> Moments:
    if exact is None:
        nothing = np.zeros(size)
        return Moments(nothing, nothing, nothing)
    count = np.add.reduce(exact.weight, axis=0)
    total = np.add.reduce(exact.weight * exact.y, axis=0)
    mean = total / np.maximum(count, 1.0)
    away = exact.y - mean
    return Moments(count, mean, np.add.reduce(exact.weight * away * away, axis=0))


@dataclass(frozen=True)
class Batch:
    """The readings of ``size`` data sets, by kind. ``moments`` are of the exact ones."""

    size: int
    centre: float
    exact: Spot | None = None
    right: Spot | None = None
    left: Spot | None = None
    between: Span | None = None
    moments: Moments = field(default=None)  # type: ignore[assignment]

    def __post_init__(self) -> None:
        if self.moments is None:
            object.__setattr__(self, "moments", _moments(self.exact, self.size))

    def take(self, rows: NDArray[np.intp]) -> "Batch":
        """The data sets ``rows`` of this batch, as a batch."""
        return Batch(
            size=int(rows.size),
            centre=self.centre,
            exact=None if self.exact is None else self.exact.take(rows),
            right=None if self.right is None else self.right.take(rows),
            left=None if self.left is None else self.left.take(rows),
            between=None if self.between is None else self.between.take(rows),
            moments=self.moments.take(rows),
        )


def from_intervals(low: Floats, high: Floats, *, centre: float) -> Batch:
    """Build a batch from closed intervals on the scale of y, each of shape (n, B).

    ``low == high`` exact, ``high == inf`` at least, ``low == -inf`` at most, else between. A
    kind that no data set has takes no room.
    """
    low = low - centre
    high = high - centre
    exact = low == high
    right = np.isposinf(high)
    left = np.isneginf(low) & ~right
    between = ~(exact | right | left)

    def spot(kind: NDArray[np.bool_], y: Floats) -> Spot | None:
        rows = kind.any(axis=1)
        if not rows.any():
            return None
        told = y[kind]
        if kind is not exact and (told == told[0]).all():
            # One limit for all: its probability is needed once a data set, times its count.
            return Spot(told[:1, None], np.add.reduce(kind, axis=0, dtype=np.float64)[None, :])
        return Spot(np.where(kind, y, 0.0)[rows], kind[rows].astype(np.float64))

    span = None
    rows = between.any(axis=1)
    if rows.any():
        span = Span(
            np.where(between, low, 0.0)[rows],
            np.where(between, high, 1.0)[rows],
            between[rows].astype(np.float64),
        )
    return Batch(
        size=low.shape[1],
        centre=centre,
        exact=spot(exact, low),
        right=spot(right, low),
        left=spot(left, high),
        between=span,
    )
