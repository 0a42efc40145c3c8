"""What stands on the page at the rig for one piece."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from breakwright.bootstrap.bench import understand_entry
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import (
    PieceAdded,
    PieceVoided,
    ReadingAmended,
    ReadingEntered,
    Recorded,
)
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.curing import hours_left, ready_times
from breakwright.usecases.bench.state import PieceState, Standing, StudyState
from breakwright.web.breaking.scene import Scene, measures_words
from breakwright.web.breaking.typed import ASK_HOW, ASK_WHY, Typed
from breakwright.web.breaking.words import echo_of, typed_words

__all__ = ["RigView", "Said", "Telling", "rig_view", "wait_words"]

_DECIMAL = "decimal-unclear"


@dataclass(frozen=True, slots=True)
class Said:
    """What the page was sent for: the event to echo, or a word (``undone``, ``handed-in``)."""

    event: str = ""
    word: str = ""


@dataclass(frozen=True, slots=True)
class Telling:
    """The echo of the last thing done. ``event`` (and ``also``) can be taken back; None: not."""

    line: str
    remarks: tuple[str, ...] = ()
    piece: str = ""
    label: str = ""
    event: str = ""
    also: str = ""


@dataclass(frozen=True, slots=True)
class RigView:
    """``fields`` has (name of the field, label, what was typed) for each display; ``asks`` is
    'how', 'why', 'decimal' or ''; ``place`` says which piece of how many."""

    scene: Scene
    piece: PieceState | None
    number: int
    many: int
    left: int
    measured: str
    wait: str
    fields: tuple[tuple[str, str, str], ...]
    typed: Typed
    asks: str
    problems: tuple[Problem, ...]
    said: Telling | None
    day: str
    must_read: bool
    clashes: tuple[PieceState, ...]


def rig_view(
    state: StudyState,
    scene: Scene,
    shown: PieceState | None,
    *,
    typed: Typed,
    problems: Sequence[Problem],
    said: Said | None,
    unit: ForceUnit,
    now: datetime,
    day: str,
) -> RigView:
    """Return all that the page shows; ``now`` is aware of its zone."""
    ready = ready_times(state).get(shown.id) if shown else None
    side = scene.side
    return RigView(
        scene=scene,
        piece=shown,
        number=state.pieces.index(shown) + 1 if shown else 0,
        many=len(state.pieces),
        left=sum(piece.standing is Standing.WAITING for piece in state.pieces),
        measured=measures_words(shown.measured) if shown else "",
        wait=wait_words(ready, now),
        fields=tuple(
            (f"load{i}", _label(name), text)
            for i, (name, text) in enumerate(zip(side.displays, typed.loads, strict=True))
        ),
        typed=typed,
        asks=_asks(typed, problems),
        problems=tuple(problems),
        said=_telling(state, said, unit) if said else None,
        day=day,
        must_read=day not in state.safety,
        clashes=state.clashes,
    )


def _label(name: str) -> str:
    return name[:1].upper() + name[1:] if name else "Largest load shown"


def _asks(typed: Typed, problems: Sequence[Problem]) -> str:
    if any(problem.code == _DECIMAL for problem in problems):
        return "decimal"
    if typed.end == ASK_HOW:
        return "how"
    return "why" if typed.end == ASK_WHY else ""


def wait_words(ready: datetime | None, now: datetime) -> str:
    """Return how long the piece must still wait, '' where it need not.

    >>> from datetime import UTC
    >>> now = datetime(2026, 1, 2, 9, 0, tzinfo=UTC)
    >>> wait_words(datetime(2026, 1, 2, 12, 30, tzinfo=UTC), now)
    '3 h 30 min'
    >>> wait_words(datetime(2026, 1, 4, 12, 0, tzinfo=UTC), now), wait_words(None, now)
    ('2 days 3 h', '')
    """
    minutes = round(hours_left(ready, now) * 60)
    if minutes <= 0:
        return ""
    days, rest = divmod(minutes, 24 * 60)
    hours, rest = divmod(rest, 60)
    if days:
        return f"{days} day{'s' if days > 1 else ''} {hours} h"
    return f"{hours} h {rest} min" if hours else f"{rest} min"


def _telling(state: StudyState, said: Said, unit: ForceUnit) -> Telling | None:
    if said.word == "undone":
        return Telling("Taken back. What was typed stays in the piece's history.")
    if said.word == "handed-in":
        return Telling("The file was taken in: everything in it is safe here.")
    recorded = next((r for r in state.events if r.event.id == said.event), None)
    if recorded is None:
        return None
    return _told(state, recorded, unit)


def _told(state: StudyState, recorded: Recorded, unit: ForceUnit) -> Telling | None:
    body, event = recorded.event.body, recorded.event.id
    if event in state.undone:
        return None
    match body:
        case ReadingEntered(key, entry) | ReadingAmended(key, _, entry):
            piece = state.piece(key)
            if piece is None:
                return None
            also = _left_out_with(state, recorded)
            try:
                echo = echo_of(understand_entry(state, piece.id, entry), unit=unit)
            except InputRefused:
                line, remarks = typed_words(entry), ("It cannot be understood: amend it.",)
                return Telling(line, remarks, piece.id, piece.label, event, also)
            line = f"{echo.line} Left out: {piece.void}." if also else echo.line
            return Telling(line, echo.remarks, piece.id, piece.label, event, also)
        case PieceVoided(key, reason):
            piece = state.piece(key)
            label = piece.label if piece else ""
            return Telling(f"left out: {reason}.", (), key, label, event)
        case PieceAdded(key, label):
            return Telling("added.", (), key, label, event)
    return None


def _left_out_with(state: StudyState, entered: Recorded) -> str:
    """Return the leaving-out that came with this reading in one form; '' where none did."""
    for recorded in state.events:
        if recorded.seq == entered.seq + 1 and isinstance(recorded.event.body, PieceVoided):
            same = recorded.event.made == entered.event.made
            if same and recorded.event.device == entered.event.device:
                return recorded.event.id
    return ""
