"""A drawn wall with housings on it, seen by a camera that moves as the tests say."""

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import Quad

__all__ = ["HIGH", "ROW", "WIDE", "Reader", "housing", "quad_of", "scene", "seen_from"]

WIDE, HIGH = 480, 320
# The digit row of the first housing: left, top, right, bottom (px).
ROW = (150, 110, 246, 150)

Pixels = NDArray[np.uint8]
Floats = NDArray[np.float64]


def quad_of(corners: Floats) -> Quad:
    one, two, three, four = ((float(x), float(y)) for x, y in corners)
    return Quad(one, two, three, four)


def row_corners(row: tuple[int, int, int, int] = ROW) -> Floats:
    left, top, right, bottom = row
    return np.array([[left, top], [right, top], [right, bottom], [left, bottom]], float)


def scene(seed: int = 1) -> Pixels:
    """A wall of soft spots, without any display."""
    import cv2

    rng = np.random.default_rng(seed)
    wall = cv2.GaussianBlur(rng.normal(0.0, 1.0, (HIGH, WIDE)), (0, 0), 3.0)
    return np.asarray(np.clip(120.0 + 160.0 * wall, 0, 255), np.uint8)


def housing(
    picture: Pixels, *, text: str, row: tuple[int, int, int, int] = ROW, lit: bool = True
) -> Pixels:
    """Draw a scale's housing around ``row`` with ``text`` on its glass."""
    import cv2

    drawn = picture.copy()
    left, top, right, bottom = row
    cv2.rectangle(drawn, (left - 40, top - 34), (right + 40, bottom + 56), 60, -1)
    cv2.rectangle(drawn, (left - 24, top - 18), (right + 24, bottom + 18), 185 if lit else 40, -1)
    for place in range(4):
        middle = (left - 20 + 38 * place, bottom + 38)
        cv2.circle(drawn, middle, 5 + place, (140, 220, 20, 250)[place], -1)
    for x, y in ((left - 34, top - 28), (right + 33, top - 27), (right + 34, bottom + 50)):
        cv2.circle(drawn, (x, y), 3, 200, -1)
    if lit:
        cv2.putText(
            drawn, text, (left + 2, bottom - 4), cv2.FONT_HERSHEY_SIMPLEX, 1.15, 20, 4, cv2.LINE_AA
        )
    return drawn


def seen_from(picture: Pixels, motion: Floats) -> Pixels:
    """The picture moved by ``motion`` (3, 3), with a sensor's noise of about 2 of 255."""
    import cv2

    moved = cv2.warpPerspective(picture, motion, (WIDE, HIGH), borderMode=cv2.BORDER_REPLICATE)
    noise = np.random.default_rng(int(motion[0, 2] * 1000) % 2**31).normal(0.0, 2.0, moved.shape)
    return np.asarray(np.clip(moved + noise, 0, 255), np.uint8)


class Reader:
    """Instead of the network: reads a strip as '1' where its left half is the darker, '0' where
    its right half is, '' where it is flat; it counts the strips that it was given."""

    def __init__(self) -> None:
        self.strips = 0

    def read(self, strips: Pixels) -> NDArray[np.float32]:
        from breakwright.reading.film_ports import ALPHABET

        self.strips += len(strips)
        count, _, width = strips.shape
        told = np.full((count, width // 4, 1 + len(ALPHABET)), -12.0, np.float32)
        told[:, :, 0] = -0.01
        for number, strip in enumerate(strips):
            if int(strip.max()) - int(strip.min()) < 128:
                continue
            halves = strip[:, : width // 2].mean(), strip[:, width // 2 :].mean()
            sign = 1 + (halves[0] < halves[1])
            told[number, 3, 0], told[number, 3, sign] = -12.0, -0.01
        return told
