"""A head or washer pulled through the piece that it holds down."""

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = ["head_pull_through_eurocode", "head_pull_through_nds"]

_LBF = 4.4482216152605
_INCH = 25.4


def head_pull_through_eurocode(
    density: Floats, *, head: Floats, strength: Floats, reference_density: Floats
) -> Floats:
    """Return the characteristic load that pulls a screw's head through.

    F = f_head,k d_h^2 (rho_k/rho_a)^0.8

    Args: ``density`` rho_k, characteristic (kg/m3); ``head`` d_h, diameter of head or washer (mm);
    ``strength`` f_head,k declared for the screw (MPa) at ``reference_density`` rho_a (kg/m3); one
    shape. Returns N.

    Valid for screws with a declared f_head; about 9-13 MPa at 350 kg/m3 are usual (from memory).

    >>> F = head_pull_through_eurocode(350.0, head=15.0, strength=9.4, reference_density=350.0)
    >>> round(float(F))
    2115

    Source: Eurocode 5, EN 1995-1-1:2004+A1:2008, eq. 8.40b (from memory); the number is 9.4 x 15^2.
    """
    return strength * head**2 * (density / reference_density) ** 0.8


def head_pull_through_nds(gravity_ovendry: Floats, *, head: Floats, thickness: Floats) -> Floats:
    """Return the NDS reference value of a round head pulled through a piece of wood.

    W_H = 690 pi D_H G^2 t for t <= 2.5 D_H, else 1725 pi D_H^2 G^2 (lb, in)

    Args: ``gravity_ovendry`` G on ovendry volume; ``head`` D_H and ``thickness`` t of the piece
    under it (mm); one shape. Returns N. This is an ALLOWABLE load.

    Valid for nails and screws with round heads, also for plywood and OSB sides.

    >>> W = head_pull_through_nds(0.50, head=0.75 * 25.4, thickness=0.75 * 25.4)
    >>> round(float(W) / 4.4482216)
    305

    Source: NDS 2018, eq. 12.2-6a and b (from memory).
    """
    head_in, t = head / _INCH, np.minimum(thickness, 2.5 * head) / _INCH
    return np.asarray(690.0 * np.pi * head_in * gravity_ovendry**2 * t * _LBF)
