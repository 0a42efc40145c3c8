"""How far two levelled strips differ at the place where they differ most."""

import numpy as np
from numpy.typing import NDArray

__all__ = ["apart", "farthest_apart"]

Pixels = NDArray[np.uint8]

# About the width of a digit's stroke in a strip (px).
_BLOCK = 4


def apart(one: Pixels, other: Pixels) -> float:
    """Return the mean difference (0 to 1) of two strips of one shape.

    >>> apart(np.zeros((8, 8), np.uint8), np.full((8, 8), 51, np.uint8))
    0.2
    """
    import cv2

    return float(cv2.norm(one, other, cv2.NORM_L1)) / (255.0 * one.size)


def farthest_apart(one: Pixels, other: Pixels) -> float:
    """Return the largest difference (0 to 1) of two strips of one shape, averaged over blocks as
    wide as a stroke: noise and a trembling hand stay small in it, one stroke of one digit that
    comes or goes does not.

    >>> stroke = np.zeros((32, 64), np.uint8)
    >>> stroke[8:16, 20:24] = 255
    >>> farthest_apart(np.zeros((32, 64), np.uint8), stroke)
    1.0
    """
    import cv2

    size = (one.shape[1] // _BLOCK, one.shape[0] // _BLOCK)
    blocks = cv2.resize(cv2.absdiff(one, other), size, interpolation=cv2.INTER_AREA)
    return float(cv2.minMaxLoc(blocks)[1]) / 255.0
