"""The closed interval of load that a trial leaves open, and the steps that may be taken with it.

Convention, everywhere in the house: ``lower == upper`` is an exact reading; ``upper == inf`` is
'at least' (right-censored); ``lower == 0`` with ``upper`` finite is 'at most' (left-censored);
anything else is 'between'. Every step returns an interval that holds each load which the step
could have produced from some load in the interval it was given: a step may widen, never cut.
"""

import math
from dataclasses import dataclass
from enum import StrEnum

from breakwright.model.errors import ImpossibleValue

__all__ = ["Interval", "IntervalKind"]


class IntervalKind(StrEnum):
    EXACT = "exact"
    AT_LEAST = "at least"
    AT_MOST = "at most"
    BETWEEN = "between"


@dataclass(frozen=True, slots=True)
class Interval:
    """Loads from ``lower`` to ``upper`` in N, both ends included; ``0 <= lower <= upper``."""

    lower: float
    upper: float

    def __post_init__(self) -> None:
        if not (0.0 <= self.lower <= self.upper and math.isfinite(self.lower)):
            raise ImpossibleValue(
                f"a load interval needs 0 <= lower <= upper and a finite lower end; "
                f"got [{self.lower}, {self.upper}]"
            )

    @classmethod
    def exact(cls, load: float) -> "Interval":
        return cls(load, load)

    @classmethod
    def at_least(cls, load: float) -> "Interval":
        return cls(load, math.inf)

    @classmethod
    def at_most(cls, load: float) -> "Interval":
        return cls(0.0, load)

    @property
    def kind(self) -> IntervalKind:
        if self.lower == self.upper:
            return IntervalKind.EXACT
        if math.isinf(self.upper):
            return IntervalKind.AT_LEAST
        if self.lower == 0.0:
            return IntervalKind.AT_MOST
        return IntervalKind.BETWEEN

    @property
    def width(self) -> float:
        return self.upper - self.lower

    def holds(self, load: float) -> bool:
        return self.lower <= load <= self.upper

    def __add__(self, other: "Interval") -> "Interval":
        """The sum of two loads at the same moment."""
        return Interval(self.lower + other.lower, self.upper + other.upper)

    def widened(self, *, down: float = 0.0, up: float = 0.0) -> "Interval":
        """Move the ends outward by ``down`` and ``up`` (N, neither negative); the floor is 0."""
        if down < 0.0 or up < 0.0:
            raise ImpossibleValue(f"an interval is only ever widened; got down={down}, up={up}")
        return Interval(max(0.0, self.lower - down), self.upper + up)

    def shifted(self, by: float) -> "Interval":
        """Add a known load ``by`` (N; negative takes away), with the floor at 0."""
        return Interval(max(0.0, self.lower + by), max(0.0, self.upper + by))

    def scaled(self, smallest: float, largest: float) -> "Interval":
        """Multiply by a factor known only to lie in ``[smallest, largest]``, both positive."""
        if not 0.0 < smallest <= largest < math.inf:
            raise ImpossibleValue(
                f"a factor range needs 0 < smallest <= largest; got [{smallest}, {largest}]"
            )
        return Interval(self.lower * smallest, self.upper * largest)

    def open_upward(self) -> "Interval":
        """What is left when the load rose, or could have risen, unseen: [lower, inf)."""
        return Interval.at_least(self.lower)

    def hull(self, other: "Interval") -> "Interval":
        return Interval(min(self.lower, other.lower), max(self.upper, other.upper))
