"""What a display's surroundings look like in the frame in which it was marked."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_plane import moved

__all__ = ["Template", "evened", "shrunk"]

Floats = NDArray[np.float64]
Pixels = NDArray[np.uint8]
Box = tuple[int, int, int, int]

_STRONG, _WEAK = 0.02, 0.002
_APART = 4
# A picture is evened out over so many px; noise below so many gray values stays small.
_EVEN_OVER, _EVEN_NOISE, _EVEN_SPREAD = 17, 5.0, 45.0


@dataclass(frozen=True, slots=True)
class Template:
    """``even`` (h, w) is the evened picture, one in ``scale`` of the frame's px, ``plain`` the
    picture as it was; ``points`` (n, 2) are px of it that are easily found again, ``near`` (n,)
    says which of them lie so close to the row that they belong to the display's own housing.
    ``to_frame`` (3, 3) takes px of the picture to px of the frame."""

    even: Pixels
    plain: Pixels
    scale: int
    points: NDArray[np.float32]
    near: NDArray[np.bool_]
    to_frame: Floats

    @classmethod
    def of(
        cls, patch: Pixels, origin: tuple[int, int], *, scale: int, corners: Floats, most: int
    ) -> "Template":
        """Take ``patch`` of the frame, its first px at ``origin``; the digits lie within
        ``corners`` (4, 2)."""
        import cv2

        plain = shrunk(patch, scale)
        even = evened(plain)
        to_frame = frame_of(scale, origin)
        row = moved(corners, np.asarray(np.linalg.inv(to_frame), np.float64))
        high = float(np.linalg.norm(row[3] - row[0]) + np.linalg.norm(row[2] - row[1])) / 2.0
        outline = row.astype(np.float32).reshape(-1, 1, 2)
        grid = np.zeros(plain.shape, np.uint8)
        cv2.fillConvexPoly(grid, np.rint(row).astype(np.int32), (255,))
        # A flow window that reached the digits would follow them.
        apart = np.asarray(
            cv2.distanceTransform(255 - grid, cv2.DIST_L2, cv2.DIST_MASK_PRECISE), np.float32
        )
        mask = np.where(apart > max(3.0, 0.2 * high), 255, 0).astype(np.uint8)
        mask[:3], mask[-3:], mask[:, :3], mask[:, -3:] = 0, 0, 0, 0
        points = np.empty((0, 2), np.float32)
        for quality in (_STRONG, _WEAK):
            found = cv2.goodFeaturesToTrack(even, most, quality, _APART, mask=mask, blockSize=5)
            if found is not None:
                points = np.asarray(found, np.float32).reshape(-1, 2)
            if len(points) >= most // 2:
                break
        reach = [-cv2.pointPolygonTest(outline, (float(x), float(y)), True) for x, y in points]
        near = np.array([one <= high for one in reach], np.bool_)
        return cls(even, plain, scale, points, near, to_frame)


def frame_of(scale: int, origin: tuple[int, int]) -> Floats:
    """Return what takes px of a picture shrunk ``scale`` times, cut out at ``origin``, to px of
    the frame (pixel centres at whole numbers)."""
    half = (scale - 1) / 2.0
    return np.array(
        [[scale, 0.0, origin[0] + half], [0.0, scale, origin[1] + half], [0.0, 0.0, 1.0]]
    )


def shrunk(patch: Pixels, scale: int) -> Pixels:
    """Return ``patch`` averaged over ``scale`` x ``scale`` px; odd rests are left out."""
    import cv2

    if scale == 1:
        return patch
    size = (max(1, patch.shape[1] // scale), max(1, patch.shape[0] // scale))
    return np.asarray(
        cv2.resize(patch[: size[1] * scale, : size[0] * scale], size, interpolation=cv2.INTER_AREA)
    )


def evened(picture: Pixels) -> Pixels:
    """Return ``picture`` less its local mean, over its local spread: glare, shadow and a step of
    the exposure change a picture's brightness, but hardly this."""
    import cv2

    gray = picture.astype(np.float32)
    over = (_EVEN_OVER, _EVEN_OVER)
    mean = cv2.blur(gray, over, borderType=cv2.BORDER_REFLECT)
    squares = cv2.sqrBoxFilter(gray, cv2.CV_32F, over, borderType=cv2.BORDER_REFLECT)
    spread = np.sqrt(np.maximum(squares - mean * mean, 0.0))
    return np.asarray(
        cv2.convertScaleAbs((gray - mean) / (spread + _EVEN_NOISE) * _EVEN_SPREAD + 128.0)
    )
