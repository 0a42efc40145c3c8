"""A study as its events leave it: what every page reads. Made by ``fold``, never by hand."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from breakwright.model.event import (
    Entry,
    FilmAccepted,
    FilmRead,
    PhotoAdded,
    PreparationLogged,
    Recorded,
    SpanCorrected,
    TraceAdded,
    VideoAdded,
)

__all__ = [
    "Definition",
    "FilmState",
    "PieceState",
    "Preparation",
    "Standing",
    "StudyState",
    "Version",
]


class Standing(StrEnum):
    """Where a piece stands. ``CLASH``: two readings of it that do not know of each other."""

    WAITING = "waiting"
    READ = "read"
    CLASH = "clash"
    VOID = "void"


@dataclass(frozen=True, slots=True)
class Version:
    """One reading of a piece, entered (``bases`` empty) or amended. ``event`` is its id."""

    event: str
    entry: Entry
    bases: tuple[str, ...]
    reason: str | None
    made: str
    device: str
    person: str | None
    seq: int


@dataclass(frozen=True, slots=True)
class Definition:
    """One ``study.toml``. ``event`` is the id of the event that brought it."""

    event: str
    toml: str
    base: str | None
    reason: str | None
    made: str
    device: str
    person: str | None
    seq: int


@dataclass(frozen=True, slots=True)
class Preparation:
    """Work logged on pieces, with the event's id (to undo it)."""

    event: str
    log: PreparationLogged
    person: str | None


@dataclass(frozen=True, slots=True)
class PieceState:
    """``versions`` are all readings ever taken of the piece and not undone, in order of arrival;
    ``heads`` those that no other version replaces: one is the reading, two or more are a clash,
    in which the first to arrive is used until it is settled."""

    id: str
    label: str
    group: str
    block: str | None
    order: int | None
    day: int | None
    operator: str | None
    pair: str | None
    measured: Mapping[str, str]
    versions: tuple[Version, ...]
    heads: tuple[Version, ...]
    void: str | None
    photos: tuple[PhotoAdded, ...]
    traces: tuple[TraceAdded, ...]
    videos: tuple[VideoAdded, ...]
    added: str

    @property
    def reading(self) -> Version | None:
        """The reading that counts; None while the piece waits."""
        return self.heads[0] if self.heads else None

    @property
    def standing(self) -> Standing:
        if self.void is not None:
            return Standing.VOID
        if len(self.heads) > 1:
            return Standing.CLASH
        return Standing.READ if self.heads else Standing.WAITING


@dataclass(frozen=True, slots=True)
class FilmState:
    """A film that was read, with what a person made of it: ``corrections`` and ``accepted`` pulls
    by the ids of their events, in order of arrival, what was taken back left out. A pull whose
    reading was taken back is not accepted."""

    event: str
    read: FilmRead
    made: str
    corrections: Mapping[str, SpanCorrected]
    accepted: Mapping[str, FilmAccepted]


@dataclass(frozen=True, slots=True)
class StudyState:
    """``pieces`` are in the order of their turn; ``definitions`` all ``study.toml``s in order of
    arrival and ``heads`` those that none replaces (two or more: a clash); ``safety`` the days
    on which the cautions were read; ``undone`` the ids of events taken back; ``strays`` those of
    events that speak of a piece or an event which is not there (kept, with no effect); ``named``
    the ids of events that another one takes back, replaces or rests on, there or not."""

    id: str
    handle: str
    title: str
    made: str
    definitions: tuple[Definition, ...]
    heads: tuple[Definition, ...]
    pieces: tuple[PieceState, ...]
    preparations: tuple[Preparation, ...]
    photos: tuple[PhotoAdded, ...]
    videos: tuple[VideoAdded, ...]
    traces: tuple[TraceAdded, ...]
    films: tuple[FilmState, ...]
    safety: tuple[str, ...]
    shelved: bool
    undone: frozenset[str]
    strays: tuple[str, ...]
    named: frozenset[str]
    last: int
    events: tuple[Recorded, ...]

    @property
    def toml(self) -> str:
        """The ``study.toml`` that counts: of a clash, the last to arrive."""
        return self.heads[-1].toml

    def piece(self, key: str) -> PieceState | None:
        """Return the piece with this id, or, failing that, with this label."""
        for piece in self.pieces:
            if piece.id == key:
                return piece
        return next((piece for piece in self.pieces if piece.label == key), None)

    @property
    def next_piece(self) -> PieceState | None:
        """The first piece whose turn has not come."""
        return next((p for p in self.pieces if p.standing is Standing.WAITING), None)

    @property
    def clashes(self) -> tuple[PieceState, ...]:
        return tuple(p for p in self.pieces if len(p.heads) > 1)
