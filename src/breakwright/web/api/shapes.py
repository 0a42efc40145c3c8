"""What goes over the wire, as pydantic models: they check requests and make the OpenAPI text."""

from dataclasses import asdict
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from breakwright.model.event import Entry
from breakwright.usecases.bench.state import PieceState

__all__ = [
    "ENDINGS",
    "HEX",
    "EventsIn",
    "EventsOut",
    "FilmKept",
    "InstrumentOut",
    "JobOut",
    "Kept",
    "MediaKept",
    "PieceOut",
    "Problems",
    "ReadingIn",
    "ReadingKept",
    "RecordedOut",
    "StudiesOut",
    "StudyLineOut",
    "StudyOut",
    "UnderstoodLoadOut",
    "UnderstoodOut",
    "UploadIn",
    "UploadOut",
    "piece_out",
]

HEX = r"^[0-9a-f]{32}$"
_Id = Annotated[str, Field(pattern=HEX)]
_MOST_BYTES = 2**40


class _In(BaseModel):
    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)


class ProblemOut(BaseModel):
    """One thing wrong: ``code`` has a paragraph in docs/messages.md."""

    code: str
    message: str
    file: str
    line: int | None = None
    column: int | None = None
    column_name: str | None = None
    read: str | None = None
    allowed: str | None = None
    do: str | None = None


class Problems(BaseModel):
    """Why a request was not taken. Nothing of it was kept."""

    problems: list[ProblemOut]


class EventsIn(_In):
    """What happened, in order; each with the id that its device made. All are kept or none."""

    events: Annotated[list[dict[str, Any]], Field(min_length=1, max_length=2000)]


class Kept(BaseModel):
    """``new``: the places of events kept now; ``known``: how many were there already."""

    new: list[int]
    known: int


class MediaKept(Kept):
    """``media`` is the name under which it is kept, at /media/."""

    media: str


class StudyLineOut(BaseModel):
    """A study in the list."""

    model_config = ConfigDict(from_attributes=True)

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


class StudiesOut(BaseModel):
    """All studies, the one touched last first."""

    studies: list[StudyLineOut]


class PieceOut(BaseModel):
    """A piece: ``reading`` is what was typed, ``event`` the id of the event that says so."""

    id: str
    label: str
    group: str
    block: str | None
    order: int | None
    day: int | None
    operator: str | None
    pair: str | None
    standing: Literal["waiting", "read", "clash", "void"]
    measured: dict[str, str]
    void: str | None
    event: str | None
    reading: dict[str, Any] | None


class InstrumentOut(BaseModel):
    """A display; loads in ``unit``."""

    name: str
    unit: str | None
    capacity: float | None
    resolution: float
    refresh_s: float | None
    tare: float


class StudyOut(BaseModel):
    """A study as it stands."""

    id: str
    handle: str
    title: str
    question: str
    made: str
    shelved: bool
    unit: str
    groups: list[str]
    reference: str | None
    instruments: list[InstrumentOut]
    sharing: str | None
    pieces: list[PieceOut]
    next: PieceOut | None
    clashes: list[str]
    last: int


class RecordedOut(BaseModel):
    """An event as it is kept."""

    seq: int
    received: str
    event: dict[str, Any]


class EventsOut(BaseModel):
    """Events in order of arrival; ``last`` is what to ask 'after' next time."""

    events: list[RecordedOut]
    last: int


ENDINGS = Literal["broke", "over-range", "screen-lost", "stopped", "rig-failed"]
_Load = Annotated[str, Field(max_length=200)] | int | float


class ReadingIn(_In):
    """A reading, in the simple form for scripts.

    ``piece`` is an id, a label, or 'next' for the one whose turn it is. ``loads`` has a number
    for each display in the study's order, as a number or as typed ('412', '>50', '' where it was
    not read). ``id``, 32 hexadecimal digits of your own making, makes sending it twice harmless.
    """

    piece: Annotated[str, Field(min_length=1, max_length=200)] = "next"
    loads: Annotated[list[_Load], Field(min_length=1, max_length=20)]
    unit: Literal["N", "kN", "kgf", "lbf"] | None = None
    ended: ENDINGS = "broke"
    failure: Annotated[str, Field(max_length=200)] | None = None
    note: Annotated[str, Field(max_length=4000)] | None = None
    scale: Annotated[str, Field(max_length=200)] | None = None
    together: _Load | None = None
    date: Annotated[str, Field(pattern=r"^\d{4}-\d\d-\d\d$")] | None = None
    person: Annotated[str, Field(max_length=200)] | None = None
    id: _Id | None = None


class UnderstoodLoadOut(BaseModel):
    """One display's part, in N; ``upper`` null: at least."""

    model_config = ConfigDict(from_attributes=True)

    scale: str | None
    typed: str
    unit: str
    lower: float
    upper: float | None


class UnderstoodOut(BaseModel):
    """What a reading says of the piece's strength, in N; ``upper`` null: at least ``lower``."""

    model_config = ConfigDict(from_attributes=True)

    loads: list[UnderstoodLoadOut]
    lower: float
    upper: float | None
    cause: str
    steps: list[str]
    remarks: list[str]


class ReadingKept(Kept):
    """``event`` is the reading's id; ``next`` the piece whose turn it is now."""

    event: str
    piece: PieceOut
    understood: UnderstoodOut
    next: PieceOut | None


class JobOut(BaseModel):
    """Long work; ``share`` from 0 to 1 tells how far it is."""

    id: str
    study: str
    kind: str
    state: Literal["queued", "running", "done", "failed", "cancelled"]
    share: float
    doing: str
    trouble: str | None
    early: Any = None
    result: Any = None


class UploadIn(_In):
    """A film to come: ``name`` is what you call it, ``sha256`` is checked at the end if given."""

    study: Annotated[str, Field(min_length=1, max_length=200)]
    name: Annotated[str, Field(min_length=1, max_length=200)]
    size: Annotated[int, Field(ge=1, le=_MOST_BYTES)]
    piece: _Id | None = None
    sha256: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")] | None = None
    id: _Id | None = None


class UploadOut(BaseModel):
    """How far an upload is: send the bytes from ``offset`` on."""

    id: str
    name: str
    size: int
    offset: int


class FilmKept(Kept):
    """The film lies on the server's disk as ``file``."""

    file: str
    sha256: str
    size: int


def piece_out(piece: PieceState) -> PieceOut:
    """Return ``piece`` as it goes over the wire."""
    reading = piece.reading
    return PieceOut(
        id=piece.id,
        label=piece.label,
        group=piece.group,
        block=piece.block,
        order=piece.order,
        day=piece.day,
        operator=piece.operator,
        pair=piece.pair,
        standing=piece.standing.value,
        measured=dict(piece.measured),
        void=piece.void,
        event=None if reading is None else reading.event,
        reading=None if reading is None else _given(reading.entry),
    )


def _given(entry: Entry) -> dict[str, Any]:
    return {name: value for name, value in asdict(entry).items() if value is not None}
