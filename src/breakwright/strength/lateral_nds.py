"""Two pieces of wood, one screw or nail across the joint, by the NDS: six yield modes."""

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = ["MODES_NDS", "reduction_term", "yield_modes"]

MODES_NDS = {
    "Im": "the inner piece crushes",
    "Is": "the outer piece crushes",
    "II": "both pieces crush and the fastener tilts",
    "IIIm": "the inner piece crushes and the fastener bends once",
    "IIIs": "the outer piece crushes and the fastener bends once",
    "IV": "the fastener bends in both pieces",
}


def reduction_term(diameter: Floats) -> Floats:
    """Return the NDS factor between the yield load and the allowable load of a thin fastener.

    R_d = 2.2 for D <= 0.17 in, 10 D + 0.5 for 0.17 < D < 0.25 in

    Args: ``diameter`` D (mm); any shape. Returns a pure number.

    Valid below 1/4 inch (6.35 mm).

    >>> [round(float(reduction_term(d * 25.4)), 2) for d in (0.148, 0.192)]
    [2.2, 2.42]

    Source: NDS 2018, Table 12.3.1B (from memory).
    """
    d = np.asarray(diameter) / 25.4
    return np.where(d <= 0.17, 2.2, 10.0 * d + 0.5)


def yield_modes(
    bearing_inner: Floats,
    bearing_outer: Floats,
    *,
    diameter: Floats,
    inner: Floats,
    outer: Floats,
    bend_yield: Floats,
) -> dict[str, Floats]:
    """Return the yield load of each of the six modes of a single-shear joint (not divided by R_d).

    Im: D l_m F_em; Is: D l_s F_es; II: k1 D l_s F_es; IIIm: k2 D l_m F_em/(1 + 2 R_e);
    IIIs: k3 D l_s F_em/(2 + R_e); IV: D^2 sqrt(2 F_em F_yb/(3(1 + R_e))); R_e = F_em/F_es

    Args: ``bearing_inner`` F_em, ``bearing_outer`` F_es, ``bend_yield`` F_yb (MPa); ``diameter`` D
    (of screws the root), ``inner`` l_m, ``outer`` l_s: lengths of the fastener in the inner (main)
    and outer (side) piece (mm); one shape. Returns N by mode.

    Valid for timber to timber, one plane. This is the yield load (5 % offset), not the ultimate.

    >>> inch, psi, lb = 25.4, 0.0068947573, 4.4482216
    >>> modes = yield_modes(4650 * psi, 4650 * psi, diameter=0.152 * inch, inner=1.5 * inch,
    ...                     outer=1.65 * inch, bend_yield=80_000 * psi)
    >>> round(float(modes["IV"]) / 2.2 / lb)
    117

    Source: NDS 2018, 12.3.1 and Table 12.3.1A (from memory).
    """
    re, rt = bearing_inner / bearing_outer, inner / outer
    k1 = (np.sqrt(re + 2.0 * re**2 * (1.0 + rt + rt**2) + rt**2 * re**3) - re * (1.0 + rt)) / (
        1.0 + re
    )
    stiff = 2.0 * bend_yield * diameter**2 / (3.0 * bearing_inner)
    k2 = -1.0 + np.sqrt(2.0 * (1.0 + re) + stiff * (1.0 + 2.0 * re) / inner**2)
    k3 = -1.0 + np.sqrt(2.0 * (1.0 + re) / re + stiff * (2.0 + re) / outer**2)
    return {
        "Im": diameter * inner * bearing_inner,
        "Is": diameter * outer * bearing_outer,
        "II": k1 * diameter * outer * bearing_outer,
        "IIIm": k2 * diameter * inner * bearing_inner / (1.0 + 2.0 * re),
        "IIIs": k3 * diameter * outer * bearing_inner / (2.0 + re),
        "IV": diameter**2 * np.sqrt(2.0 * bearing_inner * bend_yield / (3.0 * (1.0 + re))),
    }
