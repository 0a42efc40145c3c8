"""What is refused at the store's door: what cannot be understood, never what merely conflicts."""

from collections.abc import Collection, Sequence
from datetime import date, datetime

from breakwright.files.bench.defined import Defined, defined
from breakwright.files.bench.door_films import accepted_problems, corrected_problems, film_problems
from breakwright.files.bench.door_pieces import (
    group_problems,
    label_problems,
    measured_problems,
    text_problems,
    void_problems,
)
from breakwright.files.bench.door_readings import reading_problems
from breakwright.files.bench.known import Known
from breakwright.files.nearest import listed
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import (
    Event,
    FilmAccepted,
    FilmRead,
    PieceAdded,
    PieceChanged,
    PieceMeasured,
    PieceRestored,
    PieceVoided,
    PreparationLogged,
    ReadingAmended,
    ReadingEntered,
    SafetyRead,
    SpanCorrected,
    StudyChanged,
    StudyMade,
    Undone,
    kind_of,
)
from breakwright.usecases.bench.state import StudyState

__all__ = ["door_problems"]


def door_problems(
    state: StudyState | None, events: Sequence[Event], *, taken: Collection[str]
) -> tuple[Problem, ...]:
    """Return everything that speaks against ``events`` of one study, in their order.

    An event that is there already is not looked at again: a repeat is harmless.
    """
    known = Known(state)
    problems: list[Problem] = []
    for place, event in enumerate(events, start=1):
        if event.id in known.bodies:
            continue
        found = _problems(known, event, taken)
        problems += found
        if not found and place < len(events):
            known.add(event)
    return tuple(problems)


def _problems(known: Known, event: Event, taken: Collection[str]) -> list[Problem]:
    body = event.body
    wrong_time = _time_problems(event)
    if wrong_time:
        return wrong_time
    if isinstance(body, StudyMade):
        return _made(known, event, body, taken)
    if known.toml is None:
        return [too_early(event, "the study itself")]
    missing = known.missing(body)
    if missing:
        return [too_early(event, missing)]
    match body:
        case StudyChanged(toml, base):
            return [*_base(known, base), *_changed(known, toml)]
        case Undone(other):
            return _undone(known, other)
        case PieceAdded():
            return _added(known, body)
        case PieceChanged():
            return _piece_changed(known, body)
        case PieceMeasured(_, values):
            return measured_problems(values)
        case PieceVoided(_, reason):
            return void_problems(reason)
        case PieceRestored(_, reason):
            return text_problems(reason, "reason", code="reason-missing")
        case ReadingEntered():
            return reading_problems(known, body.piece, body.entry)
        case ReadingAmended():
            return [
                *text_problems(body.reason, "reason", code="reason-missing"),
                *_bases(known, body),
                *reading_problems(known, body.piece, body.entry),
            ]
        case FilmRead():
            return film_problems(known, body)
        case SpanCorrected():
            return corrected_problems(known, body)
        case FilmAccepted():
            return accepted_problems(known, body)
    return []


def too_early(event: Event, what: str) -> Problem:
    """Return the problem of an event that came before ``what`` it speaks of."""
    return Problem(
        "event-too-early",
        f"this came before {what}, which it speaks of and which is not here yet",
        kind_of(event.body),
        read=event.id,
        allowed="events after those that they speak of",
        do="Send the other first, then this one again. If it never comes, the device that made it "
        "still holds it.",
    )


def _time_problems(event: Event) -> list[Problem]:
    """A time may have the right shape and still be none, such as 2026-13-45."""
    body = event.body
    times = [("made", event.made)]
    if isinstance(body, PreparationLogged):
        times.append(("started", body.started))
    problems = []
    for name, text in times:
        try:
            datetime.fromisoformat(text)
        except ValueError:
            problems.append(_bad_time(event, name, text))
    if isinstance(body, SafetyRead):
        try:
            date.fromisoformat(body.day)
        except ValueError:
            problems.append(_bad_time(event, "day", body.day))
    return problems


def _bad_time(event: Event, name: str, text: str) -> Problem:
    return Problem(
        "bad-time",
        "there is no such time",
        kind_of(event.body),
        column_name=name,
        read=text,
        allowed="2026-01-31T09:30:00Z, or a day such as 2026-01-31",
        do="Correct the time, or the clock of the device.",
    )


def _made(known: Known, event: Event, body: StudyMade, taken: Collection[str]) -> list[Problem]:
    if known.toml is not None:
        return [
            Problem(
                "study-there",
                "this study was made already, by another event",
                "study",
                read=event.study,
                allowed="one beginning for each study",
                do="Change the study, or make another one with an id of its own.",
            )
        ]
    problems = list(_toml_problems(body.toml))
    if body.handle in taken:
        problems.append(handle_taken(body.handle))
    return problems


def handle_taken(handle: str) -> Problem:
    """Return the problem of a short name that another study has."""
    return Problem(
        "handle-taken",
        f"another study is called «{handle}»",
        "study",
        column_name="handle",
        read=handle,
        allowed="a short name that no other study here has",
        do="Choose another one.",
    )


def _toml_problems(toml: str) -> Sequence[Problem]:
    try:
        study = defined(toml)
    except InputRefused as refused:
        return refused.problems
    if study.sheet == "trials.csv":
        return ()
    return (
        Problem(
            "sheet-elsewhere",
            "the readings of a study in the store are in the store, not in a sheet of another name",
            "study.toml",
            column_name="sheet",
            read=study.sheet,
            allowed="no 'sheet' key",
            do="Take the key out, or import the folder, which brings the sheet along.",
        ),
    )


def _changed(known: Known, toml: str) -> list[Problem]:
    problems = list(_toml_problems(toml))
    if problems:
        return problems
    new = defined(toml)
    problems += _groups_in_use(known, new)
    problems += _readings_unfit(known, new)
    return problems


def _base(known: Known, base: str) -> list[Problem]:
    if isinstance(known.bodies[base], StudyMade | StudyChanged):
        return []
    return [
        Problem(
            "wrong-base",
            "a change of the study names the study as it was before it",
            "study",
            column_name="base",
            read=base,
            allowed="the id of the event that made or changed the study",
            do="Name what was before your eyes when you changed it.",
        )
    ]


def _groups_in_use(known: Known, new: Defined) -> list[Problem]:
    if not new.groups:
        return []
    lost = sorted({p.group for p in known.pieces.values() if p.live} - set(new.groups))
    return [
        Problem(
            "group-in-use",
            f"the group «{group}» has pieces, and the changed study no longer names it",
            "study.toml",
            column_name="groups",
            read=listed(new.groups),
            allowed="every group that has pieces",
            do="Leave the group in, or move its pieces to another group first.",
        )
        for group in lost
    ]


def _readings_unfit(known: Known, new: Defined) -> list[Problem]:
    """A change of the scales must leave the readings readable, or the answer would stop."""
    unfit = [
        piece
        for piece in known.pieces.values()
        if piece.live
        and piece.entry is not None
        and not reading_problems(known, piece.id, piece.entry)
        and reading_problems(known, piece.id, piece.entry, study=new)
    ]
    if not unfit:
        return []
    return [
        Problem(
            "readings-unfit",
            "readings no longer fit the scales: " + listed([p.label for p in unfit]),
            "study.toml",
            column_name="instrument",
            allowed="the scales that the readings were taken on: as many, with the same names",
            do="Keep them as they are; pieces read on other scales belong in a study of their own.",
        )
    ]


def _undone(known: Known, other: str) -> list[Problem]:
    if not isinstance(known.bodies.get(other), StudyMade):
        return []
    return [
        Problem(
            "cannot-undo",
            "the beginning of a study cannot be taken back",
            "event",
            read=other,
            allowed="any later event",
            do="Put the study on the shelf instead.",
        )
    ]


def _added(known: Known, body: PieceAdded) -> list[Problem]:
    problems = []
    if body.piece in known.pieces:
        problems.append(
            Problem(
                "piece-there",
                "a piece with this id was added already, by another event",
                "piece",
                column_name="piece",
                read=body.piece,
                allowed="an id of its own for each piece",
                do="Make a new id for the new piece.",
            )
        )
    return [
        *problems,
        *label_problems(known, body.label, body.piece),
        *group_problems(known, body.group),
    ]


def _piece_changed(known: Known, body: PieceChanged) -> list[Problem]:
    problems: list[Problem] = []
    if body.label is not None:
        problems += label_problems(known, body.label, body.piece)
    if body.group is not None:
        problems += group_problems(known, body.group)
    return problems


def _bases(known: Known, body: ReadingAmended) -> list[Problem]:
    wrong = [base for base in body.bases if known.read_piece(base) != body.piece]
    if body.bases and not wrong:
        return []
    return [
        Problem(
            "wrong-base",
            "an amendment names the readings of the same piece that it replaces",
            "reading",
            column_name="bases",
            read=", ".join(wrong) or None,
            allowed="the ids of one or more readings of this piece",
            do="Name the reading that was before your eyes, or enter a new reading.",
        )
    ]
