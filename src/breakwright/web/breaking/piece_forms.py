"""What the forms on the page of one piece do: amend, settle, leave out, count again, take back."""

from collections.abc import Callable

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse, Response

from breakwright.bootstrap.bench import understand_entry
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import (
    Body,
    Event,
    PieceRestored,
    PieceVoided,
    ReadingAmended,
    ReadingEntered,
    Undone,
)
from breakwright.model.trial import Ending
from breakwright.usecases.bench.ports import IdTaken
from breakwright.usecases.bench.state import PieceState, StudyState
from breakwright.web.breaking.finding import bench_day, piece_of, side_of, study_of
from breakwright.web.breaking.piece_page import show_piece
from breakwright.web.breaking.scene import next_order
from breakwright.web.breaking.typed import FieldsHere, Typed, entry_of, typed_of, words_of
from breakwright.web.services import Services, ServicesHere, new_id

__all__ = ["router"]

router = APIRouter(include_in_schema=False)

Fields = dict[str, str]


@router.post("/s/{handle}/piece/{key}/amend")
def amend(
    request: Request, services: ServicesHere, handle: str, key: str, fields: FieldsHere
) -> Response:
    """The reading is really another one; or the first one, where there was none."""
    state = study_of(services, handle)
    piece = piece_of(state, key)
    day = bench_day(services)
    return _kept(
        request,
        services,
        state,
        piece,
        fields,
        "amend",
        lambda: _amended(state, piece, fields, day),
    )


@router.post("/s/{handle}/piece/{key}/settle")
def settle(
    request: Request, services: ServicesHere, handle: str, key: str, fields: FieldsHere
) -> Response:
    """Of readings that clash, one counts."""
    state = study_of(services, handle)
    piece = piece_of(state, key)
    return _kept(
        request, services, state, piece, fields, "settle", lambda: _settled(state, piece, fields)
    )


@router.post("/s/{handle}/piece/{key}/leave-out")
def leave_out(
    request: Request, services: ServicesHere, handle: str, key: str, fields: FieldsHere
) -> Response:
    """The piece does not count, for a reason."""
    state = study_of(services, handle)
    piece = piece_of(state, key)
    return _kept(
        request,
        services,
        state,
        piece,
        fields,
        "leave-out",
        lambda: PieceVoided(piece.id, _reason(fields, "left out")),
    )


@router.post("/s/{handle}/piece/{key}/count-again")
def count_again(
    request: Request, services: ServicesHere, handle: str, key: str, fields: FieldsHere
) -> Response:
    """The piece counts after all, for a reason."""
    state = study_of(services, handle)
    piece = piece_of(state, key)
    return _kept(
        request,
        services,
        state,
        piece,
        fields,
        "count-again",
        lambda: PieceRestored(piece.id, _reason(fields, "counted again")),
    )


@router.post("/s/{handle}/piece/{key}/undo")
def take_back(
    request: Request, services: ServicesHere, handle: str, key: str, fields: FieldsHere
) -> Response:
    """One line of the history is taken back."""
    state = study_of(services, handle)
    piece = piece_of(state, key)
    return _kept(
        request,
        services,
        state,
        piece,
        fields,
        "undo",
        lambda: Undone(words_of(fields, "event")),
    )


def _kept(
    request: Request,
    services: Services,
    state: StudyState,
    piece: PieceState,
    fields: Fields,
    form: str,
    making: Callable[[], Body],
) -> Response:
    """Keep what ``making`` returns and show the piece; with ``form`` refused, show it as typed."""
    there = RedirectResponse(f"/s/{state.handle}/piece/{piece.id}", status_code=303)
    event = words_of(fields, "id") or new_id()
    if any(recorded.event.id == event for recorded in state.events):
        return there
    try:
        person = words_of(fields, "person") or None
        services.record([Event(event, state.id, services.now(), making(), "server", person)])
    except InputRefused as refused:
        typed = _typed(state, fields) if form in ("amend", "settle") else None
        return show_piece(
            request, services, state, piece, typed=typed, problems=refused.problems, form=form
        )
    except IdTaken:
        return there
    return there


def _typed(state: StudyState, fields: Fields) -> Typed:
    return typed_of(fields, side_of(state))


def _amended(state: StudyState, piece: PieceState, fields: Fields, day: str) -> Body:
    typed = _typed(state, fields)
    # The day of the trial and its place in the order stay; only the reading itself is amended.
    if piece.reading is None:
        entry = entry_of(typed, counts=None, date=day, order=next_order(state))
    else:
        first = piece.reading.entry
        entry = entry_of(typed, counts=None, date=first.date, order=first.order)
    understand_entry(state, piece.id, entry)
    if piece.reading is None:
        return ReadingEntered(piece.id, entry)
    bases = tuple(part for part in words_of(fields, "bases").split() if part)
    return ReadingAmended(
        piece.id, bases or (piece.reading.event,), entry, _reason(fields, "amended")
    )


def _settled(state: StudyState, piece: PieceState, fields: Fields) -> Body:
    bases = tuple(words_of(fields, "bases").split()) or tuple(v.event for v in piece.heads)
    chosen = next((v for v in piece.versions if v.event == words_of(fields, "chosen")), None)
    if chosen is not None:
        entry = chosen.entry
    elif words_of(fields, "chosen") == "typed":
        typed = _typed(state, fields)
        if typed.end not in {ending.value for ending in Ending}:
            raise InputRefused((_missing("ended", "how did it end?"),))
        first = piece.heads[0].entry
        entry = entry_of(typed, counts=None, date=first.date, order=first.order)
        understand_entry(state, piece.id, entry)
    else:
        raise InputRefused((_missing("chosen", "which of the readings counts?"),))
    return ReadingAmended(piece.id, bases, entry, _reason(fields, "settled"))


def _reason(fields: Fields, done: str) -> str:
    reason = words_of(fields, "reason")
    if not reason:
        raise InputRefused((_missing("reason", f"a piece is {done} for a reason: which?"),))
    return reason


def _missing(name: str, words: str) -> Problem:
    return Problem(
        "answer-missing",
        words,
        "the form",
        column_name=name,
        allowed="a few words" if name == "reason" else "one of those shown",
        do="Fill it in and save again; what you typed is still here.",
    )
