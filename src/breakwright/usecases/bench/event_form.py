"""Events as plain dictionaries, for the store, the open format and the wire, and back again.

Reading is strict: what is missing, unknown, too long or of another type is a ``Problem`` with the
place in the event, never guessed at.
"""

import re
from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass
from enum import Enum
from functools import cache
from types import UnionType
from typing import Any, get_args, get_origin, get_type_hints

from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import KINDS, Event, kind_of

__all__ = ["LONGEST_TEXT", "LONGEST_TOML", "event_form", "read_event", "read_events"]

LONGEST_TEXT = 4000
LONGEST_TOML = 200_000
_MOST_ITEMS = 2000
_ID = re.compile(r"[0-9a-f]{32}")
_TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,6})?(Z|[+-]\d\d:\d\d)", re.ASCII)
_DAY = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)
_NAME = re.compile(r"[0-9a-f]{64}\.[a-z0-9]{1,5}")
_HANDLE = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")

# Fields that hold more than any text: pattern, and what to say is allowed.
_SHAPES: Mapping[str, tuple[re.Pattern[str], str]] = {
    "id": (_ID, "32 hexadecimal digits"),
    "study": (_ID, "32 hexadecimal digits"),
    "piece": (_ID, "32 hexadecimal digits"),
    "event": (_ID, "32 hexadecimal digits"),
    "base": (_ID, "32 hexadecimal digits"),
    "bases": (_ID, "32 hexadecimal digits each"),
    "film": (_ID, "32 hexadecimal digits"),
    "reading": (_ID, "32 hexadecimal digits"),
    "video": (_ID, "32 hexadecimal digits"),
    "pieces": (_ID, "32 hexadecimal digits each"),
    "made": (_TIME, "a time such as 2026-01-31T09:30:00Z"),
    "started": (_TIME, "a time such as 2026-01-31T09:30:00+01:00"),
    "day": (_DAY, "a day such as 2026-01-31"),
    "date": (_DAY, "a day such as 2026-01-31"),
    "media": (_NAME, "the name of stored media"),
    "handle": (_HANDLE, "lower case letters, digits and single hyphens"),
    "unit": (re.compile("N|kN|kgf|lbf"), "N, kN, kgf or lbf"),
    "decimal": (re.compile("point|comma"), "point or comma"),
}


def event_form(event: Event) -> dict[str, Any]:
    """Return ``event`` as a dictionary for JSON; what is None is left out."""
    form = _plain(event)
    form["kind"] = kind_of(event.body)
    return {name: form[name] for name in sorted(form)}


def _plain(value: Any) -> Any:
    if isinstance(value, Enum):
        return value.value
    if is_dataclass(value) and not isinstance(value, type):
        return {
            f.name: _plain(getattr(value, f.name))
            for f in fields(value)
            if getattr(value, f.name) is not None
        }
    if isinstance(value, Mapping):
        return {str(k): _plain(v) for k, v in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(v) for v in value]
    return value


def read_events(forms: object, *, file: str) -> tuple[Event, ...]:
    """Return the events of a list of dictionaries. Raises InputRefused with every problem.

    ``file`` names where they come from, for messages.
    """
    if not isinstance(forms, list) or not forms or len(forms) > _MOST_ITEMS:
        problem = _problem(file, "events", f"a list of 1 to {_MOST_ITEMS} events", forms)
        raise InputRefused((problem,))
    problems: list[Problem] = []
    events: list[Event] = []
    for place, form in enumerate(forms):
        try:
            events.append(read_event(form, file=file, where=f"events[{place}]"))
        except InputRefused as refused:
            problems += refused.problems
    if problems:
        raise InputRefused(problems)
    return tuple(events)


def read_event(form: object, *, file: str, where: str = "event") -> Event:
    """Return the event of one dictionary. Raises InputRefused with every problem in it."""
    problems: list[Problem] = []
    if not isinstance(form, dict):
        raise InputRefused((_problem(file, where, "an object", form),))
    kind = form.get("kind")
    body_type = KINDS.get(kind) if isinstance(kind, str) else None
    if body_type is None:
        raise InputRefused((_problem(file, f"{where}.kind", ", ".join(KINDS), kind),))
    body = _dataclass(body_type, form.get("body"), f"{where}.body", file, problems)
    rest = {name: value for name, value in form.items() if name not in ("kind", "body")}
    event = _dataclass(Event, rest, where, file, problems, given={"body": body})
    if problems:
        raise InputRefused(problems)
    assert isinstance(event, Event)
    return event


@cache
def _hints(kind: type[Any]) -> Mapping[str, Any]:
    return get_type_hints(kind)


def _dataclass(
    kind: type[Any],
    form: object,
    where: str,
    file: str,
    problems: list[Problem],
    given: Mapping[str, object] | None = None,
) -> object:
    if not isinstance(form, dict):
        problems.append(_problem(file, where, "an object", form))
        return None
    values = dict(given or {})
    hints = _hints(kind)  # type: ignore[arg-type]  # mypy: a class is hashable
    own = {f.name: f for f in fields(kind) if f.name not in values}
    for name in sorted(form.keys() - own.keys(), key=str):
        problems.append(_problem(file, f"{where}.{name}", ", ".join(own), name))
    before = len(problems)
    for name, described in own.items():
        if name in form and form[name] is not None:
            values[name] = _value(hints[name], name, form[name], f"{where}.{name}", file, problems)
        elif described.default is MISSING and described.default_factory is MISSING:
            problems.append(_problem(file, f"{where}.{name}", "a value", None))
    return None if len(problems) > before else kind(**values)


def _value(
    hint: Any, name: str, value: object, where: str, file: str, problems: list[Problem]
) -> Any:
    if isinstance(hint, UnionType):
        hint = next(h for h in get_args(hint) if h is not type(None))
    if hint is str and isinstance(value, str):
        return _text(name, value, where, file, problems)
    if hint is int and isinstance(value, int) and not isinstance(value, bool):
        if 0 <= value < 2**53:
            return value
    elif hint is float and isinstance(value, int | float) and not isinstance(value, bool):
        if 0.0 <= value < 1e9:
            return float(value)
    elif isinstance(hint, type) and issubclass(hint, Enum) and isinstance(value, str):
        if value in {member.value for member in hint}:
            return hint(value)
        problems.append(_problem(file, where, ", ".join(m.value for m in hint), value))
        return None
    elif is_dataclass(hint) and isinstance(hint, type):
        return _dataclass(hint, value, where, file, problems)
    elif get_origin(hint) is tuple and isinstance(value, list) and len(value) <= _MOST_ITEMS:
        of = get_args(hint)[0]
        return tuple(
            _value(of, name, v, f"{where}[{i}]", file, problems) for i, v in enumerate(value)
        )
    elif get_origin(hint) is not None and isinstance(value, dict) and len(value) <= 200:
        return {
            _text("", key, where, file, problems): _value(
                str, "", v, f"{where}.{key}", file, problems
            )
            for key, v in value.items()
        }
    problems.append(_problem(file, where, _allowed(hint), value))
    return None


def _text(name: str, value: str, where: str, file: str, problems: list[Problem]) -> str:
    longest = LONGEST_TOML if name == "toml" else LONGEST_TEXT
    shape = _SHAPES.get(name)
    # A surrogate cannot be written as UTF-8, a NUL is refused by databases.
    bad = "\x00" in value or any("\ud800" <= c <= "\udfff" for c in value)
    if len(value) > longest or bad:
        problems.append(_problem(file, where, f"text of at most {longest} characters", value))
    elif shape is not None and not shape[0].fullmatch(value):
        problems.append(_problem(file, where, shape[1], value))
    return value


def _allowed(hint: Any) -> str:
    if hint is str:
        return "text"
    if hint is int:
        return "a whole number from 0"
    if hint is float:
        return "a number from 0"
    return f"a list of at most {_MOST_ITEMS}" if get_origin(hint) is tuple else "an object"


def _problem(file: str, where: str, allowed: str, read: object) -> Problem:
    return Problem(
        "event-unreadable",
        "this part of an event cannot be taken" if read is not None else "this is missing",
        file,
        column_name=where,
        read=None if read is None else repr(read)[:80],
        allowed=allowed,
        do="Send the event again with this corrected; nothing of this call was kept.",
    )
