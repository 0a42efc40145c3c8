"""The small forms of the page at the rig: cautions read, undo, a piece that was not planned."""

from urllib.parse import urlencode

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse, Response

from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import Event, PieceAdded, SafetyRead, Undone
from breakwright.usecases.bench.state import StudyState
from breakwright.web.breaking.finding import bench_day, side_of, study_of
from breakwright.web.breaking.rig_page import show_rig
from breakwright.web.breaking.scene import scene_of
from breakwright.web.breaking.typed import FieldsHere, words_of
from breakwright.web.services import ServicesHere, new_id

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


@router.post("/s/{handle}/break/safety")
def safety_read(services: ServicesHere, handle: str, fields: FieldsHere) -> Response:
    """The cautions were read today."""
    state = study_of(services, handle)
    day = bench_day(services)
    if day not in state.safety:
        body = SafetyRead(day, scene_of(state, side_of(state)).cautions)
        services.record([services.event(state.id, body)])
    return _on(handle, piece=words_of(fields, "piece"))


@router.post("/s/{handle}/break/undo")
def undo(services: ServicesHere, handle: str, fields: FieldsHere) -> Response:
    """Take back the last thing done, and come back to its piece."""
    state = study_of(services, handle)
    known = {recorded.event.id: recorded.event for recorded in state.events}
    # What came last goes first: a leaving-out before the reading that it came with.
    last = [words_of(fields, "also"), words_of(fields, "event")]
    taken = [known[e] for e in last if e in known and e not in state.undone]
    services.record([services.event(state.id, Undone(event.id)) for event in taken])
    piece = words_of(fields, "piece")
    if any(isinstance(event.body, PieceAdded) for event in taken):
        piece = ""
    return _on(handle, piece=piece, word="undone")


@router.post("/s/{handle}/break/piece")
def add_piece(
    request: Request, services: ServicesHere, handle: str, fields: FieldsHere
) -> Response:
    """Add a piece that was not planned, and show it."""
    state = study_of(services, handle)
    piece = words_of(fields, "id") or new_id()
    label, group = words_of(fields, "label"), words_of(fields, "group")
    body = PieceAdded(piece, label, group, block=words_of(fields, "block") or None)
    event = services.event(state.id, body)
    if state.piece(piece) is None:
        try:
            _refuse_unfit(state, body)
            services.record([event])
        except InputRefused as refused:
            return show_rig(
                request, services, state, state.next_piece, problems=refused.problems, status=422
            )
    return _on(handle, piece=piece, said=_event_of(state, piece, event))


def _event_of(state: StudyState, piece: str, event: Event) -> str:
    there = state.piece(piece)
    return there.added if there else event.id


def _refuse_unfit(state: StudyState, body: PieceAdded) -> None:
    if body.label and all(piece.label != body.label for piece in state.pieces):
        return
    problem = Problem(
        "piece-label",
        "this label is taken" if body.label else "a piece needs a label",
        "Break",
        column_name="label",
        read=body.label,
        allowed="a label that no other piece of this study has",
        do="Write another one on the piece and type it below.",
    )
    raise InputRefused((problem,))


def _on(handle: str, *, piece: str = "", said: str = "", word: str = "") -> Response:
    given = {"piece": piece, "said": said, "word": word}
    query = urlencode({name: value for name, value in given.items() if value})
    address = f"/s/{handle}/break" + (f"?{query}" if query else "")
    return RedirectResponse(address, status_code=303)
