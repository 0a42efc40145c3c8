"""A bolt pulled off its axis: bending on top of tension."""

import math

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = ["off_axis_load", "off_axis_stress"]


def off_axis_stress(load_N: Floats, area_mm2: Floats, offset_mm: Floats) -> Floats:  # noqa: N803
    """Return the largest stress (MPa) in a bolt whose load runs beside its axis.

    s = F/A + 32 F e/(pi d^3), with d = sqrt(4 A/pi).

    ``load_N``: F, any shape; ``area_mm2``: stress area A; ``offset_mm``: distance e of the load
    from the bolt's axis.
    Range: elastic, the bolt free to bend; a stiff nut and plate take part of the bending.

    >>> round(off_axis_stress(5000.0, 36.6, 0.0)), round(off_axis_stress(5000.0, 36.6, 1.0))
    (137, 297)

    Source: statics; 137 + 160 MPa for M8, 5 kN, 1 mm.
    """
    d = np.sqrt(4.0 * area_mm2 / math.pi)
    stress: Floats = load_N * (1.0 / area_mm2 + 32.0 * offset_mm / (math.pi * d**3))
    return stress


def off_axis_load(stress_MPa: Floats, area_mm2: Floats, offset_mm: Floats) -> Floats:  # noqa: N803
    """Return the load (N) at which a bolt pulled off its axis reaches a stress.

    F = s / (1/A + 32 e/(pi d^3)): the stress turned round.

    ``stress_MPa``: proof or yield stress s, any shape; ``area_mm2``: A; ``offset_mm``: e.
    Range: as for the stress. Past yield the bolt straightens, and snaps nearer to its plain
    tensile load.

    >>> round(off_axis_load(580.0, 36.6, 0.0)), round(off_axis_load(580.0, 36.6, 1.0))
    (21228, 9774)

    Source: statics.
    """
    return stress_MPa / off_axis_stress(np.asarray(1.0), area_mm2, offset_mm)
