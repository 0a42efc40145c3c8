"""From a picture and the corners of its digit row to the strip that the network takes."""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_ports import STRIP_HEIGHT

__all__ = ["END_MARGIN", "LEAST_SPREAD", "MARGIN", "level", "padded", "rectified"]

MARGIN = 0.20
END_MARGIN = 0.25
LEAST_SPREAD = 24.0

Gray = NDArray[np.uint8]
Corners = NDArray[np.float64]


def rectified(picture: NDArray[np.float32], corners: Corners) -> NDArray[np.float32]:
    """Return the strip (32, W) of the digit row whose ``corners`` (4, 2) are top left, top right,
    bottom right, bottom left in ``picture`` (px, the centre of the first pixel at 0).

    ``MARGIN`` digit heights are added above and below, ``END_MARGIN`` left and right; one scale
    for both directions, W by the aspect.
    """
    import cv2

    high = (math.dist(corners[0], corners[3]) + math.dist(corners[1], corners[2])) / 2.0
    wide = (math.dist(corners[0], corners[1]) + math.dist(corners[3], corners[2])) / 2.0
    digit = STRIP_HEIGHT / (1.0 + 2.0 * MARGIN)
    width = max(4, round(digit * (wide / high + 2.0 * END_MARGIN)))
    end, edge = END_MARGIN * digit, MARGIN * digit
    into = np.array(
        [
            (end, edge),
            (width - end, edge),
            (width - end, STRIP_HEIGHT - edge),
            (end, STRIP_HEIGHT - edge),
        ]
    )
    # Finer first, then averaged: a warp alone would skip pixels of a large picture.
    fine = max(1, round(high / digit))
    matrix = cv2.getPerspectiveTransform(
        np.asarray(corners, np.float32), np.asarray(into * fine - 0.5, np.float32)
    )
    size = (width * fine, STRIP_HEIGHT * fine)
    warped = cv2.warpPerspective(
        picture, matrix, size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
    )
    if fine > 1:
        warped = cv2.resize(warped, (width, STRIP_HEIGHT), interpolation=cv2.INTER_AREA)
    return np.asarray(warped, np.float32)


def level(strip: NDArray[np.float32]) -> Gray:
    """Return the strip with its 1st and 99th percentile at 0 and 255; less than 24 gray levels
    between them are not stretched to the full range.

    >>> level(np.full((32, 64), 90.0, np.float32)).max()
    np.uint8(0)
    """
    low, high = np.percentile(strip, (1.0, 99.0))
    scaled = (strip - low) * (255.0 / max(float(high - low), LEAST_SPREAD))
    return np.asarray(np.clip(scaled, 0.0, 255.0), np.uint8)


def padded(strips: Sequence[Gray], *, least: int = 64) -> Gray:
    """Return the strips (n, 32, W) as one array, each padded left and right alike with its edge
    columns to the widest, W a multiple of 4."""
    width = max([least, *(strip.shape[1] for strip in strips)])
    width += -width % 4
    out = np.empty((len(strips), STRIP_HEIGHT, width), np.uint8)
    for number, strip in enumerate(strips):
        more = width - strip.shape[1]
        out[number] = np.pad(strip, ((0, 0), (more // 2, more - more // 2)), mode="edge")
    return out
