"""A glued dowel pulled out of its hole, or snapped."""

import math

from breakwright.strength.mechanism import Floats

__all__ = ["dowel_snap_load", "dowel_withdrawal"]

_MM = 25.4
_PSI_PER_MPA = _MM**2 / (0.45359237 * 9.80665)
_N_PER_LB = 0.45359237 * 9.80665


def dowel_withdrawal(
    dowel_mm: Floats,
    depth_mm: Floats,
    member_shear_MPa: Floats,  # noqa: N803
    dowel_shear_MPa: Floats,  # noqa: N803
    factors: Floats,
) -> Floats:
    """Return the load (N) that pulls a glued dowel out of wood.

    F = 0.834 D L^0.89 (0.95 S1 + S2) a b c, in pounds, inches and lb/in2.

    ``dowel_mm``: diameter D, any shape; ``depth_mm``: depth L in the hole; ``member_shear_MPa``:
    shear strength S1 of the member along the grain; ``dowel_shear_MPa``: S2 of the dowel;
    ``factors``: a b c for glue, fit and surface, 1 for the best of each.
    Range: furniture dowels, 1/4 to 1/2 inch, glued well in a hole that fits.

    >>> s = 2330.0 / _PSI_PER_MPA
    >>> round(dowel_withdrawal(0.375 * _MM, 1.25 * _MM, s, s, 1.0) / _N_PER_LB)
    1733

    Source: Eckelman, withdrawal strength of dowel joints (equation from memory, value recomputed).
    """
    shear_psi = (0.95 * member_shear_MPa + dowel_shear_MPa) * _PSI_PER_MPA
    pounds = 0.834 * (dowel_mm / _MM) * (depth_mm / _MM) ** 0.89 * shear_psi * factors
    return pounds * _N_PER_LB


def dowel_snap_load(dowel_mm: Floats, mor_MPa: Floats) -> Floats:  # noqa: N803
    """Return the load (N) at which a straight-grained dowel snaps in tension.

    F = (pi/4) D^2 s.

    ``dowel_mm``: D, any shape; ``mor_MPa``: modulus of rupture s of the dowel's wood, taken as
    its tensile strength along the grain.
    Range: straight grain; grooves and slanting grain take off.

    >>> round(dowel_snap_load(9.525, 103.0))
    7339

    Source: statics; the Wood Handbook takes the modulus of rupture as a low estimate of tensile
    strength parallel to grain (chapter 5, from memory).
    """
    return math.pi / 4.0 * dowel_mm**2 * mor_MPa
