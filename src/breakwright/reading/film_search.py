"""Look for a lost display in the whole frame."""

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_plane import shift
from breakwright.reading.film_template import Template

__all__ = ["likely_motions"]

Floats = NDArray[np.float64]
Pixels = NDArray[np.uint8]

_PLACES = 3
_ALIKE = 0.3
_SIZES = (1.0, 0.85, 1.18)


def likely_motions(
    template: Template, quarter: Pixels, *, around: tuple[float, float], within: float
) -> list[Floats]:
    """Return motions (3, 3) that may have brought the template into the frame whose quarter is
    ``quarter``, likeliest first: its middle within ``within`` px of ``around`` (px)."""
    import cv2

    high, wide = template.plain.shape
    middle = template.to_frame @ np.array([(wide - 1) / 2.0, (high - 1) / 2.0, 1.0])
    found: list[tuple[float, Floats]] = []
    for grown in _SIZES:
        shrink = template.scale * grown / 4.0
        size = (max(6, round(wide * shrink)), max(6, round(high * shrink)))
        if size[0] > quarter.shape[1] or size[1] > quarter.shape[0]:
            continue
        small = cv2.resize(template.plain, size, interpolation=cv2.INTER_AREA)
        fits = np.asarray(cv2.matchTemplate(quarter, small, cv2.TM_CCOEFF_NORMED))
        x = 4.0 * (np.arange(fits.shape[1]) + (size[0] - 1) / 2.0) + 1.5
        y = 4.0 * (np.arange(fits.shape[0]) + (size[1] - 1) / 2.0) + 1.5
        far = np.hypot(x[None, :] - around[0], y[:, None] - around[1]) > within
        fits = np.where(far | ~np.isfinite(fits), -1.0, fits)
        for _ in range(_PLACES):
            row, column = np.unravel_index(int(fits.argmax()), fits.shape)
            best = float(fits[row, column])
            if best < _ALIKE:
                break
            scaled = np.diag([grown, grown, 1.0])
            onto = shift(x[column], y[row]) @ scaled @ shift(-middle[0], -middle[1])
            found.append((best, onto))
            fits[
                max(0, row - size[1] // 2) : row + size[1] // 2 + 1,
                max(0, column - size[0] // 2) : column + size[0] // 2 + 1,
            ] = -1.0
    found.sort(key=lambda one: -one[0])
    return [motion for _, motion in found[: 2 * _PLACES]]
