"""Sixty-degree threads, ISO metric and unified inch: their sizes from diameter and pitch."""

import math

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = [
    "CUT_INCH",
    "CUT_METRIC",
    "engagement_percent",
    "hole_for",
    "minor_diameter",
    "pitch_diameter",
    "stress_area",
]

# What a stress area takes off the diameter, in pitches: ASME B1.1 and ISO 898-1 differ a little.
CUT_INCH = 0.9743
CUT_METRIC = 0.9382


def stress_area(diameter_mm: Floats, pitch_mm: Floats, cut: Floats) -> Floats:
    """Return the area (mm2) that a bolt's tensile stress is reckoned with.

    A = (pi/4) (D - c P)^2, with c = 0.9743 for inch and 0.9382 for metric threads.

    ``diameter_mm``: major diameter D, any shape; ``pitch_mm``: pitch P; ``cut``: c.
    Range: 60-degree threads of the unified and ISO metric forms, c P < D.

    >>> round(stress_area(8.0, 1.25, CUT_METRIC), 1)
    36.6
    >>> round(stress_area(7.9375, 25.4 / 18, CUT_INCH) / 25.4**2, 4)
    0.0524

    Source: ASME B1.1, tensile stress area; ISO 898-1, nominal stress area (both formulas as in
    textbooks; the areas agree with the reprinted tables).
    """
    return math.pi / 4.0 * (diameter_mm - cut * pitch_mm) ** 2


def pitch_diameter(diameter_mm: Floats, pitch_mm: Floats) -> Floats:
    """Return the basic pitch diameter (mm), where thread and groove are equally wide.

    D2 = D - 0.649519 P (that is D - 3/8 sqrt(3) P).

    ``diameter_mm``: major diameter D, any shape; ``pitch_mm``: pitch P.
    Range: basic sizes of 60-degree threads; no tolerance taken.

    >>> round(pitch_diameter(8.0, 1.25), 3)
    7.188

    Source: ISO 724 (from memory); M8 as printed there.
    """
    return diameter_mm - 0.375 * math.sqrt(3.0) * pitch_mm


def minor_diameter(diameter_mm: Floats, pitch_mm: Floats) -> Floats:
    """Return the basic minor diameter (mm) of an internal thread: the hole that a nut has.

    D1 = D - 1.082532 P (that is D - 5/8 sqrt(3) P).

    ``diameter_mm``: major diameter D, any shape; ``pitch_mm``: pitch P.
    Range: basic sizes of 60-degree threads; no tolerance taken.

    >>> round(minor_diameter(8.0, 1.25), 3)
    6.647

    Source: ISO 724 (from memory); M8 as printed there.
    """
    return diameter_mm - 0.625 * math.sqrt(3.0) * pitch_mm


def engagement_percent(diameter_mm: Floats, pitch_mm: Floats, hole_mm: Floats) -> Floats:
    """Return how much of the full thread's depth a hole of this size leaves, in per cent.

    e = 100 (D - hole) / (1.299038 P); a full thread is 3/4 of the sharp 60-degree triangle, on
    both sides.

    ``diameter_mm``: major diameter D, any shape; ``pitch_mm``: pitch P; ``hole_mm``: drilled hole.
    Range: any 60-degree thread and hole; 0 where the hole is as large as the thread.

    >>> round(float(engagement_percent(7.9375, 25.4 / 18, 0.257 * 25.4)), 1)
    76.9
    >>> round(float(engagement_percent(7.9375, 25.4 / 18, 7.0)), 1)
    51.1

    Source: tap drill formula of Machinery's Handbook (formula from memory, values recomputed).
    """
    share = (diameter_mm - hole_mm) / (0.75 * math.sqrt(3.0) * pitch_mm)
    return 100.0 * np.maximum(share, 0.0)


def hole_for(diameter_mm: Floats, pitch_mm: Floats, percent: Floats) -> Floats:
    """Return the hole (mm) that leaves this share of the full thread's depth.

    hole = D - 1.299038 P e/100: the engagement turned round.

    ``diameter_mm``: major diameter D, any shape; ``pitch_mm``: pitch P; ``percent``: e, above 0
    and up to 100.
    Range: any 60-degree thread.

    >>> round(hole_for(7.9375, 25.4 / 18, 65.0) / 25.4 * 64, 1)  # 17/64 inch
    17.0

    Source: as for the engagement.
    """
    return diameter_mm - 0.75 * math.sqrt(3.0) * pitch_mm * percent / 100.0
