"""What was seen of one display, frame by frame, before anything is made of it in time."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import DisplayMark

__all__ = ["DisplayTrack"]


@dataclass(frozen=True, slots=True)
class DisplayTrack:
    """F frames of one display, as arrays.

    ``times`` (F,) in s. ``texts`` are F tuples of at most K candidates as the network read them
    (``'23.45'``, ``'-0.0'``, ``'0L'``, ``''`` for no digits), best first; ``scores`` (F, K) their
    log probabilities, -inf where there are fewer. ``change`` (F,) is the mean absolute change of
    the levelled strip since the frame before (0 to 1; 0 for the first); ``contrast`` (F,) the
    spread of brightness in the strip (0 to 1); ``trust`` (F,) the tracker's (0: lost); ``inside``
    (F,) the share of the digit row that lies within the frame. ``kept`` are pictures for a
    person: frame number -> JPEG bytes of the row with some surroundings, at least one for each
    run of frames that read alike.
    """

    mark: DisplayMark
    times: NDArray[np.float64]
    texts: tuple[tuple[str, ...], ...]
    scores: NDArray[np.float32]
    change: NDArray[np.float32]
    contrast: NDArray[np.float32]
    trust: NDArray[np.float32]
    inside: NDArray[np.float32]
    kept: Mapping[int, bytes] = field(default_factory=dict)
