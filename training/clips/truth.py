"""What a film really shows, frame by frame, and where its true peaks are."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import DisplayMark, Quad, Shown

__all__ = ["DisplayTruth", "PeakTruth", "Truth", "marks"]


@dataclass(frozen=True, slots=True)
class DisplayTruth:
    """F frames of one display. ``texts`` and ``shown`` are what its electronics show, ``values``
    (F,) the number in its unit as it was meant (NaN where none). ``settled`` (F,): the whole row
    shows just that, no segment on its way. ``clear`` (F,): a person could read it in this frame
    (in the picture, in focus, nothing in front, enough light). ``corners`` (F, 4, 2) are those
    of the digit row, as a ``Quad``'s; ``load`` (F,) is the true load on it, in its unit."""

    name: str
    unit: str
    decimals: int
    resolution: float
    capacity: float
    refresh: float
    places: int
    texts: tuple[str, ...]
    shown: tuple[Shown, ...]
    values: NDArray[np.float64]
    settled: NDArray[np.bool_]
    clear: NDArray[np.bool_]
    corners: NDArray[np.float64]
    load: NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PeakTruth:
    """The largest true load on all displays together in one pull, ``newtons`` at ``at`` (s), and
    ``width`` (N): the widest an interval about it needs to be where all displays could be
    read (what each load may have risen by in one refresh step, plus a resolution each)."""

    at: float
    newtons: float
    width: float


@dataclass(frozen=True, slots=True)
class Truth:
    """``times`` (F,) in s; ``total`` (F,) the true load on all displays together, in N."""

    times: NDArray[np.float64]
    displays: tuple[DisplayTruth, ...]
    total: NDArray[np.float64]
    peaks: tuple[PeakTruth, ...]


def marks(
    truth: Truth, *, at: float = 0.0, error: float = 0.8, seed: int = 1
) -> tuple[DisplayMark, ...]:
    """Return the displays as a person would mark them in the frame nearest to ``at`` (s), each
    corner off by about ``error`` px."""
    rng = np.random.default_rng(seed)
    frame = int(np.argmin(np.abs(truth.times - at)))
    found = []
    for one in truth.displays:
        corners = one.corners[frame] + rng.normal(0.0, error, (4, 2))
        quad = Quad(*((float(x), float(y)) for x, y in corners))
        found.append(
            DisplayMark(
                one.name,
                quad,
                time=float(truth.times[frame]),
                unit=one.unit,
                decimals=one.decimals,
                resolution=one.resolution,
                capacity=one.capacity,
                refresh=one.refresh,
                digits=one.places,
            )
        )
    return tuple(found)
