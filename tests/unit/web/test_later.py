"""The first page at once, the rest a moment later: nothing is missing, whoever asks first."""

import asyncio
from pathlib import Path

import pytest
from doors_here import LAN, client_of, run_apart, services_at

from breakwright.web import later
from breakwright.web.app import served

PATHS = ("/", "/devices", "/assets/frame.css", "/api/v1/studies", "/s/pegs/break", "/assets/no.js")


def test_whoever_asks_first_gets_the_whole(tmp_path: Path) -> None:
    async def all_at_once() -> list[int]:
        async with client_of(served(services_at(tmp_path), LAN)) as client:
            answers = await asyncio.gather(*(client.get(path) for path in reversed(PATHS)))
            return [answer.status_code for answer in reversed(answers)]

    assert run_apart(all_at_once) == [200, 200, 200, 200, 200, 404]


def test_the_first_page_waits_for_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    loaded: list[str] = []

    def load() -> None:
        loaded.append("rest")

    monkeypatch.setattr(later, "load_rest", load)
    monkeypatch.setattr(later, "add_rest", lambda app: loaded.append("added"))

    async def one_after_the_other() -> list[int]:
        async with client_of(served(services_at(tmp_path), LAN)) as client:
            first = await client.get("/")
            second = await client.get("/devices")
            third = await client.get("/devices")
            return [answer.status_code for answer in (first, second, third)]

    # Without the rest there is no such page: the second request did wait for it, once.
    assert run_apart(one_after_the_other) == [200, 404, 404]
    assert loaded == ["rest", "added"]
