"""Draws the row of a display: how strongly each place is lit, at a fixed height of a digit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from training.strips.outline import outlines
from training.strips.segments import lit
from training.strips.style import Style
from training.strips.texts import Row

__all__ = ["DIGIT", "Face", "Lighting", "draw"]

DIGIT = 48
_SHIFT = 4


@dataclass(frozen=True, slots=True)
class Lighting:
    """``cells``: the strength of each cell (0 to 1); ``segments``: a factor by segment;
    ``ghost``: what dark segments show; ``old``: what the display showed before, with the strength
    that is left of it (0: nothing)."""

    cells: tuple[float, ...]
    segments: Mapping[str, float]
    ghost: float
    old: str
    left: float


@dataclass(frozen=True, slots=True)
class Face:
    """``strength`` (0 to 1) of every place, and the ``box`` of the digit row in it: left, top,
    right, bottom (px)."""

    strength: NDArray[np.float32]
    box: tuple[float, float, float, float]


def draw(
    row: Row, style: Style, lighting: Lighting, *, offsets: Sequence[float], surround: float
) -> Face:
    """Return the drawn row, digits ``DIGIT`` px high with ``surround`` digit heights around.

    ``offsets`` is how far each cell stands right of its place (digit heights).
    """
    import cv2

    lefts, total = _setting(row, style)
    lean = np.tan(style.slant)
    high = int(DIGIT * (1.0 + 2.0 * surround))
    wide = int(DIGIT * (total + abs(lean) + 2.0 * surround))
    plate = np.zeros((high, wide), np.uint8)
    shapes = outlines(
        width=style.width,
        thickness=style.thickness,
        gap=style.gap,
        waist=style.waist,
        corner=style.corner,
        joint=style.joint,
        middle=style.middle,
    )
    origin = np.array([surround + max(0.0, -lean), surround])

    unit = DIGIT * (1 << _SHIFT)

    def leant(points: NDArray[np.float64]) -> NDArray[np.float64]:
        x = points[:, 0] + (1.0 - points[:, 1]) * lean
        return np.asarray((np.stack([x, points[:, 1]], axis=1) + origin) * unit, np.float64)

    def paint(points: NDArray[np.float64], left: float, strength: float) -> None:
        if strength > 0.004:
            level = round(255 * min(1.0, strength))
            moved = np.rint(points + np.array([left * unit, 0.0])).astype(np.int32)
            cv2.fillPoly(plate, [moved], (level,), cv2.LINE_AA, _SHIFT)

    shapes = {name: leant(shape) for name, shape in shapes.items()}
    dash = leant(_dash(style))
    dot = leant(_dot(style)) if style.point else None
    for number, character in enumerate(row.cells):
        left, cell = lefts[number] + offsets[number], lighting.cells[number]
        if character == "-" and style.dash:
            paint(dash, left, cell)
            continue
        on = lit(character, style.varied)
        was = lit(lighting.old[number], style.varied) if lighting.left else ""
        narrow = character == "1" and style.narrow_one
        for name, shape in shapes.items():
            if narrow and name not in "bc":
                continue
            strength = _strength(name, on, was, lighting)
            offset = left - (style.width - style.narrow_one if narrow else 0.0)
            paint(shape, offset, cell * strength)
        if dot is not None:
            right = left + (style.narrow_one if narrow else style.width)
            paint(dot, right, cell if number in row.points else lighting.ghost * cell)
    if style.rounding:
        _round(plate, style.rounding * style.thickness * DIGIT)
    box = (
        DIGIT * float(origin[0]),
        DIGIT * float(origin[1]),
        DIGIT * float(origin[0] + total + max(0.0, lean)),
        DIGIT * float(origin[1] + 1.0),
    )
    return Face(np.asarray(plate, np.float32) / np.float32(255.0), box)


def _setting(row: Row, style: Style) -> tuple[list[float], float]:
    lefts, x = [], 0.0
    for number, character in enumerate(row.cells):
        lefts.append(x)
        narrow = character == "1" and style.narrow_one
        x += style.pitch - (style.width - style.narrow_one if narrow else 0.0)
        if number in row.points:
            x += style.point_room
    return lefts, x - (style.pitch - style.width)


def _strength(name: str, on: str, was: str, lighting: Lighting) -> float:
    own = lighting.segments.get(name, 1.0)
    if name in on:
        # A slow display has lit the new segments only as far as the old ones have faded.
        fresh = 1.0 if not lighting.left or name in was else 1.0 - 0.6 * lighting.left
        return own * fresh
    return max(lighting.ghost, lighting.left * own if name in was else 0.0)


def _dash(style: Style) -> NDArray[np.float64]:
    long, t = style.dash, style.thickness
    left = (style.width - long) / 2.0
    return np.array(
        [
            (left, style.waist - t / 2.0),
            (left + long, style.waist - t / 2.0),
            (left + long, style.waist + t / 2.0),
            (left, style.waist + t / 2.0),
        ]
    )


def _dot(style: Style) -> NDArray[np.float64]:
    turns = 12 if style.point_round else 4
    angles = (np.arange(turns) + 0.5) * 2.0 * np.pi / turns
    radius = style.point / (2.0 if style.point_round else np.sqrt(2.0))
    middle = np.array([style.point_at[0], 1.0 - style.point_at[1]])
    return middle + radius * np.stack([np.cos(angles), np.sin(angles)], axis=1)


def _round(plate: NDArray[np.uint8], radius: float) -> None:
    import cv2

    soft = cv2.GaussianBlur(plate, (0, 0), max(radius, 0.5)).astype(np.float32)
    # Steepened about the half level, a blurred corner becomes a rounded one.
    near = cv2.dilate(plate, np.ones((5, 5), np.uint8)).astype(np.float32)
    edge = np.clip((soft / np.maximum(near, 1.0) - 0.5) * 3.0 + 0.5, 0.0, 1.0)
    plate[:] = np.asarray(near * edge, np.uint8)
