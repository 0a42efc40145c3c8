"""One display watched through a film: followed, cut out, levelled, measured, read in batches."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from breakwright.model.film import DisplayMark
from breakwright.reading.film_apart import apart, farthest_apart
from breakwright.reading.film_ctc import candidates
from breakwright.reading.film_fit import Way, best_way, clearest_channel, shapes_for
from breakwright.reading.film_keep import Keeper
from breakwright.reading.film_level import levelled, spread_of
from breakwright.reading.film_ports import DigitReader, Frame
from breakwright.reading.film_rectify import box_around, clipped, warped
from breakwright.reading.film_track import DisplayTrack
from breakwright.reading.film_tracker import Place, Tracker

__all__ = ["Eye"]

Pixels = NDArray[np.uint8]
Box = tuple[int, int, int, int]

_BATCH = 32
_KEEP = 4
# So many frames with digits settle how the strip is cut; so many frames without any are waited
# for before those at hand are read as marked.
_FIT_ON, _FIT_WAITS = 12, 48
_FIT_CONTRAST = 0.12
# In digit heights, how much around the row is cut out of the frame.
_BEYOND = 0.6
# The place is foretold, not looked for, in at most so many frames on end, and only where no
# stroke of the strip changes by so much (0 to 1); where still less changes the strip is not read
# again, in at most so many frames on end.
_SKIP, _CALM = 2, 0.22
_ALIKE_FRAMES, _ALIKE = 3, 0.1


@dataclass(slots=True)
class _Seen:
    """What was measured, one item a frame; texts and scores come in batches, later."""

    times: list[float] = field(default_factory=list)
    change: list[float] = field(default_factory=list)
    contrast: list[float] = field(default_factory=list)
    trust: list[float] = field(default_factory=list)
    inside: list[float] = field(default_factory=list)
    texts: list[tuple[str, ...]] = field(default_factory=list)
    scores: list[NDArray[np.float32]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _View:
    """The row cut out of one frame: ``patch`` (h, w) or (h, w, 3) and ``channel`` (h, w) from
    ``box``, the levelled ``strip``, the marked part ``inner`` of it, the raw ``contrast``."""

    place: Place
    box: Box
    patch: Pixels
    channel: Pixels
    strip: Pixels
    inner: Pixels
    contrast: float


class Eye:
    """Watches the display of ``mark``; ``size`` is the frame's width and height (px)."""

    def __init__(
        self, mark: DisplayMark, tracker: Tracker, reader: DigitReader, *, size: tuple[int, int]
    ) -> None:
        self._mark = mark
        self._tracker = tracker
        self._reader = reader
        self._size = size
        self._shapes = shapes_for(mark.quad)
        self._way: Way | None = None
        self._waiting: list[list[Pixels]] = []
        self._contrasty = 0
        self._colours: list[Pixels] = []
        self._batch: list[Pixels] = []
        self._last: Pixels | None = None
        self._skipped = 0
        self._owners: list[int] = []
        self._alike = 0
        self._keeper = Keeper(mark.quad)
        self._seen = _Seen()

    @property
    def place(self) -> Place:
        """Where its row was last seen."""
        return self._tracker.place

    def see(self, frame: Frame, others: Sequence[Place] = ()) -> None:
        """Take the next frame in. ``others`` are the places of the film's other displays."""
        calm = (
            self._way is not None
            and self._last is not None
            and self._skipped < _SKIP
            and self._tracker.place.trust >= 1.0
        )
        if calm and self._last is not None:
            view = self._view(frame, self._tracker.predicted(frame.time))
            calm = farthest_apart(self._last, view.strip) < _CALM
            self._skipped += 1
        if not calm:
            # What changed may be the number, or the camera was pushed: only looking tells.
            view = self._view(frame, self._tracker.follow(frame, others))
            self._skipped = 0
        self._measure(frame.time, view)
        number = len(self._seen.times) - 1
        if self._way is None:
            self._wait(view)
        else:
            self._put(view.strip)
        if self._keeper.wants(view.strip, frame.time):
            patch = view.patch if view.patch.ndim == 3 else frame.patch(*view.box)
            self._keeper.keep(
                number,
                frame.time,
                view.strip,
                patch=patch,
                origin=view.box[:2],
                corners=view.place.corners,
            )

    def finish(self) -> DisplayTrack:
        """Return all that was seen."""
        if self._waiting:
            self._settle()
        self._read()
        seen = self._seen
        scores = np.concatenate(seen.scores) if seen.scores else np.empty((0, _KEEP), np.float32)
        return DisplayTrack(
            mark=self._mark,
            times=np.array(seen.times, np.float64),
            texts=tuple(seen.texts),
            scores=scores,
            change=np.array(seen.change, np.float32),
            contrast=np.array(seen.contrast, np.float32),
            trust=np.array(seen.trust, np.float32),
            inside=np.array(seen.inside, np.float32),
            kept=self._keeper.pictures(),
        )

    def _view(self, frame: Frame, place: Place) -> _View:
        """Cut the row out at ``place``, as strip and as it lies in the frame."""
        corners = place.corners
        if not np.isfinite(corners).all():
            corners = np.array(self._mark.quad.corners)
        box = self._within(box_around(corners, beyond=_BEYOND * self._mark.quad.height))
        way = self._way
        shape = way.shape if way else self._shapes[0]
        if way is not None and way.channel == 0:
            patch = frame.bright(*box)
            channel = patch
        else:
            patch = frame.patch(*box)
            number = way.channel if way else self._channel_so_far(patch, box, corners)
            channel = np.ascontiguousarray(patch[:, :, number])
        raw = warped(channel, box[:2], corners, shape=shape)
        rows, columns = shape.inner()
        low, high = spread_of(np.ascontiguousarray(raw[rows, columns]))
        strip = levelled(raw)
        return _View(
            Place(corners, place.trust),
            box,
            patch,
            channel,
            strip,
            strip[rows, columns],
            (high - low) / 255.0,
        )

    def _channel_so_far(self, patch: Pixels, box: Box, corners: NDArray[np.float64]) -> int:
        self._colours.append(warped(patch, box[:2], corners, shape=self._shapes[0]))
        del self._colours[:-_FIT_ON]
        return clearest_channel(self._colours)

    def _wait(self, view: _View) -> None:
        """Cut the row in every way, until there are enough frames with digits to choose by."""
        others = [
            levelled(warped(view.channel, view.box[:2], view.place.corners, shape=other))
            for other in self._shapes[1:]
        ]
        self._waiting.append([view.strip, *others])
        self._contrasty += view.contrast >= _FIT_CONTRAST and view.place.trust > 0.5
        if self._contrasty >= _FIT_ON:
            self._settle()
        elif len(self._waiting) >= _FIT_WAITS:
            self._read_waiting(0)

    def _measure(self, time: float, view: _View) -> None:
        seen = self._seen
        change = 0.0 if self._last is None else apart(self._last, view.strip)
        self._last = view.strip
        seen.times.append(time)
        seen.change.append(change)
        seen.contrast.append(view.contrast)
        seen.trust.append(view.place.trust)
        seen.inside.append(_share_inside(view.place.corners, self._size))

    def _settle(self) -> None:
        """Choose the way of cutting for the rest of the film, and read what has waited."""
        chosen = best_way(list(zip(*self._waiting, strict=True)), self._reader)
        channel = clearest_channel(self._colours) if self._colours else 0
        self._way = Way(self._shapes[chosen], channel)
        self._read_waiting(chosen)
        self._last = None
        self._colours.clear()

    def _read_waiting(self, chosen: int) -> None:
        for strips in self._waiting:
            self._put(strips[chosen])
        self._waiting.clear()

    def _put(self, strip: Pixels) -> None:
        """Have the strip read with the next batch; one that shows the same as the last to be read
        is not read again, unless that was some frames ago."""
        again = (
            bool(self._batch)
            and self._alike < _ALIKE_FRAMES
            and farthest_apart(self._batch[-1], strip) < _ALIKE
        )
        if again:
            self._alike += 1
        else:
            if len(self._batch) >= _BATCH:
                self._read()
            self._batch.append(strip)
            self._alike = 0
        self._owners.append(len(self._batch) - 1)

    def _read(self) -> None:
        if not self._batch:
            return
        told = self._reader.read(np.stack(self._batch))
        texts, scores = candidates(told, keep=_KEEP)
        self._seen.texts.extend(texts[owner] for owner in self._owners)
        self._seen.scores.append(scores[self._owners])
        self._batch.clear()
        self._owners.clear()

    def _within(self, box: Box) -> Box:
        left, top, right, bottom = clipped(box, self._size)
        if right - left < 8 or bottom - top < 8:
            # Wholly out of the frame: something must be cut out, and is never believed.
            return 0, 0, min(self._size[0], 64), min(self._size[1], 32)
        return left, top, right, bottom


def _share_inside(corners: NDArray[np.float64], size: tuple[int, int]) -> float:
    """The share of the row that lies within the frame."""
    if (corners >= 0.0).all() and (corners <= np.array(size) - 1.0).all():
        return 1.0
    steps = (np.arange(8) + 0.5) / 8.0
    across, down = np.meshgrid(steps, steps)
    across, down = across[..., None], down[..., None]
    upper = corners[0] * (1.0 - across) + corners[1] * across
    lower = corners[3] * (1.0 - across) + corners[2] * across
    points = upper * (1.0 - down) + lower * down
    inside = (points >= 0.0).all(axis=2)
    inside &= (points[..., 0] <= size[0] - 1.0) & (points[..., 1] <= size[1] - 1.0)
    return float(inside.mean())
