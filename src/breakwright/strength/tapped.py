"""Threads cut in wood, plywood, fibreboard and printed plastic: shear on the thread's cylinder."""

import math

import numpy as np

from breakwright.strength.mechanism import Floats

__all__ = ["STRIP_SHARE", "engagement_fade", "tapped_strip_load"]

# Of the cylinder on the thread's major diameter, what the nut's thread fills at its root:
# 1/2 + (1/sqrt(3)) (3/8) sqrt(3) = 7/8 for basic sizes of any 60-degree thread.
STRIP_SHARE = 0.875
_ENOUGH = 50.0


def engagement_fade(percent: Floats) -> Floats:
    """Return what is left of the stripping load where the hole leaves little thread.

    min(1, e / 50).

    ``percent``: engagement e in per cent of the full thread, any shape.
    Range: e from 0; down to half a thread the sheared area is hardly smaller, below it the flanks
    crush, which is taken as falling straight to nothing.

    >>> float(engagement_fade(76.9)), float(engagement_fade(25.0))
    (1.0, 0.5)

    Source: common practice, no source.
    """
    fade: Floats = np.minimum(1.0, percent / _ENOUGH)
    return fade


def tapped_strip_load(
    diameter_mm: Floats,
    engaged_mm: Floats,
    shear_MPa: Floats,  # noqa: N803
    engagement_percent: Floats,
) -> Floats:
    """Return the load (N) at which a thread cut in wood, board or plastic strips.

    F = 0.875 pi D L t min(1, e/50).

    ``diameter_mm``: major diameter D of the bolt, any shape; ``engaged_mm``: length L with thread
    in it; ``shear_MPa``: effective shear strength t of the material on the cylinder;
    ``engagement_percent``: e.
    Range: an order of magnitude. t is the weak input: plywood shears through its thickness, some
    plies across the fibre and some by rolling. Three tests of one's own replace it.

    >>> cylinder = math.pi * 8.0 * 18.0
    >>> [round(float(tapped_strip_load(8.0, 18.0, t, 77.0)) / 1000, 2) for t in (6.0, 9.5, 13.0)]
    [2.38, 3.76, 5.15]

    Source: area as ASME B1.1 and FED-STD-H28 give it for internal threads, basic sizes; no source
    was found for the shear strength of tapped wood.
    """
    cylinder = math.pi * diameter_mm * engaged_mm
    return STRIP_SHARE * cylinder * shear_MPa * engagement_fade(engagement_percent)
