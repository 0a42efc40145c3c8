"""What is known of a study while a list of events is looked at, one after the other."""

from dataclasses import dataclass

from breakwright.model.event import (
    Body,
    Entry,
    Event,
    PieceAdded,
    PieceChanged,
    PreparationLogged,
    ReadingAmended,
    ReadingEntered,
    StudyChanged,
    StudyMade,
    Undone,
)
from breakwright.usecases.bench.state import StudyState

__all__ = ["Known", "KnownPiece"]


@dataclass(slots=True)
class KnownPiece:
    """``live`` is False where the adding was taken back; ``entry`` is the reading that counts."""

    id: str
    label: str
    group: str
    live: bool
    entry: Entry | None = None


class Known:
    """The ids, pieces and readings of ``state`` and of the events added since.

    Pieces and readings whose events were taken back are known as well: a device that speaks of
    one did not know of that, which is a conflict and no mistake.
    """

    def __init__(self, state: StudyState | None) -> None:
        self.toml: str | None = None
        self.events: set[str] = set()
        self.bodies: dict[str, Body] = {}
        self.pieces: dict[str, KnownPiece] = {}
        self.readings: dict[str, str] = {}
        if state is None:
            return
        for recorded in state.events:
            self._note(recorded.event)
            body = recorded.event.body
            if isinstance(body, PieceAdded):
                self.pieces.setdefault(body.piece, _piece(body, live=False))
        for piece in state.pieces:
            entry = piece.reading.entry if piece.reading else None
            self.pieces[piece.id] = KnownPiece(piece.id, piece.label, piece.group, True, entry)
        self.toml = state.toml

    def _note(self, event: Event) -> None:
        self.events.add(event.id)
        self.bodies[event.id] = event.body
        if isinstance(event.body, ReadingEntered | ReadingAmended):
            self.readings[event.id] = event.body.piece

    def add(self, event: Event) -> None:
        """Take ``event`` as known for those that come after it."""
        self._note(event)
        match event.body:
            case StudyMade(toml) | StudyChanged(toml):
                self.toml = toml
            case PieceAdded() as added:
                self.pieces.setdefault(added.piece, _piece(added, live=True))
            case PieceChanged() as change:
                piece = self.pieces[change.piece]
                piece.label = change.label or piece.label
                piece.group = change.group or piece.group
            case ReadingEntered(piece_id, entry) | ReadingAmended(piece_id, _, entry):
                self.pieces[piece_id].entry = entry

    def missing(self, body: Body) -> str | None:
        """Return what ``body`` speaks of that is not known, in words; None where all is."""
        piece = None if isinstance(body, PieceAdded) else getattr(body, "piece", None)
        if piece is not None and piece not in self.pieces:
            return "the piece"
        match body:
            case PreparationLogged(_, pieces) if any(p not in self.pieces for p in pieces):
                return "one of the pieces"
            case ReadingAmended(_, bases) if any(b not in self.events for b in bases):
                return "the reading that it replaces"
            case StudyChanged(_, base) if base not in self.events:
                return "the study as it was before"
            case Undone(event) if event not in self.events:
                return "what it takes back"
        return None


def _piece(added: PieceAdded, *, live: bool) -> KnownPiece:
    return KnownPiece(added.piece, added.label, added.group, live)
