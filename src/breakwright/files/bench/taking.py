"""From the tables of a hand-made folder, or a lone sheet, to the events of a new study."""

import re
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

from breakwright.files.bench.defined import SHEET, STUDY, defined
from breakwright.files.bench.described import described_toml, without_sheet_key
from breakwright.files.bench.door import door_problems
from breakwright.files.bench.rows_taken import TakenRow, pieces_of_sheet, rows_of_sheet
from breakwright.files.findings import Findings
from breakwright.files.new_study import free_handle
from breakwright.files.options import ReadOptions
from breakwright.files.source import Source, read_source_texts
from breakwright.files.study_file import read_study_text
from breakwright.model.errors import InputRefused, Problem
from breakwright.model.event import (
    Body,
    Event,
    PieceAdded,
    PieceMeasured,
    PieceVoided,
    ReadingEntered,
    StudyMade,
)
from breakwright.model.notice import Notice
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.event_form import event_form, read_event

__all__ = ["Making", "Taken", "events_of_tables"]

SPECIMENS = "specimens.csv"


@dataclass(frozen=True, slots=True)
class Making:
    """How events are made here: the time (ISO 8601 in UTC), fresh ids, and by whom."""

    now: str
    new_id: Callable[[], str]
    device: str = "import"
    person: str | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """The events of a new study, and what was noticed while its tables were read."""

    events: tuple[Event, ...]
    notices: tuple[Notice, ...]


def events_of_tables(
    study: str | None,
    trials: str | None,
    specimens: str | None,
    *,
    options: ReadOptions,
    making: Making,
    name: str = SHEET,
    taken: Collection[str] = (),
) -> Taken:
    """Return the events that make a study of these texts; None where there is no such file.

    ``name`` is what the sheet is called, ``taken`` the handles of other studies. Raises
    InputRefused with every problem, those of the tables as 'answer' has them.
    """
    findings = Findings(STUDY)
    if study is not None:
        read_study_text(study, findings)
        findings.refuse_if_any()
    pieces = () if specimens is None else pieces_of_sheet(specimens, Findings(SPECIMENS))
    rows: Sequence[TakenRow] = ()
    source: Source | None = None
    if trials is not None and _has_rows(trials):
        source = read_source_texts(study, trials, options, sheet_file=name)
        rows = rows_of_sheet(trials, source, options, _stated(study, options))
    elif study is None:
        # The strict reader says what is wrong with a sheet that has no rows, or no header.
        read_source_texts(None, trials or "", options, sheet_file=name)
    toml = described_toml(study, source, options, title=_title(name))
    toml = without_sheet_key(toml)
    described = defined(toml)
    handle = free_handle(described.study.title or _title(name), taken)
    key = making.new_id()
    bodies: list[Body] = [
        StudyMade(toml, handle),
        *_bodies(_joined(pieces, rows), making.new_id),
    ]
    events = tuple(
        Event(making.new_id(), key, making.now, body, making.device, making.person)
        for body in bodies
    )
    _refuse_unfit(events, name, taken)
    return Taken(events, source.notices if source else ())


def _has_rows(text: str) -> bool:
    return len([line for line in text.splitlines() if line.strip(" ;,\t")]) > 1


def _title(name: str) -> str:
    stem = re.sub(r"\.[A-Za-z0-9]{1,5}$", "", name)
    return re.sub(r"[\s_]+", " ", stem).strip() or "Study"


def _stated(study: str | None, options: ReadOptions) -> ForceUnit | None:
    if study is None:
        return options.unit
    file = read_study_text(study, Findings(STUDY))
    return (file.unit if file else None) or options.unit


def _joined(pieces: Sequence[TakenRow], rows: Sequence[TakenRow]) -> list[TakenRow]:
    """Return one row a piece: planned ones with what was read of them, in the order planned,
    then those that only the sheet of readings has."""
    read = {row.label: row for row in rows}
    joined = []
    for piece in pieces:
        row = read.pop(piece.label, None)
        joined.append(piece if row is None else row.after(piece))
    return [*joined, *read.values()]


def _bodies(rows: Sequence[TakenRow], new_id: Callable[[], str]) -> list[Body]:
    bodies: list[Body] = []
    after: list[Body] = []
    for place, row in enumerate(rows, start=1):
        piece = new_id()
        bodies.append(
            PieceAdded(
                piece,
                row.label,
                row.group,
                block=row.block,
                order=row.order or place,
                day=row.day,
                operator=row.operator,
                pair=row.pair,
            )
        )
        if row.measured:
            bodies.append(PieceMeasured(piece, row.measured))
        if row.entry is not None:
            after.append(ReadingEntered(piece, row.entry))
        if row.void is not None:
            after.append(PieceVoided(piece, row.void))
    return bodies + after


def _refuse_unfit(events: Sequence[Event], name: str, taken: Collection[str]) -> None:
    """Hold what was made against the same rules as what comes from a device."""
    problems: list[Problem] = []
    for event in events:
        try:
            read_event(event_form(event), file=name)
        except InputRefused as refused:
            problems += refused.problems
    problems = problems or list(door_problems(None, events, taken=taken))
    if problems:
        raise InputRefused(problems)
