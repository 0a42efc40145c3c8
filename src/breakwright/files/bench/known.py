"""What is known of a study while a list of events is looked at, one after the other."""

from dataclasses import dataclass

from breakwright.model.event import (
    Body,
    Entry,
    Event,
    FilmAccepted,
    FilmRead,
    PieceAdded,
    PieceChanged,
    PreparationLogged,
    ReadingAmended,
    ReadingEntered,
    SpanCorrected,
    StudyChanged,
    StudyMade,
    Undone,
)
from breakwright.usecases.bench.state import PieceState, StudyState

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
        self.toml: str | None = state.toml if state else None
        self.bodies: dict[str, Body] = (
            {r.event.id: r.event.body for r in state.events} if state else {}
        )
        self._state = state
        self._pieces: dict[str, KnownPiece] | None = None if state else {}

    @property
    def pieces(self) -> dict[str, KnownPiece]:
        """All pieces by their ids."""
        if self._pieces is None:
            assert self._state is not None
            added = [body for body in self.bodies.values() if isinstance(body, PieceAdded)]
            self._pieces = {body.piece: _piece(body, live=False) for body in reversed(added)}
            self._pieces |= {piece.id: _known(piece) for piece in self._state.pieces}
        return self._pieces

    def piece(self, piece: str) -> KnownPiece | None:
        """Return the piece with this id."""
        if self._pieces is None and self._state is not None:
            # One reading comes alone, as a rule: not worth a list of all pieces.
            found = next((p for p in self._state.pieces if p.id == piece), None)
            if found is not None:
                return _known(found)
        return self.pieces.get(piece)

    def failures(self, *, besides: str) -> set[str]:
        """Return the ways of breaking written of all pieces but one (its id)."""
        entries = (
            [p.entry for p in self._pieces.values() if p.live and p.id != besides]
            if self._pieces is not None
            else [p.heads[0].entry for p in self._all() if p.heads and p.id != besides]
        )
        return {e.failure.strip() for e in entries if e is not None and e.failure}

    def _all(self) -> tuple[PieceState, ...]:
        return self._state.pieces if self._state else ()

    def read_piece(self, reading: str) -> str | None:
        """Return the id of the piece that this reading, or amendment of one, is of."""
        body = self.bodies.get(reading)
        return body.piece if isinstance(body, ReadingEntered | ReadingAmended) else None

    def add(self, event: Event) -> None:
        """Take ``event`` as known for those that come after it."""
        pieces = self.pieces
        self.bodies[event.id] = event.body
        match event.body:
            case StudyMade(toml) | StudyChanged(toml):
                self.toml = toml
            case PieceAdded() as added:
                pieces.setdefault(added.piece, _piece(added, live=True))
            case PieceChanged() as change:
                piece = pieces[change.piece]
                piece.label = change.label or piece.label
                piece.group = change.group or piece.group
            case ReadingEntered(piece_id, entry) | ReadingAmended(piece_id, _, entry):
                pieces[piece_id].entry = entry

    def missing(self, body: Body) -> str | None:
        """Return what ``body`` speaks of that is not known, in words; None where all is."""
        piece = None if isinstance(body, PieceAdded) else getattr(body, "piece", None)
        if piece is not None and self.piece(piece) is None:
            return "the piece"
        match body:
            case PreparationLogged(_, pieces) if any(p not in self.pieces for p in pieces):
                return "one of the pieces"
            case ReadingAmended(_, bases) if any(b not in self.bodies for b in bases):
                return "the reading that it replaces"
            case StudyChanged(_, base) if base not in self.bodies:
                return "the study as it was before"
            case FilmRead(video=video) if video is not None and video not in self.bodies:
                return "the film"
            case SpanCorrected(film) | FilmAccepted(film) if film not in self.bodies:
                return "the reading of the film"
            case FilmAccepted(reading=reading) if reading not in self.bodies:
                return "the reading of the piece"
            case Undone(event) if event not in self.bodies:
                return "what it takes back"
        return None


def _piece(added: PieceAdded, *, live: bool) -> KnownPiece:
    return KnownPiece(added.piece, added.label, added.group, live)


def _known(piece: PieceState) -> KnownPiece:
    entry = piece.heads[0].entry if piece.heads else None
    return KnownPiece(piece.id, piece.label, piece.group, True, entry)
