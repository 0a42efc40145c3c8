"""The bench wired together: the store, the checks at its door, the folder in and out."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from breakwright.model.event import Entry, Event
from breakwright.usecases.bench.state import StudyState

if TYPE_CHECKING:
    from breakwright.files.source import Source

__all__ = ["Understood", "UnderstoodLoad", "check_events", "source_of", "understand_entry"]


@dataclass(frozen=True, slots=True)
class UnderstoodLoad:
    """One display's part: ``typed`` as it was typed, ``unit`` it was typed in; N, None for no end.

    ``scale`` is the instrument's name, None where the study names none.
    """

    scale: str | None
    typed: str
    unit: str
    lower: float
    upper: float | None


@dataclass(frozen=True, slots=True)
class Understood:
    """What an entry says of the piece: ``lower``..``upper`` of its strength (N, None: no end),
    ``cause`` a ``model.outcome.Cause`` word, ``steps`` how it came about, in words; ``remarks``
    what a person should know, in words."""

    loads: tuple[UnderstoodLoad, ...]
    lower: float
    upper: float | None
    cause: str
    steps: tuple[str, ...]
    remarks: tuple[str, ...]


def understand_entry(state: StudyState, piece: str, entry: Entry) -> Understood:
    """Return what ``entry`` says of ``piece`` (id). Raises InputRefused with every problem."""
    raise NotImplementedError


def check_events(state: StudyState | None, events: Sequence[Event]) -> None:
    """Raise InputRefused where ``events``, all of one study, make no sense on top of ``state``."""


def source_of(state: StudyState) -> "Source":
    """Return the study with all readings that count, as ``read`` returns a folder's."""
    raise NotImplementedError
