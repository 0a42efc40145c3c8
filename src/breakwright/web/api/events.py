"""Events in and out: all that the pages' scripts and other programs write goes through here."""

from typing import Annotated

from fastapi import Query

from breakwright.usecases.bench.event_form import event_form, read_events
from breakwright.web.api.common import Key, api_router, study_of
from breakwright.web.api.shapes import EventsIn, EventsOut, Kept, RecordedOut
from breakwright.web.services import ServicesHere

__all__ = ["router"]

router = api_router("events")


@router.post("/events")
def keep_events(services: ServicesHere, given: EventsIn) -> Kept:
    """Keep events, all or none. One that is there already, saying the same, is left alone; so
    an answer that got lost on its way is no harm: send again. On the disk before this answers."""
    receipt = services.record(list(read_events(given.events, file="request")))
    return Kept(new=list(receipt.new), known=receipt.known)


@router.get("/studies/{key}/events")
def list_events(
    services: ServicesHere, key: Key, after: Annotated[int, Query(ge=0, lt=2**53)] = 0
) -> EventsOut:
    """The study's events with a place above ``after``, in order of arrival."""
    state = study_of(services, key)
    events = [
        RecordedOut(seq=r.seq, received=r.received, event=event_form(r.event))
        for r in state.events
        if r.seq > after
    ]
    return EventsOut(events=events, last=state.last)
