"""How far beams and posts give under load, with the part that shear adds."""

from breakwright.strength.mechanism import Floats

__all__ = ["beam_deflection", "bending_deflection", "post_shortening", "shear_deflection"]


def bending_deflection(
    load_N: Floats,  # noqa: N803
    *,
    span_mm: Floats,
    spread_mm: Floats,
    stiffness_Nmm2: Floats,  # noqa: N803
) -> Floats:
    """Return the deflection (mm) in the middle of a beam on two supports from bending alone.

    x = F (8 L^3 - 4 L s^2 + s^3)/(384 E I): F L^3/(48 E I) for a point load, 5 F L^3/(384 E I)
    for one spread over the span.

    ``load_N``: F, any shape; ``span_mm``: L; ``spread_mm``: s, from 0 to L; ``stiffness_Nmm2``:
    E I.
    Range: elastic, supports that let the ends turn.

    >>> stiffness = 13_400.0 * 38.0 * 89.0**3 / 12.0
    >>> round(bending_deflection(6000.0, span_mm=400.0, spread_mm=0.0, stiffness_Nmm2=stiffness), 3)
    0.267

    Source: Wood Handbook FPL-GTR-282 (2021), equation 9-2 and Table 9-1.
    """
    shape = 8.0 * span_mm**3 - 4.0 * span_mm * spread_mm**2 + spread_mm**3
    return load_N * shape / (384.0 * stiffness_Nmm2)


def shear_deflection(
    load_N: Floats,  # noqa: N803
    *,
    span_mm: Floats,
    spread_mm: Floats,
    shear_stiffness_N: Floats,  # noqa: N803
) -> Floats:
    """Return what shear adds to the deflection (mm) in the middle of a beam.

    x = F (2 L - s)/(8 G A'): F L/(4 G A') for a point load, F L/(8 G A') spread over the span.

    ``load_N``: F, any shape; ``span_mm``: L; ``spread_mm``: s; ``shear_stiffness_N``: G A', with
    A' = 5 b h/6 for a rectangle.
    Range: elastic; for short deep beams of wood it is as much as the bending.

    >>> ga = 13_400.0 / 16.0 * 5.0 / 6.0 * 38.0 * 89.0
    >>> round(shear_deflection(6000.0, span_mm=400.0, spread_mm=0.0, shear_stiffness_N=ga), 3)
    0.254

    Source: Wood Handbook FPL-GTR-282 (2021), equation 9-2 and Table 9-1.
    """
    return load_N * (2.0 * span_mm - spread_mm) / (8.0 * shear_stiffness_N)


def beam_deflection(
    load_N: Floats,  # noqa: N803
    *,
    width_mm: Floats,
    depth_mm: Floats,
    span_mm: Floats,
    spread_mm: Floats,
    moe_MPa: Floats,  # noqa: N803
    e_over_g: Floats,
) -> Floats:
    """Return the whole deflection (mm) in the middle of a rectangular beam on two supports.

    Bending and shear added, with I = b h^3/12, A' = 5 b h/6 and G = E/r.

    ``load_N``: F, any shape; ``width_mm``: b; ``depth_mm``: h; ``span_mm``: L; ``spread_mm``: s;
    ``moe_MPa``: E; ``e_over_g``: r, about 16 for wood.
    Range: elastic.

    >>> size = {"width_mm": 38.0, "depth_mm": 89.0, "span_mm": 400.0, "spread_mm": 0.0}
    >>> round(beam_deflection(6000.0, **size, moe_MPa=13_400.0, e_over_g=16.0), 3)
    0.522

    Source: Wood Handbook FPL-GTR-282 (2021), equation 9-2.
    """
    bending = bending_deflection(
        load_N,
        span_mm=span_mm,
        spread_mm=spread_mm,
        stiffness_Nmm2=moe_MPa * width_mm * depth_mm**3 / 12.0,
    )
    shear = shear_deflection(
        load_N,
        span_mm=span_mm,
        spread_mm=spread_mm,
        shear_stiffness_N=moe_MPa / e_over_g * 5.0 / 6.0 * width_mm * depth_mm,
    )
    return bending + shear


def post_shortening(
    load_N: Floats,  # noqa: N803
    *,
    width_mm: Floats,
    depth_mm: Floats,
    length_mm: Floats,
    moe_MPa: Floats,  # noqa: N803
) -> Floats:
    """Return how much a post shortens (mm).

    x = F L/(E b h).

    ``load_N``: F, any shape; ``width_mm``: b; ``depth_mm``: h; ``length_mm``: L; ``moe_MPa``: E
    along the grain.
    Range: elastic, before it buckles; ends that settle give more.

    >>> size = {"width_mm": 38.0, "depth_mm": 89.0, "length_mm": 600.0}
    >>> round(post_shortening(10_000.0, **size, moe_MPa=13_400.0), 3)
    0.132

    Source: Hooke's law.
    """
    return load_N * length_mm / (moe_MPa * width_mm * depth_mm)
