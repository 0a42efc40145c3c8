"""How the strength of clear wood changes with its moisture."""

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = ["property_at_moisture"]


def property_at_moisture(
    at_12: Floats, green: Floats, *, moisture_pct: Floats, intersection_pct: Floats
) -> Floats:
    """Return a strength or stiffness of clear wood at a moisture content.

    P = P_12 (P_12/P_g)^[(12 - M)/(M_p - 12)]; green value at and above M_p.

    Args: ``at_12``, ``green``: the property at 12 % and green (any one unit); ``moisture_pct`` M,
    ``intersection_pct`` M_p (%); shapes that broadcast. Returns the unit of ``at_12``.

    Valid near room temperature, from about 6 % moisture upward; the source does not recommend it
    for tension across the grain, where drier is not always stronger.

    >>> round(float(property_at_moisture(103.0, 66.0, moisture_pct=8.0, intersection_pct=24.0)), 1)
    119.5

    Source: Wood Handbook FPL-GTR-282, eq. 5-3, M_p from Table 5-13; example white ash, 119,500 kPa.
    """
    wet = np.minimum(moisture_pct, intersection_pct)
    return np.asarray(at_12 * (at_12 / green) ** ((12.0 - wet) / (intersection_pct - 12.0)))
