"""A reading from the form of the page at the rig: saved, or what has to be known first."""

import dataclasses
import hashlib
import re
from collections.abc import Sequence

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse, Response

from breakwright.bootstrap.bench import understand_entry
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import Body, Event, PieceVoided, ReadingEntered
from breakwright.usecases.bench.ports import IdTaken, StoreFull
from breakwright.usecases.bench.state import PieceState, StudyState
from breakwright.web.breaking.finding import bench_day, piece_of, side_of, study_of
from breakwright.web.breaking.rig_page import show_rig
from breakwright.web.breaking.scene import next_order
from breakwright.web.breaking.typed import (
    ASK_HOW,
    ASK_WHY,
    FieldsHere,
    Typed,
    entry_of,
    typed_of,
)
from breakwright.web.services import ServicesHere, new_id

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


@router.post("/s/{handle}/break")
def enter(request: Request, services: ServicesHere, handle: str, fields: FieldsHere) -> Response:
    """Save what was typed and go on to the next piece, or ask first what has to be known."""
    state = study_of(services, handle)
    side = side_of(state)
    typed = typed_of(fields, side)
    if not re.fullmatch("[0-9a-f]{32}", typed.id):
        typed = dataclasses.replace(typed, id=new_id())
    piece = piece_of(state, typed.piece)
    before = next((r.event.body for r in state.events if r.event.id == typed.id), None)
    problems: Sequence[Problem] = ()
    bodies: list[Body] = []
    try:
        bodies = _bodies(
            state, piece, typed, counts=side.counts, day=bench_day(services), before=before
        )
        if before is None and bodies:
            services.record(_events(services, state, typed, bodies))
            return _on(handle, typed.id)
        if before is not None and bodies and bodies[0] == before:
            return _on(handle, typed.id)
        problems = (_sent_before(piece),) if before is not None else ()
    except InputRefused as refused:
        problems = refused.problems
    except StoreFull as full:
        problems = (_no_room(full),)
    except IdTaken:
        # The same form was on its way twice; the other one got here first.
        return _on(handle, typed.id)
    # With a new id: this form was not kept, whatever became of an earlier one.
    kept = dataclasses.replace(typed, id=new_id())
    return show_rig(request, services, state, piece, typed=kept, problems=problems, status=422)


def _bodies(
    state: StudyState,
    piece: PieceState,
    typed: Typed,
    *,
    counts: str | None,
    day: str,
    before: Body | None,
) -> list[Body]:
    """Return what is to be kept; nothing where a question comes first.

    ``before`` is what an event with the form's id says already: its day and its place in the
    order are not of the form. Raises InputRefused.
    """
    after: list[Body] = []
    if typed.end == ASK_WHY:
        if not typed.reason:
            return []
        after = [PieceVoided(piece.id, typed.reason)]
        if typed.is_empty:
            return after
    elif typed.end == ASK_HOW and not typed.failure:
        return []
    order: int | None = next_order(state)
    date: str | None = day
    if isinstance(before, ReadingEntered):
        order, date = before.entry.order, before.entry.date
    entry = entry_of(typed, counts=counts, date=date, order=order)
    understand_entry(state, piece.id, entry)
    return [ReadingEntered(piece.id, entry), *after]


def _events(
    services: ServicesHere, state: StudyState, typed: Typed, bodies: Sequence[Body]
) -> list[Event]:
    """Return events whose ids follow from the form's own, so that a form sent twice repeats
    them."""
    made = services.now()
    ids = [typed.id]
    while len(ids) < len(bodies):
        ids.append(hashlib.sha256(ids[-1].encode()).hexdigest()[:32])
    return [
        Event(event, state.id, made, body, "server", typed.person or None)
        for event, body in zip(ids, bodies, strict=True)
    ]


def _sent_before(piece: PieceState) -> Problem:
    return Problem(
        "form-changed",
        f"this form was sent before with something else in it, which was kept for {piece.label}",
        "Break",
        allowed="a reading is changed by an amendment with a reason",
        do="To change the reading that was kept, amend it on the page of its piece. To keep this "
        "one beside it, save again.",
    )


def _no_room(full: StoreFull) -> Problem:
    return Problem(
        "disk-full",
        str(full),
        "Break",
        do="Make room on the disk of the machine that runs Breakwright, then save again; what you "
        "typed is still here.",
    )


def _on(handle: str, said: str) -> Response:
    return RedirectResponse(f"/s/{handle}/break?said={said}", status_code=303)
