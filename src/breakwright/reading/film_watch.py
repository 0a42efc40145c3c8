"""All displays of a film, watched frame by frame in one pass that keeps no frames."""

from collections.abc import Mapping, Sequence

from breakwright.model.film import DisplayMark, FilmFacts
from breakwright.reading.film_eye import Eye
from breakwright.reading.film_ports import DigitReader, Frame
from breakwright.reading.film_track import DisplayTrack
from breakwright.reading.film_tracker import Tracker

__all__ = ["Watcher"]


class Watcher:
    """Watches the displays ``marks`` of a film of ``facts``.

    ``trackers`` has, by name, those that know what a display looked like at its ``mark.time``;
    the other displays are taken to lie as marked in the first frame seen.
    """

    def __init__(
        self,
        marks: Sequence[DisplayMark],
        reader: DigitReader,
        *,
        facts: FilmFacts,
        trackers: Mapping[str, Tracker] | None = None,
    ) -> None:
        self._marks = marks
        self._reader = reader
        self._size = (facts.width, facts.height)
        self._trackers = dict(trackers or {})
        self._eyes: list[Eye] = []

    def see(self, frame: Frame) -> None:
        """Take the next frame in, in order of time."""
        if not self._eyes:
            self._eyes = [self._eye(mark, frame) for mark in self._marks]
        for eye in self._eyes:
            eye.see(frame, [other.place for other in self._eyes if other is not eye])

    def finish(self) -> tuple[DisplayTrack, ...]:
        """Return what was seen of each display; none where there was no frame."""
        return tuple(eye.finish() for eye in self._eyes)

    def _eye(self, mark: DisplayMark, frame: Frame) -> Eye:
        tracker = self._trackers.get(mark.name)
        if tracker is None:
            tracker = Tracker(mark.quad, frame, size=self._size)
        return Eye(mark, tracker, self._reader, size=self._size)
