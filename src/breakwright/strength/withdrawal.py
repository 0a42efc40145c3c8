"""Pulling nails, drift bolts and screws out of the side grain of clear wood: mean breaking loads.

All G are ovendry mass over volume at 12 % moisture, except for annular nails.
"""

from breakwright.strength.mechanism import Floats

__all__ = [
    "END_GRAIN_NAIL",
    "END_GRAIN_SCREW",
    "annular_nail",
    "drift_bolt",
    "lag_screw",
    "smooth_nail",
    "wood_screw",
]

# Share of the side-grain load that is left in end grain. Screws: Wood Handbook, ch. 8, 75 % when
# splitting is avoided, 'somewhat erratic', lag screws the same (as quoted from it in public; NDS
# 2018 12.2 has 0.75 for lag screws, read in a copy). Nails in softer woods 50 to 75 %, the middle
# taken (from memory).
END_GRAIN_SCREW = 0.75
END_GRAIN_NAIL = 0.625


def smooth_nail(gravity: Floats, *, diameter: Floats, penetration: Floats) -> Floats:
    """Return the mean load that pulls a bright smooth nail out of side grain, just after driving.

    p = 54.12 G^(5/2) D L

    Args: ``gravity`` G; ``diameter`` D and ``penetration`` L of the point (mm); one shape.
    Returns N.

    Valid for bright common nails in seasoned wood, pulled soon after driving and before changes of
    moisture, which can take away most of it.

    >>> round(float(smooth_nail(0.48, diameter=4.11, penetration=50.0)))
    1775

    Source: Wood Handbook FPL-GTR-282, eq. 8-1 (metric form; inch form 7,850).
    """
    return 54.12 * gravity**2.5 * diameter * penetration


def annular_nail(gravity_ovendry: Floats, *, diameter: Floats, penetration: Floats) -> Floats:
    """Return the mean load that pulls an annularly threaded nail out of side grain.

    p = 77.57 G^2 D L

    Args: ``gravity_ovendry`` G on OVENDRY volume (see ``density.ovendry_gravity``); ``diameter`` D
    of the shank and ``penetration`` L of its threaded part (mm); one shape. Returns N.

    Valid for post-frame ring-shank nails and the like, side grain.

    >>> round(float(annular_nail(0.51, diameter=4.11, penetration=50.0)))
    4146

    Source: Wood Handbook FPL-GTR-282, eq. 8-2a (metric form). No printed example is known; the
    number is computed.
    """
    return 77.57 * gravity_ovendry**2 * diameter * penetration


def drift_bolt(gravity: Floats, *, diameter: Floats, penetration: Floats) -> Floats:
    """Return the mean load that pulls a round drift bolt or pin out of side grain.

    p = 45.51 G^2 D L

    Args: ``gravity`` G; ``diameter`` D and ``penetration`` L (mm); one shape. Returns N.

    Valid for a hole about 1/8 inch (3 mm) smaller than the bolt.

    >>> round(float(drift_bolt(0.63, diameter=9.5, penetration=38.0)))
    6521

    Source: Wood Handbook FPL-GTR-282, eq. 8-9 (metric form; inch form 6,600).
    """
    return 45.51 * gravity**2 * diameter * penetration


def wood_screw(gravity: Floats, *, diameter: Floats, thread_length: Floats) -> Floats:
    """Return the mean load that pulls a wood screw out of side grain.

    p = 108.25 G^2 D L

    Args: ``gravity`` G; ``diameter`` D of the shank and ``thread_length`` L, the length of thread
    in the wood (mm); one shape. Returns N.

    Valid for lead holes of about 70 % of the root diameter in softwood and 90 % in hardwood, for
    screws from No 4 to No 24 or so that do not snap first.

    >>> round(float(wood_screw(0.63, diameter=4.83, thread_length=25.0)))
    5188

    Source: Wood Handbook FPL-GTR-282, eq. 8-10 (metric form; inch form 15,700).
    """
    return 108.25 * gravity**2 * diameter * thread_length


def lag_screw(gravity: Floats, *, diameter: Floats, thread_length: Floats) -> Floats:
    """Return the mean load that pulls a lag (coach) screw out of side grain.

    p = 125.4 G^(3/2) D^(3/4) L

    Args: ``gravity`` G; ``diameter`` D of the shank and ``thread_length`` L, the length of full
    thread in the wood (mm); one shape. Returns N.

    Valid for lead holes of 40-70 % (softwood) or 60-85 % (hardwood) of the shank.

    >>> round(float(lag_screw(0.48, diameter=7.94, thread_length=38.0)))
    7496

    Source: Wood Handbook FPL-GTR-282, eq. 8-14 (metric form; inch form 8,100).
    """
    return 125.4 * gravity**1.5 * diameter**0.75 * thread_length
