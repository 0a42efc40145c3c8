"""What is stored in a loaded rig, and how fast it could throw a loose part."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["energy_stored", "loose_speed"]


def energy_stored(load: ArrayLike, deflection: ArrayLike) -> NDArray[np.float64]:
    """Energy in a rig that springs back: the area under a straight load-deflection line.

    E = F x / 2

    load: N; deflection: mm; shapes broadcast. Returns J.
    Valid for elastic give; what has crushed or bent for good does not come back, so it is on the
    safe side for a given deflection.

    >>> float(energy_stored(6000.0, 5.0))
    15.0

    Source: statics; physics facts, 'Energy at break' (6 kN, 5 mm: 15 J).
    """
    return np.asarray(np.multiply(load, deflection) / 2000.0, dtype=np.float64)


def loose_speed(energy: ArrayLike, mass: ArrayLike) -> NDArray[np.float64]:
    """The speed of a loose part that takes up all of the energy.

    v = sqrt(2 E / m)

    energy: J; mass: kg, above 0; shapes broadcast. Returns m/s.
    Valid as an upper limit: some of the energy always goes elsewhere.

    >>> round(float(loose_speed(15.0, 0.1)), 1)
    17.3

    Source: conservation of energy; physics facts, 'Energy at break' (0.1 kg: 17 m/s).
    """
    return np.asarray(np.sqrt(np.multiply(2.0, energy) / mass), dtype=np.float64)
