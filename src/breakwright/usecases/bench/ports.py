"""What a store must be able to do. Every implementation passes ``tests/conformance``."""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Protocol

from breakwright.model.errors import BreakwrightError
from breakwright.model.event import Event, Recorded

__all__ = [
    "EventStore",
    "IdTaken",
    "Job",
    "JobState",
    "JobStore",
    "Media",
    "Receipt",
    "StoreFull",
    "StoreUnfit",
    "StoreUnreachable",
    "StudyLine",
]


class IdTaken(BreakwrightError):
    """An event came with the id of another one that says something else. Nothing was kept."""


class StoreFull(BreakwrightError):
    """The disk (or the quota) is full. Nothing of this call was kept, all before it was."""


class StoreUnreachable(BreakwrightError):
    """The store cannot be opened or reached; the message says which and why."""


class StoreUnfit(BreakwrightError):
    """The store was made by a newer version, or is none of ours; the message says which."""


@dataclass(frozen=True, slots=True)
class Receipt:
    """``new`` are the places of events kept now, ``known`` how many were there already."""

    new: tuple[int, ...]
    known: int


@dataclass(frozen=True, slots=True)
class StudyLine:
    """One study in the list, as a table derived from the events has it."""

    id: str
    handle: str
    title: str
    made: str
    pieces: int
    read: int
    void: int
    clashes: int
    shelved: bool
    last: int
    touched: str


@dataclass(frozen=True, slots=True)
class Media:
    """``name`` is the SHA-256 of the bytes in hexadecimal with an ending that fits ``kind``
    (a media type such as image/jpeg)."""

    name: str
    kind: str
    data: bytes


class EventStore(Protocol):
    """Keeps events and media, and never changes or loses one that it has acknowledged."""

    def append(self, events: Sequence[Event], *, received: str) -> Receipt:
        """Keep all of ``events`` or none, on the disk before this returns.

        An event whose id is there already, saying the same, is left alone. Raises ``IdTaken``,
        ``StoreFull``, ``StoreUnreachable``. ``received`` is the time now, ISO 8601 in UTC.
        """
        ...

    def events(self, study: str, *, after: int = 0) -> tuple[Recorded, ...]:
        """Return the events of one study with ``seq`` above ``after``, in order."""
        ...

    def feed(self, *, after: int, limit: int = 500) -> tuple[Recorded, ...]:
        """Return at most ``limit`` events of all studies with ``seq`` above ``after``, in order.

        No event ever appears later with a lower ``seq`` than one that was already returned.
        """
        ...

    def last(self) -> int:
        """Return the highest ``seq`` so far; 0 for an empty store."""
        ...

    def studies(self) -> tuple[StudyLine, ...]:
        """Return a line for each study, the one touched last first."""
        ...

    def rebuild(self) -> None:
        """Make the derived tables anew from the events."""
        ...

    def put_media(self, media: Media) -> None:
        """Keep ``media`` on the disk before this returns; the same name again changes nothing."""
        ...

    def media(self, name: str) -> Media | None:
        """Return the media of this name."""
        ...

    def backup(self, path: Path) -> None:
        """Write a copy of the whole store to ``path`` while others write on.

        Raises ``ImpossibleValue`` where ``path`` is there already.
        """
        ...

    def close(self) -> None:
        """Give back connections; calling twice is harmless."""
        ...


class JobState(StrEnum):
    """Where a piece of long work stands."""

    QUEUED = "queued"
    RUNNING = "running"
    DONE = "done"
    FAILED = "failed"
    CANCELLED = "cancelled"


@dataclass(frozen=True, slots=True)
class Job:
    """Long work for a worker process. ``kind`` is what to do (answer, plan, …), ``key`` a hash
    of all that the result depends on, ``given`` what the worker needs, as JSON text.

    ``share`` (0..1) and ``doing`` tell how far it is; ``early`` is a first result, ``result`` the
    whole one, both JSON text; ``trouble`` says why it failed. ``made`` and ``beat`` (last sign
    of life) are ISO 8601 in UTC.
    """

    id: str
    study: str
    kind: str
    key: str
    given: str
    state: JobState
    made: str
    beat: str
    share: float = 0.0
    doing: str = ""
    early: str | None = None
    result: str | None = None
    trouble: str | None = None


class JobStore(Protocol):
    """Keeps jobs where a worker process, another server and a reloaded page find them."""

    def ask(self, job: Job) -> Job:
        """Keep ``job`` as queued, or return the one of the same study, kind and key that is
        queued, running or done already."""
        ...

    def job(self, job_id: str) -> Job | None:
        """Return one job."""
        ...

    def newest(self, study: str, kind: str) -> Job | None:
        """Return the job of this study and kind that was asked for last."""
        ...

    def take(self, kinds: Sequence[str], *, now: str) -> Job | None:
        """Mark the oldest queued job of these kinds as running and return it. No two workers
        get the same one."""
        ...

    def tell(self, job_id: str, *, share: float, doing: str, early: str | None, now: str) -> bool:
        """Note how far a running job is (``early`` None: leave it); False where it was cancelled
        or given to another, and the worker should stop."""
        ...

    def finish(self, job_id: str, *, result: str | None, trouble: str | None, now: str) -> None:
        """End a running job: done with ``result`` or failed with ``trouble``. A job cancelled
        meanwhile stays cancelled."""
        ...

    def cancel(self, job_id: str) -> None:
        """Mark a queued or running job as cancelled."""
        ...

    def requeue(self, *, beat_before: str) -> int:
        """Queue running jobs without a sign of life since ``beat_before``; return how many."""
        ...

    def forget(self, *, made_before: str) -> int:
        """Delete ended jobs asked for before then; return how many."""
        ...
