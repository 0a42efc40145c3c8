"""Wood under a washer: when it settles, and what the European rule allows."""

import math

from breakwright.strength.mechanism import Floats

__all__ = ["washer_area", "washer_rule_load", "washer_settling_load"]


def washer_area(washer_mm: Floats, hole_mm: Floats) -> Floats:
    """Return the area of wood (mm2) that bears a round washer.

    A = (pi/4)(D^2 - d^2).

    ``washer_mm``: outer diameter D, any shape; ``hole_mm``: hole in the wood d, or in the washer
    if that is larger.
    Range: a washer too thick to bend (about a tenth of its diameter).

    >>> round(washer_area(38.0, 9.0), 1)
    1070.5

    Source: geometry.
    """
    return math.pi / 4.0 * (washer_mm**2 - hole_mm**2)


def washer_settling_load(
    comp_perp_MPa: Floats,  # noqa: N803
    *,
    washer_mm: Floats,
    hole_mm: Floats,
) -> Floats:
    """Return the load (N) at which a washer begins to sink into the wood.

    F = A s.

    ``comp_perp_MPa``: proportional limit s across the grain, any shape; ``washer_mm``: D;
    ``hole_mm``: d.
    Range: side grain. The handbook's value is a proportional limit: the washer settles and goes
    on bearing, nothing ruptures.

    >>> round(washer_settling_load(5.5, washer_mm=38.0, hole_mm=9.0))
    5888

    Source: Wood Handbook FPL-GTR-190 (2010), Table 5-3a, compression perpendicular to grain.
    """
    return comp_perp_MPa * washer_area(washer_mm, hole_mm)


def washer_rule_load(
    char_comp_perp_MPa: Floats,  # noqa: N803
    *,
    washer_mm: Floats,
    bolt_mm: Floats,
) -> Floats:
    """Return the characteristic load (N) under a washer by the European rule.

    F = 3 f_c90,k (pi/4)(D^2 - (d + 1)^2).

    ``char_comp_perp_MPa``: characteristic compression strength across the grain f_c90,k, any
    shape; ``washer_mm``: D; ``bolt_mm``: bolt diameter d, in a hole 1 mm larger.
    Range: side grain under a full washer.

    >>> round(washer_rule_load(2.5, washer_mm=30.0, bolt_mm=8.0) / 1000.0, 2)
    4.82

    Source: EN 1995-1-1 section 8.5.2, as taught in textbooks.
    """
    return 3.0 * char_comp_perp_MPa * washer_area(washer_mm, bolt_mm + 1.0)
