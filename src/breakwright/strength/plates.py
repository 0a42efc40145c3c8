"""A plate with a hole in the middle, over two supports, pulled or pushed at the hole."""

from breakwright.strength.mechanism import Floats

__all__ = ["plate_bending_load", "plate_bending_stress", "plate_shear_load"]


def plate_bending_stress(
    load_N: Floats,  # noqa: N803
    *,
    width_mm: Floats,
    thickness_mm: Floats,
    hole_mm: Floats,
    span_mm: Floats,
) -> Floats:
    """Return the bending stress (MPa) beside the hole of a plate over two supports.

    s = (F S/4)/[(b - d) t^2/6].

    ``load_N``: F, any shape; ``width_mm``: width b across the span; ``thickness_mm``: t;
    ``hole_mm``: d; ``span_mm``: S between the supports' edges.
    Range: the hole in the middle, the grain (of solid wood) running from support to support; no
    stress concentration taken, wood and plywood even it out.

    >>> size = {"width_mm": 100.0, "thickness_mm": 18.0, "hole_mm": 8.0, "span_mm": 100.0}
    >>> round(plate_bending_stress(5000.0, **size), 1)
    25.2

    Source: statics on the net section (common practice, no source).
    """
    return load_N * span_mm / 4.0 / ((width_mm - hole_mm) * thickness_mm**2 / 6.0)


def plate_bending_load(
    mor_MPa: Floats,  # noqa: N803
    *,
    width_mm: Floats,
    thickness_mm: Floats,
    hole_mm: Floats,
    span_mm: Floats,
) -> Floats:
    """Return the load (N) at which a plate with a hole breaks in bending.

    F = 4 f W/S, W = (b - d) t^2/6: the stress turned round.

    ``mor_MPa``: bending strength f, any shape; the others as for the stress.
    Range: as for the stress. No size effect taken: plates are about as deep as the pieces that
    their strength comes from.

    >>> size = {"width_mm": 100.0, "thickness_mm": 18.0, "hole_mm": 8.0, "span_mm": 100.0}
    >>> round(plate_bending_load(55.0, **size))
    10930

    Source: statics on the net section; by hand 4 * 55 * 92 * 18^2/6/100 = 10930.
    """
    return 4.0 * mor_MPa * (width_mm - hole_mm) * thickness_mm**2 / 6.0 / span_mm


def plate_shear_load(
    shear_MPa: Floats,  # noqa: N803
    *,
    width_mm: Floats,
    thickness_mm: Floats,
    hole_mm: Floats,
) -> Floats:
    """Return the load (N) at which a plate with a hole shears between the hole and a support.

    F = (4/3) t (b - d) T; each side bears F/2, and 1.5 V/A is the largest shear stress.

    ``shear_MPa``: shear strength t of the plane along the plate (rolling shear of plywood), any
    shape; ``width_mm``: b; ``thickness_mm``: T; ``hole_mm``: d.
    Range: load at the middle; conservative where the supports are nearer than the thickness.

    >>> size = {"width_mm": 100.0, "thickness_mm": 18.0, "hole_mm": 8.0}
    >>> round(plate_shear_load(2.5, **size))
    5520

    Source: statics, Wood Handbook FPL-GTR-282 (2021), equation 9-14; by hand
    4/3 * 2.5 * 92 * 18 = 5520.
    """
    return 4.0 / 3.0 * shear_MPa * (width_mm - hole_mm) * thickness_mm
