"""Pictures of a display for a person to look at: one for each thing it showed, and no more."""

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import Quad
from breakwright.reading.film_apart import farthest_apart
from breakwright.reading.film_rectify import shape_of, warped

__all__ = ["Keeper"]

Pixels = NDArray[np.uint8]

_DIGITS = 56.0
_QUALITY = 82
# Change of a stroke of the levelled strip (0 to 1) from the last picture kept; the longest time
# without one (s); the most bytes for one display, however long the film.
_CHANGED = 0.3
_AT_LEAST_EVERY_S = 2.0
_MOST_BYTES = 40_000_000


class Keeper:
    """Keeps pictures of the display marked by ``quad``."""

    def __init__(self, quad: Quad) -> None:
        self._shape = shape_of(quad, digits=_DIGITS)
        self._last: Pixels | None = None
        self._last_time = 0.0
        self._pictures: dict[int, bytes] = {}
        self._bytes = 0

    def wants(self, strip: Pixels, time: float) -> bool:
        """Say whether the frame at ``time`` (s), whose levelled strip is ``strip``, shows
        something that the last picture kept does not."""
        if self._last is None or time - self._last_time >= _AT_LEAST_EVERY_S:
            return True
        if self._last.shape != strip.shape:
            return True
        return farthest_apart(self._last, strip) > _CHANGED

    def keep(
        self,
        number: int,
        time: float,
        strip: Pixels,
        *,
        patch: Pixels,
        origin: tuple[int, int],
        corners: NDArray[np.float64],
    ) -> None:
        """Keep frame ``number``: ``patch`` (h, w, 3) is Y, U, V with its first px at ``origin``."""
        import cv2

        row = warped(patch, origin, corners, shape=self._shape)
        colours = cv2.cvtColor(row, cv2.COLOR_YUV2BGR)
        jpeg = cv2.imencode(".jpg", colours, [cv2.IMWRITE_JPEG_QUALITY, _QUALITY])[1].tobytes()
        self._pictures[number] = jpeg
        self._bytes += len(jpeg)
        self._last, self._last_time = strip, time
        if self._bytes > _MOST_BYTES:
            self._thin_out()

    def pictures(self) -> dict[int, bytes]:
        """Return frame number -> JPEG bytes."""
        return dict(sorted(self._pictures.items()))

    def _thin_out(self) -> None:
        """Leave out every second picture of the older half: of a long film, the early idling."""
        numbers = sorted(self._pictures)
        for number in numbers[1 : len(numbers) // 2 : 2]:
            self._bytes -= len(self._pictures.pop(number))
