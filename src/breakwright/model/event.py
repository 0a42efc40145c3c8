"""What happened at the bench, as a list that only grows: one frozen body for each kind of event.

An event is made on the device where it happened, with an id of its own, so that sending it twice
is harmless. Nothing is ever changed: an amendment, an undoing or a leaving-out is a new event.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from breakwright.model.film import Shown
from breakwright.model.trial import Ending

__all__ = [
    "KINDS",
    "Body",
    "Entry",
    "Event",
    "FilmAccepted",
    "FilmRead",
    "PhotoAdded",
    "PieceAdded",
    "PieceChanged",
    "PieceMeasured",
    "PieceRestored",
    "PieceVoided",
    "PreparationLogged",
    "ReadingAmended",
    "ReadingEntered",
    "Recorded",
    "SafetyRead",
    "SpanCorrected",
    "StudyChanged",
    "StudyMade",
    "StudyShelved",
    "StudyTakenUp",
    "TraceAdded",
    "Undone",
    "VideoAdded",
    "kind_of",
]


@dataclass(frozen=True, slots=True)
class StudyMade:
    """A study begins. ``toml`` is its whole ``study.toml``; ``handle`` its short name in
    addresses and on the command line (lower case, digits, hyphens)."""

    toml: str
    handle: str


@dataclass(frozen=True, slots=True)
class StudyChanged:
    """The study's ``study.toml`` from here on. ``base`` is the event (study-made or
    study-changed) that the person had before their eyes: two changes of one base clash."""

    toml: str
    base: str
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class StudyShelved:
    """The study is put on the shelf: kept whole, and left out of the list of those at work."""

    reason: str | None = None


@dataclass(frozen=True, slots=True)
class StudyTakenUp:
    """The study comes down from the shelf."""

    reason: str | None = None


@dataclass(frozen=True, slots=True)
class PieceAdded:
    """A piece, made or only planned. ``piece`` is its id (the label may change); ``order`` is
    when its turn comes, from 1; ``day`` counts from 1."""

    piece: str
    label: str
    group: str
    block: str | None = None
    order: int | None = None
    day: int | None = None
    operator: str | None = None
    pair: str | None = None


@dataclass(frozen=True, slots=True)
class PieceChanged:
    """What is None stays as it is."""

    piece: str
    label: str | None = None
    group: str | None = None
    block: str | None = None
    order: int | None = None
    day: int | None = None
    operator: str | None = None
    pair: str | None = None
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class PieceMeasured:
    """Numbers or words taken of a piece before it is broken: column name (``mass_g``) -> as
    typed, with a decimal point. A later value of the same column replaces the earlier one; an
    empty one takes it away."""

    piece: str
    values: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class PieceVoided:
    """The piece is left out, with a reason; its reading stays on record."""

    piece: str
    reason: str


@dataclass(frozen=True, slots=True)
class PieceRestored:
    """The piece counts again."""

    piece: str
    reason: str


@dataclass(frozen=True, slots=True)
class PreparationLogged:
    """Work done on pieces: a coat, gluing, a wedge driven in. ``started`` is ISO 8601 with its
    offset; ``wait_h`` how many hours must pass before such a piece may be broken (cure)."""

    work: str
    pieces: tuple[str, ...]
    started: str
    wait_h: float | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class Entry:
    """What a person typed of one trial, as typed.

    ``loads`` has one text for each display in the study's order (``412``, ``>50``, ``''``: not
    read), all in ``unit`` (N, kN, kgf, lbf); ``decimal`` ('point' or 'comma') settles numbers
    such as ``1,234``, None where none needs it. ``scale`` names the instrument where displays
    did not share the load; ``together`` is the largest sum seen on all of them at one moment;
    ``rate`` the loading rate in ``unit`` per second. ``date`` is the day at the bench
    (2026-01-31); ``order`` when the piece was really tested, from 1.
    """

    loads: tuple[str, ...]
    unit: str
    ended: Ending = Ending.BROKE
    failure: str | None = None
    note: str | None = None
    decimal: str | None = None
    scale: str | None = None
    together: str | None = None
    rate: str | None = None
    date: str | None = None
    order: int | None = None


@dataclass(frozen=True, slots=True)
class ReadingEntered:
    """A piece was loaded, and this was read."""

    piece: str
    entry: Entry


@dataclass(frozen=True, slots=True)
class ReadingAmended:
    """The reading is really this. ``bases`` are the events (readings entered or amended) that it
    replaces: naming two or more settles a clash."""

    piece: str
    bases: tuple[str, ...]
    entry: Entry
    reason: str


@dataclass(frozen=True, slots=True)
class Undone:
    """``event`` is taken back; taking back an undoing brings the first event back."""

    event: str
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class PhotoAdded:
    """``media`` is the name of a stored picture; ``piece`` None: of the whole study."""

    media: str
    piece: str | None = None
    caption: str | None = None


@dataclass(frozen=True, slots=True)
class TraceAdded:
    """``media`` is the name of a stored CSV table: time_s and a load column with its unit."""

    media: str
    piece: str | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class VideoAdded:
    """A film on the server's disk: ``file`` is its name there, ``name`` what the person called
    it; ``size`` in bytes."""

    file: str
    name: str
    size: int
    sha256: str
    piece: str | None = None


@dataclass(frozen=True, slots=True)
class FilmRead:
    """The program read the displays in a film. ``media`` is the stored evidence: a zip with what
    was read (``film.json``), the trace and the crops that prove it; ``sha256`` is of the film's
    bytes, ``name`` what the person called it. ``marks`` are the displays as they were marked, as
    JSON text; ``video`` is the event that brought the film, None where it never came here."""

    sha256: str
    name: str
    media: str
    marks: str
    video: str | None = None


@dataclass(frozen=True, slots=True)
class SpanCorrected:
    """A person says what ``display`` really showed from ``start`` to ``end`` (s on the film's
    clock) in the film that was read by the event ``film``. The program's own reading stays on
    record. ``value`` is typed in the display's unit with a decimal point, for ``VALUE`` only. A
    later correction of the same moment goes before an earlier one."""

    film: str
    display: str
    start: float
    end: float
    shown: Shown
    reason: str
    value: str | None = None


@dataclass(frozen=True, slots=True)
class FilmAccepted:
    """A person looked at pull ``number`` (from 1) of the film that the event ``film`` read, and
    took it for ``piece``: ``reading`` is the event that entered or amended what it says."""

    film: str
    number: int
    piece: str
    reading: str


@dataclass(frozen=True, slots=True)
class SafetyRead:
    """The cautions were read on ``day`` (2026-01-31) before the first piece."""

    day: str
    lines: tuple[str, ...] = ()


Body = (
    StudyMade
    | StudyChanged
    | StudyShelved
    | StudyTakenUp
    | PieceAdded
    | PieceChanged
    | PieceMeasured
    | PieceVoided
    | PieceRestored
    | PreparationLogged
    | ReadingEntered
    | ReadingAmended
    | Undone
    | PhotoAdded
    | TraceAdded
    | VideoAdded
    | FilmRead
    | SpanCorrected
    | FilmAccepted
    | SafetyRead
)

# The words that events go by in the store, in the open format and over the wire.
KINDS: Mapping[str, type[Body]] = MappingProxyType(
    {
        "study-made": StudyMade,
        "study-changed": StudyChanged,
        "study-shelved": StudyShelved,
        "study-taken-up": StudyTakenUp,
        "piece-added": PieceAdded,
        "piece-changed": PieceChanged,
        "piece-measured": PieceMeasured,
        "piece-voided": PieceVoided,
        "piece-restored": PieceRestored,
        "preparation-logged": PreparationLogged,
        "reading-entered": ReadingEntered,
        "reading-amended": ReadingAmended,
        "undone": Undone,
        "photo-added": PhotoAdded,
        "trace-added": TraceAdded,
        "video-added": VideoAdded,
        "film-read": FilmRead,
        "span-corrected": SpanCorrected,
        "film-accepted": FilmAccepted,
        "safety-read": SafetyRead,
    }
)

_WORD_OF = {body: word for word, body in KINDS.items()}


def kind_of(body: Body) -> str:
    """Return the word for ``body``'s kind.

    >>> kind_of(Undone("a" * 32))
    'undone'
    """
    return _WORD_OF[type(body)]


@dataclass(frozen=True, slots=True)
class Event:
    """``id`` and ``study`` are 32 hexadecimal digits made at random; ``made`` is the time on the
    device, ISO 8601 in UTC; ``device`` and ``person`` are what they call themselves."""

    id: str
    study: str
    made: str
    body: Body
    device: str = ""
    person: str | None = None


@dataclass(frozen=True, slots=True)
class Recorded:
    """An event as the store keeps it: ``seq`` is its place in the order of arrival, across all
    studies; ``received`` the store's time, ISO 8601 in UTC."""

    seq: int
    received: str
    event: Event
