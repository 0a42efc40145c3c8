"""What the tables ``studies`` and ``pieces`` say of one study, brought up to date event by event.

Folding two thousand readings anew for each that comes would take longer than writing it. An event
bears only on the pieces that it is tied to, by naming a piece or another event; so the events are
kept in parts, none of which names anything in another, and only the parts that grew are folded.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from breakwright.model.errors import ImpossibleValue
from breakwright.model.event import (
    Body,
    Recorded,
    StudyChanged,
    StudyMade,
    StudyShelved,
    StudyTakenUp,
)
from breakwright.store.parts import Parts
from breakwright.usecases.bench.fold import fold
from breakwright.usecases.bench.state import PieceState, Standing, StudyState

__all__ = ["Change", "StudyRows"]

# What all events of the study as a whole are tied to; no id, so that no piece can be called so.
_WHOLE = "study"
_OF_WHOLE = (StudyMade, StudyChanged, StudyShelved, StudyTakenUp)


@dataclass(frozen=True, slots=True)
class Change:
    """What to write: ``line`` is the study's row (None: neither it nor its pieces have any),
    ``rows`` those of pieces that may have changed, ``gone`` the ids of pieces without."""

    line: dict[str, Any] | None
    rows: tuple[dict[str, Any], ...]
    gone: tuple[str, ...]


class StudyRows:
    """The rows of one study after all events that ``take`` was given, in order of ``seq``."""

    def __init__(self) -> None:
        self.last = 0
        self._touched = ""
        self._parts: Parts[Recorded] = Parts()
        self._rows: dict[str, dict[str, Any]] = {}
        # Kept along, since counting two thousand rows for each reading is slower than all else.
        self._counts: Counter[str] = Counter()
        self._is_made = False

    def take(self, events: Iterable[Recorded]) -> Change:
        """Take ``events`` that came since the last ones; return what changes by them."""
        grown: dict[str, None] = {}
        for recorded in events:
            grown[self._parts.add(recorded, _ties(recorded))] = None
            self.last, self._touched = recorded.seq, recorded.received
        whole = self._state(())
        if whole is None:
            self._rows, self._counts, self._is_made = {}, Counter(), False
            return Change(None, (), ())
        touched = self._grown(grown) if self._is_made else tuple(self._parts.all())
        self._is_made = True
        return self._renew(whole, touched)

    def _grown(self, names: Iterable[str]) -> tuple[Recorded, ...]:
        roots = dict.fromkeys(map(self._parts.root, names))
        return tuple(recorded for root in roots for recorded in self._parts.of(root))

    def _renew(self, whole: StudyState, touched: Sequence[Recorded]) -> Change:
        state = self._state(touched)
        assert state is not None
        now = {piece.id: _row(state.id, piece) for piece in state.pieces}
        named = {piece for r in touched if (piece := _piece_of(r.event.body)) is not None}
        gone = named - now.keys()
        for piece in gone:
            self._counts.subtract(_counted(self._rows.pop(piece, None)))
        for piece, row in now.items():
            self._counts.subtract(_counted(self._rows.get(piece)))
            self._counts.update(_counted(row))
            self._rows[piece] = row
        return Change(self._line(whole), tuple(now.values()), tuple(sorted(gone)))

    def _state(self, touched: Sequence[Recorded]) -> StudyState | None:
        """Return the state of the study as a whole and of the pieces in ``touched``."""
        both = {r.seq: r for part in (self._parts.of(_WHOLE), touched) for r in part}
        if not both:
            return None
        try:
            return fold([both[seq] for seq in sorted(both)])
        except ImpossibleValue:
            return None

    def _line(self, whole: StudyState) -> dict[str, Any]:
        return {
            "id": whole.id,
            "handle": whole.handle,
            "title": whole.title,
            "made": whole.made,
            "pieces": self._counts["pieces"],
            "read": self._counts["read"],
            "void": self._counts["void"],
            "clashes": self._counts["clashes"],
            "shelved": whole.shelved,
            "last": self.last,
            "touched": self._touched,
        }


def _counted(row: dict[str, Any] | None) -> dict[str, int]:
    """Return what a piece's row adds to the counts in its study's."""
    if row is None:
        return {}
    return {
        "pieces": 1,
        "read": row["readings"] > 0,
        "void": row["standing"] == Standing.VOID.value,
        "clashes": row["clash"],
    }


def _ties(recorded: Recorded) -> Iterator[str]:
    """Return the ids that bear on each other through this event, its own first."""
    body = recorded.event.body
    yield recorded.event.id
    if isinstance(body, _OF_WHOLE):
        yield _WHOLE
    piece = _piece_of(body)
    if piece is not None:
        # A piece and an event may have one id, and are two things.
        yield f"piece {piece}"
    for name in ("event", "base"):
        named = getattr(body, name, None)
        if named is not None:
            yield named
    yield from getattr(body, "bases", ())


def _piece_of(body: Body) -> str | None:
    piece: str | None = getattr(body, "piece", None)
    return piece


def _row(study: str, piece: PieceState) -> dict[str, Any]:
    reading = piece.reading
    entry = reading.entry if reading else None
    return {
        "study": study,
        "piece": piece.id,
        "label": piece.label,
        "group_name": piece.group,
        "block": piece.block,
        "turn": piece.order,
        "day": piece.day,
        "operator": piece.operator,
        "pair": piece.pair,
        "standing": piece.standing.value,
        "loads": "; ".join(entry.loads) if entry else None,
        "unit": entry.unit if entry else None,
        "ended": entry.ended.value if entry else None,
        "failure": entry.failure if entry else None,
        "note": entry.note if entry else None,
        "tested": entry.date if entry else None,
        "person": reading.person if reading else None,
        "readings": len(piece.versions),
        "clash": len(piece.heads) > 1,
        "void": piece.void,
    }
