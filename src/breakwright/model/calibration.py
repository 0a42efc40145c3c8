"""What checks against known weights say of a display: the range of true load over shown load.

Why the hull of the checks and not their overlap: the overlap would be right only for a display
whose error is one fixed factor. Shop scales are not that good: one that is right at 5 kg may be
2 % off at 50 kg. The hull lets the factor at an unknown load lie anywhere between what the
checks saw, so a display that is not straight shows up as a wider range instead of a wrong one.
Its price: a weight that is light against the display's steps widens the range of every reading.
``coarsest_check`` finds that weight, so that a person can be told.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from breakwright.model.errors import ImpossibleValue
from breakwright.model.instrument import Instrument, KnownWeight

__all__ = ["UNCHECKED", "Calibration", "CoarseCheck", "calibration_of", "coarsest_check"]


@dataclass(frozen=True, slots=True)
class Calibration:
    """True load = factor x shown load, the factor somewhere in ``[smallest, largest]``.

    ``verified_up_to`` is the heaviest known weight used (N of true load), 0 where the display
    was never checked; above it the same range is used, but nobody has seen that it holds.
    """

    smallest: float
    largest: float
    verified_up_to: float

    def __post_init__(self) -> None:
        if not 0.0 < self.smallest <= self.largest < math.inf:
            raise ImpossibleValue(
                f"a calibration needs 0 < smallest <= largest; "
                f"got [{self.smallest}, {self.largest}]"
            )
        if not 0.0 <= self.verified_up_to < math.inf:
            raise ImpossibleValue(f"verified_up_to is at least 0; got {self.verified_up_to}")

    @property
    def checked(self) -> bool:
        return self.verified_up_to > 0.0

    @property
    def spread(self) -> float:
        """The width of the range of factors."""
        return self.largest - self.smallest


UNCHECKED = Calibration(1.0, 1.0, 0.0)


@dataclass(frozen=True, slots=True)
class CoarseCheck:
    """A known weight too light for the display's steps, and the range with and without it."""

    weight: KnownWeight
    with_it: Calibration
    without_it: Calibration


def calibration_of(instrument: Instrument) -> Calibration:
    """The range of factors that the checks of ``instrument`` allow; ``UNCHECKED`` without any.

    For a weight known to be ``t +- tol`` that was shown as ``s`` on a display with steps of
    ``r``, the factor is between ``(t - tol)/(s + r/2)`` and ``(t + tol)/(s - r/2)``. A weight
    that is shown as half a step or less says nothing of the factor and is passed over.

    >>> from breakwright.model.instrument import Instrument, KnownWeight
    >>> scale = Instrument("right", resolution=5.0, weights=(KnownWeight(500.0, 490.0, 2.0),))
    >>> found = calibration_of(scale)
    >>> round(found.smallest, 5), round(found.largest, 5), found.verified_up_to
    (1.01117, 1.02974, 500.0)
    """
    return _hull(instrument.weights, instrument.resolution)


def coarsest_check(instrument: Instrument) -> CoarseCheck | None:
    """The one check whose coarseness makes at least half of the range; None if there is none.

    Only a weight that alone spans most of the range is named: two fine checks that disagree
    show a display that is not straight, and neither of them is to blame for it.
    """
    telling = [w for w in instrument.weights if _range(w, instrument.resolution) is not None]
    if len(telling) < 2:
        return None
    coarsest = max(telling, key=lambda w: _hull((w,), instrument.resolution).spread)
    alone = _hull((coarsest,), instrument.resolution)
    with_it = _hull(telling, instrument.resolution)
    without_it = _hull([w for w in telling if w is not coarsest], instrument.resolution)
    if without_it.spread * 2.0 <= with_it.spread and alone.spread * 2.0 > with_it.spread:
        return CoarseCheck(coarsest, with_it, without_it)
    return None


def _range(weight: KnownWeight, resolution: float) -> tuple[float, float] | None:
    half = resolution / 2.0
    if weight.shown <= half:
        return None
    smallest = (weight.true - weight.tolerance) / (weight.shown + half)
    largest = (weight.true + weight.tolerance) / (weight.shown - half)
    return (smallest, largest)


def _hull(weights: Iterable[KnownWeight], resolution: float) -> Calibration:
    smallest, largest, heaviest = math.inf, 0.0, 0.0
    for weight in weights:
        found = _range(weight, resolution)
        if found is not None:
            smallest = min(smallest, found[0])
            largest = max(largest, found[1])
            heaviest = max(heaviest, weight.true)
    if heaviest == 0.0:
        return UNCHECKED
    return Calibration(smallest, largest, heaviest)
