"""What the reading of a film asks of the outside: frames, and a reader of digits."""

from collections.abc import Iterator
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import FilmFacts

__all__ = ["ALPHABET", "STRIP_HEIGHT", "DigitReader", "Frame", "FrameSource"]

# Class 0 of the network is CTC's blank; class i + 1 is ALPHABET[i]. 'O' on such a display is 0.
ALPHABET = "0123456789-.ELroH"
STRIP_HEIGHT = 32

Pixels = NDArray[np.uint8]


class Frame(Protocol):
    """One decoded frame. It is good until the next one is asked for."""

    @property
    def time(self) -> float:
        """Seconds since the first frame, from the frame's own time stamp."""
        ...

    def quarter(self) -> Pixels:
        """Return the upright brightness at a quarter of the width and height, (h, w)."""
        ...

    def patch(self, left: int, top: int, right: int, bottom: int) -> Pixels:
        """Return rows top..bottom, columns left..right (ends not included) of the upright
        frame, clipped to it: (h, w, 3) as Y, U, V, the colours repeated to full size."""
        ...

    def bright(self, left: int, top: int, right: int, bottom: int) -> Pixels:
        """As ``patch``, the brightness alone, (h, w): much cheaper."""
        ...


class FrameSource(Protocol):
    """A film. Every implementation passes ``tests/conformance/test_frame_sources.py``."""

    def facts(self) -> FilmFacts:
        """Return what is known; ``frames``, ``duration`` and ``ended_early`` are the header's
        until ``frames()`` has come to its end, and true from then on."""
        ...

    def frames(self, *, start: float = 0.0) -> Iterator[Frame]:
        """Decode in order from the first frame at or after ``start`` (s). A damaged film ends
        early and says so in ``facts``; it does not raise."""
        ...


class DigitReader(Protocol):
    """A network that reads one row of digits."""

    def read(self, strips: Pixels) -> NDArray[np.float32]:
        """Return log probabilities (n, steps, 1 + len(ALPHABET)) for strips (n, STRIP_HEIGHT,
        width), gray, digits dark on bright or bright on dark, width a multiple of 4."""
        ...
