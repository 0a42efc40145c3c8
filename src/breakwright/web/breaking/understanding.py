"""What would be understood of an entry, for scripts and for the page at the rig."""

from typing import Any

from fastapi import Request
from pydantic import BaseModel, ConfigDict, Field

from breakwright.bootstrap.bench import understand_entry
from breakwright.model.event import Entry, ReadingEntered
from breakwright.usecases.bench.event_form import read_event
from breakwright.web.api.common import Key, api_router
from breakwright.web.api.shapes import UnderstoodOut
from breakwright.web.breaking.finding import piece_of, side_of, study_of
from breakwright.web.breaking.words import echo_of
from breakwright.web.rendering import shown_unit
from breakwright.web.services import ServicesHere

__all__ = ["EntryAsked", "EntrySaid", "router"]

router = api_router("readings")


class EntryAsked(BaseModel):
    """``piece`` is the id or the label; ``entry`` as in a reading-entered event."""

    model_config = ConfigDict(extra="forbid")

    piece: str = Field(max_length=4000)
    entry: dict[str, Any]


class EntrySaid(UnderstoodOut):
    """``line`` says all in one sentence, in the unit that this person reads; ``counts`` is its
    end: whether the load counts as measured or as 'at least'."""

    line: str
    counts: str


@router.post("/studies/{key}/understand")
def understand(request: Request, services: ServicesHere, key: Key, asked: EntryAsked) -> EntrySaid:
    """Say what an entry would tell of a piece. Nothing is kept."""
    state = study_of(services, key)
    side = side_of(state)
    piece = piece_of(state, asked.piece)
    understood = understand_entry(state, piece.id, _entry(asked.entry, state.id, piece.id))
    echo = echo_of(understood, unit=shown_unit(request, side.unit))
    return EntrySaid(
        **UnderstoodOut.model_validate(understood).model_dump(),
        line=echo.line,
        counts=echo.counts,
    )


def _entry(form: dict[str, Any], study: str, piece: str) -> Entry:
    """Read the entry as strictly as an event that holds it."""
    event = read_event(
        {
            "id": "0" * 32,
            "study": study,
            "made": "2000-01-01T00:00:00Z",
            "kind": "reading-entered",
            "body": {"piece": piece, "entry": form},
        },
        file="understand",
    )
    assert isinstance(event.body, ReadingEntered)
    return event.body.entry
