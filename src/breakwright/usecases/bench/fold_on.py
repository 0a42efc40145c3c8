"""The state after a few more events, without folding all that came before once again.

Most events at a bench are readings, each of one piece. Folding two thousand events anew for each
would cost more than writing it to the disk.
"""

from collections.abc import Sequence
from dataclasses import replace

from breakwright.model.event import (
    PhotoAdded,
    PieceMeasured,
    ReadingEntered,
    Recorded,
    TraceAdded,
)
from breakwright.usecases.bench.fold import fold
from breakwright.usecases.bench.state import PieceState, StudyState, Version

__all__ = ["fold_on"]


def fold_on(state: StudyState, since: Sequence[Recorded]) -> StudyState:
    """Return what ``fold`` makes of the events of ``state`` and ``since``, which came later."""
    places = {piece.id: place for place, piece in enumerate(state.pieces)}
    pieces = list(state.pieces)
    for recorded in since:
        place = places.get(getattr(recorded.event.body, "piece", None) or "")
        grown = None if place is None else _grown(pieces[place], recorded)
        # An event that another one took back or replaced before it came is not so simple.
        if place is None or grown is None or recorded.event.id in state.named:
            return fold((*state.events, *since))
        pieces[place] = grown
    return replace(state, pieces=tuple(pieces), last=since[-1].seq, events=(*state.events, *since))


def _grown(piece: PieceState, recorded: Recorded) -> PieceState | None:
    """Return ``piece`` with one more event of its own; None where that may bear on more."""
    event = recorded.event
    match event.body:
        case ReadingEntered(_, entry):
            version = Version(
                event=event.id,
                entry=entry,
                bases=(),
                reason=None,
                made=event.made,
                device=event.device,
                person=event.person,
                seq=recorded.seq,
            )
            # Where all versions replace each other in a ring, the last one stands for them.
            if not piece.heads or piece.heads == piece.versions[-1:]:
                return None if piece.versions else _first(piece, version)
            return replace(
                piece, versions=(*piece.versions, version), heads=(*piece.heads, version)
            )
        case PieceMeasured(_, values):
            measured = dict(piece.measured)
            for column, value in values.items():
                if value:
                    measured[column] = value
                else:
                    measured.pop(column, None)
            return replace(piece, measured=measured)
        case PhotoAdded():
            return replace(piece, photos=(*piece.photos, event.body))
        case TraceAdded():
            return replace(piece, traces=(*piece.traces, event.body))
    return None


def _first(piece: PieceState, version: Version) -> PieceState:
    return replace(piece, versions=(version,), heads=(version,))
