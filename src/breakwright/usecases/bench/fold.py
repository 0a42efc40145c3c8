"""From the events of one study to its state. The same events give the same state."""

import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TypeVar

from breakwright.model.errors import ImpossibleValue
from breakwright.model.event import (
    Entry,
    Event,
    FilmAccepted,
    FilmRead,
    PhotoAdded,
    PieceAdded,
    PieceChanged,
    PieceMeasured,
    PieceRestored,
    PieceVoided,
    PreparationLogged,
    ReadingAmended,
    ReadingEntered,
    Recorded,
    SafetyRead,
    SpanCorrected,
    StudyChanged,
    StudyMade,
    StudyShelved,
    StudyTakenUp,
    TraceAdded,
    Undone,
    VideoAdded,
)
from breakwright.usecases.bench.fold_films import films_of
from breakwright.usecases.bench.state import (
    Definition,
    PieceState,
    Preparation,
    StudyState,
    Version,
)

__all__ = ["fold"]

Item = TypeVar("Item", Version, Definition)


@dataclass(slots=True)
class _Piece:
    added: PieceAdded
    event: str
    label: str
    group: str
    block: str | None
    order: int | None
    day: int | None
    operator: str | None
    pair: str | None
    measured: dict[str, str] = field(default_factory=dict)
    versions: list[Version] = field(default_factory=list)
    void: str | None = None
    photos: list[PhotoAdded] = field(default_factory=list)
    traces: list[TraceAdded] = field(default_factory=list)
    videos: list[VideoAdded] = field(default_factory=list)


@dataclass(slots=True)
class _Study:
    beginning: str
    made: str
    definitions: list[Definition] = field(default_factory=list)
    pieces: dict[str, _Piece] = field(default_factory=dict)
    preparations: list[Preparation] = field(default_factory=list)
    photos: list[PhotoAdded] = field(default_factory=list)
    videos: list[VideoAdded] = field(default_factory=list)
    traces: list[TraceAdded] = field(default_factory=list)
    safety: list[str] = field(default_factory=list)
    shelved: bool = False
    handle: str = ""
    strays: list[str] = field(default_factory=list)


def fold(events: Sequence[Recorded]) -> StudyState:
    """Return the state that ``events``, all of one study and in order of ``seq``, come to.

    An event that speaks of a piece which is not there yet may have overtaken the one that adds
    it, on the way from another device: pieces are put in place first. Raises ImpossibleValue
    where no event makes the study.
    """
    beginning = next((r.event for r in events if isinstance(r.event.body, StudyMade)), None)
    if beginning is None:
        raise ImpossibleValue("no event makes this study")
    undone = _undone(events)
    live = [r for r in events if r.event.id not in undone]
    study = _Study(beginning=beginning.id, made=beginning.made)
    for recorded in live:
        body = recorded.event.body
        if isinstance(body, PieceAdded):
            _add_piece(study, recorded.event, body)
    for recorded in live:
        _apply(study, recorded)
    known = {r.event.id for r in events}
    study.strays += [
        r.event.id
        for r in events
        if isinstance(r.event.body, Undone) and r.event.body.event not in known
    ]
    bases = _bases(events)
    # Two changes that replace each other cannot both be gone: the last to arrive then counts.
    heads = _heads(study.definitions, bases) or (study.definitions[-1],)
    return StudyState(
        id=events[0].event.study,
        handle=study.handle,
        title=_title(heads[-1].toml) or study.handle,
        made=study.made,
        definitions=tuple(study.definitions),
        heads=heads,
        pieces=tuple(_frozen(p, bases) for p in sorted(study.pieces.values(), key=_turn)),
        preparations=tuple(study.preparations),
        photos=tuple(study.photos),
        videos=tuple(study.videos),
        traces=tuple(study.traces),
        films=films_of(live),
        safety=tuple(dict.fromkeys(study.safety)),
        shelved=study.shelved,
        undone=undone,
        strays=tuple(study.strays),
        named=frozenset(_named(events, bases)),
        last=events[-1].seq,
        events=tuple(events),
    )


def _undone(events: Sequence[Recorded]) -> frozenset[str]:
    """Return the ids taken back. An undoing that is itself taken back has no effect, in whatever
    order the two arrived."""
    target = {r.event.id: r.event.body.event for r in events if isinstance(r.event.body, Undone)}
    unsettled = Counter(target.values())
    undone: set[str] = set()
    # Undoings that nobody takes back are settled; each settles what it speaks of in its turn.
    # Undoings that take back each other in a ring never are, and have no effect.
    settled = [undoing for undoing in target if not unsettled[undoing]]
    while settled:
        undoing = settled.pop()
        about = target[undoing]
        if undoing not in undone:
            undone.add(about)
        unsettled[about] -= 1
        if about in target and not unsettled[about]:
            settled.append(about)
    # A study whose beginning could be taken back would have no state at all.
    beginnings = {r.event.id for r in events if isinstance(r.event.body, StudyMade)}
    return frozenset(undone - beginnings)


def _add_piece(study: _Study, event: Event, body: PieceAdded) -> None:
    if body.piece in study.pieces:
        study.strays.append(event.id)
        return
    study.pieces[body.piece] = _Piece(
        added=body,
        event=event.id,
        label=body.label,
        group=body.group,
        block=body.block,
        order=body.order,
        day=body.day,
        operator=body.operator,
        pair=body.pair,
    )


def _apply(study: _Study, recorded: Recorded) -> None:
    event = recorded.event
    match event.body:
        case StudyMade(toml, handle):
            if event.id != study.beginning:
                study.strays.append(event.id)
                return
            study.handle = handle
            study.definitions.append(_definition(recorded, toml, None, None))
        case StudyChanged(toml, base, reason):
            study.definitions.append(_definition(recorded, toml, base, reason))
        case StudyShelved():
            study.shelved = True
        case StudyTakenUp():
            study.shelved = False
        case PieceAdded() | FilmRead() | SpanCorrected() | FilmAccepted():
            return
        case PreparationLogged():
            study.preparations.append(Preparation(event.id, event.body, event.person))
        case SafetyRead(day):
            study.safety.append(day)
        case Undone():
            return
        case PhotoAdded() | TraceAdded() | VideoAdded() if event.body.piece is None:
            _of_study(study, event.body)
        case _:
            _apply_to_piece(study, recorded)


def _of_study(study: _Study, body: PhotoAdded | TraceAdded | VideoAdded) -> None:
    match body:
        case PhotoAdded():
            study.photos.append(body)
        case TraceAdded():
            study.traces.append(body)
        case VideoAdded():
            study.videos.append(body)


def _apply_to_piece(study: _Study, recorded: Recorded) -> None:
    event = recorded.event
    piece = study.pieces.get(getattr(event.body, "piece", ""))
    if piece is None:
        study.strays.append(event.id)
        return
    match event.body:
        case PieceChanged() as change:
            for name in ("label", "group", "block", "order", "day", "operator", "pair"):
                value = getattr(change, name)
                if value is not None:
                    setattr(piece, name, value)
        case PieceMeasured(_, values):
            for column, value in values.items():
                if value:
                    piece.measured[column] = value
                else:
                    piece.measured.pop(column, None)
        case PieceVoided(_, reason):
            piece.void = reason
        case PieceRestored():
            piece.void = None
        case ReadingEntered(_, entry):
            piece.versions.append(_version(recorded, entry, (), None))
        case ReadingAmended(_, bases, entry, reason):
            piece.versions.append(_version(recorded, entry, bases, reason))
        case PhotoAdded() as photo:
            piece.photos.append(photo)
        case TraceAdded() as trace:
            piece.traces.append(trace)
        case VideoAdded() as video:
            piece.videos.append(video)


def _version(
    recorded: Recorded, entry: Entry, bases: tuple[str, ...], reason: str | None
) -> Version:
    event = recorded.event
    return Version(
        event.id, entry, bases, reason, event.made, event.device, event.person, recorded.seq
    )


def _definition(recorded: Recorded, toml: str, base: str | None, reason: str | None) -> Definition:
    event = recorded.event
    return Definition(
        event.id, toml, base, reason, event.made, event.device, event.person, recorded.seq
    )


def _bases(events: Sequence[Recorded]) -> dict[str, tuple[str, ...]]:
    """Return what each amendment or change replaces, those taken back as well: an amendment of
    an amendment that was taken back still replaces the first reading."""
    bases: dict[str, tuple[str, ...]] = {}
    for recorded in events:
        match recorded.event.body:
            case ReadingAmended(_, replaced):
                bases[recorded.event.id] = replaced
            case StudyChanged(_, base):
                bases[recorded.event.id] = (base,)
    return bases


def _named(events: Sequence[Recorded], bases: Mapping[str, tuple[str, ...]]) -> Iterator[str]:
    for recorded in events:
        match recorded.event.body:
            case Undone(event):
                yield event
            case FilmAccepted(reading=reading):
                yield reading
    for replaced in bases.values():
        yield from replaced


def _heads(items: Sequence[Item], bases: Mapping[str, tuple[str, ...]]) -> tuple[Item, ...]:
    """Return those of ``items`` that no other replaces, in order of arrival."""
    replaced: set[str] = set()
    ahead = [base for item in items for base in bases.get(item.event, ())]
    while ahead:
        base = ahead.pop()
        if base not in replaced:
            replaced.add(base)
            ahead += bases.get(base, ())
    return tuple(item for item in items if item.event not in replaced)


def _frozen(piece: _Piece, bases: Mapping[str, tuple[str, ...]]) -> PieceState:
    return PieceState(
        id=piece.added.piece,
        label=piece.label,
        group=piece.group,
        block=piece.block,
        order=piece.order,
        day=piece.day,
        operator=piece.operator,
        pair=piece.pair,
        measured=dict(piece.measured),
        versions=tuple(piece.versions),
        heads=_heads(piece.versions, bases) or tuple(piece.versions[-1:]),
        void=piece.void,
        photos=tuple(piece.photos),
        traces=tuple(piece.traces),
        videos=tuple(piece.videos),
        added=piece.event,
    )


def _turn(piece: _Piece) -> tuple[bool, int]:
    # Sorting keeps the order of arrival among pieces without a turn, which come last.
    return piece.order is None, piece.order or 0


@lru_cache(maxsize=64)
def _title(toml: str) -> str:
    try:
        title = tomllib.loads(toml).get("title", "")
    except tomllib.TOMLDecodeError:
        return ""
    return title if isinstance(title, str) else ""
