"""Rows of stroke-made marks in one picture: what may be digits, at every size and either way up."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["WORK", "Row", "rows"]

# The height of a digit (px) to which the picture is brought before strokes are looked for.
WORK = 24.0
# From one size to the next: a component is taken from 0.72 to 1.4 of WORK.
_SIZES = (20.0, 34.0, 58.0, 99.0, 168.0)
_LEAST, _MOST = 0.72 * WORK, 1.4 * WORK
# Strokes are this much (of 255) darker or brighter than what is beside them, at least.
_FAINT = 10.0

Pixels = NDArray[np.uint8]
Box = tuple[int, int, int, int]


@dataclass(frozen=True, slots=True)
class Row:
    """Boxes (left, top, width, height, in px of ``mask``) that stand side by side as digits do.
    ``onto`` (2, 3) brings a point of ``mask`` onto the picture; ``turned`` tells that the mask
    is the picture turned clockwise by a quarter."""

    mask: Pixels
    boxes: tuple[Box, ...]
    onto: NDArray[np.float64]
    turned: bool


def rows(picture: Pixels) -> Iterator[Row]:
    """Yield what may be rows of digits in a picture (h, w, 3; Y, U, V)."""
    import cv2

    high, wide = picture.shape[:2]
    for size in _SIZES:
        if size > 0.6 * min(high, wide):
            break
        scale = WORK / size
        shape = (max(round(wide * scale), 1), max(round(high * scale), 1))
        kind = cv2.INTER_AREA if scale < 1.0 else cv2.INTER_LINEAR
        whole = np.atleast_3d(np.asarray(cv2.resize(picture, shape, interpolation=kind)))
        # A pixel's middle, not its corner, is the whole number.
        back = np.array(
            [
                [wide / shape[0], 0.0, 0.5 * wide / shape[0] - 0.5],
                [0.0, high / shape[1], 0.5 * high / shape[1] - 0.5],
            ]
        )
        for channel in range(picture.shape[2]):
            for mask in _strokes(np.ascontiguousarray(whole[:, :, channel])):
                yield from _either_way(mask, back)


def _strokes(channel: Pixels) -> Iterator[Pixels]:
    """Yield masks of what is thin and darker, then thin and brighter, than what is beside it."""
    import cv2

    if channel.max() - channel.min() < _FAINT:
        return
    smooth = cv2.GaussianBlur(channel, (0, 0), 0.8)
    brush = np.ones((9, 9), np.uint8)
    for kind in (cv2.MORPH_BLACKHAT, cv2.MORPH_TOPHAT):
        hat = np.asarray(cv2.morphologyEx(smooth, kind, brush))
        # Half of what is strongest nearby: the grain of wood beside a display does not count.
        near = cv2.GaussianBlur(cv2.dilate(hat, np.ones((25, 25), np.uint8)), (0, 0), 4.0)
        mask = ((hat > 0.45 * near.astype(np.float32)) & (hat > _FAINT)).astype(np.uint8)
        if mask.any():
            yield mask


def _either_way(mask: Pixels, back: NDArray[np.float64]) -> Iterator[Row]:
    upright = _closed(mask)
    for boxes in _side_by_side(upright):
        yield Row(upright, boxes, back, turned=False)
    turned = _closed(np.ascontiguousarray(np.rot90(mask, -1)))
    # Column x, row y of the turned mask is column y, row (height - 1 - x) of the mask.
    quarter = np.array([[0.0, 1.0, 0.0], [-1.0, 0.0, mask.shape[0] - 1.0], [0.0, 0.0, 1.0]])
    for boxes in _side_by_side(turned):
        yield Row(turned, boxes, back @ quarter, turned=True)


def _closed(mask: Pixels) -> Pixels:
    """Close the gaps between a digit's segments, more along it than towards the next digit."""
    import cv2

    return np.asarray(cv2.morphologyEx(mask, cv2.MORPH_CLOSE, np.ones((5, 3), np.uint8)))


def _side_by_side(mask: Pixels) -> Iterator[tuple[Box, ...]]:
    """Yield groups of components of one height on one line."""
    import cv2

    count, _, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8)
    found = stats[1:count]
    left, top, wide, high, area = (found[:, k] for k in range(5))
    good = (high >= _LEAST) & (high <= _MOST) & (wide <= 4.5 * WORK) & (area >= 0.5 * high)
    left, top, wide, high = left[good], top[good], wide[good], high[good]
    order = np.argsort(left, kind="stable")
    boxes = [(int(left[k]), int(top[k]), int(wide[k]), int(high[k])) for k in order]
    groups: list[list[Box]] = []
    for box in boxes:
        for group in groups:
            if _follows(group[-1], box):
                group.append(box)
                break
        else:
            groups.append([box])
    for group in groups:
        length = group[-1][0] + group[-1][2] - group[0][0]
        # One digit alone is as likely a knot in the wood.
        if 1.0 * WORK <= length <= 9.0 * WORK:
            yield tuple(group)


def _follows(one: Box, other: Box) -> bool:
    gap = other[0] - (one[0] + one[2])
    rise = abs((other[1] + other[3] / 2.0) - (one[1] + one[3] / 2.0))
    span = other[0] + other[2] / 2.0 - (one[0] + one[2] / 2.0)
    return (
        -2.0 <= gap <= 0.85 * WORK
        and abs(one[3] - other[3]) <= 0.2 * max(one[3], other[3]) + 1.0
        and rise <= 0.15 * WORK + 0.1 * span
    )
