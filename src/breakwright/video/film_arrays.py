"""A film that lies in memory as arrays: for films that are drawn, and for tests."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import FilmFacts
from breakwright.video.upright import Upright

__all__ = ["ArrayFilm"]

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class _ArrayFrame:
    time: float
    pixels: Pixels

    def quarter(self) -> Pixels:
        high, wide = self.pixels.shape[0] // 4, self.pixels.shape[1] // 4
        blocks = self.pixels[: high * 4, : wide * 4, 0].reshape(high, 4, wide, 4)
        mean: Pixels = np.rint(blocks.mean(axis=(1, 3))).astype(np.uint8)
        return mean

    def patch(self, left: int, top: int, right: int, bottom: int) -> Pixels:
        left, top, right, bottom = self._clipped(left, top, right, bottom)
        return self.pixels[top:bottom, left:right].copy()

    def bright(self, left: int, top: int, right: int, bottom: int) -> Pixels:
        left, top, right, bottom = self._clipped(left, top, right, bottom)
        return self.pixels[top:bottom, left:right, 0].copy()

    def _clipped(self, left: int, top: int, right: int, bottom: int) -> tuple[int, int, int, int]:
        high, wide = self.pixels.shape[:2]
        return Upright(wide, high, 0).clipped((left, top, right, bottom))


class ArrayFilm:
    """``frames`` (h, w, 3) as Y, U, V, or (h, w) brightness alone, already upright; ``times``
    (s) rise from 0."""

    def __init__(self, frames: Sequence[Pixels], times: Sequence[float]) -> None:
        if not frames or len(frames) != len(times):
            raise ValueError(f"{len(frames)} frames with {len(times)} times; one time a frame")
        if times[0] != 0.0 or any(b <= a for a, b in pairwise(times)):
            raise ValueError("the times must rise from 0")
        self._frames = frames
        self._times = times

    def facts(self) -> FilmFacts:
        high, wide = self._frames[0].shape[:2]
        return FilmFacts(
            width=wide,
            height=high,
            rotation=0,
            frames=len(self._frames),
            duration=self._times[-1],
            codec="arrays",
            sound=False,
        )

    def frames(self, *, start: float = 0.0) -> Iterator[_ArrayFrame]:
        for pixels, time in zip(self._frames, self._times, strict=True):
            if time >= start:
                yield _ArrayFrame(time, _three(pixels))


def _three(pixels: Pixels) -> Pixels:
    if pixels.ndim == 3:
        return pixels
    gray = np.full_like(pixels, 128)
    return np.stack([pixels, gray, gray], axis=2)
