"""Read a film: follow its displays, read them, and make of it values, a sum and breaks."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from breakwright.model.film import DisplayMark, FilmReading
from breakwright.reading.film_ports import DigitReader, FrameSource
from breakwright.reading.film_read import read_tracks
from breakwright.reading.film_track import DisplayTrack
from breakwright.reading.film_tracker import Tracker
from breakwright.reading.film_watch import Watcher

__all__ = ["FilmRead", "read_film"]

# Telling of every frame would take longer than following it.
_TELL_EVERY = 15


@dataclass(frozen=True, slots=True)
class FilmRead:
    """``reading`` is what the film tells; ``tracks`` what was seen, with the pictures kept."""

    reading: FilmReading
    tracks: tuple[DisplayTrack, ...]


def read_film(
    source: FrameSource,
    marks: Sequence[DisplayMark],
    reader: DigitReader,
    *,
    tell: Callable[[float, float], None],
) -> FilmRead:
    """Read the displays ``marks`` off ``source`` with ``reader``.

    ``tell`` is told now and then how far it is and how long the film is (both s). A film that
    ends early is read as far as it goes; the reading's facts say so.
    """
    facts = source.facts()
    size = (facts.width, facts.height)
    trackers = {}
    for mark in marks:
        if mark.time > 0.0:
            frame = next(source.frames(start=mark.time), None)
            if frame is not None:
                trackers[mark.name] = Tracker(mark.quad, frame, size=size)
    watcher = Watcher(marks, reader, facts=facts, trackers=trackers)
    for number, frame in enumerate(source.frames()):
        watcher.see(frame)
        if number % _TELL_EVERY == 0:
            tell(frame.time, facts.duration)
    facts = source.facts()
    tell(facts.duration, facts.duration)
    tracks = watcher.finish()
    return FilmRead(read_tracks(tracks, facts), tracks)
