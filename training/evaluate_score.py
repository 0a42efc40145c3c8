"""How well a reader reads strips whose text is known."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_ctc import candidates
from breakwright.reading.film_ports import DigitReader
from training.strips.levelling import padded

__all__ = ["Bin", "Known", "Score", "reliability", "score"]

_PER_BATCH = 16
_EDGES = (0.0, 0.5, 0.8, 0.9, 0.95, 0.98, 0.99, 0.998, 1.0)


@dataclass(frozen=True, slots=True)
class Known:
    """A strip (32, W) as the network takes it, the ``picture`` (H, W') that it was made of for
    readers that want more pixels, gray, and its ``text``; ``source`` is the font or folder."""

    strip: NDArray[np.uint8]
    picture: NDArray[np.uint8]
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class Score:
    """Of ``count`` strips, those read exactly, and those read exactly but for the point; ``read``
    is what was read, ``sure`` its probability (count,)."""

    count: int
    exact: int
    exact_without_point: int
    read: tuple[str, ...]
    sure: NDArray[np.float64]
    right: NDArray[np.bool_]

    @property
    def rate(self) -> float:
        """The share read exactly (0 to 1); of no strips it is not a number."""
        return self.exact / self.count if self.count else float("nan")


@dataclass(frozen=True, slots=True)
class Bin:
    """Readings whose probability lay from ``low`` up to ``high``: how many, the mean of what they
    claimed and the share that was right."""

    low: float
    high: float
    count: int
    claimed: float
    right: float


def score(reader: DigitReader, known: Sequence[Known]) -> Score:
    """Read all strips, in batches of 16 of like width, and compare with their texts."""
    order = sorted(range(len(known)), key=lambda place: known[place].strip.shape[1])
    read, sure = [""] * len(known), np.zeros(len(known))
    for start in range(0, len(order), _PER_BATCH):
        places = order[start : start + _PER_BATCH]
        texts, scores = candidates(reader.read(padded([known[p].strip for p in places])))
        for place, text, logs in zip(places, texts, scores, strict=True):
            read[place], sure[place] = text[0], float(np.exp(min(0.0, float(logs[0]))))
    right = np.array([a == b.text for a, b in zip(read, known, strict=True)], np.bool_)
    bare = [a.replace(".", "") == b.text.replace(".", "") for a, b in zip(read, known, strict=True)]
    return Score(len(known), int(right.sum()), sum(bare), tuple(read), sure, right)


def reliability(found: Score) -> tuple[Bin, ...]:
    """Return what was claimed and what was right, by what was claimed."""
    bins = []
    for low, high in pairwise(_EDGES):
        last = high == _EDGES[-1]
        inside = (found.sure >= low) & ((found.sure <= high) if last else (found.sure < high))
        count = int(inside.sum())
        claimed = float(found.sure[inside].mean()) if count else float("nan")
        right = float(found.right[inside].mean()) if count else float("nan")
        bins.append(Bin(low, high, count, claimed, right))
    return tuple(bins)
