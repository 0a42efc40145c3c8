"""Motions of a plane in a picture: 3 x 3 matrices that take places to places."""

import numpy as np
from numpy.typing import NDArray

__all__ = ["keeps_shape", "moved", "shift"]

Floats = NDArray[np.float64]

# A display seen from another side changes its shape by less than this from the marked frame.
_SMALLEST, _LARGEST = 0.4, 2.5


def moved(points: NDArray[np.floating], motion: Floats) -> Floats:
    """Return ``points`` (n, 2) after ``motion`` (3, 3).

    >>> moved(np.array([[1.0, 2.0]]), shift(10.0, 20.0)).tolist()
    [[11.0, 22.0]]
    """
    after = points @ motion[:, :2].T + motion[:, 2]
    return np.asarray(after[:, :2] / after[:, 2:])


def shift(x: float, y: float) -> Floats:
    """Return the motion that moves everything by ``x`` and ``y`` (px)."""
    return np.array([[1.0, 0.0, x], [0.0, 1.0, y], [0.0, 0.0, 1.0]])


def keeps_shape(row: Floats, motion: Floats) -> bool:
    """Whether a row (4, 2) moved so still looks like one: not folded, not many times larger."""
    if not np.isfinite(motion).all():
        return False
    depth = row @ motion[2, :2] + motion[2, 2]
    if (depth <= 0.2).any():
        return False
    now = moved(row, motion)
    sides = np.roll(now, -1, axis=0) - now
    turns = sides[:, 0] * np.roll(sides[:, 1], -1) - sides[:, 1] * np.roll(sides[:, 0], -1)
    before = np.roll(row, -1, axis=0) - row
    grown = np.linalg.norm(sides, axis=1) / np.maximum(np.linalg.norm(before, axis=1), 1e-6)
    return bool((turns > 0.0).all() and grown.min() > _SMALLEST and grown.max() < _LARGEST)
