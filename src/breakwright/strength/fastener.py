"""The fastener itself: snapping at the root of its thread, and its bending strength."""

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = ["ROOT_OF_LAG", "ROOT_OF_SCREW", "root_tension", "sheared_off", "yield_moment"]

# Root over shank diameter where it was not measured. Wood screws: Wood Handbook, ch. 8, 'averages
# about two-thirds the shank diameter' (read in a copy). Lag screws: NDS Appendix L lists 0.227 in
# for 5/16 and 0.371 in for 1/2 (from memory).
ROOT_OF_SCREW = 0.667
ROOT_OF_LAG = 0.72


def root_tension(tensile: Floats, *, root: Floats) -> Floats:
    """Return the pull that snaps a screw at the root of its thread.

    F = f_u pi d_r^2 / 4

    Args: ``tensile`` f_u (MPa); ``root`` d_r (mm); one shape. Returns N.

    Valid for a straight pull.

    >>> round(float(root_tension(531.0, root=4.83 * 2.0 / 3.0)) / 1000.0, 1)
    4.3

    Source: statics; 531 MPa (77,000 psi) is of lag screws, Wood Handbook FPL-GTR-282, ch. 8.
    """
    return tensile * np.pi * root**2 / 4.0


def sheared_off(tensile: Floats, *, root: Floats) -> Floats:
    """Return the load across a screw that cuts it off in one plane through its thread.

    F = 0.6 f_u pi d_r^2 / 4

    Args: ``tensile`` f_u (MPa); ``root`` d_r (mm); one shape. Returns N.

    Valid for a plane without bending; long free lengths bend instead.

    >>> round(float(sheared_off(800.0, root=6.827)) / 1000.0, 2)
    17.57

    Source: shear strength of steel 0.6 of tensile: EN 1993-1-8, Table 3.4, class 8.8 (from
    memory); 36.6 mm2 x 0.6 x 800 MPa = 17.57 kN.
    """
    return 0.6 * tensile * np.pi * root**2 / 4.0


def yield_moment(tensile: Floats, *, diameter: Floats) -> Floats:
    """Return the characteristic yield moment of a round fastener.

    M_y = 0.3 f_u d^2.6

    Args: ``tensile`` f_u (MPa); ``diameter`` d (mm; of screws 1.1 times the root); one shape.
    Returns N mm.

    Valid for round nails, bolts and screws.

    >>> round(float(yield_moment(600.0, diameter=3.63)))
    5141

    Source: Eurocode 5, EN 1995-1-1, eq. 8.14 and 8.30; root x 1.1: section 8.7.1, as taught in
    textbooks. The number is computed; it enters the worked example of ``lateral_eurocode``.
    """
    return 0.3 * tensile * diameter**2.6
