"""From a digit row somewhere in a frame to a strip of the height that the network reads.

The strip is one enlargement of the row, never stretched: digits ``DIGITS`` px high, with margins
of ``MARGIN_Y`` and ``MARGIN_X`` digit heights around them, as the network was trained.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import Quad
from breakwright.reading.film_ports import STRIP_HEIGHT

__all__ = ["DIGITS", "MARGIN_X", "MARGIN_Y", "Shape", "box_around", "clipped", "shape_of", "warped"]

MARGIN_X, MARGIN_Y = 0.25, 0.20
DIGITS = STRIP_HEIGHT / (1.0 + 2.0 * MARGIN_Y)
# Narrower ones are padded: the network has never seen them.
_NARROWEST, _WIDEST = 64, 320

Floats = NDArray[np.float64]
Box = tuple[int, int, int, int]
Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Shape:
    """A strip ``width`` px wide and ``height`` px high in which the marked row lies with its
    upper left corner at ``left``, ``top``, ``across`` px wide and ``digits`` px high."""

    width: int
    height: int
    left: float
    top: float
    across: float
    digits: float

    @property
    def corners(self) -> Floats:
        """The row's corners in the strip, (4, 2), in a ``Quad``'s order."""
        right, bottom = self.left + self.across, self.top + self.digits
        return np.array(
            [[self.left, self.top], [right, self.top], [right, bottom], [self.left, bottom]]
        )

    def inner(self) -> tuple[slice, slice]:
        """The rows and columns of the strip that the marked row fills."""
        top, left = int(self.top), int(self.left)
        return (
            slice(top, max(top + 1, int(np.ceil(self.top + self.digits)))),
            slice(left, max(left + 1, int(np.ceil(self.left + self.across)))),
        )


def shape_of(
    quad: Quad, *, grown: float = 1.0, stretched: float = 1.0, digits: float = DIGITS
) -> Shape:
    """Return the strip for ``quad``.

    ``grown`` is how many times as high as the mark the digits are taken to be (a mark drawn too
    tightly has digits higher than itself), ``stretched`` how many times as wide as marked for
    their height; both 1 where the mark is right. ``digits`` is the height (px) they get.
    """
    height = round(digits * (1.0 + 2.0 * MARGIN_Y))
    marked = digits / grown
    across = marked * stretched * quad.width / max(quad.height, 1e-6)
    least = across + 2.0 * MARGIN_X * digits
    width = min(max(4 * int(np.ceil(least / 4.0)), _NARROWEST), _WIDEST)
    across = min(across, width - 2.0)
    return Shape(width, height, (width - across) / 2.0, (height - marked) / 2.0, across, marked)


def box_around(corners: Floats, *, beyond: float) -> Box:
    """Return left, top, right, bottom (px) of what lies within ``beyond`` px of ``corners``."""
    low, high = corners.min(axis=0) - beyond, corners.max(axis=0) + beyond
    return (
        int(np.floor(low[0])),
        int(np.floor(low[1])),
        int(np.ceil(high[0])) + 1,
        int(np.ceil(high[1])) + 1,
    )


def clipped(box: Box, size: tuple[int, int]) -> Box:
    """Return what of ``box`` lies within a frame of ``size`` (width, height; px).

    >>> clipped((-5, 10, 700, 20), (640, 480))
    (0, 10, 640, 20)
    """
    wide, high = size
    left, right = (min(max(x, 0), wide) for x in (box[0], box[2]))
    top, bottom = (min(max(y, 0), high) for y in (box[1], box[3]))
    return left, top, right, bottom


def warped(patch: Pixels, origin: tuple[int, int], corners: Floats, *, shape: Shape) -> Pixels:
    """Return the strip (height, width) or (height, width, channels) out of ``patch``.

    ``origin`` is where the patch's first pixel lies in the frame, ``corners`` (4, 2) the row's
    corners in the frame. What lies beyond the patch repeats its edge.
    """
    import cv2

    place = corners - np.asarray(origin, np.float64)
    high = float(np.linalg.norm(place[3] - place[0]) + np.linalg.norm(place[2] - place[1])) / 2.0
    fold = int(high / shape.digits)
    if fold >= 2:
        # Single points of a fine picture would catch its noise: averaged beforehand.
        size = (patch.shape[1] // fold, patch.shape[0] // fold)
        patch = np.asarray(
            cv2.resize(
                patch[: size[1] * fold, : size[0] * fold], size, interpolation=cv2.INTER_AREA
            )
        )
        place = (place + 0.5) / fold - 0.5
    onto = cv2.getPerspectiveTransform(shape.corners.astype(np.float32), place.astype(np.float32))
    return np.asarray(
        cv2.warpPerspective(
            patch,
            onto,
            (shape.width, shape.height),
            flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
            borderMode=cv2.BORDER_REPLICATE,
        )
    )
