"""A study with two scales that share the load, and its events, for tests."""

import itertools
from collections.abc import Callable

from breakwright.model.event import (
    Body,
    Entry,
    Event,
    PieceAdded,
    ReadingEntered,
    Recorded,
    StudyMade,
)
from breakwright.usecases.bench.fold import fold
from breakwright.usecases.bench.state import StudyState

STUDY = "5" * 32
NOW = "2026-01-31T09:30:00.000Z"
ONE = 'title = "Pegs"\ngroups = ["plain", "wedged"]\nreference = "plain"\nunit = "kgf"\n'
SHARED = (
    ONE
    + 'sharing = "same-moment"\n'
    + '[[instrument]]\nname = "left"\ncapacity = 50\nresolution = 0.05\ntare = 1\n'
    + '[[instrument]]\nname = "right"\ncapacity = 50\nresolution = 0.05\n'
)
TURNS = ONE + '[[instrument]]\nname = "crane"\n[[instrument]]\nname = "spring"\ncapacity = 20\n'


def id_of(name: str) -> str:
    return name.encode().hex().rjust(32, "0")[-32:]


def event(name: str, body: Body) -> Event:
    return Event(id_of(name), STUDY, NOW, body, "phone")


def made(toml: str) -> Event:
    return event("made", StudyMade(toml, "pegs"))


def added(label: str, group: str = "plain") -> Event:
    return event(f"add {label}", PieceAdded(id_of(label), label, group))


def entered(name: str, label: str, entry: Entry) -> Event:
    return event(name, ReadingEntered(id_of(label), entry))


def state(*events: Event) -> StudyState:
    return fold([Recorded(seq, NOW, event) for seq, event in enumerate(events, start=1)])


def fresh_ids(prefix: int = 0) -> Callable[[], str]:
    count = itertools.count(prefix * 10**6 + 1)
    return lambda: f"{next(count):032x}"
