"""Strength at an angle to the grain."""

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = ["hankinson"]


def hankinson(along: Floats, across: Floats, *, angle_deg: Floats) -> Floats:
    """Return a strength at an angle to the grain, from those along and across it.

    N = P Q / (P sin^2 a + Q cos^2 a)

    Args: ``along`` P, ``across`` Q (any one unit); ``angle_deg`` a between load and grain (0 is
    along); one shape. Returns the same unit.

    Valid for bearing and compression of wood, 0 to 90 degrees.

    >>> round(float(hankinson(50.0, 10.0, angle_deg=45.0)), 1)
    16.7

    Source: Wood Handbook FPL-GTR-282, eq. 8-16 (Hankinson).
    """
    a = np.radians(angle_deg)
    return np.asarray(along * across / (along * np.sin(a) ** 2 + across * np.cos(a) ** 2))
