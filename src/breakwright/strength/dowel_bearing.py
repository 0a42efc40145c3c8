"""Wood crushed by the side of a nail, screw, pin or bolt (embedment)."""

from breakwright.strength.angle import hankinson
from breakwright.strength.mechanism import Floats

__all__ = ["bolt_bearing", "bolt_bearing_across", "bolt_bearing_along", "nail_bearing"]

_PSI = 0.006894757293168
_INCH = 25.4


def nail_bearing(gravity: Floats) -> Floats:
    """Return the bearing strength of wood under a thin dowel, the same in all directions.

    F_e = 114.5 G^1.84

    Args: ``gravity`` G on ovendry volume; any shape. Returns MPa.

    Valid for nails and screws thinner than 1/4 inch (6.35 mm).

    >>> round(float(nail_bearing(0.48)), 1)
    29.7

    Source: Wood Handbook FPL-GTR-282, eq. 8-3 (16,600 psi); NDS 2018 12.3.3.
    """
    return 114.5 * gravity**1.84


def bolt_bearing_along(gravity: Floats) -> Floats:
    """Return the bearing strength along the grain under a bolt or pin.

    F_e = 11,200 G psi

    Args: ``gravity`` G on ovendry volume; any shape. Returns MPa.

    Valid for 1/4 to 1 inch (6.35 to 25.4 mm).

    >>> round(float(bolt_bearing_along(0.50)) / 0.006894757)
    5600

    Source: NDS 2018, 12.3.3 and Table 12.3.3: 5600 psi for G 0.50 (from memory).
    """
    return 11_200.0 * _PSI * gravity


def bolt_bearing_across(gravity: Floats, *, diameter: Floats) -> Floats:
    """Return the bearing strength across the grain under a bolt or pin.

    F_e = 6100 G^1.45 / sqrt(D) psi, D in inches

    Args: ``gravity`` G on ovendry volume; ``diameter`` D (mm); one shape. Returns MPa.

    Valid for 1/4 to 1 inch (6.35 to 25.4 mm).

    >>> round(float(bolt_bearing_across(0.50, diameter=12.7)) / 0.006894757, -1)
    3160.0

    Source: NDS 2018, 12.3.3 and Table 12.3.3, which rounds to 3150 psi (from memory).
    """
    return 6100.0 * _PSI * gravity**1.45 / (diameter / _INCH) ** 0.5


def bolt_bearing(gravity: Floats, *, diameter: Floats, angle_deg: Floats) -> Floats:
    """Return the bearing strength under a bolt or pin at an angle to the grain.

    F_e,a by Hankinson from the strengths along and across.

    Args: ``gravity`` G on ovendry volume; ``diameter`` (mm); ``angle_deg`` between load and grain
    (0 is along); one shape. Returns MPa.

    Valid for 1/4 to 1 inch (6.35 to 25.4 mm).

    >>> round(float(bolt_bearing(0.50, diameter=12.7, angle_deg=0.0)), 2)
    38.61

    Source: NDS 2018, eq. 12.3-11 (Hankinson; from memory).
    """
    return hankinson(
        bolt_bearing_along(gravity),
        bolt_bearing_across(gravity, diameter=diameter),
        angle_deg=angle_deg,
    )
