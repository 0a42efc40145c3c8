"""What a plan supposes to be true of two groups, and readings drawn from it, many at a time."""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from breakwright.stats.cells import Batch, Spot
from breakwright.stats.families import Floats

__all__ = ["Readings", "Truth", "batch_of", "draw_readings", "share_beyond"]


@dataclass(frozen=True, slots=True)
class Truth:
    """Two groups, lognormal with one scatter, the weaker one's median at log load 0.

    ``sigma`` is of log load; ``distance`` >= 0 the log-ratio of the medians; ``cap_weak`` and
    ``cap_strong`` the logs of the largest loads that can be read, in units of the weaker median
    (inf: none); ``wrong_weak`` and ``wrong_strong`` the shares of each group's pieces that would
    break another way first.
    """

    sigma: float
    distance: float
    cap_weak: float = math.inf
    cap_strong: float = math.inf
    wrong_weak: float = 0.0
    wrong_strong: float = 0.0

    def __post_init__(self) -> None:
        if not (0.0 < self.sigma < math.inf and self.distance >= 0.0):
            raise ValueError(f"scatter {self.sigma}, distance {self.distance}")
        if not (0.0 <= self.wrong_weak < 1.0 and 0.0 <= self.wrong_strong < 1.0):
            raise ValueError(
                f"shares that break another way: {self.wrong_weak}, {self.wrong_strong}"
            )

    @property
    def unlimited(self) -> "Truth":
        """The same with a scale that never runs out."""
        return replace(self, cap_weak=math.inf, cap_strong=math.inf)


@dataclass(frozen=True)
class Readings:
    """Log loads of one group in many experiments, each (n, B).

    ``held`` marks 'at least'; ``by_chance`` those of them that broke another way; ``cap`` is the
    one capacity of all pieces of an experiment, (B,) or one number for all.
    """

    y: Floats
    held: NDArray[np.bool_]
    by_chance: NDArray[np.bool_]
    cap: Floats

    @property
    def exact(self) -> Floats:
        """Two-sided readings of each experiment, (B,)."""
        return np.asarray((~self.held).sum(axis=0), dtype=np.float64)

    def take(self, columns: NDArray[np.intp]) -> "Readings":
        cap = self.cap if self.cap.ndim == 0 else self.cap[columns]
        return Readings(self.y[:, columns], self.held[:, columns], self.by_chance[:, columns], cap)


def share_beyond(cap: float, *, median: float, sigma: float) -> float:
    """Share of pieces that hold more than ``cap`` (logs), 0 where there is no capacity."""
    from scipy.special import ndtr

    return float(ndtr((median - cap) / sigma)) if math.isfinite(cap) else 0.0


def draw_readings(
    truth: Truth, *, pieces: int, experiments: int, rng: np.random.Generator
) -> tuple[Readings, Readings]:
    """Readings of the weaker and of the stronger group, each (pieces, experiments).

    The other way of breaking has a lognormal strength of its own, with the same scatter, and
    knows nothing of the first; a piece's capacity comes before either.
    """
    from scipy.special import ndtri

    sides = []
    for median, cap, wrong in (
        (0.0, truth.cap_weak, truth.wrong_weak),
        (truth.distance, truth.cap_strong, truth.wrong_strong),
    ):
        y = median + truth.sigma * rng.standard_normal((pieces, experiments))
        chance = np.zeros(y.shape, dtype=np.bool_)
        if wrong > 0.0:
            away = -float(ndtri(wrong)) * math.sqrt(2.0) * truth.sigma
            other = median + away + truth.sigma * rng.standard_normal(y.shape)
            chance = other < np.minimum(y, cap)
            y = np.where(chance, other, y)
        capped = ~chance & (y >= cap)
        sides.append(Readings(np.where(capped, cap, y), capped | chance, chance, np.asarray(cap)))
    return sides[0], sides[1]


def batch_of(readings: Readings) -> Batch:
    """The readings as the fits take them; every fit here is centred at 0."""
    measured = (~readings.held).astype(np.float64)
    exact = Spot(np.where(readings.held, 0.0, readings.y), measured)
    rows = []
    fixed = readings.held & ~readings.by_chance
    if fixed.any():
        # One capacity for all: its survival is needed once, times the number that reached it.
        count = fixed.sum(axis=0, dtype=np.float64)[None, :]
        rows.append((np.broadcast_to(readings.cap, count.shape), count))
    most = int(readings.by_chance.sum(axis=0).max(initial=0))
    if most:
        first = np.argsort(~readings.by_chance, axis=0, kind="stable")[:most]
        there = np.take_along_axis(readings.by_chance, first, axis=0)
        loads = np.take_along_axis(readings.y, first, axis=0)
        rows.append((np.where(there, loads, 0.0), there.astype(np.float64)))
    right = None
    if rows:
        right = Spot(*(np.concatenate(part) for part in zip(*rows, strict=True)))
    return Batch(size=readings.y.shape[1], centre=0.0, exact=exact, right=right)
