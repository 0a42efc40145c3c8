"""A device as the server sees one: events made here, sent until they are acknowledged."""

import http.client
import json
import secrets
from typing import Any
from urllib.parse import urlsplit

from breakwright.model.event import Body, Entry, Event, PieceAdded, ReadingEntered, StudyMade
from breakwright.usecases.bench.event_form import event_form

__all__ = ["TOML", "Device", "Refused", "new_id"]

TOML = """title = "Pegs"
groups = ["plain", "wedged"]
reference = "plain"
counts = "pull-out"
unit = "kgf"
invented = true

[[instrument]]
name = "scale"
capacity = 500
resolution = 0.1
"""


class Refused(Exception):
    """The server answered, and not with 200."""

    def __init__(self, status: int, body: bytes) -> None:
        super().__init__(f"{status}: {body[:500].decode(errors='replace')}")
        self.status = status
        self.body = body


def new_id() -> str:
    return secrets.token_hex(16)


class Device:
    """One connection that is kept open, as a browser keeps one. Not for several threads."""

    def __init__(self, url: str, *, name: str = "device") -> None:
        self.name = name
        place = urlsplit(url)
        assert place.hostname
        self._line = http.client.HTTPConnection(place.hostname, place.port, timeout=30.0)

    def call(self, method: str, path: str, body: object = None) -> Any:
        """Return what the API answers. Raises Refused, and OSError where nobody answers."""
        data = None if body is None else json.dumps(body)
        try:
            return self._call(method, path, data)
        except http.client.RemoteDisconnected:
            # An idle line that the server has closed; ids make sending twice harmless.
            return self._call(method, path, data)

    def _call(self, method: str, path: str, data: str | None) -> Any:
        try:
            self._line.request(method, path, data, {"Content-Type": "application/json"})
            answer = self._line.getresponse()
            said = answer.read()
        except http.client.RemoteDisconnected:
            self._line.close()
            raise
        except http.client.HTTPException as broken:
            self._line.close()
            raise ConnectionError(str(broken)) from broken
        except OSError:
            self._line.close()
            raise
        if answer.status != 200:
            raise Refused(answer.status, said)
        return json.loads(said)

    def send(self, study: str, *bodies: Body) -> list[str]:
        """Send ``bodies`` as events in one call; return their ids once they are acknowledged."""
        events = [
            Event(new_id(), study, "2026-01-31T09:30:00.000Z", body, device=self.name)
            for body in bodies
        ]
        self.call("POST", "/api/v1/events", {"events": [event_form(e) for e in events]})
        return [event.id for event in events]

    def make_study(self, *, pieces: int, handle: str = "pegs") -> tuple[str, list[str]]:
        """Return the id of a new study and those of its pieces."""
        study = new_id()
        there = [new_id() for _ in range(pieces)]
        self.send(study, StudyMade(TOML, handle))
        for start in range(0, pieces, 500):
            self.send(
                study,
                *(
                    PieceAdded(piece, f"P{i + 1}", ("plain", "wedged")[i % 2], order=i + 1)
                    for i, piece in enumerate(there[start : start + 500], start=start)
                ),
            )
        return study, there

    def read(self, study: str, piece: str, load: str) -> str:
        """Send one reading; return its event's id once it is acknowledged."""
        entry = Entry(loads=(load,), unit="kgf", failure="pull-out")
        return self.send(study, ReadingEntered(piece, entry))[0]

    def kept(self, study: str) -> list[str]:
        """Return the ids of all events of ``study`` that the server has, in its order."""
        ids: list[str] = []
        after = 0
        while True:
            page = self.call("GET", f"/api/v1/studies/{study}/events?after={after}")
            events = page["events"]
            ids += [recorded["event"]["id"] for recorded in events]
            if not events or events[-1]["seq"] == after:
                return ids
            after = events[-1]["seq"]

    def close(self) -> None:
        self._line.close()
