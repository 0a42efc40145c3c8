"""The demo study in a store, with its film: both come with the package, all numbers invented."""

import hashlib
from pathlib import Path

from breakwright.bootstrap.bench import DEMO_HANDLE, demo_events, write_whole
from breakwright.bootstrap.film_pages import demo_film
from breakwright.model.event import Event, PieceAdded, VideoAdded
from breakwright.web.filming.kept import KeptFilms, Note
from breakwright.web.services import Services, new_id
from breakwright.web.uploads import VIDEO_FOLDER

__all__ = ["see_to_demo"]


def see_to_demo(services: Services) -> str:
    """Return the demo study's handle, after putting the study there if it is not.

    Its film is marked, and is read when somebody first looks at the films: the first page must
    not wait for that.
    """
    if services.bench.find(DEMO_HANDLE) is None:
        events = list(demo_events(services.now(), new_id))
        services.record([*events, _film(services, events)])
    return DEMO_HANDLE


def _film(services: Services, events: list[Event]) -> Event:
    film = demo_film()
    key = new_id()
    ending = Path(film.name).suffix
    folder = services.folder / VIDEO_FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    write_whole(folder / f"{key}{ending}", film.data)
    KeptFilms(services.folder).put_note(key, Note(film.marks))
    body = VideoAdded(
        file=f"{key}{ending}",
        name=film.name,
        size=len(film.data),
        sha256=hashlib.sha256(film.data).hexdigest(),
        piece=_piece(events, film.piece),
    )
    return Event(key, events[0].study, services.now(), body, device="demo")


def _piece(events: list[Event], label: str) -> str:
    return next(
        event.body.piece
        for event in events
        if isinstance(event.body, PieceAdded) and event.body.label == label
    )
