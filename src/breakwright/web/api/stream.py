"""News as server-sent events: what a second device sees within two seconds."""

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Annotated

from fastapi import Header, HTTPException, Query, Request
from fastapi.responses import StreamingResponse
from starlette.concurrency import run_in_threadpool

from breakwright.model.errors import BreakwrightError
from breakwright.model.event import Recorded, kind_of
from breakwright.web.api.common import api_router
from breakwright.web.news import News
from breakwright.web.services import Services, ServicesHere

__all__ = ["router"]

router = api_router("news")

_BEAT_S = 15.0
_PLACE = 2**53


@router.get(
    "/stream",
    response_class=StreamingResponse,
    responses={
        200: {
            "description": "id: the place; data: {seq, study, kind, piece}; 'beat' events between",
            "content": {"text/event-stream": {"schema": {"type": "string"}}},
        }
    },
)
async def stream(
    request: Request,
    services: ServicesHere,
    study: Annotated[str | None, Query(max_length=200)] = None,
    after: Annotated[int | None, Query(ge=0, lt=_PLACE)] = None,
    last_event_id: Annotated[str | None, Header(max_length=30)] = None,
) -> StreamingResponse:
    """News of one study (id or handle) or of all, from the place ``after`` on; without it, from
    now on. A browser that comes back goes on from the last place it saw."""
    news: News = request.app.state.news
    found = None if study is None else await run_in_threadpool(services.bench.find, study)
    if study is not None and found is None:
        raise HTTPException(404, f"There is no study '{study[:80]}' here.")
    if last_event_id is not None and last_event_id.isascii() and last_event_id.isdigit():
        after = max(after or 0, min(int(last_event_id), _PLACE))
    if after is None:
        after = await run_in_threadpool(services.bench.store.last)
    return StreamingResponse(
        _lines(services, news, found, after),
        media_type="text/event-stream",
        headers={"cache-control": "no-store", "x-accel-buffering": "no"},
    )


async def _lines(
    services: Services, news: News, study: str | None, after: int
) -> AsyncIterator[str]:
    yield "retry: 1000\n\n"
    async with news.listening() as bell:
        while not news.over:
            bell.clear()
            try:
                fresh = await run_in_threadpool(_since, services, study, after)
            except BreakwrightError:
                return  # the page asks again until the store is back
            for recorded in fresh:
                after = recorded.seq
                yield _line(recorded)
            if fresh:
                continue
            try:
                await asyncio.wait_for(bell.wait(), _BEAT_S)
            except TimeoutError:
                yield "event: beat\ndata: {}\n\n"


def _since(services: Services, study: str | None, after: int) -> tuple[Recorded, ...]:
    store = services.bench.store
    return store.feed(after=after) if study is None else store.events(study, after=after)


def _line(recorded: Recorded) -> str:
    event = recorded.event
    data = {
        "seq": recorded.seq,
        "study": event.study,
        "kind": kind_of(event.body),
        "piece": getattr(event.body, "piece", None),
    }
    return f"id: {recorded.seq}\ndata: {json.dumps(data)}\n\n"
