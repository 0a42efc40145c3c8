"""Allowable pull on screws and nails by the NDS: what a code permits, several times below the
load that breaks. Used to check the mean equations, and never as a prediction."""

from breakwright.strength.mechanism import Floats

__all__ = ["lag_screw_allowable", "nail_allowable", "wood_screw_allowable"]

_LBF = 4.4482216152605
_INCH = 25.4


def lag_screw_allowable(gravity_ovendry: Floats, *, diameter: Floats) -> Floats:
    """Return the NDS reference withdrawal value of a lag screw, per mm of thread.

    W = 1800 G^(3/2) D^(3/4) lb/in

    Args: ``gravity_ovendry`` G on ovendry volume; ``diameter`` D (mm); one shape. Returns N/mm.

    Valid for side grain, normal duration of load; end grain x 0.75.

    >>> round(float(lag_screw_allowable(0.50, diameter=0.3125 * 25.4)) * 25.4 / 4.4482216)
    266

    Source: NDS 2018, eq. 12.2-1 and Table 12.2A (266 lb/in for G 0.50 and 5/16 inch).
    """
    return 1800.0 * gravity_ovendry**1.5 * (diameter / _INCH) ** 0.75 * _LBF / _INCH


def wood_screw_allowable(gravity_ovendry: Floats, *, diameter: Floats) -> Floats:
    """Return the NDS reference withdrawal value of a wood screw, per mm of thread.

    W = 2850 G^2 D lb/in

    Args: ``gravity_ovendry`` G on ovendry volume; ``diameter`` D (mm); one shape. Returns N/mm.

    Valid for side grain, normal duration of load.

    >>> round(float(wood_screw_allowable(0.50, diameter=0.190 * 25.4)) * 25.4 / 4.4482216)
    135

    Source: NDS 2018, eq. 12.2-2 (from memory); 135 lb/in for No 10 and G 0.50 (from memory).
    """
    return 2850.0 * gravity_ovendry**2 * (diameter / _INCH) * _LBF / _INCH


def nail_allowable(gravity_ovendry: Floats, *, diameter: Floats) -> Floats:
    """Return the NDS reference withdrawal value of a smooth nail, per mm of penetration.

    W = 1380 G^(5/2) D lb/in

    Args: ``gravity_ovendry`` G on ovendry volume; ``diameter`` D (mm); one shape. Returns N/mm.

    Valid for side grain, normal duration of load.

    >>> round(float(nail_allowable(0.42, diameter=0.131 * 25.4)) * 25.4 / 4.4482216, 1)
    20.7

    Source: NDS 2018, eq. 12.2-3 (from memory); 20.7 lb/in: American Wood Council, Structural Wood
    Design Solved Example Problems, example E2.1a, as carried in an open structural package's tests.
    """
    return 1380.0 * gravity_ovendry**2.5 * (diameter / _INCH) * _LBF / _INCH
