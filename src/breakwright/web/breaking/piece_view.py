"""What stands on the page of one piece: its readings, what was understood, all that happened."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from breakwright.bootstrap.bench import understand_entry
from breakwright.bootstrap.breaking import RigSide
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import (
    Body,
    Entry,
    Event,
    FilmAccepted,
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
    TraceAdded,
    Undone,
    VideoAdded,
)
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.curing import ready_times
from breakwright.usecases.bench.event_form import event_form
from breakwright.usecases.bench.state import PieceState, StudyState, Version
from breakwright.web.breaking.rig_view import wait_words
from breakwright.web.breaking.scene import measures_words
from breakwright.web.breaking.typed import Typed
from breakwright.web.breaking.words import echo_of, ending_words, typed_words

__all__ = ["Happening", "PieceView", "ReadingView", "piece_view", "time_words"]


@dataclass(frozen=True, slots=True)
class ReadingView:
    """One reading: what was typed, how it ended, what it was understood as, where it came from;
    ``form`` is the entry as a dictionary."""

    event: str
    typed: str
    ended: str
    understood: str
    remarks: tuple[str, ...]
    note: str
    when: str
    device: str
    person: str
    reason: str
    form: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Happening:
    """One line of the history. ``event`` can be taken back, '' cannot; ``gone`` was taken back."""

    when: str
    by: str
    what: str
    event: str
    gone: bool


@dataclass(frozen=True, slots=True)
class PieceView:
    """``heads`` are the readings that count: one, or those that clash; ``first`` is the entry of
    the first of them as a dictionary, empty where there is none."""

    piece: PieceState
    side: RigSide
    measured: str
    wait: str
    heads: tuple[ReadingView, ...]
    history: tuple[Happening, ...]
    typed: Typed
    labels: tuple[tuple[str, str, str], ...]
    ways: tuple[str, ...]
    problems: tuple[Problem, ...]
    form: str
    first: Mapping[str, Any]


def piece_view(
    state: StudyState,
    side: RigSide,
    piece: PieceState,
    *,
    ways: Sequence[str],
    unit: ForceUnit,
    now: datetime,
    typed: Typed | None,
    problems: Sequence[Problem],
    form: str,
) -> PieceView:
    """Return all that the page shows. ``form`` names the form that ``problems`` belong to."""
    shown = typed or _as_typed(piece, side)
    loads = (*shown.loads, *[""] * len(side.displays))[: max(len(side.displays), len(shown.loads))]
    heads = tuple(_reading(state, piece, version, unit) for version in piece.heads)
    return PieceView(
        piece=piece,
        side=side,
        measured=measures_words(piece.measured),
        wait=wait_words(ready_times(state).get(piece.id), now),
        heads=heads,
        history=tuple(_history(state, piece, side.counts)),
        typed=shown,
        labels=tuple((f"load{i}", _label(side.displays, i), text) for i, text in enumerate(loads)),
        ways=tuple(dict.fromkeys(([side.counts] if side.counts else []) + list(ways))),
        problems=tuple(problems),
        form=form,
        first=heads[0].form if heads else {},
    )


def _label(displays: Sequence[str], place: int) -> str:
    name = displays[place] if place < len(displays) else f"display {place + 1}"
    return name[:1].upper() + name[1:] if name else "Largest load shown"


def _as_typed(piece: PieceState, side: RigSide) -> Typed:
    if piece.reading is None:
        return Typed(("",) * len(side.displays), side.unit.value)
    entry = piece.reading.entry
    return Typed(
        loads=entry.loads,
        unit=entry.unit,
        end=entry.ended.value,
        failure=entry.failure or "",
        decimal=entry.decimal or "",
        scale=entry.scale or "",
        together=entry.together or "",
        rate=entry.rate or "",
        note=entry.note or "",
    )


def _reading(
    state: StudyState, piece: PieceState, version: Version, unit: ForceUnit
) -> ReadingView:
    entry = version.entry
    try:
        echo = echo_of(understand_entry(state, piece.id, entry), unit=unit)
        line, remarks = echo.line, echo.remarks
    except InputRefused as refused:
        line, remarks = "It cannot be understood.", tuple(p.message for p in refused.problems)
    return ReadingView(
        event=version.event,
        typed=typed_words(entry),
        ended=ending_words(entry, None),
        understood=line,
        remarks=remarks,
        note=entry.note or "",
        when=time_words(version.made),
        device=version.device or "a device without a name",
        person=version.person or "",
        reason=version.reason or "",
        form=event_form(_as_event(version))["body"]["entry"],
    )


def _as_event(version: Version) -> Event:
    body = ReadingEntered("0" * 32, version.entry)
    return Event(version.event, "0" * 32, version.made, body)


def time_words(made: str) -> str:
    """Return the time as people at the bench have it on their wall, to the minute."""
    try:
        return datetime.fromisoformat(made).astimezone().strftime("%Y-%m-%d %H:%M")
    except (ValueError, OverflowError):
        return made


def _history(state: StudyState, piece: PieceState, counts: str | None) -> list[Happening]:
    own = {r.event.id for r in state.events if _is_of(r.event.body, piece.id)}
    # An undoing belongs to the piece of what it takes back, an undoing of that one as well.
    for recorded in state.events:
        body = recorded.event.body
        if isinstance(body, Undone) and body.event in own:
            own.add(recorded.event.id)
    return [
        _happening(recorded, counts, gone=recorded.event.id in state.undone)
        for recorded in state.events
        if recorded.event.id in own
    ]


def _is_of(body: Body, piece: str) -> bool:
    if isinstance(body, PreparationLogged):
        return piece in body.pieces
    return getattr(body, "piece", None) == piece


def _happening(recorded: Recorded, counts: str | None, *, gone: bool) -> Happening:
    event = recorded.event
    by = ", ".join(part for part in (event.person, event.device) if part)
    lasting = isinstance(event.body, PieceAdded | PreparationLogged)
    back = "" if gone or lasting else event.id
    return Happening(time_words(event.made), by, _what(event.body, counts), back, gone)


def _what(body: Body, counts: str | None) -> str:
    match body:
        case PieceAdded(label=label, group=group):
            return f"added as {label}, {group}"
        case PieceChanged(reason=reason):
            names = ("label", "group", "block", "order", "day", "operator", "pair")
            new = [f"{n} {v}" for n in names if (v := getattr(body, n)) is not None]
            return f"changed: {', '.join(new)}" + (f" ({reason})" if reason else "")
        case PieceMeasured(values=values):
            return f"measured: {measures_words(values)}"
        case PieceVoided(reason=reason):
            return f"left out: {reason}"
        case PieceRestored(reason=reason):
            return f"counts again: {reason}"
        case PreparationLogged(work=work):
            return f"prepared: {work}"
        case ReadingEntered(entry=entry):
            return f"read: {_entry(entry, counts)}"
        case ReadingAmended(entry=entry, reason=reason):
            return f"amended to {_entry(entry, counts)} ({reason})"
        case Undone(reason=reason):
            return "taken back: the line before it that is crossed out" + (
                f" ({reason})" if reason else ""
            )
        case PhotoAdded(caption=caption):
            return "photo" + (f": {caption}" if caption else "")
        case TraceAdded(note=note):
            return "trace of the load" + (f": {note}" if note else "")
        case VideoAdded(name=name):
            return f"film: {name}"
        case FilmAccepted(number=number):
            return f"the reading comes from pull {number} of a film, looked through by a person"
    return type(body).__name__


def _entry(entry: Entry, counts: str | None) -> str:
    note = f"; {entry.note}" if entry.note else ""
    return f"{typed_words(entry)}; {ending_words(entry, counts)}{note}"
