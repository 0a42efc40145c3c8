"""A reading in the simple form, for a load cell's logger or a spreadsheet."""

from decimal import Decimal

from fastapi import HTTPException

from breakwright.bootstrap.bench import understand_entry
from breakwright.model.event import Entry, Event, ReadingEntered
from breakwright.model.trial import Ending
from breakwright.usecases.bench.state import PieceState, Standing, StudyState
from breakwright.web.api.common import Key, api_router, study_of
from breakwright.web.api.shapes import ReadingIn, ReadingKept, UnderstoodOut, piece_out
from breakwright.web.api.studies import default_unit
from breakwright.web.services import Services, ServicesHere, new_id

__all__ = ["router"]

router = api_router("readings")


@router.post("/studies/{key}/readings")
def keep_reading(services: ServicesHere, key: Key, given: ReadingIn) -> ReadingKept:
    """Keep one reading. A piece that has one already is refused: send an event that amends it.
    The same ``id`` again changes nothing and answers as before."""
    state = study_of(services, key)
    before = _sent_before(state, given.id)
    piece = _piece(state, given.piece if before is None else before.piece)
    entry = _entry(services, state, given, before)
    if before is None and piece.standing is not Standing.WAITING:
        words = "was left out" if piece.standing is Standing.VOID else "has a reading already"
        raise HTTPException(
            409, f"Piece '{piece.label}' {words}; an amendment is an event (docs/api.md)."
        )
    if before is not None and before.entry != entry:
        raise HTTPException(409, f"Another reading has the id {given.id}.")
    event = Event(
        id=given.id or new_id(),
        study=state.id,
        made=services.now(),
        body=ReadingEntered(piece.id, entry),
        device="api",
        person=given.person,
    )
    understood = understand_entry(state, piece.id, entry)
    receipt = services.record([event]) if before is None else None
    now = study_of(services, state.id)
    coming = now.next_piece
    return ReadingKept(
        new=list(receipt.new) if receipt else [],
        known=receipt.known if receipt else 1,
        event=event.id,
        piece=piece_out(now.piece(piece.id) or piece),
        understood=UnderstoodOut.model_validate(understood),
        next=None if coming is None else piece_out(coming),
    )


def _sent_before(state: StudyState, event_id: str | None) -> ReadingEntered | None:
    if event_id is None:
        return None
    for recorded in state.events:
        if recorded.event.id == event_id:
            body = recorded.event.body
            if isinstance(body, ReadingEntered):
                return body
            raise HTTPException(409, f"Another event has the id {event_id}.")
    return None


def _piece(state: StudyState, key: str) -> PieceState:
    piece = state.piece(key)
    if piece is None and key == "next":
        piece = state.next_piece
        if piece is None:
            raise HTTPException(409, "No piece is waiting: every one has been broken or left out.")
    if piece is None:
        raise HTTPException(404, f"There is no piece '{key[:80]}' in this study.")
    return piece


def _entry(
    services: Services, state: StudyState, given: ReadingIn, before: ReadingEntered | None
) -> Entry:
    numbers = [load for load in (*given.loads, given.together) if isinstance(load, int | float)]
    today = services.clock().astimezone().date().isoformat()
    return Entry(
        loads=tuple(_typed(load) for load in given.loads),
        unit=given.unit or default_unit(state),
        ended=Ending(given.ended),
        failure=given.failure,
        note=given.note,
        # A number of JSON has a point by definition; what was typed is left to be asked about.
        decimal="point" if numbers else None,
        scale=given.scale,
        together=None if given.together is None else _typed(given.together),
        # A repeat on the next day is still the same reading.
        date=given.date or (before.entry.date if before else today),
    )


def _typed(load: str | int | float) -> str:
    """Return a number as a person would type it, never as 1e-07."""
    return load if isinstance(load, str) else format(Decimal(repr(load)), "f")
