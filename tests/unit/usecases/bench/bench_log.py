"""Short logs of events for tests: ids by name, a study with pieces, readings on top."""

from breakwright.model.event import (
    Body,
    Entry,
    Event,
    PieceAdded,
    ReadingAmended,
    ReadingEntered,
    Recorded,
    StudyMade,
    Undone,
)
from breakwright.usecases.bench.fold import fold
from breakwright.usecases.bench.state import StudyState

STUDY = "5" * 32
NOW = "2026-01-31T09:30:00.000Z"
TOML = 'title = "Pegs"\ngroups = ["plain", "wedged"]\nunit = "N"\n'


def id_of(name: str) -> str:
    """32 hexadecimal digits that stand for ``name``."""
    return name.encode().hex().rjust(32, "0")[-32:]


def event(name: str, body: Body, study: str = STUDY) -> Event:
    return Event(id_of(name), study, NOW, body, "phone", "Mara")


def made(toml: str = TOML) -> Event:
    return event("made", StudyMade(toml, "pegs"))


def added(label: str, group: str = "plain", order: int | None = None) -> Event:
    return event(f"add {label}", PieceAdded(id_of(label), label, group, order=order))


def entered(name: str, label: str, load: str = "412") -> Event:
    return event(name, ReadingEntered(id_of(label), Entry((load,), "N")))


def amended(name: str, label: str, bases: tuple[str, ...], load: str) -> Event:
    body = ReadingAmended(id_of(label), tuple(map(id_of, bases)), Entry((load,), "N"), "typo")
    return event(name, body)


def undone(name: str, other: str) -> Event:
    return event(name, Undone(id_of(other)))


def recorded(*events: Event) -> list[Recorded]:
    return [Recorded(seq, NOW, event) for seq, event in enumerate(events, start=1)]


def state(*events: Event) -> StudyState:
    return fold(recorded(*events))


def loads(of: StudyState, label: str = "A1") -> tuple[str, ...]:
    """The loads of the readings of a piece that none replaces."""
    piece = of.piece(label)
    assert piece is not None
    return tuple(version.entry.loads[0] for version in piece.heads)
