"""Bring a strip to the brightness that the network was trained on, and measure its contrast."""

import numpy as np
from numpy.typing import NDArray

__all__ = ["levelled", "spread_of"]

Pixels = NDArray[np.uint8]

# A dark display stays nearly flat: its noise is not blown up into digits.
_LEAST_SPREAD = 24.0


def spread_of(strip: Pixels) -> tuple[int, int]:
    """Return the 1st and the 99th percentile of ``strip``'s gray values.

    >>> spread_of(np.arange(100, dtype=np.uint8).reshape(10, 10))
    (0, 98)
    """
    below = np.cumsum(np.bincount(strip.ravel(), minlength=256))
    low, high = np.searchsorted(below, (0.01 * below[-1], 0.99 * below[-1]))
    return int(low), int(high)


def levelled(strip: Pixels) -> Pixels:
    """Return ``strip`` with its 1st percentile at 0 and its 99th at 255.

    >>> levelled(np.array([[10, 110, 210]], np.uint8)).tolist()
    [[0, 127, 255]]
    """
    low, high = spread_of(strip)
    gray = np.arange(256, dtype=np.float64)
    table = np.clip((gray - low) * 255.0 / max(high - low, _LEAST_SPREAD), 0.0, 255.0)
    return table.astype(np.uint8)[strip]
