"""Where a box of the upright frame lies in the picture as the camera stored it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["Box", "Upright"]

Box = tuple[int, int, int, int]


@dataclass(frozen=True, slots=True)
class Upright:
    """A stored picture of ``raw_width`` x ``raw_height`` px, shown turned clockwise by
    ``rotation`` degrees (0, 90, 180 or 270). Boxes are left, top, right, bottom, the last two
    not included."""

    raw_width: int
    raw_height: int
    rotation: int

    @property
    def width(self) -> int:
        return self.raw_height if self.rotation in (90, 270) else self.raw_width

    @property
    def height(self) -> int:
        return self.raw_width if self.rotation in (90, 270) else self.raw_height

    def clipped(self, box: Box) -> Box:
        """Return what of an upright box lies within the frame; empty boxes stay empty."""
        left, top, right, bottom = box
        left, right = (min(max(x, 0), self.width) for x in (left, right))
        top, bottom = (min(max(y, 0), self.height) for y in (top, bottom))
        return left, top, max(left, right), max(top, bottom)

    def stored(self, box: Box) -> Box:
        """Return the stored picture's box that shows the upright ``box`` (within the frame)."""
        left, top, right, bottom = box
        if self.rotation == 90:
            return top, self.raw_height - right, bottom, self.raw_height - left
        if self.rotation == 180:
            return (
                self.raw_width - right,
                self.raw_height - bottom,
                self.raw_width - left,
                self.raw_height - top,
            )
        if self.rotation == 270:
            return self.raw_width - bottom, left, self.raw_width - top, right
        return box

    def turned(self, stored: NDArray[np.uint8]) -> NDArray[np.uint8]:
        """Return a crop (h, w, ...) of the stored picture as it stands upright (a copy)."""
        return np.array(np.rot90(stored, -(self.rotation // 90)), order="C")
