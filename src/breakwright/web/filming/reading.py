"""A film is read: asked for, watched, stopped; and the page that shows how far it is."""

from collections.abc import Mapping, Sequence
from typing import Any

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from breakwright.usecases.bench.state import StudyState
from breakwright.web.breaking.finding import study_of
from breakwright.web.filming.finding import Filmed, filmed_of
from breakwright.web.filming.kept import KeptFilms, Note
from breakwright.web.filming.review import show_review
from breakwright.web.rendering import page
from breakwright.web.services import Services, ServicesHere
from breakwright.web.work.asking import ask

__all__ = ["READ", "ask_to_read", "router"]

router = APIRouter(include_in_schema=False)

READ = "film-read"


def ask_to_read(
    services: Services, state: StudyState, film: Filmed, marks: Sequence[Mapping[str, Any]]
) -> None:
    """Have the film read with these marks; another reading of it that runs is stopped."""
    assert film.video is not None
    if film.is_busy and film.job is not None:
        services.jobs.cancel(film.job.id)
    given = {
        "video": film.key,
        "file": film.video.file,
        "name": film.video.name,
        "sha256": film.video.sha256,
        "marks": list(marks),
        # The same marks once more is another reading, where the one before was taken back.
        "before": [one.event for one in film.films],
        "undone": len(state.undone),
    }
    job = ask(services, state.id, READ, given=given)
    KeptFilms(services.folder).put_note(film.key, Note(marks, job.id))


@router.get("/s/{handle}/film/{key}", response_class=HTMLResponse)
def film_page(request: Request, services: ServicesHere, handle: str, key: str) -> Response:
    """How far the film is: to be marked, being read, or what was read, to be looked through."""
    state = study_of(services, handle)
    film = filmed_of(services, state, key)
    if not film.is_busy:
        if film.film is not None:
            return show_review(request, services, state, film)
        if film.note is None:
            return RedirectResponse(f"/s/{state.handle}/film/{key}/mark", status_code=303)
    return page(
        request,
        "film_reading.html.j2",
        title=f"{film.name} · {state.title}",
        study=state,
        place="break",
        context={"film": film, "percent": round(100 * film.job.share) if film.job else 0},
    )


@router.post("/s/{handle}/film/{key}/read")
def read(services: ServicesHere, handle: str, key: str) -> Response:
    """Read it (again) as it was marked."""
    state = study_of(services, handle)
    film = filmed_of(services, state, key)
    if film.note is None or not film.is_here:
        raise HTTPException(409, "Mark the displays first; the film must lie on the server's disk.")
    ask_to_read(services, state, film, film.note.marks)
    return RedirectResponse(f"/s/{state.handle}/film/{key}", status_code=303)


@router.post("/s/{handle}/film/{key}/stop")
def stop(services: ServicesHere, handle: str, key: str) -> Response:
    """Stop the reading; what was read before stays."""
    state = study_of(services, handle)
    film = filmed_of(services, state, key)
    if film.is_busy and film.job is not None:
        services.jobs.cancel(film.job.id)
    return RedirectResponse(f"/s/{state.handle}/film/{key}", status_code=303)
