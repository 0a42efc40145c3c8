"""A scale or load cell: what it can show, how finely, how often, and how it was checked."""

import math
from dataclasses import dataclass

from breakwright.model.errors import ImpossibleValue

__all__ = ["Instrument", "KnownWeight"]


@dataclass(frozen=True, slots=True)
class KnownWeight:
    """One check of an instrument: a load known to within ``tolerance`` and what was shown (N)."""

    true: float
    shown: float
    tolerance: float = 0.0

    def __post_init__(self) -> None:
        if not (0.0 < self.true < math.inf and 0.0 < self.shown < math.inf):
            raise ImpossibleValue(f"a known weight and what was shown are positive; got {self}")
        if not 0.0 <= self.tolerance < self.true:
            raise ImpossibleValue(f"a tolerance is at least 0 and below the weight; got {self}")


@dataclass(frozen=True, slots=True)
class Instrument:
    """What is known of one display. Loads in N, times in s.

    ``capacity`` is the load at which the display stops telling (None: not stated); ``tare`` is
    what was zeroed away and so is missing from the usable range; ``refresh`` is the time
    between two displayed values; ``factor`` is the range of true load over displayed load from
    levers, angles, pulleys and guide friction, (1, 1) where the display carries the load itself.
    """

    name: str
    capacity: float | None = None
    resolution: float = 0.0
    refresh: float | None = None
    tare: float = 0.0
    factor: tuple[float, float] = (1.0, 1.0)
    weights: tuple[KnownWeight, ...] = ()

    def __post_init__(self) -> None:
        if self.capacity is not None and not 0.0 < self.capacity < math.inf:
            raise ImpossibleValue(f"capacity of {self.name!r} must be positive: {self.capacity}")
        if not 0.0 <= self.resolution < math.inf:
            raise ImpossibleValue(f"resolution of {self.name!r} is negative: {self.resolution}")
        if self.refresh is not None and not 0.0 < self.refresh < math.inf:
            raise ImpossibleValue(f"refresh of {self.name!r} must be positive: {self.refresh}")
        if not 0.0 <= self.tare < (self.capacity or math.inf):
            raise ImpossibleValue(f"tare of {self.name!r} must be below its capacity: {self.tare}")
        if not 0.0 < self.factor[0] <= self.factor[1] < math.inf:
            raise ImpossibleValue(f"factor range of {self.name!r} is impossible: {self.factor}")

    @property
    def usable(self) -> float:
        """The largest value the display can show after the tare (N); inf if not stated."""
        return math.inf if self.capacity is None else self.capacity - self.tare
