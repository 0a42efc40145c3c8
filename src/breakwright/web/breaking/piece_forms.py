"""What the forms on the page of one piece do: amend, settle, leave out, count again, take back."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Depends, Request
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


@dataclass(frozen=True)
class Form:
    """A form that was sent from the page of one piece."""

    request: Request
    services: Services
    state: StudyState
    piece: PieceState
    fields: Fields

    def keep(self, name: str, making: Callable[[], Body]) -> Response:
        """Keep what ``making`` returns and show the piece; refused, show the form ``name`` with
        what was typed."""
        there = RedirectResponse(f"/s/{self.state.handle}/piece/{self.piece.id}", status_code=303)
        event = words_of(self.fields, "id") or new_id()
        if any(recorded.event.id == event for recorded in self.state.events):
            return there
        person = words_of(self.fields, "person") or None
        now = self.services.now()
        try:
            self.services.record([Event(event, self.state.id, now, making(), "server", person)])
        except InputRefused as refused:
            typed = _typed(self.state, self.fields) if name in ("amend", "settle") else None
            return show_piece(
                self.request,
                self.services,
                self.state,
                self.piece,
                typed=typed,
                problems=refused.problems,
                form=name,
            )
        except IdTaken:
            return there
        return there


def _form(
    request: Request, services: ServicesHere, handle: str, key: str, fields: FieldsHere
) -> Form:
    state = study_of(services, handle)
    return Form(request, services, state, piece_of(state, key), fields)


FormHere = Annotated[Form, Depends(_form)]


@router.post("/s/{handle}/piece/{key}/amend")
def amend(form: FormHere) -> Response:
    """The reading is really another one; or the first one, where there was none."""
    day = bench_day(form.services)
    return form.keep("amend", lambda: _amended(form.state, form.piece, form.fields, day))


@router.post("/s/{handle}/piece/{key}/settle")
def settle(form: FormHere) -> Response:
    """Of readings that clash, one counts."""
    return form.keep("settle", lambda: _settled(form.state, form.piece, form.fields))


@router.post("/s/{handle}/piece/{key}/leave-out")
def leave_out(form: FormHere) -> Response:
    """The piece does not count, for a reason."""
    return form.keep(
        "leave-out", lambda: PieceVoided(form.piece.id, _reason(form.fields, "left out"))
    )


@router.post("/s/{handle}/piece/{key}/count-again")
def count_again(form: FormHere) -> Response:
    """The piece counts after all, for a reason."""
    return form.keep(
        "count-again", lambda: PieceRestored(form.piece.id, _reason(form.fields, "counted again"))
    )


@router.post("/s/{handle}/piece/{key}/undo")
def take_back(form: FormHere) -> Response:
    """One line of the history is taken back."""
    return form.keep("undo", lambda: Undone(words_of(form.fields, "event")))


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
