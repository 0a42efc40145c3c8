"""The outlines of the seven segments: one shape with free ends covers pointed, mitred, blunt."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["Ends", "outlines"]

Outline = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Ends:
    """How far an end of a segment draws back, in thicknesses: at its ``outer`` and ``inner`` edge
    from the digit's rim (0: a full mitre reaches the rim), in the ``middle`` from the axis of the
    segment that it meets. (0, 0, 1) is a mitre, (1, 0, 1) a point, (1, 0.5, 1) a blunt end."""

    outer: float
    middle: float
    inner: float


def outlines(
    *,
    width: float,
    thickness: float,
    gap: float,
    waist: float,
    corner: Ends,
    joint: Ends,
    middle: Ends,
) -> dict[str, Outline]:
    """Return the segments a to g of a digit of height 1 and ``width``, y down, as polygons of
    six points (x, y).

    ``thickness`` and ``gap`` in digit heights; ``waist`` is the height of the middle segment's
    axis; ``corner`` are the ends at the four corners, ``joint`` those of the upright segments at
    the waist, ``middle`` those of the middle segment.
    """
    t = thickness
    left, right, top, bottom = t / 2.0, width - t / 2.0, t / 2.0, 1.0 - t / 2.0
    up, down, inwards = (0.0, -1.0), (0.0, 1.0), (1.0, 0.0)
    pull = (gap, t)
    return {
        "a": _bar((left, top), (right, top), up, pull, corner, corner),
        "b": _bar((right, top), (right, waist), inwards, pull, corner, joint),
        "c": _bar((right, waist), (right, bottom), inwards, pull, joint, corner),
        "d": _bar((left, bottom), (right, bottom), down, pull, corner, corner),
        "e": _bar((left, waist), (left, bottom), (-1.0, 0.0), pull, joint, corner),
        "f": _bar((left, top), (left, waist), (-1.0, 0.0), pull, corner, joint),
        "g": _bar((left, waist), (right, waist), down, pull, middle, middle),
    }


def _bar(
    start: tuple[float, float],
    end: tuple[float, float],
    outward: tuple[float, float],
    pull: tuple[float, float],
    first: Ends,
    last: Ends,
) -> Outline:
    gap, t = pull
    a, b, out = np.array(start), np.array(end), np.array(outward)
    along = (b - a) / np.linalg.norm(b - a)
    half = out * t / 2.0
    return np.array(
        [
            a + half + along * (gap + t * (first.outer - 0.5)),
            b + half - along * (gap + t * (last.outer - 0.5)),
            b - along * (gap + t * last.middle),
            b - half - along * (gap + t * (last.inner - 0.5)),
            a - half + along * (gap + t * (first.inner - 0.5)),
            a + along * (gap + t * first.middle),
        ]
    )
