"""The films of a study: those that are here and how far each is, and bringing another one."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, File, Form, HTTPException, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from breakwright.model.event import Event, Undone, VideoAdded
from breakwright.usecases.bench.state import StudyState
from breakwright.web.api.uploads import plain_name
from breakwright.web.breaking.finding import piece_of, study_of
from breakwright.web.doors.limits import size_words
from breakwright.web.filming.finding import Filmed, filmed_of, in_study
from breakwright.web.filming.reading import ask_to_read
from breakwright.web.rendering import page
from breakwright.web.services import ServicesHere, new_id
from breakwright.web.uploads import Upload, Uploads

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

_BLOCK = 4 * 2**20


@dataclass(frozen=True, slots=True)
class _Row:
    film: Filmed
    size: str
    standing: str
    taken: tuple[tuple[str, str], ...]


@router.get("/s/{handle}/films", response_class=HTMLResponse)
def films(request: Request, services: ServicesHere, handle: str, piece: str = "") -> Response:
    """The list, and a form for another film; ``piece`` is the one that it shows."""
    state = study_of(services, handle)
    here = in_study(services, state)
    for film in here:
        # Marked beforehand, as the demo study's is: nobody has to ask for it.
        if film.is_here and film.note is not None and film.note.job is None and not film.films:
            ask_to_read(services, state, film, film.note.marks)
            here = in_study(services, state)
    return page(
        request,
        "films.html.j2",
        title=f"Films · {state.title}",
        study=state,
        place="break",
        context={
            "rows": [_row(state, film) for film in here],
            "piece": state.piece(piece) if piece else None,
        },
    )


@router.post("/s/{handle}/films")
def bring(
    services: ServicesHere,
    handle: str,
    file: Annotated[UploadFile, File()],
    piece: Annotated[str, Form()] = "",
) -> Response:
    """Keep a film that came as a whole, from a page without scripts."""
    state = study_of(services, handle)
    shown = piece_of(state, piece) if piece else None
    size = file.size or 0
    if size == 0:
        raise HTTPException(422, "No film was chosen, or it is empty.")
    uploads = Uploads(services.folder)
    name = plain_name(file.filename or "")
    upload = uploads.begin(Upload(new_id(), state.id, name, size, shown.id if shown else None))
    at = 0
    while block := file.file.read(_BLOCK):
        at = uploads.append(upload, block, at=at)
    found = uploads.finish(upload)
    body = VideoAdded(upload.file, upload.name, upload.size, found, upload.piece)
    services.record([Event(upload.id, state.id, services.now(), body, device="server")])
    return RedirectResponse(f"/s/{state.handle}/film/{upload.id}", status_code=303)


def _row(state: StudyState, film: Filmed) -> _Row:
    accepted = film.film.accepted.values() if film.film else ()
    pieces = [piece for one in accepted if (piece := state.piece(one.piece)) is not None]
    return _Row(
        film,
        "" if film.video is None else size_words(film.video.size),
        _standing(film),
        tuple((piece.label, piece.id) for piece in pieces),
    )


def _standing(film: Filmed) -> str:
    if film.is_busy and film.job is not None:
        return f"being read, {film.job.share:.0%}"
    if film.trouble:
        return film.trouble
    if film.film is not None:
        return "taken" if film.film.accepted else "to be looked through"
    if not film.is_here:
        return "no longer on the server's disk"
    return "to be marked" if film.note is None else "marked, not read yet"


@router.post("/s/{handle}/film/{key}/drop")
def drop(services: ServicesHere, handle: str, key: str) -> Response:
    """Take the film off the list; its file, and all that was said of it, stay on record."""
    state = study_of(services, handle)
    film = filmed_of(services, state, key)
    gone = [one.event for one in film.films] + ([film.key] if film.video is not None else [])
    services.record([services.event(state.id, Undone(event)) for event in gone])
    return RedirectResponse(f"/s/{state.handle}/films", status_code=303)
