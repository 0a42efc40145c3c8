"""Crops taken straight from a decoded picture's planes, whatever their layout in memory."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from breakwright.video.upright import Box

__all__ = ["LAYOUTS", "Layout"]

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Layout:
    """How a pixel format lies in memory.

    ``depth`` is the bytes of a sample and ``shift`` the bits that it has beyond eight; ``across``
    and ``down`` are how many brightness samples share one colour sample; ``woven``: U and V
    alternate in the second plane.
    """

    across: int
    down: int
    depth: int = 1
    shift: int = 0
    woven: bool = False

    def brightness(self, picture: Any, box: Box) -> Pixels:
        """Return the box (in the stored picture) of the first plane, (h, w)."""
        left, top, right, bottom = box
        return self._eight(_rows(picture, 0, self.depth)[top:bottom, left:right])

    def colours(self, picture: Any, box: Box) -> tuple[Pixels, Pixels]:
        """Return the box of U and of V, repeated to the size of the brightness, each (h, w)."""
        left, top, right, bottom = box
        columns = slice(left // self.across, -(-right // self.across))
        rows = slice(top // self.down, -(-bottom // self.down))
        if self.woven:
            both = _rows(picture, 1, self.depth)[rows]
            pair = both[:, 0::2][:, columns], both[:, 1::2][:, columns]
        else:
            pair = (
                _rows(picture, 1, self.depth)[rows, columns],
                _rows(picture, 2, self.depth)[rows, columns],
            )
        skip_x, skip_y = left % self.across, top % self.down
        width, height = right - left, bottom - top

        def whole(part: NDArray[Any]) -> Pixels:
            large = self._eight(part)
            if self.across > 1:
                large = np.repeat(large, self.across, axis=1)
            if self.down > 1:
                large = np.repeat(large, self.down, axis=0)
            return large[skip_y : skip_y + height, skip_x : skip_x + width]

        return whole(pair[0]), whole(pair[1])

    def quarter(self, picture: Any, box: Box) -> Pixels:
        """Return the box, its sides multiples of 4, averaged over 4 x 4 samples."""
        import cv2

        left, top, right, bottom = box
        whole = _rows(picture, 0, self.depth)[top:bottom, left:right]
        size = ((right - left) // 4, (bottom - top) // 4)
        return self._eight(np.asarray(cv2.resize(whole, size, interpolation=cv2.INTER_AREA)))

    def _eight(self, samples: NDArray[Any]) -> Pixels:
        if self.shift == 0:
            return samples.astype(np.uint8, copy=False)
        return (samples >> self.shift).astype(np.uint8)


def _rows(picture: Any, number: int, depth: int) -> NDArray[Any]:
    plane = picture.planes[number]
    kind: type[np.uint8] | type[np.uint16] = np.uint8 if depth == 1 else np.uint16
    # A line in memory is longer than the picture is wide; the rest is the decoder's padding.
    flat = np.frombuffer(plane, kind)
    line = plane.line_size // depth
    return flat[: flat.size // line * line].reshape(-1, line)


# Formats that cameras and phones record; every other one is brought into the first of these.
LAYOUTS: Mapping[str, Layout] = MappingProxyType(
    {
        "yuv420p": Layout(2, 2),
        "yuvj420p": Layout(2, 2),
        "yuv422p": Layout(2, 1),
        "yuvj422p": Layout(2, 1),
        "yuv444p": Layout(1, 1),
        "yuvj444p": Layout(1, 1),
        "nv12": Layout(2, 2, woven=True),
        "yuv420p10le": Layout(2, 2, depth=2, shift=2),
        "yuv422p10le": Layout(2, 1, depth=2, shift=2),
        "p010le": Layout(2, 2, depth=2, shift=8, woven=True),
    }
)
