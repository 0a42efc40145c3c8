"""The bench wired together: the store, the checks at its door, readings as they are understood."""

import math
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from breakwright.model.errors import ImpossibleValue, InputRefused, Problem
from breakwright.model.event import Entry, Event
from breakwright.model.notice import Notice, Weight
from breakwright.usecases.bench.state import StudyState

if TYPE_CHECKING:
    from breakwright.bootstrap.folders import Exported
    from breakwright.files.source import Source
    from breakwright.store.sql_store import SqlStore
    from breakwright.usecases.bench.bench import Bench
    from breakwright.usecases.bench.ports import EventStore, JobStore

__all__ = [
    "DEMO_HANDLE",
    "Opened",
    "Understood",
    "UnderstoodLoad",
    "check_events",
    "checked_source_of",
    "demo_events",
    "export_study",
    "migrate",
    "open_bench",
    "plan_source_of",
    "shown_address",
    "source_of",
    "store_file",
    "understand_entry",
    "worker_store",
    "write_whole",
]

DEMO_HANDLE = "coat-rail-pegs-in-ash"


@dataclass(frozen=True, slots=True)
class UnderstoodLoad:
    """One display's part: ``typed`` as it was typed, ``unit`` it was typed in; N, None for no end.

    ``scale`` is the instrument's name, None where the study names none.
    """

    scale: str | None
    typed: str
    unit: str
    lower: float
    upper: float | None


@dataclass(frozen=True, slots=True)
class Understood:
    """What an entry says of the piece: ``lower``..``upper`` of its strength (N, None: no end),
    ``cause`` a ``model.outcome.Cause`` word, ``steps`` how it came about, in words; ``remarks``
    what a person should know, in words."""

    loads: tuple[UnderstoodLoad, ...]
    lower: float
    upper: float | None
    cause: str
    steps: tuple[str, ...]
    remarks: tuple[str, ...]


def understand_entry(state: StudyState, piece: str, entry: Entry) -> Understood:
    """Return what ``entry`` says of ``piece`` (id). Raises InputRefused with every problem,
    ImpossibleValue where there is no such piece."""
    from breakwright.files.bench.defined import defined
    from breakwright.files.bench.entry_row import ran_out, read_entry
    from breakwright.files.bench.remarks import entry_remarks
    from breakwright.model.algebra import outcome_on
    from breakwright.model.gauge import Bench as Gauges

    there = state.piece(piece)
    if there is None:
        raise ImpossibleValue(f"there is no piece {piece} in the study «{state.title}»")
    study = defined(state.toml)
    trial = read_entry(study, entry, piece=there.label, group=there.group)
    gauges = replace(Gauges.of(study.study), displays=study.displays)
    outcome = outcome_on(trial, gauges)
    filled = ran_out(study, entry)
    readings = iter(trial.readings)
    loads = []
    for place, typed in enumerate(entry.loads):
        reading = next(readings) if typed.strip() or place in filled else None
        loads.append(
            UnderstoodLoad(
                scale=reading.instrument if reading else _scale(study.instruments, place),
                typed=typed,
                unit=entry.unit,
                lower=reading.shown.lower if reading else 0.0,
                upper=_end(reading.shown.upper) if reading else None,
            )
        )
    return Understood(
        loads=tuple(loads),
        lower=outcome.interval.lower,
        upper=_end(outcome.interval.upper),
        cause=outcome.cause.value,
        steps=outcome.steps,
        remarks=entry_remarks(study, there, entry),
    )


def _scale(instruments: Sequence[object], place: int) -> str | None:
    return getattr(instruments[place], "name", None) if place < len(instruments) else None


def _end(upper: float) -> float | None:
    return None if math.isinf(upper) else upper


def check_events(
    state: StudyState | None, events: Sequence[Event], *, taken: Collection[str] = ()
) -> None:
    """Raise InputRefused where ``events``, all of one study, cannot be understood on top of
    ``state`` (None: nothing is known of the study yet).

    What merely conflicts (a second reading of a piece, a change of what another changed) is
    taken. An event that came before what it speaks of is refused with the code
    ``event-too-early``: sent again later, it may be taken. ``taken`` are the handles of other
    studies.
    """
    from breakwright.files.bench.door import door_problems

    problems = door_problems(state, events, taken=taken)
    if problems:
        raise InputRefused(problems)


def source_of(state: StudyState) -> "Source":
    """Return the study with all readings that count, as ``read`` returns a folder's.

    Raises InputRefused with every problem, as a folder's tables would have them. What the parts
    of the rig are is not judged: see ``checked_source_of``.
    """
    from breakwright.files.bench.defined import SHEET, STUDY, defined
    from breakwright.files.bench.tables import trials_grid
    from breakwright.files.options import ReadOptions
    from breakwright.files.source import read_source_texts

    grid = trials_grid(state, defined(state.toml))
    try:
        source = read_source_texts(
            state.toml, grid.csv(), ReadOptions(), study_file=STUDY, sheet_file=SHEET
        )
    except InputRefused as refused:
        pieces = dict(zip(grid.lines(), grid.column("specimen"), strict=True))
        raise InputRefused([_of_piece(p, pieces, SHEET) for p in refused.problems]) from refused
    return replace(source, notices=(*source.notices, *_clashes(state)))


def _of_piece(problem: Problem, pieces: Mapping[int, str], sheet: str) -> Problem:
    """Name the piece: nobody at the bench has seen the sheet that its line is of."""
    label = pieces.get(problem.line or 0) if problem.file == sheet else None
    if label is None:
        return problem
    return replace(problem, message=f"piece '{label}': {problem.message}")


def checked_source_of(state: StudyState) -> "Source":
    """As ``source_of``, and refuse parts that cannot be. Loads the property tables."""
    from breakwright.bootstrap.prepare import parts_checked

    return parts_checked(source_of(state))


def plan_source_of(state: StudyState) -> "Source":
    """Return the study without its readings, as ``read_plan`` returns a folder's, its parts not
    judged. Raises InputRefused."""
    from breakwright.files.bench.defined import STUDY
    from breakwright.files.planning import plan_source_of as plan_source_of_text

    return plan_source_of_text(state.toml, file=STUDY)


def _clashes(state: StudyState) -> list[Notice]:
    notices = []
    if state.clashes:
        pieces = tuple(piece.label for piece in state.clashes)
        notices.append(Notice("readings-clash", Weight.WARNING, pieces=pieces))
    if len(state.heads) > 1:
        facts = {"definitions": len(state.heads)}
        notices.append(Notice("definitions-clash", Weight.WARNING, facts=facts))
    return notices


def demo_events(now: str, new_id: Callable[[], str]) -> tuple[Event, ...]:
    """Return the demo study as the events of a new study. ``now`` is ISO 8601 in UTC."""
    from importlib.resources import files

    from breakwright.bootstrap.sheets import DEMO_FILES
    from breakwright.files.bench.taking import Making, events_of_tables
    from breakwright.files.options import ReadOptions

    study, sheet = (
        files("breakwright.demo").joinpath(name).read_text("utf-8") for name in DEMO_FILES
    )
    return events_of_tables(
        study,
        sheet,
        None,
        options=ReadOptions(),
        making=Making(now=now, new_id=new_id, device="demo"),
    ).events


@dataclass(frozen=True)
class Opened:
    """A store and what lies beside it. ``url`` is what another process opens it by; ``folder``
    is for large uploads, films and the server's own token."""

    bench: "Bench"
    store: "EventStore"
    jobs: "JobStore"
    url: str
    folder: Path


def open_bench(store: str | None) -> Opened:
    """Open the store at ``store``: a file, a database's address, or, for None, the user's own.

    Raises StoreUnreachable or StoreUnfit, with words for the person.
    """
    from breakwright.store.address import default_folder, default_url, read_address
    from breakwright.store.opening import open_store
    from breakwright.usecases.bench.bench import Bench

    address = read_address(default_url(default_folder()) if store is None else store)
    folder = default_folder() if address.path is None else address.path.parent
    opened = open_store(address.url)
    return Opened(Bench(opened), opened, opened, address.url, folder)


def migrate(store: str) -> None:
    """Bring the store up to this version, where it is older. Raises as ``open_bench``."""
    from breakwright.store.opening import migrate_store

    migrate_store(store)


def store_file(store: str) -> Path | None:
    """Return the file that a store at ``store`` lies in; None for a database elsewhere."""
    from breakwright.store.address import read_address

    return read_address(store).path


def worker_store(url: str) -> "SqlStore":
    """Return the store that a worker process takes its jobs from. Raises as ``open_bench``."""
    from breakwright.store.opening import open_store

    return open_store(url)


def shown_address(url: str) -> str:
    """Return where a store lies, for people: without a password."""
    from breakwright.store.address import read_address

    return read_address(url).shown


def write_whole(path: Path, data: bytes) -> None:
    """Write a file, whole or not at all."""
    from breakwright.files.atomic import write_beside

    write_beside(path, data)


def export_study(store: "EventStore", state: StudyState, path: Path) -> "Exported":
    """Write the study as a folder, or as a zip file where ``path`` ends in .zip."""
    from breakwright.bootstrap.folders import export_study as write

    return write(store, state, path)
