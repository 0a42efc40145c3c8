"""The loosest thread that passes the gauge: class 2A in 2B, on which stripping areas are given."""

from dataclasses import dataclass

import numpy as np

from breakwright.strength.mechanism import Floats
from breakwright.strength.threads import minor_diameter, pitch_diameter

__all__ = ["Limits", "loosest_limits"]

_MM = 25.4


@dataclass(frozen=True, slots=True)
class Limits:
    """Diameters (mm): smallest of the bolt (major, pitch), largest of the nut (pitch, minor)."""

    bolt_major: Floats
    bolt_pitch: Floats
    nut_pitch: Floats
    nut_minor: Floats


def loosest_limits(diameter_mm: Floats, pitch_mm: Floats) -> Limits:
    """Return the limits of size of a class 2A bolt in a class 2B nut at their loosest.

    In inches: T = 0.0015 D^(1/3) + 0.0015 sqrt(L) + 0.015 P^(2/3) with L = D; allowance 0.3 T;
    bolt's pitch diameter basic - 0.3 T - T; bolt's major D - 0.3 T - 0.06 P^(2/3); nut's pitch
    diameter basic + 1.3 T; nut's minor basic + (0.25 P - 0.4 P^2), below 1/4 inch basic +
    max(0.05 P^(2/3) + 0.03 P/D - 0.002, 0.25 P - 0.4 P^2), at most 0.394 P.

    ``diameter_mm``: basic major diameter, any shape; ``pitch_mm``: pitch.
    Range: 60-degree threads from #0 up; for ISO metric threads it stands in for 6g/6H, whose
    limits are near.

    >>> limits = loosest_limits(0.3125 * 25.4, 25.4 / 18)
    >>> [round(float(x) / 25.4, 4) for x in (limits.bolt_pitch, limits.nut_minor)]
    [0.2712, 0.265]

    Source: ASME B1.1, limits of size (formulas from memory; the stripping areas that follow
    agree with the printed ones, see tests/validation/test_machinery_stripping.py).
    """
    d, p = diameter_mm / _MM, pitch_mm / _MM
    two_thirds = p ** (2.0 / 3.0)
    tolerance = 0.0015 * np.cbrt(d) + 0.0015 * np.sqrt(d) + 0.015 * two_thirds
    coarse = 0.25 * p - 0.4 * p * p
    small = np.minimum(np.maximum(0.05 * two_thirds + 0.03 * p / d - 0.002, coarse), 0.394 * p)
    pitch = pitch_diameter(d, p)
    return Limits(
        bolt_major=_MM * (d - 0.3 * tolerance - 0.06 * two_thirds),
        bolt_pitch=_MM * (pitch - 1.3 * tolerance),
        nut_pitch=_MM * (pitch + 1.3 * tolerance),
        nut_minor=_MM * (minor_diameter(d, p) + np.where(d < 0.25, small, coarse)),
    )
