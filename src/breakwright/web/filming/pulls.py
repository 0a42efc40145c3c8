"""The pulls of a film beside the pieces of the study: which piece is meant, what it would say."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from breakwright.bootstrap.bench import understand_entry
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import Entry
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.state import FilmState, PieceState, Standing, StudyState
from breakwright.web.breaking.finding import side_of
from breakwright.web.breaking.scene import next_order
from breakwright.web.breaking.words import echo_of, typed_words
from breakwright.web.filming.finding import Filmed
from breakwright.web.filming.told import entry_in

__all__ = ["Pull", "entry_for", "pulls_of"]


@dataclass(frozen=True, slots=True)
class Pull:
    """``piece`` is the one it was taken for, or is thought to be of; ``accepted`` the event that
    took it, '' where none did; ``is_stale``: what the film says now is not what was taken.
    ``typed`` and ``understood`` are the entry in words, ``failure`` how the piece broke as far as
    is known."""

    told: Mapping[str, Any]
    piece: PieceState | None
    accepted: str
    reading: str
    is_stale: bool
    typed: str
    understood: str
    remarks: tuple[str, ...]
    failure: str
    problems: tuple[Problem, ...]


def pulls_of(
    state: StudyState, filmed: Filmed, film: FilmState, told: Mapping[str, Any], unit: ForceUnit
) -> tuple[Pull, ...]:
    """Return every pull: those that were taken with their pieces, then, for the others, the piece
    that the film was brought for and those that wait, in the planned order."""
    taken = {one.number: (event, one) for event, one in film.accepted.items()}
    gone = {one.piece for _, one in taken.values()}
    named = [] if filmed.piece is None else [filmed.piece]
    waiting = [p for p in state.pieces if p.standing is Standing.WAITING]
    free = [p for p in dict.fromkeys(p.id for p in (*named, *waiting)) if p not in gone]
    pulls = []
    for one in told["breaks"]:
        event, accepted = taken.get(one["number"], ("", None))
        key = accepted.piece if accepted is not None else free.pop(0) if free else ""
        reading = accepted.reading if accepted is not None else ""
        pulls.append(_pull(state, one, state.piece(key), event, reading, unit))
    return tuple(pulls)


def _pull(
    state: StudyState,
    told: Mapping[str, Any],
    piece: PieceState | None,
    accepted: str,
    reading: str,
    unit: ForceUnit,
) -> Pull:
    entry = entry_in(told)
    problems = [Problem(**problem) for problem in told["problems"]]
    understood, failure, stale = "", "", False
    remarks: tuple[str, ...] = ()
    if entry is not None and piece is not None:
        failure = _failure(state, piece)
        whole = entry_for(state, piece, entry, failure=failure, day=None)
        standing = next((v.entry for v in piece.versions if v.event == reading), None)
        stale = standing is not None and _says(standing) != _says(whole)
        try:
            echo = echo_of(understand_entry(state, piece.id, whole), unit=unit)
            understood, remarks = echo.line, echo.remarks
        except InputRefused as refused:
            problems += refused.problems
    return Pull(
        told=told,
        piece=piece,
        accepted=accepted,
        reading=reading,
        is_stale=stale,
        typed="" if entry is None else typed_words(entry),
        understood=understood,
        remarks=remarks,
        failure=failure,
        problems=tuple(problems),
    )


def _says(entry: Entry) -> Sequence[object]:
    return (entry.loads, entry.unit, entry.ended, entry.together, entry.rate)


def _failure(state: StudyState, piece: PieceState) -> str:
    if piece.reading is not None:
        return piece.reading.entry.failure or ""
    return side_of(state).counts or ""


def entry_for(
    state: StudyState, piece: PieceState, entry: Entry, *, failure: str, day: str | None
) -> Entry:
    """Return ``entry`` as the reading of ``piece``: an amendment keeps the day of the trial and
    its place in the order."""
    if piece.reading is None:
        return replace(entry, failure=failure or None, date=day, order=next_order(state))
    before = piece.reading.entry
    return replace(entry, failure=failure or None, date=before.date, order=before.order)
