"""What the forms on the page of a film do: correct a span, take a pull for a piece, take back."""

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import RedirectResponse, Response

from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import (
    Body,
    Event,
    FilmAccepted,
    ReadingAmended,
    ReadingEntered,
    SpanCorrected,
    Undone,
)
from breakwright.model.film import Shown
from breakwright.usecases.bench.ports import IdTaken
from breakwright.usecases.bench.state import FilmState, StudyState
from breakwright.web.breaking.finding import bench_day, piece_of, side_of, study_of
from breakwright.web.breaking.typed import FieldsHere, words_of
from breakwright.web.filming.finding import Filmed, filmed_of
from breakwright.web.filming.pulls import entry_for
from breakwright.web.filming.review import show_review
from breakwright.web.filming.told import entry_in, told_of
from breakwright.web.preparing.forms import read_number
from breakwright.web.rendering import shown_unit
from breakwright.web.services import Services, ServicesHere, new_id

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


@router.post("/s/{handle}/film/{key}/correct")
def correct(
    request: Request, services: ServicesHere, handle: str, key: str, fields: FieldsHere
) -> Response:
    """A display showed something else than was read."""
    state = study_of(services, handle)
    film = filmed_of(services, state, key)
    read = _read(film, fields)
    there = f"/s/{state.handle}/film/{key}?at={_time(fields, 'at'):.2f}#moment"
    shown = words_of(fields, "shown")
    if shown not in {kind.value for kind in Shown}:
        raise HTTPException(422, "What did the display show? Choose one of the list.")
    value = words_of(fields, "value").replace("−", "-").replace(",", ".")
    body = SpanCorrected(
        film=read.event,
        display=words_of(fields, "display"),
        start=_edge(fields, "start"),
        end=_edge(fields, "end"),
        shown=Shown(shown),
        reason=words_of(fields, "reason"),
        value=value if shown == Shown.VALUE.value else None,
    )
    refused = _keep(services, state, fields, [body])
    if refused:
        return show_review(
            request, services, state, film, problems=refused, about="correct", typed=fields
        )
    return RedirectResponse(there, status_code=303)


@router.post("/s/{handle}/film/{key}/accept")
def accept(
    request: Request, services: ServicesHere, handle: str, key: str, fields: FieldsHere
) -> Response:
    """A pull is taken as the reading of a piece, or amends the one it has."""
    state = study_of(services, handle)
    film = filmed_of(services, state, key)
    read = _read(film, fields)
    piece = piece_of(state, words_of(fields, "piece"))
    unit = shown_unit(request, side_of(state).unit)
    told = told_of(services, state.id, read, unit=unit.value)
    if told.result is None:
        raise HTTPException(503, told.trouble or "The film is still being looked through.")
    number = words_of(fields, "number")
    pull = next((one for one in told.result["breaks"] if str(one["number"]) == number), None)
    if pull is None:
        raise HTTPException(409, "There is no such pull in this film (any more).")
    first = entry_in(pull)
    if first is None:
        problems = [Problem(**problem) for problem in pull["problems"]]
        return show_review(request, services, state, film, problems=problems, about="accept")
    entry = entry_for(
        state, piece, first, failure=words_of(fields, "failure"), day=bench_day(services)
    )
    reading: Body = ReadingEntered(piece.id, entry)
    if piece.heads:
        bases = tuple(version.event for version in piece.heads)
        reading = ReadingAmended(piece.id, bases, entry, words_of(fields, "reason"))
    event = new_id()
    taken = FilmAccepted(read.event, int(number), piece.id, event)
    before = [one for one, body in read.accepted.items() if body.number == int(number)]
    refused = _keep(services, state, fields, [reading, taken, *map(Undone, before)], first=event)
    if refused:
        return show_review(
            request, services, state, film, problems=refused, about="accept", typed=fields
        )
    return RedirectResponse(f"/s/{state.handle}/film/{key}#pulls", status_code=303)


@router.post("/s/{handle}/film/{key}/take-back")
def take_back(services: ServicesHere, handle: str, key: str, fields: FieldsHere) -> Response:
    """A correction is taken back, or a pull with the reading that it led to."""
    state = study_of(services, handle)
    film = filmed_of(services, state, key)
    event = words_of(fields, "event")
    readings = [one.accepted[event].reading for one in film.films if event in one.accepted]
    if not readings and not any(event in one.corrections for one in film.films):
        raise HTTPException(409, "This was taken back already.")
    services.record([services.event(state.id, Undone(one)) for one in (event, *readings)])
    at = words_of(fields, "at")
    place = f"?at={_time(fields, 'at'):.2f}#moment" if at else "#pulls"
    return RedirectResponse(f"/s/{state.handle}/film/{key}{place}", status_code=303)


def _read(film: Filmed, fields: dict[str, str]) -> FilmState:
    """Return the reading of the film that the form was made of."""
    wanted = words_of(fields, "film")
    found = next((one for one in film.films if one.event == wanted), None)
    if found is None:
        raise HTTPException(409, "This reading of the film was taken back. Load the page again.")
    return found


def _time(fields: dict[str, str], name: str) -> float:
    found = read_number(words_of(fields, name))
    if isinstance(found, str):
        raise HTTPException(422, f"'{words_of(fields, name)[:40]}' is no time. {found}")
    return max(0.0, float(found))


def _edge(fields: dict[str, str], name: str) -> float:
    """Return the edge of the span itself where the person left it as shown, which was rounded: a
    sliver of the span beside it must not be corrected as well."""
    typed = _time(fields, name)
    try:
        exact = float(fields.get(f"row_{name}", ""))
    except ValueError:
        return typed
    return exact if f"{exact:.3f}" == f"{typed:.3f}" else typed


def _keep(
    services: Services,
    state: StudyState,
    fields: dict[str, str],
    bodies: list[Body],
    *,
    first: str | None = None,
) -> tuple[Problem, ...]:
    """Keep ``bodies`` as events, all or none, the first with the id ``first``; return what speaks
    against it. A form that is sent twice keeps nothing the second time."""
    form = words_of(fields, "id") or new_id()
    if any(recorded.event.id == form for recorded in state.events):
        return ()
    person = words_of(fields, "person") or None
    now = services.now()
    # The form's own id goes to the last event that nothing else names.
    ids = [first or form] + [new_id() for _ in bodies[1:]]
    if first is not None:
        ids[1] = form
    events = [
        Event(key, state.id, now, body, "server", person)
        for key, body in zip(ids, bodies, strict=True)
    ]
    try:
        services.record(events)
    except InputRefused as refused:
        return tuple(refused.problems)
    except IdTaken:
        return ()
    return ()
