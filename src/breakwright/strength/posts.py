"""A post pushed along its length: crushing when short, buckling when long."""

import math

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = ["euler_load", "post_load", "ylinen_factor"]

_C_SAWN = 0.8


def euler_load(
    moe_MPa: Floats,  # noqa: N803
    *,
    width_mm: Floats,
    depth_mm: Floats,
    buckling_mm: Floats,
) -> Floats:
    """Return the load (N) at which a slender straight post buckles about its thinner side.

    P = pi^2 E I/(K L)^2, I = long side x short side^3/12.

    ``moe_MPa``: E along the grain, any shape; ``width_mm``, ``depth_mm``: sides; ``buckling_mm``:
    K L, the length itself where both ends are held in place and may turn.
    Range: elastic, straight, load in the middle.

    >>> size = {"width_mm": 38.0, "depth_mm": 89.0, "buckling_mm": 600.0}
    >>> round(float(euler_load(13_400.0, **size)) / 1000.0, 1)
    149.5

    Source: Wood Handbook FPL-GTR-282 (2021), equation 9-25.
    """
    thin = np.minimum(width_mm, depth_mm)
    inertia = np.maximum(width_mm, depth_mm) * thin**3 / 12.0
    load: Floats = math.pi**2 * moe_MPa * inertia / buckling_mm**2
    return load


def ylinen_factor(euler_over_crushing: Floats, c: Floats) -> Floats:
    """Return what buckling leaves of a post's crushing load.

    C = (1 + r)/(2 c) - sqrt([(1 + r)/(2 c)]^2 - r/c).

    ``euler_over_crushing``: r, buckling load over crushing load, any shape; ``c``: 0.8 for sawn
    wood, 0.9 for glued laminated.
    Range: any slenderness; near r for slender posts, near 1 for stubby ones.

    >>> round(float(ylinen_factor(1.0, 0.8)), 3)
    0.691

    Source: Ylinen (1956), as in the NDS column formula (from memory); by hand
    1.25 - sqrt(1.5625 - 1.25) = 0.691.
    """
    half = (1.0 + euler_over_crushing) / (2.0 * c)
    return half - np.sqrt(half**2 - euler_over_crushing / c)


def post_load(
    comp_par_MPa: Floats,  # noqa: N803
    moe_MPa: Floats,  # noqa: N803
    *,
    width_mm: Floats,
    depth_mm: Floats,
    buckling_mm: Floats,
) -> Floats:
    """Return the load (N) at which a wooden post crushes or buckles.

    P = C f_c b h, C by Ylinen with r = Euler's load over f_c b h and c = 0.8.

    ``comp_par_MPa``: compression strength along the grain f_c, any shape; ``moe_MPa``: E;
    ``width_mm``, ``depth_mm``: b and h; ``buckling_mm``: K L.
    Range: sawn wood, load in the middle of the end.

    >>> size = {"width_mm": 38.0, "depth_mm": 89.0, "buckling_mm": 600.0}
    >>> round(float(post_load(49.9, 13_400.0, **size)) / 1000.0)
    109

    Source: NDS column formula (from memory) with mean values in place of allowable ones.
    """
    crushing = comp_par_MPa * width_mm * depth_mm
    buckling = euler_load(moe_MPa, width_mm=width_mm, depth_mm=depth_mm, buckling_mm=buckling_mm)
    return crushing * ylinen_factor(buckling / crushing, np.asarray(_C_SAWN))
