"""Two pieces of wood, one screw or nail across the joint, by Eurocode 5: six ways to give."""

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = [
    "MODES",
    "embedding_strength",
    "embedding_strength_predrilled",
    "single_shear",
    "single_shear_modes",
]

MODES = {
    "a": "the outer piece crushes",
    "b": "the inner piece crushes",
    "c": "both pieces crush and the fastener tilts",
    "d": "the outer piece crushes and the fastener bends once",
    "e": "the inner piece crushes and the fastener bends once",
    "f": "the fastener bends in both pieces",
}


def embedding_strength(density: Floats, *, diameter: Floats) -> Floats:
    """Return the characteristic strength of wood under a nail or screw driven without a hole.

    f_h,k = 0.082 rho_k d^-0.3

    Args: ``density`` rho_k, characteristic (kg/m3); ``diameter`` d (mm); one shape. Returns MPa.

    Valid for d <= 8 mm (nails) and screws up to 6 mm.

    >>> round(float(embedding_strength(350.0, diameter=3.63)) * 3.63 * 38.0)
    2689

    Source: Eurocode 5, EN 1995-1-1, eq. 8.15, as taught in textbooks.
    """
    return 0.082 * density * diameter**-0.3


def embedding_strength_predrilled(density: Floats, *, diameter: Floats) -> Floats:
    """Return the characteristic strength of wood under a nail or screw in a drilled hole.

    f_h,k = 0.082 (1 - 0.01 d) rho_k

    Args: ``density`` rho_k, characteristic (kg/m3); ``diameter`` d (mm); one shape. Returns MPa.

    Valid for nails and screws, and bolts loaded along the grain.

    >>> round(float(embedding_strength_predrilled(350.0, diameter=10.0)), 2)
    25.83

    Source: Eurocode 5, EN 1995-1-1, eq. 8.16, as taught in textbooks; number computed.
    """
    return 0.082 * (1.0 - 0.01 * diameter) * density


def single_shear_modes(
    f1: Floats, f2: Floats, *, diameter: Floats, t1: Floats, t2: Floats, moment: Floats
) -> dict[str, Floats]:
    """Return the load of each of the six ways in which a single-shear joint gives, no rope effect.

    a: f1 t1 d; b: f2 t2 d; c, d, e, f: Johansen's with b = f2/f1, and factors 1.05 (d, e) and
    1.15 (f).

    Args: ``f1``, ``f2``: embedding strengths of the outer (head side) and inner piece (MPa);
    ``diameter`` d, ``t1`` thickness of the outer piece, ``t2`` penetration in the inner (mm);
    ``moment`` M_y (N mm); one shape. Returns N by mode letter.

    Valid for timber to timber, one plane, load across the fastener.

    >>> f = embedding_strength(350.0, diameter=3.63)
    >>> M = 0.3 * 600.0 * 3.63**2.6
    >>> modes = single_shear_modes(f, f, diameter=3.63, t1=38.0, t2=42.0, moment=M)
    >>> [round(float(F)) for F in modes.values()]
    [2689, 2972, 1175, 1078, 1165, 981]

    Source: Eurocode 5, EN 1995-1-1, eq. 8.6 (from memory).
    """
    b, r = f2 / f1, t2 / t1
    fd = f1 * diameter
    c = (
        fd
        * t1
        / (1.0 + b)
        * (np.sqrt(b + 2.0 * b**2 * (1.0 + r + r**2) + b**3 * r**2) - b * (1.0 + r))
    )
    d = (
        1.05
        * fd
        * t1
        / (2.0 + b)
        * (np.sqrt(2.0 * b * (1.0 + b) + 4.0 * b * (2.0 + b) * moment / (fd * t1**2)) - b)
    )
    e = (
        1.05
        * fd
        * t2
        / (1.0 + 2.0 * b)
        * (np.sqrt(2.0 * b**2 * (1.0 + b) + 4.0 * b * (1.0 + 2.0 * b) * moment / (fd * t2**2)) - b)
    )
    f = 1.15 * np.sqrt(2.0 * b / (1.0 + b)) * np.sqrt(2.0 * moment * fd)
    return {"a": fd * t1, "b": f2 * t2 * diameter, "c": c, "d": d, "e": e, "f": f}


def single_shear(modes: dict[str, Floats], *, axial: Floats, most: float) -> Floats:
    """Return the lateral load of a single-shear joint: its weakest mode, with the rope effect.

    F_v = min over modes of F + min(F_ax/4, most x F) for c to f; F for a and b

    Args: ``modes`` from ``single_shear_modes`` (N); ``axial`` F_ax, what the fastener holds when
    pulled (N); ``most`` of Johansen's part that the rope effect may add (screws 1.0, round nails
    0.15); one shape. Returns N.

    Valid as ``single_shear_modes``.

    >>> modes = dict(a=2689.0, b=2972.0, c=1175.0, d=1078.0, e=1165.0, f=981.0)
    >>> round(float(single_shear(modes, axial=2000.0, most=1.0)))
    1481

    Source: Eurocode 5, EN 1995-1-1, 8.2.2(2) (from memory): 981 + 2000/4.
    """
    with_rope = [
        load + (np.minimum(axial / 4.0, most * load) if mode in "cdef" else 0.0)
        for mode, load in modes.items()
    ]
    return np.asarray(np.min(np.stack(np.broadcast_arrays(*with_rope)), axis=0))
