"""Threads that strip: the areas that shear off in bolt and nut, and the engagement it takes."""

import math

from breakwright.strength.mechanism import Floats

__all__ = [
    "SHEAR_OF_TENSILE",
    "bolt_strip_area",
    "engagement_to_snap",
    "nut_strip_area",
    "strip_load",
]

# Von Mises: 1/sqrt(3); design guides take 0.58 to 0.6 of the tensile strength.
SHEAR_OF_TENSILE = 1.0 / math.sqrt(3.0)


def bolt_strip_area(
    engagement_mm: Floats, pitch_mm: Floats, nut_minor_mm: Floats, bolt_pitch_mm: Floats
) -> Floats:
    """Return the area (mm2) of the bolt's thread that shears when the bolt's thread strips.

    A = (pi/P) L K (P/2 + (E - K)/sqrt(3)).

    ``engagement_mm``: engaged length L, any shape; ``pitch_mm``: P; ``nut_minor_mm``: largest
    minor diameter of the nut, K; ``bolt_pitch_mm``: smallest pitch diameter of the bolt, E.
    Range: 60-degree threads fully engaged over L.

    >>> inch = 25.4
    >>> round(bolt_strip_area(inch, inch / 18, 0.265 * inch, 0.2712 * inch) / inch**2, 3)
    0.47

    Source: Machinery's Handbook, strength of screw threads (from memory); ASME B1.1 Appendix B.
    """
    width = pitch_mm / 2.0 + (bolt_pitch_mm - nut_minor_mm) / math.sqrt(3.0)
    return math.pi / pitch_mm * engagement_mm * nut_minor_mm * width


def nut_strip_area(
    engagement_mm: Floats, pitch_mm: Floats, bolt_major_mm: Floats, nut_pitch_mm: Floats
) -> Floats:
    """Return the area (mm2) of the nut's thread that shears when the nut's thread strips.

    A = (pi/P) L D (P/2 + (D - E)/sqrt(3)).

    ``engagement_mm``: engaged length L, any shape; ``pitch_mm``: P; ``bolt_major_mm``: smallest
    major diameter of the bolt, D; ``nut_pitch_mm``: largest pitch diameter of the nut, E.
    Range: 60-degree threads fully engaged over L.

    >>> inch = 25.4
    >>> round(nut_strip_area(inch, inch / 18, 0.3026 * inch, 0.2817 * inch) / inch**2, 3)
    0.682

    Source: Machinery's Handbook, strength of screw threads (from memory); ASME B1.1 Appendix B.
    """
    width = pitch_mm / 2.0 + (bolt_major_mm - nut_pitch_mm) / math.sqrt(3.0)
    return math.pi / pitch_mm * engagement_mm * bolt_major_mm * width


def strip_load(area_mm2: Floats, tensile_MPa: Floats) -> Floats:  # noqa: N803
    """Return the load (N) at which a metal thread of this shear area strips.

    F = A R_m / sqrt(3).

    ``area_mm2``: area that shears, any shape; ``tensile_MPa``: tensile strength R_m of the metal
    that strips.
    Range: ductile metals; cast iron and printed metal are others.

    >>> round(strip_load(100.0, 800.0))
    46188

    Source: von Mises' criterion; design guides take 0.58 to 0.6 (common practice, no source).
    """
    return area_mm2 * tensile_MPa * SHEAR_OF_TENSILE


def engagement_to_snap(
    stress_area_mm2: Floats, pitch_mm: Floats, nut_minor_mm: Floats, bolt_pitch_mm: Floats
) -> Floats:
    """Return the engaged length (mm) from which on the bolt snaps before its thread strips.

    L = 2 A / (pi K (1/2 + (E - K)/(sqrt(3) P))), for a nut at least as hard as the bolt.

    ``stress_area_mm2``: the bolt's stress area A, any shape; ``pitch_mm``: P; ``nut_minor_mm``:
    largest minor diameter of the nut, K; ``bolt_pitch_mm``: smallest pitch diameter, E.
    Range: bolt and nut of the same tensile strength; shear strength taken as half of it.

    >>> inch = 25.4
    >>> sizes = [x * inch for x in (1 / 18, 0.265, 0.2712)]
    >>> round(engagement_to_snap(0.0524 * inch**2, *sizes) / inch, 3)
    0.223

    Source: Machinery's Handbook, length of engagement, formula (1).
    """
    share = 0.5 + (bolt_pitch_mm - nut_minor_mm) / (math.sqrt(3.0) * pitch_mm)
    return 2.0 * stress_area_mm2 / (math.pi * nut_minor_mm * share)
