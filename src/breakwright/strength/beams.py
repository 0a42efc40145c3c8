"""A beam on two supports: stresses, the load that breaks it, and how its size weakens wood."""

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = [
    "beam_bending_load",
    "beam_bending_stress",
    "beam_moment",
    "beam_shear_load",
    "beam_shear_stress",
    "bending_size_factor",
    "equal_loads_apart",
    "shear_size_factor",
]

_M = 18.0  # Weibull exponent of the handbook's size effect
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(19)  # exact for degree 2 x 18


def beam_moment(load_N: Floats, span_mm: Floats, spread_mm: Floats) -> Floats:  # noqa: N803
    """Return the largest bending moment (N mm) of a beam on two supports.

    M = F (2 L - s)/8: F L/4 for a load at a point in the middle, F L/8 spread over the span.

    ``load_N``: F, any shape; ``span_mm``: L between the supports; ``spread_mm``: length s in the
    middle over which the load is spread evenly, from 0 to L.
    Range: supports that let the ends turn.

    >>> beam_moment(6000.0, 400.0, 0.0), beam_moment(6000.0, 400.0, 400.0)
    (600000.0, 300000.0)

    Source: statics.
    """
    return load_N * (2.0 * span_mm - spread_mm) / 8.0


def beam_bending_stress(moment_Nmm: Floats, width_mm: Floats, depth_mm: Floats) -> Floats:  # noqa: N803
    """Return the bending stress (MPa) at the faces of a rectangular beam.

    s = M/(b h^2/6).

    ``moment_Nmm``: M, any shape; ``width_mm``: b; ``depth_mm``: h, in the direction of the load.
    Range: elastic; at rupture it is the modulus of rupture by definition.

    >>> round(beam_bending_stress(600_000.0, 38.0, 89.0), 2)
    11.96

    Source: Wood Handbook FPL-GTR-282 (2021), equation 9-13.
    """
    return moment_Nmm / (width_mm * depth_mm**2 / 6.0)


def beam_shear_stress(shear_N: Floats, width_mm: Floats, depth_mm: Floats) -> Floats:  # noqa: N803
    """Return the largest shear stress (MPa) along the middle of a rectangular beam.

    t = 1.5 V/(b h).

    ``shear_N``: shear force V (half the load of a beam loaded in the middle), any shape;
    ``width_mm``: b; ``depth_mm``: h.
    Range: rectangular, without notches and checks.

    >>> round(beam_shear_stress(3000.0, 38.0, 89.0), 2)
    1.33

    Source: Wood Handbook FPL-GTR-282 (2021), equation 9-14.
    """
    return 1.5 * shear_N / (width_mm * depth_mm)


def bending_size_factor(depth_mm: Floats, span_mm: Floats, apart_mm: Floats) -> Floats:
    """Return what a beam's modulus of rupture is of that of the 2 in. test piece.

    k = [36125 / (h L (1 + 18 a/L))]^(1/18).

    ``depth_mm``: h, any shape; ``span_mm``: L; ``apart_mm``: distance a between two equal loads,
    0 for one load in the middle.
    Range: clear straight-grained wood; 36125 mm2 is the 2 in. deep, 28 in. long test piece.

    >>> round(float(10_000 * bending_size_factor(254.0, 5486.4, 5486.4 / 3)))
    7327

    Source: Wood Handbook FPL-GTR-282 (2021), equation 9-18; its example (10 in. deep, 18 ft,
    third points, 10,000 lb/in2) prints 7,330.
    """
    volume = depth_mm * span_mm * (1.0 + _M * apart_mm / span_mm)
    return (36125.0 / volume) ** (1.0 / _M)


def equal_loads_apart(span_mm: Floats, spread_mm: Floats) -> Floats:
    """Return how far apart two equal loads would tire as much wood as one spread load does (mm).

    1 + 18 a/L = 19 (2/L) integral over the half span of (M(x)/M)^18 dx.

    ``span_mm``: L, any shape; ``spread_mm``: length s of the spread load, from 0 to L.
    Range: as for the size factor; a is 0 for a point load and 0.16 L for one spread over all.

    >>> [round(float(equal_loads_apart(1000.0, s))) for s in (0.0, 1000.0)]
    [0, 160]

    Source: derived from the weakest-link theory that equation 9-18 rests on (Weibull, exponent
    18); the handbook gives two equal loads only.
    """
    span, spread = np.asarray(span_mm, float), np.asarray(spread_mm, float)
    if not np.any(spread):
        return np.zeros(np.broadcast(span, spread).shape)
    moment = 2.0 * span - spread
    edge = (2.0 * span - 2.0 * spread) / moment
    outside = (span - spread) / 2.0 * edge**_M / (_M + 1.0)
    at = 0.5 * (_NODES + 1.0)
    sag = (spread / moment)[..., None] * at**2
    inside = spread / 2.0 * ((1.0 - sag) ** _M @ (0.5 * _WEIGHTS))
    filled = (_M + 1.0) * 2.0 / span * (outside + inside)
    apart: Floats = np.maximum(filled - 1.0, 0.0) * span / _M
    return apart


def shear_size_factor(width_mm: Floats, span_mm: Floats) -> Floats:
    """Return what a beam's shear strength is of that of the small shear block.

    k = min(1, 1.9 * 2 / A^(1/5)), A = b L in cm2.

    ``width_mm``: b, any shape; ``span_mm``: L, the length that bears shear.
    Range: unchecked beams; held at the block's strength, which small beams would pass.

    >>> round(float(shear_size_factor(140.0, 4000.0)), 3)
    0.676
    >>> float(shear_size_factor(38.0, 400.0))
    1.0

    Source: Wood Handbook FPL-GTR-282 (2021), equation 9-20, notch factor 2; the cap is ours.
    """
    area_cm2 = width_mm * span_mm / 100.0
    return np.minimum(1.0, 2.0 * 1.9 / area_cm2**0.2)


def beam_bending_load(
    mor_MPa: Floats,  # noqa: N803
    *,
    width_mm: Floats,
    depth_mm: Floats,
    span_mm: Floats,
    spread_mm: Floats,
) -> Floats:
    """Return the load (N) at which a wooden beam on two supports breaks in bending.

    F = k s_R (b h^2/6) 8/(2 L - s), k the size factor.

    ``mor_MPa``: modulus of rupture s_R of the 2 in. test piece, any shape; ``width_mm``: b;
    ``depth_mm``: h; ``span_mm``: L; ``spread_mm``: s.
    Range: clear straight-grained wood, L at least about 10 h.

    >>> size = {"width_mm": 50.8, "depth_mm": 50.8, "span_mm": 711.2, "spread_mm": 0.0}
    >>> round(float(beam_bending_load(85.0, **size)))
    10445

    Source: Wood Handbook FPL-GTR-282 (2021), equations 9-13 and 9-18; by hand,
    85 * 50.8^3/6 * 4/711.2 = 10446 for the test piece itself (k = 0.99999).
    """
    size = bending_size_factor(depth_mm, span_mm, equal_loads_apart(span_mm, spread_mm))
    unit = beam_bending_stress(beam_moment(np.asarray(1.0), span_mm, spread_mm), width_mm, depth_mm)
    return size * mor_MPa / unit


def beam_shear_load(
    shear_MPa: Floats,  # noqa: N803
    *,
    width_mm: Floats,
    depth_mm: Floats,
    span_mm: Floats,
) -> Floats:
    """Return the load (N) at which a wooden beam on two supports shears along the grain.

    F = k t b h * 4/3, k the shear size factor; each support bears F/2.

    ``shear_MPa``: shear strength t of the block, any shape; ``width_mm``: b; ``depth_mm``: h;
    ``span_mm``: L.
    Range: unchecked wood; short deep beams, where the load comes near the supports, hold more.

    >>> round(float(beam_shear_load(7.8, width_mm=38.0, depth_mm=89.0, span_mm=400.0)))
    35173

    Source: Wood Handbook FPL-GTR-282 (2021), equations 9-14 and 9-20.
    """
    unit = beam_shear_stress(np.asarray(0.5), width_mm, depth_mm)
    return shear_size_factor(width_mm, span_mm) * shear_MPa / unit
