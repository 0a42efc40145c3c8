"""Which strip suits a display: how tightly it was marked, and in which colour its digits show.

A person's corners are a little off, and a blue light shows in the colour planes alone. So the
first frames with digits are read in several ways, and the way that the network is surest of is
kept for the whole film.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import Quad
from breakwright.reading.film_ports import DigitReader
from breakwright.reading.film_rectify import Shape, shape_of

__all__ = ["WAYS", "Way", "best_way", "clearest_channel", "shapes_for"]

Pixels = NDArray[np.uint8]

# Height of the digits over the marked height, and width over the marked width for that height.
# The first is what was marked.
WAYS: tuple[tuple[float, float], ...] = (
    (1.0, 1.0),
    (0.85, 1.0),
    (1.15, 1.0),
    (1.0, 0.88),
    (1.0, 1.14),
)
# How much surer (mean log probability a strip) another way has to be before it replaces the mark.
_BETTER = 0.05
# Colour planes are coarser than the brightness: taken only where they show clearly more.
_COLOUR_GAIN = 1.3


@dataclass(frozen=True, slots=True)
class Way:
    """``shape`` of the strip, and ``channel`` (0 brightness, 1 U, 2 V) it is taken from."""

    shape: Shape
    channel: int


def shapes_for(quad: Quad) -> tuple[Shape, ...]:
    """Return the strip of each of ``WAYS``."""
    return tuple(shape_of(quad, grown=grown, stretched=wide) for grown, wide in WAYS)


def clearest_channel(strips: Sequence[Pixels]) -> int:
    """Return which plane of ``strips`` (h, w, 3) spreads widest between dark and bright."""
    from breakwright.reading.film_level import spread_of

    spreads = []
    for channel in range(3):
        pairs = [spread_of(np.ascontiguousarray(strip[:, :, channel])) for strip in strips]
        spreads.append(float(np.mean([high - low for low, high in pairs])))
    colour = 1 if spreads[1] >= spreads[2] else 2
    return colour if spreads[colour] > _COLOUR_GAIN * spreads[0] else 0


def best_way(strips: Sequence[Sequence[Pixels]], reader: DigitReader) -> int:
    """Return which of ``WAYS`` the network is surest of.

    ``strips[way]`` are levelled strips, all of one width, of the same frames for each way.
    """
    sure = []
    for some in strips:
        told = reader.read(np.stack(some))
        digits = (told.argmax(axis=2) > 0).any(axis=1)
        # A way that sees no digits at all is sure of that; it is not what is looked for.
        likely = told.max(axis=2).sum(axis=1)
        sure.append(float(np.where(digits, likely, -20.0).mean()))
    best = int(np.argmax(sure))
    return best if sure[best] > sure[0] + _BETTER else 0
