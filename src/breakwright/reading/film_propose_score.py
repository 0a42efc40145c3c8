"""How much a row of marks looks like seven-segment digits, and which way up."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_propose_strokes import Box, Row

__all__ = ["Straight", "straight"]

# The row brought upright: digits this high, and so much (px) left free above and below.
_HEIGHT, _EDGE = 40, 6
# Lit segments (a to g, clockwise from the top, the middle last) of the digits, some with and
# some without a tail.
_DIGITS = frozenset(
    {"abcdef", "bc", "abged", "abgcd", "fgbc", "afgcd", "afgedc", "fgedc", "abc", "fabc"}
    | {"abcdefg", "abcdfg", "abcfg"}
)
_PATTERNS = frozenset(frozenset(digit) for digit in _DIGITS)
_TURNED = dict(zip("abcdefg", "defabcg", strict=True))

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Straight:
    """``corners`` (4, 2) of the row in px of its mask; ``score`` 0 to 1; ``votes`` positive where
    it reads upright, negative where upside down."""

    corners: NDArray[np.float64]
    score: float
    votes: float


def straight(row: Row) -> Straight | None:
    """Return what is told by the strokes of ``row``; None: no digits."""
    import cv2

    corners = _corners(row.boxes)
    height = float(np.linalg.norm(corners[3] - corners[0]))
    wide = float(np.linalg.norm(corners[1] - corners[0])) / max(height, 1e-9) * _HEIGHT
    width = max(round(wide), 8)
    place = np.array(
        [
            [_EDGE, _EDGE],
            [_EDGE + width, _EDGE],
            [_EDGE + width, _EDGE + _HEIGHT],
            [_EDGE, _EDGE + _HEIGHT],
        ],
        np.float32,
    )
    onto = cv2.getPerspectiveTransform(corners.astype(np.float32), place)
    size = (width + 2 * _EDGE, _HEIGHT + 2 * _EDGE)
    flat = np.asarray(cv2.warpPerspective(row.mask * np.uint8(255), onto, size)) > 127
    score = _score(flat)
    if score <= 0.0:
        return None
    return Straight(corners, score, _votes(flat))


def _corners(boxes: tuple[Box, ...]) -> NDArray[np.float64]:
    """The row's corners: lines through the boxes' tops and bottoms, which a turned row slants."""
    left = np.array([b[0] for b in boxes], float)
    top = np.array([b[1] for b in boxes], float)
    wide = np.array([b[2] for b in boxes], float)
    high = np.array([b[3] for b in boxes], float)
    middle = left + wide / 2.0
    lean = 0.0
    if len(boxes) > 1 and np.ptp(middle) > 1.0:
        lean = float(np.polyfit(middle, top + high / 2.0, 1)[0])
    start, end = float(left.min()), float((left + wide).max())
    centre = float(np.mean(middle))
    offset = float(np.median(top + high / 2.0 - lean * (middle - centre)))
    # A leaning box is higher than the digit in it.
    half = float(np.median(high - abs(lean) * np.minimum(wide, high))) / 2.0

    def at(x: float, side: float) -> tuple[float, float]:
        return (x, offset + lean * (x - centre) + side * half - 0.5)

    return np.array([at(start, -1), at(end, -1), at(end, 1), at(start, 1)])


def _score(flat: NDArray[np.bool_]) -> float:

    mask = flat.astype(np.uint8)
    inner = mask[_EDGE : _EDGE + _HEIGHT, _EDGE:-_EDGE]
    fill = float(inner.mean())
    if not 0.12 <= fill <= 0.65:
        return 0.0
    along = _opened(mask, np.ones((1, 11), np.uint8))
    across = _opened(mask, np.ones((9, 1), np.uint8))
    # All strokes are one or the other.
    told = float(((along | across) & mask).sum()) / max(float(mask.sum()), 1.0)
    level = np.arange(mask.shape[0]) - _EDGE
    share = np.minimum.reduce([np.abs(level - at * _HEIGHT) for at in (0.07, 0.5, 0.93)]) <= (
        0.13 * _HEIGHT
    )
    bars = along.sum(axis=1).astype(float)
    on_level = float(bars[share].sum()) / max(float(bars.sum()), 1.0)
    # Each level has bars, and each half has uprights: no row of bricks, no single line.
    thirds = [
        float(bars[np.abs(level - at * _HEIGHT) <= 0.13 * _HEIGHT].max(initial=0.0))
        for at in (0.07, 0.5, 0.93)
    ]
    present = sum(third >= 0.12 * inner.shape[1] for third in thirds) / 3.0
    up = across.sum(axis=1).astype(float)
    halves = [float(up[np.abs(level - at * _HEIGHT) <= 3].mean()) for at in (0.28, 0.72)]
    upright = min(halves) / max(max(halves), 1.0)
    # Between the digits there is room, as there is none in a board's grain.
    free = float((inner.mean(axis=0) < 0.1).mean())
    roomy = min(free / 0.08, 1.0)
    beside = float(mask[:2].mean() + mask[-2:].mean()) / 2.0
    return float(
        max(told - 0.5, 0.0)
        * 2.0
        * max(on_level - 0.5, 0.0)
        * 2.0
        * present
        * (0.3 + 0.7 * upright)
        * (0.4 + 0.6 * roomy)
        * max(1.0 - 2.0 * beside, 0.0)
    )


def _votes(flat: NDArray[np.bool_]) -> float:
    """Count digits and points that read this way up, less those that read the other way up."""
    import cv2

    sheared = _unslanted(flat)
    inner = sheared[_EDGE : _EDGE + _HEIGHT]
    count, _, stats, _ = cv2.connectedComponentsWithStats(sheared.astype(np.uint8))
    votes = 0.0
    small = stats[1:count]
    for _, top, wide, high, area in small.tolist():
        # The point lies on the base line.
        if 3 <= wide <= 0.3 * _HEIGHT and 3 <= high <= 0.3 * _HEIGHT and area >= 0.6 * wide * high:
            middle = (top + high / 2.0 - _EDGE) / _HEIGHT
            votes += 0.5 * ((0.8 < middle < 1.1) - (-0.1 < middle < 0.2))
    for start, end in _apart(inner):
        lit = _lit(inner[:, start:end])
        votes += lit in _PATTERNS
        votes -= frozenset(_TURNED[one] for one in lit) in _PATTERNS
    return votes


def _apart(inner: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """Return the columns of each digit: without the base line, then without the top, for a point
    there joins two digits; what tells more of them apart is right."""
    free = round(0.2 * _HEIGHT)
    found = [
        [
            (start, end)
            for start, end in _runs(part.sum(axis=0) >= 2)
            if 0.4 * _HEIGHT <= end - start <= 0.8 * _HEIGHT
        ]
        for part in (inner[:-free], inner[free:])
    ]
    return max(found, key=len)


def _unslanted(flat: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Return the row with its uprights upright: sheared so that columns are full or empty."""
    import cv2

    high, wide = flat.shape
    mask = flat.astype(np.uint8) * np.uint8(255)
    best, most = mask, -1.0
    for slant in np.linspace(-0.3, 0.3, 13):
        onto = np.array([[1.0, slant, -slant * high / 2.0], [0.0, 1.0, 0.0]])
        turned: NDArray[np.uint8] = np.asarray(
            cv2.warpAffine(mask, onto, (wide, high)), dtype=np.uint8
        )
        told = float((turned.mean(axis=0) ** 2).sum())
        if told > most:
            best, most = turned, told
    return best > 127


def _runs(filled: NDArray[np.bool_]) -> list[tuple[int, int]]:
    edges = np.flatnonzero(np.diff(np.concatenate([[0], filled.astype(np.int8), [0]])))
    return [(int(a), int(b)) for a, b in zip(edges[0::2], edges[1::2], strict=True)]


def _lit(digit: NDArray[np.bool_]) -> frozenset[str]:
    high, wide = digit.shape
    middle = slice(round(0.35 * wide), round(0.65 * wide))
    rows = {"a": (0.0, 0.2), "g": (0.4, 0.6), "d": (0.8, 1.0)}
    lit = {
        name
        for name, (low, top) in rows.items()
        if digit[round(low * high) : round(top * high), middle].any(axis=0).mean() > 0.6
    }
    columns = {
        "f": (0.0, 0.4, 0.3),
        "b": (0.6, 1.0, 0.3),
        "e": (0.0, 0.4, 0.7),
        "c": (0.6, 1.0, 0.7),
    }
    for name, (low, top, at) in columns.items():
        part = digit[
            round((at - 0.1) * high) : round((at + 0.1) * high),
            round(low * wide) : round(top * wide),
        ]
        if part.any(axis=1).mean() > 0.6:
            lit.add(name)
    return frozenset(lit)


def _opened(mask: NDArray[np.uint8], kernel: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return what of ``mask`` the kernel fits into."""
    import cv2

    return np.asarray(cv2.morphologyEx(mask, cv2.MORPH_OPEN, kernel), dtype=np.uint8)
