"""The application behind its doors, over a store in memory, called without a network."""

import asyncio
from collections.abc import Callable, Coroutine
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, TypeVar

import httpx

from breakwright.model.event import Event, PieceAdded, StudyMade
from breakwright.store.memory import MemoryStore
from breakwright.usecases.bench.bench import Bench
from breakwright.web.app import guarded, make_app
from breakwright.web.doors.guard import Doors
from breakwright.web.services import Services

Answer = TypeVar("Answer")

LAN = Doors(
    names=frozenset({"bench.local", "192.168.7.5"}),
    token="0123456789abcdef0123456789abcdef",
    address="http://192.168.7.5:8321",
)
STUDY = "a" * 32
PIECES = ("b" * 32, "c" * 32)
TOML = """\
title = "Pegs"
question = "Does glue help?"
groups = ["plain", "glued"]
reference = "plain"
unit = "kgf"
"""
NOW = datetime(2026, 1, 31, 9, 30, tzinfo=UTC)


def services_at(folder: Path) -> Services:
    """Services with one study of two pieces."""
    store = MemoryStore()
    services = Services(Bench(store), store, folder, clock=lambda: NOW)
    bodies = (
        StudyMade(TOML, "pegs"),
        PieceAdded(PIECES[0], "P1", "plain", order=1),
        PieceAdded(PIECES[1], "G1", "glued", order=2),
    )
    made = "2026-01-31T09:00:00Z"
    services.record(
        [Event(f"{n:032x}", STUDY, made, body) for n, body in enumerate(bodies, start=1)]
    )
    return services


def client_of(
    app: Any, *, peer: str = "127.0.0.1", base: str = "http://127.0.0.1:8321"
) -> httpx.AsyncClient:
    """A client at the address ``peer`` that calls the server ``base``."""
    transport = httpx.ASGITransport(app, client=(peer, 50000))
    return httpx.AsyncClient(transport=transport, base_url=base)


def run_apart(one: Callable[[], Coroutine[Any, Any, Answer]]) -> Answer:
    """Run a coroutine in a thread of its own: a browser's driver keeps this one's loop busy."""
    with ThreadPoolExecutor(1) as apart:
        return apart.submit(lambda: asyncio.run(one())).result()


class Caller:
    """Calls from an ordinary test: one request at a time, a loop for each."""

    def __init__(self, services: Services, *, doors: Doors = LAN, **how: Any) -> None:
        self.services = services
        self.app: Any = guarded(make_app(services), doors)
        self._how = how

    def __call__(self, method: str, path: str, **given: Any) -> httpx.Response:
        async def one() -> httpx.Response:
            async with client_of(self.app, **self._how) as client:
                return await client.request(method, path, **given)

        return run_apart(one)
