"""Renders strips in many processes at once, in batches, in an order that the seed fixes."""

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass
from multiprocessing import get_context

import numpy as np
from numpy.typing import NDArray

from breakwright.reading.film_ports import ALPHABET
from training.strips.strip import random_strip, together

__all__ = ["Batch", "batches", "labelled", "replayed"]

_PER_BATCH = 128
_PER_CHUNK = 8
_REPLAYED = 1000


@dataclass(frozen=True, slots=True)
class Batch:
    """``strips`` (n, 32, W) as the network takes them but for the type; ``labels`` the classes of
    all texts in one row, ``lengths`` how many belong to each."""

    strips: NDArray[np.uint8]
    labels: NDArray[np.int64]
    lengths: NDArray[np.int64]


def batches(seed: int, count: int, *, processes: int) -> Iterator[Batch]:
    """Yield about ``count`` strips; the same ``seed`` gives the same ones whatever
    ``processes`` is."""
    chunks = -(-count // (_PER_BATCH * _PER_CHUNK))
    jobs = [(seed, chunk) for chunk in range(chunks)]
    if processes < 2:
        for job in jobs:
            yield from _chunk(job)
        return
    with get_context("spawn").Pool(processes) as pool:
        # Only so many ahead: a slow network must not let the strips pile up.
        ahead = deque(pool.apply_async(_chunk, (job,)) for job in jobs[: 3 * processes])
        for job in [*jobs[3 * processes :], *[None] * len(ahead)]:
            yield from ahead.popleft().get()
            if job is not None:
                ahead.append(pool.apply_async(_chunk, (job,)))


def replayed(fresh: Iterator[Batch], seed: int) -> Iterator[Batch]:
    """Yield each batch of ``fresh`` and after it an earlier one again, bright for dark and in
    another gamma: drawing costs more than learning."""
    rng = np.random.default_rng((seed, 1))
    kept: list[Batch] = []
    for batch in fresh:
        yield batch
        if len(kept) < _REPLAYED:
            kept.append(batch)
        old = int(rng.integers(len(kept)))
        again = kept[old]
        curve = (255.0 * (np.arange(256) / 255.0) ** rng.uniform(0.7, 1.4)).astype(np.uint8)
        yield Batch(curve[255 - again.strips], again.labels, again.lengths)
        kept[old] = batch


def labelled(strips: NDArray[np.uint8], texts: tuple[str, ...]) -> Batch:
    """Return the batch of ``strips`` that show ``texts``."""
    labels = [1 + ALPHABET.index(character) for text in texts for character in text]
    lengths = [len(text) for text in texts]
    return Batch(strips, np.array(labels, np.int64), np.array(lengths, np.int64))


def _chunk(job: tuple[int, int]) -> list[Batch]:
    import cv2

    cv2.setNumThreads(1)
    rng = np.random.default_rng(job)
    made = [random_strip(rng) for _ in range(_PER_BATCH * _PER_CHUNK)]
    # Like widths together, so that little of a batch is padding; then a random order again.
    made.sort(key=lambda strip: strip.gray.shape[1])
    out = []
    for start in rng.permutation(_PER_CHUNK) * _PER_BATCH:
        strips, texts = together(made[start : start + _PER_BATCH])
        out.append(labelled(_wider(strips, rng), texts))
    return out


def _wider(strips: NDArray[np.uint8], rng: np.random.Generator) -> NDArray[np.uint8]:
    # A batch of two displays pads the narrower one to the width of the other.
    if rng.random() < 0.7:
        return strips
    more = 4 * int(rng.integers(1, 20))
    left = more // 2
    if rng.random() < 0.7:
        return np.pad(strips, ((0, 0), (0, 0), (left, more - left)), mode="edge")
    high, wide = strips.shape[1:]
    out = np.empty((len(strips), high, wide + more), np.uint8)
    out[:] = np.median(strips, axis=(1, 2))[:, None, None].astype(np.uint8)
    out[:, :, left : left + wide] = strips
    return out
