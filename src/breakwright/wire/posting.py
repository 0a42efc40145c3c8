"""From a kept pull to a reading on the server: decided once, sent until it is acknowledged."""

from dataclasses import dataclass, field, replace

from breakwright.model.event import Entry, Event, ReadingEntered
from breakwright.wire.kept_pulls import KeptPull, KeptPulls, Standing
from breakwright.wire.server import NotTaken, PieceSeen, Server, ServerAway, StudySeen

__all__ = ["Poster", "Sent"]

_DEVICE = "load cell"


@dataclass(frozen=True, slots=True)
class Sent:
    """``new``: whether the server did not have it yet. ``understood``: how it took the entry,
    in words. ``trace_trouble``: why the trace stays here, None where it was taken."""

    pull: KeptPull
    new: bool
    understood: tuple[str, ...]
    trace_trouble: str | None = None


@dataclass(slots=True)
class Poster:
    """Sends to the study ``key`` of ``server``. ``study`` is what was last seen of it."""

    server: Server
    key: str
    pulls: KeptPulls
    study: StudySeen | None = None
    _given: set[str] = field(default_factory=set)

    def look(self) -> StudySeen:
        """Ask how the study stands. Raises ServerAway or NotTaken."""
        self.study = self.server.study(self.key)
        return self.study

    def next_piece(self) -> PieceSeen | None:
        """The first waiting piece that no pull of this run is meant for."""
        pieces = self.study.pieces if self.study else ()
        return next((p for p in pieces if p.waiting and p.id not in self._given), None)

    def piece(self, key: str) -> PieceSeen | None:
        """The piece with this label (or id)."""
        pieces = self.study.pieces if self.study else ()
        return next((p for p in pieces if key in (p.label, p.id)), None)

    def claim(self, pulls: list[KeptPull]) -> None:
        """Count the pieces of ``pulls``, decided in an earlier run, as given away."""
        self._given.update(pull.piece for pull in pulls if pull.piece and pull.waits)

    def decide(self, pull: KeptPull, piece: PieceSeen, entry: Entry) -> KeptPull:
        """Keep on the disk that ``pull`` is the reading ``entry`` of ``piece``."""
        assert self.study is not None
        self._given.add(piece.id)
        return self.pulls.put(
            replace(
                pull,
                standing=Standing.DECIDED,
                server=self.server.address,
                study=self.study.id,
                piece=piece.id,
                label=piece.label,
                entry=entry,
            )
        )

    def send(self, pull: KeptPull) -> Sent:
        """Send what of a decided pull the server has not acknowledged.

        Raises ServerAway (send it again later: harmless) and NotTaken; a reading that was not
        taken is open again.
        """
        study, piece, entry = pull.study, pull.piece, pull.entry
        assert study is not None
        assert piece is not None
        assert entry is not None
        new = False
        understood: tuple[str, ...] = ()
        if pull.standing is Standing.DECIDED:
            body = ReadingEntered(piece, entry)
            try:
                new = self.server.record(Event(pull.id, study, pull.made, body, device=_DEVICE))
            except NotTaken:
                self._given.discard(piece)
                self.pulls.put(replace(pull, standing=Standing.OPEN))
                raise
            pull = self.pulls.put(replace(pull, standing=Standing.ACKNOWLEDGED))
            understood = self._understood(study, piece, entry)
        trouble = self._send_trace(pull, study, piece)
        return Sent(self.pulls.put(replace(pull, standing=Standing.SENT)), new, understood, trouble)

    def _understood(self, study: str, piece: str, entry: Entry) -> tuple[str, ...]:
        # Words for the person only: the reading is kept, whether or not they can be had.
        try:
            return self.server.understand(study, piece, entry)
        except (ServerAway, NotTaken):
            return ()

    def _send_trace(self, pull: KeptPull, study: str, piece: str) -> str | None:
        try:
            text = self.pulls.trace_path(pull).read_text(encoding="ascii")
            note = f"load cell, {pull.made}"
            self.server.keep_trace(study, piece=piece, event=pull.trace_id, text=text, note=note)
        except (NotTaken, OSError) as refused:
            return str(refused)
        return None
