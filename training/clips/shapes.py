"""The outlines of segments, in the manners of several makers, as soft masks."""

import math
from collections.abc import Callable
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

__all__ = ["Manner", "place_masks"]

Mask = NDArray[np.float32]
Points = NDArray[np.float64]

_FINER = 4  # drawn so many times larger, then averaged


class Manner(StrEnum):
    """How the ends of a segment are cut."""

    MITRED = "mitred"  # trapezoids that meet along diagonals, as on most glass
    POINTED = "pointed"  # six-cornered bars
    ROUND = "round"  # bars with round ends
    BLUNT = "blunt"  # plain bars


def place_masks(
    height: int, *, manner: Manner, thick: float, gap: float, slant: float, round_point: bool
) -> dict[str, tuple[int, Mask]]:
    """Return for each segment 'a'..'g' and the point 'p' its mask (h, w), 0 to 1, of one place
    whose digit is ``height`` px high and 0.56 times as wide, and the column of the mask's left
    edge counted from the digit's left edge. ``thick`` and ``gap`` are parts of the height,
    ``slant`` is the tangent of the lean to the right."""
    import cv2

    high, wide = 1.0, 0.56
    pad = 0.30
    outlines = {name: _CUTS[manner](name, wide, high, thick, gap) for name in "abcdefg"}
    outlines["p"] = _point(wide, high, thick, round_point)
    size = (math.ceil((wide + 2 * pad) * height) * _FINER, height * _FINER)
    masks: dict[str, tuple[int, Mask]] = {}
    for name, points in outlines.items():
        leant = points.copy()
        # Leaning about the middle keeps the digit's box where a person would mark it.
        leant[:, 0] += slant * (high / 2 - points[:, 1])
        canvas = np.zeros((size[1], size[0]), np.uint8)
        at = np.round((leant + np.array([pad, 0.0])) * height * _FINER).astype(np.int32)
        cv2.fillPoly(canvas, [at], 255, cv2.LINE_AA)
        small = cv2.resize(
            canvas, (size[0] // _FINER, size[1] // _FINER), interpolation=cv2.INTER_AREA
        )
        masks[name] = (-round(pad * height), (small / np.float32(255.0)).astype(np.float32))
    return masks


def _bars(wide: float, high: float, thick: float) -> dict[str, tuple[float, float, float, float]]:
    """The middle line of each segment: x0, y0, x1, y1."""
    h = thick / 2
    left, right, top, mid, low = h, wide - h, h, high / 2, high - h
    return {
        "a": (left, top, right, top),
        "b": (right, top, right, mid),
        "c": (right, mid, right, low),
        "d": (left, low, right, low),
        "e": (left, mid, left, low),
        "f": (left, top, left, mid),
        "g": (left, mid, right, mid),
    }


def _frame(line: tuple[float, float, float, float]) -> tuple[Points, Points, Points, float]:
    """Start, direction, normal and length of a middle line."""
    a, b = np.array(line[:2]), np.array(line[2:])
    length = float(np.hypot(*(b - a)))
    along = (b - a) / length
    return a, along, np.array([-along[1], along[0]]), length


def _pointed(name: str, wide: float, high: float, thick: float, gap: float) -> Points:
    start, along, normal, length = _frame(_bars(wide, high, thick)[name])
    h = thick / 2
    corners = [
        (gap, 0.0),
        (gap + h, -h),
        (length - gap - h, -h),
        (length - gap, 0.0),
        (length - gap - h, h),
        (gap + h, h),
    ]
    return np.array([start + along * u + normal * v for u, v in corners])


def _blunt(name: str, wide: float, high: float, thick: float, gap: float) -> Points:
    start, along, normal, length = _frame(_bars(wide, high, thick)[name])
    h = thick / 2
    inset = h + gap
    corners = [(inset, -h), (length - inset, -h), (length - inset, h), (inset, h)]
    return np.array([start + along * u + normal * v for u, v in corners])


def _rounded(name: str, wide: float, high: float, thick: float, gap: float) -> Points:
    start, along, normal, length = _frame(_bars(wide, high, thick)[name])
    h = thick / 2
    turn = np.linspace(-math.pi / 2, math.pi / 2, 9)
    ends = [(length - gap - h + h * math.cos(a), h * math.sin(a)) for a in turn] + [
        (gap + h - h * math.cos(a), -h * math.sin(a)) for a in turn
    ]
    return np.array([start + along * u + normal * v for u, v in ends])


def _mitred(name: str, wide: float, high: float, thick: float, gap: float) -> Points:
    """Outer edge long, inner edge short: what is cut at 45 degrees at each corner."""
    w, t, g, m = wide, thick, gap * 0.7, high / 2
    half = t / 2
    trapezoids = {
        "a": [(g, 0), (w - g, 0), (w - t - g, t), (t + g, t)],
        "b": [(w, g), (w, m - g), (w - half, m - g), (w - t, m - half - g), (w - t, t + g)],
        "f": [(0, g), (0, m - g), (half, m - g), (t, m - half - g), (t, t + g)],
        "g": [
            (half + g, m),
            (t + g, m - half),
            (w - t - g, m - half),
            (w - half - g, m),
            (w - t - g, m + half),
            (t + g, m + half),
        ],
    }
    mirrored = {"d": "a", "c": "b", "e": "f"}
    if name in mirrored:
        return np.array([(x, high - y) for x, y in trapezoids[mirrored[name]]], float)
    return np.array(trapezoids[name], float)


def _point(wide: float, high: float, thick: float, round_point: bool) -> Points:
    centre = np.array([wide + 0.09, high - thick * 0.55])
    reach = thick * 0.55
    if not round_point:
        square = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
        return np.array([centre + reach * np.array(c) * 0.9 for c in square])
    turn = np.linspace(0.0, 2 * math.pi, 17)[:-1]
    return np.stack([centre[0] + reach * np.cos(turn), centre[1] + reach * np.sin(turn)], axis=1)


_CUTS: dict[Manner, Callable[[str, float, float, float, float], Points]] = {
    Manner.MITRED: _mitred,
    Manner.POINTED: _pointed,
    Manner.ROUND: _rounded,
    Manner.BLUNT: _blunt,
}
