"""A metal bar or box section as a beam: when it bends for good, and how far it gives."""

import numpy as np

from breakwright.strength.beams import beam_moment
from breakwright.strength.deflection import bending_deflection
from breakwright.strength.mechanism import Floats

__all__ = ["box_inertia", "metal_beam_deflection", "metal_beam_load"]


def box_inertia(width_mm: Floats, depth_mm: Floats, wall_mm: Floats) -> Floats:
    """Return the second moment of area (mm4) of a box section, or of a solid bar.

    I = [b h^3 - (b - 2 t)(h - 2 t)^3]/12; t = 0 stands for a solid bar: b h^3/12.

    ``width_mm``: b, any shape; ``depth_mm``: h, in the direction of the load; ``wall_mm``: t.
    Range: sharp corners; the round ones of a real tube take a few per cent off.

    >>> round(float(box_inertia(40.0, 40.0, 3.0)))
    101972
    >>> round(float(box_inertia(40.0, 10.0, 0.0)))
    3333

    Source: statics.
    """
    solid = width_mm * depth_mm**3 / 12.0
    hollow = (
        np.maximum(width_mm - 2.0 * wall_mm, 0.0) * np.maximum(depth_mm - 2.0 * wall_mm, 0.0) ** 3
    )
    return np.where(np.asarray(wall_mm) > 0.0, solid - hollow / 12.0, solid)


def metal_beam_load(
    yield_MPa: Floats,  # noqa: N803
    *,
    width_mm: Floats,
    depth_mm: Floats,
    wall_mm: Floats,
    span_mm: Floats,
    spread_mm: Floats,
) -> Floats:
    """Return the load (N) at which a metal beam on two supports begins to bend for good.

    F = R_e I/(h/2) * 8/(2 L - s).

    ``yield_MPa``: R_e, any shape; ``width_mm``: b; ``depth_mm``: h; ``wall_mm``: t (0: solid);
    ``span_mm``: L; ``spread_mm``: s.
    Range: first yield; walls thick enough not to dent under the load.

    >>> size = {"width_mm": 40.0, "depth_mm": 10.0, "wall_mm": 0.0}
    >>> round(float(metal_beam_load(235.0, **size, span_mm=200.0, spread_mm=0.0)))
    3133

    Source: statics; by hand 235 * 40 * 10^2/6 * 4/200 = 3133.
    """
    modulus = box_inertia(width_mm, depth_mm, wall_mm) / (depth_mm / 2.0)
    return yield_MPa * modulus / beam_moment(np.asarray(1.0), span_mm, spread_mm)


def metal_beam_deflection(
    load_N: Floats,  # noqa: N803
    *,
    width_mm: Floats,
    depth_mm: Floats,
    wall_mm: Floats,
    span_mm: Floats,
    spread_mm: Floats,
    moe_MPa: Floats,  # noqa: N803
) -> Floats:
    """Return the deflection (mm) in the middle of a metal beam; shear is left out.

    As for a beam in bending, with the box section's I.

    ``load_N``: F, any shape; the others as for the load; ``moe_MPa``: E.
    Range: elastic, spans from about 10 depths.

    >>> size = {"width_mm": 40.0, "depth_mm": 10.0, "wall_mm": 0.0, "span_mm": 200.0}
    >>> round(float(metal_beam_deflection(1000.0, **size, spread_mm=0.0, moe_MPa=205e3)), 3)
    0.244

    Source: statics; by hand 1000 * 200^3/(48 * 205000 * 3333.3) = 0.244.
    """
    return bending_deflection(
        load_N,
        span_mm=span_mm,
        spread_mm=spread_mm,
        stiffness_Nmm2=moe_MPa * box_inertia(width_mm, depth_mm, wall_mm),
    )
