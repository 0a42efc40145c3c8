"""Pulling screws out by Eurocode 5 and by its proposal for hardwood: characteristic loads."""

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = [
    "hardwood_screw",
    "hardwood_screw_moisture",
    "screw_group",
    "screw_withdrawal",
    "withdrawal_strength",
]


def withdrawal_strength(density: Floats, *, diameter: Floats, thread_length: Floats) -> Floats:
    """Return the characteristic withdrawal strength of a screw across the grain.

    f_ax,k = 0.52 d^-0.5 l_ef^-0.1 rho_k^0.8

    Args: ``density`` rho_k, characteristic (kg/m3); ``diameter`` d of the thread,
    ``thread_length`` l_ef (mm); one shape. Returns MPa.

    Valid for softwood, 6 <= d <= 12 mm, root 0.6 to 0.75 of d.

    >>> round(float(withdrawal_strength(350.0, diameter=8.0, thread_length=60.0)), 2)
    13.24

    Source: Eurocode 5, EN 1995-1-1:2004+A1:2008, eq. 8.39 (from memory).
    """
    return np.asarray(0.52 * diameter**-0.5 * thread_length**-0.1 * density**0.8)


def screw_withdrawal(
    density: Floats, *, diameter: Floats, thread_length: Floats, angle_deg: Floats
) -> Floats:
    """Return the characteristic load that pulls one screw out.

    F = f_ax,k d l_ef k_d / (1.2 cos^2 a + sin^2 a); k_d = min(d/8, 1)

    Args: ``density`` rho_k, characteristic (kg/m3); ``diameter`` d of the thread,
    ``thread_length`` l_ef (mm); ``angle_deg`` a between screw and grain; one shape. Returns N.

    Valid for softwood, 6 <= d <= 12 mm, root 0.6 to 0.75 of d, l_ef >= 6 d, angle >= 30 degrees.

    >>> F = screw_withdrawal(350.0, diameter=8.0, thread_length=60.0, angle_deg=90.0)
    >>> round(float(F))
    6355

    Source: Eurocode 5, EN 1995-1-1:2004+A1:2008, eq. 8.38 and 8.40 (from memory).
    """
    f = withdrawal_strength(density, diameter=diameter, thread_length=thread_length)
    a = np.radians(angle_deg)
    thin = np.minimum(diameter / 8.0, 1.0)
    return np.asarray(f * diameter * thread_length * thin / (1.2 * np.cos(a) ** 2 + np.sin(a) ** 2))


def screw_group(one: Floats, *, count: Floats) -> Floats:
    """Return what ONE screw bears when ``count`` of them are pulled together and the group fails.

    F_one = F n_ef / n, n_ef = n^0.9

    Args: ``one`` F, load of a single screw (N); ``count`` n; one shape. Returns N.

    Valid for screws that are pulled along their axis by one part.

    >>> round(float(4 * screw_group(1000.0, count=4.0)))
    3482

    Source: Eurocode 5, EN 1995-1-1:2004+A1:2008, eq. 8.41 (from memory).
    """
    return np.asarray(one * count**-0.1)


def hardwood_screw(density: Floats, *, diameter: Floats, thread_length: Floats) -> Floats:
    """Return the characteristic load that pulls one self-tapping screw out of hardwood.

    R_k = pi d l_ef x 7e-4 rho_k^1.6 d^-0.34

    Args: ``density`` rho_k, characteristic (kg/m3); ``diameter`` d of the thread,
    ``thread_length`` l_ef (mm); one shape. Returns N.

    Valid for European beech, ash and the like at 12 % moisture, across the grain, pre-drilled.

    >>> round(float(hardwood_screw(650.0, diameter=8.0, thread_length=40.0)) / 1000.0, 2)
    10.99

    Source: CIB-W18 paper 46-7-4 (2013), proposed equation.
    """
    return np.asarray(np.pi * diameter * thread_length * 7e-4 * density**1.6 * diameter**-0.34)


def hardwood_screw_moisture(load: Floats, *, moisture_pct: Floats) -> Floats:
    """Return a screw's load in hardwood at another moisture than 12 %.

    F = F_12 [1 - 0.024 (M - 12)]

    Args: ``load`` at 12 % (N); ``moisture_pct`` M; one shape. Returns N.

    Valid for 8 to 20 % moisture.

    >>> round(float(hardwood_screw_moisture(10.0, moisture_pct=13.0)), 2)
    9.76

    Source: CIB-W18 paper 46-7-4 (2013): 2.4 % less for each 1 % more moisture.
    """
    return load * (1.0 - 0.024 * (moisture_pct - 12.0))
