"""A browser without scripts over a bench in memory, for the Prepare pages."""

import re
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from doors_here import Caller
from work_here import WorkHere

from breakwright.store.memory import MemoryStore
from breakwright.usecases.bench.bench import Bench
from breakwright.usecases.bench.state import StudyState
from breakwright.web.services import Services

__all__ = ["PrepareClient", "fields_of", "words_of"]


class _Forms(HTMLParser):
    """Collects what a browser would send of each form, by its action."""

    def __init__(self) -> None:
        super().__init__()
        self.forms: dict[str, dict[str, str]] = {}
        self._form: dict[str, str] = {}
        self._select: str | None = None
        self._area: str | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        has = {name: value or "" for name, value in attrs}
        if tag == "form":
            self._form = self.forms.setdefault(has.get("action", ""), {})
        elif tag == "input" and "name" in has:
            ticked = has.get("type") not in ("checkbox", "radio") or "checked" in has
            if ticked:
                self._form[has["name"]] = has.get("value", "")
        elif tag == "textarea":
            self._area = has["name"]
            self._form[self._area] = ""
        elif tag == "select" and "name" in has:
            self._select = has["name"]
        elif tag == "option" and self._select:
            first = self._form.setdefault(self._select, has.get("value", ""))
            self._form[self._select] = has.get("value", "") if "selected" in has else first

    def handle_data(self, data: str) -> None:
        if self._area:
            self._form[self._area] += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "select":
            self._select = None
        elif tag == "textarea" and self._area:
            self._form[self._area] = self._form[self._area].removeprefix("\n")
            self._area = None


def fields_of(html: str, action: str) -> dict[str, str]:
    """Return the fields of the form with this action, as they stand on the page."""
    found = _Forms()
    found.feed(html)
    return found.forms[action]


class _Client:
    """Calls through the doors, as a page served from there does."""

    def __init__(self, services: Services) -> None:
        self._call = Caller(services)

    def get(self, path: str) -> Any:
        return self._call("GET", path)

    def post(self, path: str, **given: Any) -> Any:
        headers = {"origin": "http://127.0.0.1:8321", **given.pop("headers", {})}
        return self._call("POST", path, headers=headers, **given)


class PrepareClient:
    """``get`` and ``fill`` (a form found on a page, some fields changed, sent)."""

    def __init__(self, folder: Path) -> None:
        self.store = MemoryStore()
        self.work = WorkHere(self.store)
        self.services = Services(Bench(self.store), self.store, folder, hands=self.work)
        self.client = _Client(self.services)

    def get(self, path: str) -> str:
        reply = self.client.get(path)
        assert reply.status_code == 200, (path, reply.status_code, reply.text[:300])
        return reply.text

    def fill(self, page: str, action: str, **changes: Any) -> Any:
        fields = fields_of(self.get(page), action)
        fields.update({name: str(value) for name, value in changes.items()})
        return self.send(action, fields)

    def send(self, action: str, fields: Any) -> Any:
        return self.client.post(
            action,
            content=urlencode(fields, doseq=True),
            headers={"content-type": "application/x-www-form-urlencoded"},
        )

    def state(self, handle: str) -> StudyState:
        state = self.services.bench.state(handle)
        assert state is not None
        return state


def words_of(html: str) -> str:
    """Return the text of a page, without its tags."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())
