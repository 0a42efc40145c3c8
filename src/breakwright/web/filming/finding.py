"""The film that an address names, and how far it is: marked, being read, looked through, taken."""

from dataclasses import dataclass

from fastapi import HTTPException

from breakwright.model.event import VideoAdded
from breakwright.usecases.bench.ports import Job, JobState
from breakwright.usecases.bench.state import FilmState, PieceState, StudyState
from breakwright.web.filming.kept import KeptFilms, Note
from breakwright.web.services import Services
from breakwright.web.uploads import Uploads
from breakwright.web.work.asking import ALIVE

__all__ = ["Filmed", "filmed", "filmed_of", "in_study"]


@dataclass(frozen=True, slots=True)
class Filmed:
    """``key`` is the id of the event that brought the film, or, where it never came here, of the
    one that read it; ``films`` its readings that stand, the newest last; ``is_here``: its file
    lies on the server's disk."""

    key: str
    name: str
    video: VideoAdded | None
    films: tuple[FilmState, ...]
    note: Note | None
    job: Job | None
    is_here: bool
    piece: PieceState | None

    @property
    def film(self) -> FilmState | None:
        """The reading that is looked through."""
        return self.films[-1] if self.films else None

    @property
    def is_busy(self) -> bool:
        return self.job is not None and self.job.state in ALIVE

    @property
    def trouble(self) -> str | None:
        """Why the last try came to nothing, where it did and nothing was read since."""
        if self.job is None or (self.film is not None and self.film.event == self.job.id):
            return None
        if self.job.state is JobState.CANCELLED:
            return "The reading was stopped."
        return self.job.trouble


def in_study(services: Services, state: StudyState) -> tuple[Filmed, ...]:
    """Return the films of the study, the newest first."""
    found: list[Filmed] = []
    of_videos = set()
    for recorded in state.events:
        body, key = recorded.event.body, recorded.event.id
        if isinstance(body, VideoAdded) and key not in state.undone:
            of_videos.add(key)
            films = tuple(film for film in state.films if film.read.video == key)
            found.append(_filmed(services, state, key, body.name, video=body, films=films))
    for film in state.films:
        if film.read.video not in of_videos:
            name = film.read.name
            found.append(_filmed(services, state, film.event, name, video=None, films=(film,)))
    return tuple(reversed(found))


def _filmed(
    services: Services,
    state: StudyState,
    key: str,
    name: str,
    *,
    video: VideoAdded | None,
    films: tuple[FilmState, ...],
) -> Filmed:
    note = KeptFilms(services.folder).note(key)
    piece = None if video is None or video.piece is None else state.piece(video.piece)
    return Filmed(
        key=key,
        name=name,
        video=video,
        films=films,
        note=note,
        job=None if note is None or note.job is None else services.jobs.job(note.job),
        is_here=video is not None and Uploads(services.folder).video(video.file) is not None,
        piece=piece,
    )


def filmed(services: Services, state: StudyState, key: str) -> Filmed | None:
    """Return the film of this key; None where the study has none."""
    return next((one for one in in_study(services, state) if one.key == key), None)


def filmed_of(services: Services, state: StudyState, key: str) -> Filmed:
    """As ``filmed``, or the page that says that there is none."""
    found = filmed(services, state, key)
    if found is None:
        raise HTTPException(404, f"There is no film {key[:40]!r} in this study. See its list.")
    return found
