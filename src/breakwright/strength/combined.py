"""A screwed joint pulled and sheared at once."""

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = ["slanting_load"]


def slanting_load(axial: Floats, lateral: Floats, *, angle_deg: Floats) -> Floats:
    """Return the load at an angle to the screws that breaks the joint.

    (F_ax/R_ax)^2 + (F_v/R_v)^2 = 1 with F_ax = F cos a, F_v = F sin a

    Args: ``axial`` R_ax and ``lateral`` R_v, what one screw bears pulled and sheared (N);
    ``angle_deg`` a between load and screw (0 is a straight pull, 90 a straight shear); one shape.
    Returns F in N.

    Valid for screws, 0 to 90 degrees.

    >>> round(float(slanting_load(3000.0, 4000.0, angle_deg=np.degrees(np.arctan2(4.0, 3.0)))))
    3536

    Source: Eurocode 5, EN 1995-1-1, eq. 8.28 (section 8.7.3 for screws; from memory). In the
    example F_ax/R_ax = F_v/R_v, so each is 1/sqrt(2) and F = 5000/sqrt(2).
    """
    a = np.radians(angle_deg)
    return np.asarray(1.0 / np.sqrt((np.cos(a) / axial) ** 2 + (np.sin(a) / lateral) ** 2))
