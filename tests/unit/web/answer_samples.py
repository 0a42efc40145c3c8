"""The demo study on a bench in memory, with worker's work done at once in the test's process."""

import asyncio
import itertools
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime

import httpx
from fastapi import FastAPI

from breakwright.bootstrap.bench import demo_events
from breakwright.model.event import ReadingEntered
from breakwright.store.memory import MemoryStore
from breakwright.usecases.bench.bench import Bench
from breakwright.web import answer_page
from breakwright.web.services import Services
from breakwright.web.work.registry import lane_of
from breakwright.web.work.worker import drain

NOW = "2026-01-31T09:00:00.000Z"


class Idle:
    """Hands that do nothing: work waits. ``woken`` lists the kinds asked for."""

    def __init__(self):
        self.woken = []

    def wake(self, kind):
        self.woken.append(kind)


class AtOnce:
    """Hands that have done the work when ``wake`` returns; ``lanes`` are those that work."""

    def __init__(self, store, folder, lanes=("quick", "long")):
        self.store, self.folder, self.lanes = store, folder, lanes
        self.said = []

    def wake(self, kind):
        if lane_of(kind) in self.lanes:
            drain(self.store, lane=lane_of(kind), folder=self.folder, say=self.said.append)


def demo(readings=None):
    """Events of the demo study, with its first ``readings`` readings (None: all)."""
    ids = (f"{k:032x}" for k in itertools.count(1))
    left = itertools.count()
    return [
        event
        for event in demo_events(NOW, lambda: next(ids))
        if not isinstance(event.body, ReadingEntered) or readings is None or next(left) < readings
    ]


def bench(tmp_path, *, hands=None, events=None):
    """Services over a store in memory that holds ``events``, else the whole demo."""
    store = MemoryStore()
    services = Services(
        bench=Bench(store),
        jobs=store,
        folder=tmp_path,
        hands=hands or AtOnce(store, tmp_path),
        clock=lambda: datetime(2026, 1, 31, 9, tzinfo=UTC),
    )
    store.append(demo() if events is None else events, received=NOW)
    return services


class Client:
    """Asks the Answer page's application itself, without a network."""

    def __init__(self, services):
        self.app = FastAPI()
        self.app.state.services = services
        self.app.include_router(answer_page.router)

    def get(self, path, **more):
        return self._ask("GET", path, **more)

    def post(self, path, **more):
        return self._ask("POST", path, **more)

    def _ask(self, how, path, **more):
        async def ask():
            transport = httpx.ASGITransport(app=self.app)
            async with httpx.AsyncClient(transport=transport, base_url="http://bench") as there:
                return await there.request(how, path, **more)

        # The session's browser may leave an event loop running in this thread.
        with ThreadPoolExecutor(1) as aside:
            return aside.submit(asyncio.run, ask()).result()


def handle_of(services):
    return services.bench.studies()[0].handle


def settled(client, handle):
    """Ask for the page until nothing is on its way, and return its text."""
    for _ in range(3):
        text = client.get(f"/s/{handle}/answer").text
        if 'data-busy="no"' in text:
            return text
    raise AssertionError("work waits that nobody does")
