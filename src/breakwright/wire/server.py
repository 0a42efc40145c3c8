"""The way to a running server: plain HTTP with the standard library, told apart by what helps."""

import json
import ssl
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from breakwright.model.errors import BreakwrightError, InputRefused, Problem
from breakwright.model.event import Entry, Event
from breakwright.model.units import ForceUnit, to_newtons
from breakwright.usecases.bench.event_form import event_form

__all__ = ["Display", "NotTaken", "PieceSeen", "Server", "ServerAway", "StudySeen"]

_WAIT_S = 8.0


class ServerAway(BreakwrightError):
    """The server cannot be reached, or cannot keep anything just now. Try again later."""


class NotTaken(BreakwrightError):
    """The server has understood and says no; sending it again would not help."""


@dataclass(frozen=True, slots=True)
class Display:
    """A scale of the study; resolution and capacity in N (None: not stated), refresh in s."""

    name: str
    resolution: float | None
    capacity: float | None
    refresh: float | None


@dataclass(frozen=True, slots=True)
class PieceSeen:
    """A piece as the server tells of it."""

    id: str
    label: str
    group: str
    waiting: bool


@dataclass(frozen=True, slots=True)
class StudySeen:
    """A study as the server tells of it; ``pieces`` in the order of their turn."""

    id: str
    handle: str
    title: str
    unit: ForceUnit
    shared: bool
    displays: tuple[Display, ...]
    pieces: tuple[PieceSeen, ...]


class Server:
    """``address`` is http://... or https://...; ``certificate`` a file of certificates to trust.

    Raises InputRefused for an address that is none. Every call raises ``ServerAway`` or
    ``NotTaken``.
    """

    def __init__(
        self, address: str, *, token: str | None = None, certificate: Path | None = None
    ) -> None:
        parts = urllib.parse.urlsplit(address)
        if parts.scheme not in ("http", "https") or not parts.hostname:
            raise InputRefused(
                [
                    Problem(
                        code="bad-address",
                        message="this is not the address of a server",
                        file="--to",
                        read=address,
                        allowed="http://192.168.1.20:8321, https://bench.local:8321",
                        do="Give the address that 'breakwright serve' printed.",
                    )
                ]
            )
        self.address = f"{parts.scheme}://{parts.netloc}"
        # The token may also come inside the address that 'serve --lan' prints.
        inside = urllib.parse.parse_qs(parts.query).get("token", [None])[0]
        self._token = token or inside
        context = ssl.create_default_context(cafile=certificate) if certificate else None
        # A bench's server is never behind a proxy, whatever the environment says.
        handlers: list[Any] = [urllib.request.ProxyHandler({})]
        if context is not None:
            handlers.append(urllib.request.HTTPSHandler(context=context))
        self._opener = urllib.request.build_opener(*handlers)

    def studies(self) -> tuple[str, ...]:
        """Return the handles of the studies at work, the one touched last first."""
        lines = self._ask("GET", "/api/v1/studies")["studies"]
        return tuple(str(line["handle"]) for line in lines if not line["shelved"])

    def study(self, key: str) -> StudySeen:
        """Return the study with this handle or id."""
        form = self._ask("GET", f"/api/v1/studies/{_quoted(key)}")
        try:
            return _seen(form)
        except (KeyError, TypeError, ValueError) as wrong:
            raise NotTaken(f"{self.address} tells of the study in another way: {wrong}") from wrong

    def understand(self, study: str, piece: str, entry: Entry) -> tuple[str, ...]:
        """Return how the server understands an entry, in lines of words."""
        form = {"piece": piece, "entry": _entry_form(entry)}
        said = self._ask("POST", f"/api/v1/studies/{study}/understand", form)
        words = [*said.get("steps", ()), *said.get("remarks", ())]
        return tuple(str(line) for line in words)

    def record(self, event: Event) -> bool:
        """Send one event; return whether it is new there (False: it had come before)."""
        return bool(self._ask("POST", "/api/v1/events", {"events": [event_form(event)]})["new"])

    def keep_trace(self, study: str, *, piece: str, event: str, text: str, note: str) -> None:
        """Send a trace, kept under the event id ``event``."""
        query = urllib.parse.urlencode({"piece": piece, "id": event, "note": note})
        path = f"/api/v1/studies/{study}/traces?{query}"
        self._ask("POST", path, text.encode("ascii"), kind="text/csv")

    def _ask(
        self,
        method: str,
        path: str,
        body: Mapping[str, Any] | bytes | None = None,
        *,
        kind: str = "application/json",
    ) -> Any:
        data = body if body is None or isinstance(body, bytes) else json.dumps(body).encode()
        request = urllib.request.Request(self.address + path, data=data, method=method)
        request.add_header("Accept", "application/json")
        if data is not None:
            request.add_header("Content-Type", kind)
        if self._token:
            request.add_header("Authorization", f"Bearer {self._token}")
        try:
            with self._opener.open(request, timeout=_WAIT_S) as answer:
                return json.loads(answer.read())
        except urllib.error.HTTPError as refused:
            with refused:
                raise _refusal(refused, self.address) from refused
        except json.JSONDecodeError as odd:
            raise NotTaken(f"{self.address} answers, but not as Breakwright does") from odd
        except OSError as away:
            reason = getattr(away, "reason", away)
            raise ServerAway(f"{self.address} does not answer ({reason})") from away


def _quoted(key: str) -> str:
    return urllib.parse.quote(key, safe="")


def _entry_form(entry: Entry) -> dict[str, Any]:
    from dataclasses import asdict

    return {name: value for name, value in asdict(entry).items() if value is not None}


def _seen(form: Mapping[str, Any]) -> StudySeen:
    unit = ForceUnit(form["unit"])
    return StudySeen(
        id=str(form["id"]),
        handle=str(form["handle"]),
        title=str(form["title"]),
        unit=unit,
        shared=form.get("sharing") is not None,
        displays=tuple(_display(one, unit) for one in form["instruments"]),
        pieces=tuple(
            PieceSeen(
                str(one["id"]), str(one["label"]), str(one["group"]), one["standing"] == "waiting"
            )
            for one in form["pieces"]
        ),
    )


def _display(form: Mapping[str, Any], study_unit: ForceUnit) -> Display:
    unit = ForceUnit(form["unit"]) if form.get("unit") else study_unit
    resolution, capacity = form.get("resolution"), form.get("capacity")
    return Display(
        name=str(form["name"]),
        resolution=to_newtons(float(resolution), unit) if resolution else None,
        capacity=(
            to_newtons(float(capacity) - float(form.get("tare") or 0.0), unit) if capacity else None
        ),
        refresh=form.get("refresh_s"),
    )


def _refusal(refused: urllib.error.HTTPError, address: str) -> BreakwrightError:
    try:
        problems = json.loads(refused.read())["problems"]
        words = "; ".join(
            " ".join(str(one[part]) for part in ("message", "do") if one.get(part))
            for one in problems
        )
    except (ValueError, KeyError, TypeError, OSError):
        words = f"it answers with status {refused.code}"
    if refused.code >= 500 or refused.code in (408, 429):
        return ServerAway(f"{address} cannot keep it now: {words}")
    return NotTaken(f"{address}: {words}")
