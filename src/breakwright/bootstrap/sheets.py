"""Sheets and study folders: read, answered, planned, written."""

import os
from collections.abc import Callable, Iterable
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from breakwright.files.numerals import Decimal
from breakwright.files.options import Negative, ReadOptions
from breakwright.model.errors import ImpossibleValue, InputRefused, Problem
from breakwright.model.notice import Notice
from breakwright.model.trial import Sharing
from breakwright.model.units import ForceUnit
from breakwright.version import VERSION

if TYPE_CHECKING:
    from breakwright.files.source import Source
    from breakwright.report.before_page import Sheet
    from breakwright.report.notebook import NotebookAnswer
    from breakwright.usecases.before import Before
    from breakwright.usecases.predict_result import PredictResult
    from breakwright.usecases.result import Answer, PieceResult
    from breakwright.usecases.rig_result import RigResult
    from breakwright.usecases.scales_result import ScalesResult
    from breakwright.usecases.settings import Settings

__all__ = [
    "CEILING",
    "DEMO_FILM",
    "DEMO_PIECE",
    "LEVEL",
    "RESAMPLES",
    "SEED",
    "Decimal",
    "ForceUnit",
    "Negative",
    "Progress",
    "ReadOptions",
    "Sharing",
    "answer",
    "answer_source",
    "before",
    "check_rig",
    "check_scales",
    "copy_demo",
    "force_unit",
    "make_settings",
    "offers_of",
    "plan_files",
    "predict",
    "read",
    "read_plan",
    "refuse_changed",
    "shared_scales",
    "understand",
    "write_pictures",
    "write_plan_files",
    "write_report",
    "write_sheet",
]

Progress = Callable[[str, float], None]
Choice = TypeVar("Choice", bound=StrEnum)

# The command line shows these without loading the statistics; a test holds them to ``Settings``.
LEVEL = 0.95
SEED = 20240229
RESAMPLES = 4000
CEILING = "at-least"

DEMO_FILES = ("study.toml", "trials.csv")
# The film of one of its pulls, and where the displays stand in it.
DEMO_FILM = ("peg-C1.mp4", "displays.toml")
DEMO_PIECE = "C1"


def force_unit(word: str) -> ForceUnit:
    """Return the unit that ``word`` names. Raises InputRefused ('kg': kgf or a mass?)."""
    from breakwright.files.unit_words import read_unit

    unit = read_unit(word, file="unit")
    if isinstance(unit, Problem):
        raise InputRefused((unit,))
    return unit


def read(path: Path, options: ReadOptions) -> "Source":
    """Read a sheet or a study folder. Raises InputRefused with every problem found."""
    from breakwright.files.source import read_source

    source = read_source(path, options)
    _refuse_parts(source)
    return source


def read_plan(path: Path) -> "Source":
    """Read a study before anything is broken, without its sheet. Raises InputRefused."""
    from breakwright.files.planning import read_plan_source

    source = read_plan_source(path)
    _refuse_parts(source)
    return source


def _refuse_parts(source: "Source") -> None:
    if not source.study.parts:
        return
    from breakwright.usecases.part_checks import part_check_problems

    problems = part_check_problems(source.study, file=source.study_file or "study.toml")
    if problems:
        raise InputRefused(problems)


def predict(source: "Source") -> "PredictResult":
    """Foretell what breaks, and at what load."""
    from breakwright.usecases.predict import predict_study

    return predict_study(source.study)


def check_rig(source: "Source", *, seed: int | None) -> "RigResult":
    """Hold every part of the rig against the pieces; the study's own seed where none is given."""
    from breakwright.usecases.rig import check_rig

    return check_rig(source.study, seed=_seed(source, seed))


def check_scales(
    source: "Source", rig: "RigResult", *, seed: int | None, offers: tuple[float, ...]
) -> "ScalesResult":
    """Hold the scales against the pieces; ``offers`` (N) are scales that could be bought."""
    from breakwright.usecases.scales import check_scales

    return check_scales(source.study, rig, seed=_seed(source, seed), offers=offers)


def before(
    source: "Source",
    *,
    seed: int | None,
    offers: tuple[float, ...],
    progress: Progress | None = None,
) -> "Before":
    """Do all of it: predictions, rig, scales, plan. Raises InputRefused without two groups."""
    from breakwright.usecases.before import look_ahead

    if len(source.study.groups) < 2:
        raise InputRefused(
            (
                Problem(
                    "groups-missing",
                    "a plan compares two groups or more, and this study names "
                    + ("one" if source.study.groups else "none"),
                    source.study_file or "study.toml",
                    column_name="groups",
                    allowed='groups = ["plain", "wedged"]',
                    do="Name the groups in study.toml; predict, rig and scales do without.",
                ),
            )
        )
    return look_ahead(source.study, seed=_seed(source, seed), offers=offers, progress=progress)


def offers_of(source: "Source", capacities: Iterable[float]) -> tuple[float, ...]:
    """Return capacities given in the study's unit in N."""
    from breakwright.model.units import NEWTONS_PER

    return tuple(capacity * NEWTONS_PER[source.study.unit] for capacity in capacities)


def _seed(source: "Source", seed: int | None) -> int:
    return source.study.wish.seed if seed is None else seed


def understand(source: "Source") -> "tuple[tuple[PieceResult, ...], tuple[Notice, ...]]":
    """Return every row as it was understood, and all that should be known of how."""
    from breakwright.usecases.understand import pieces_of, understanding_notices

    pieces = pieces_of(source.study)
    return pieces, (*source.notices, *understanding_notices(source.study, pieces))


def make_settings(*, level: float, seed: int, resamples: int, ceiling: str) -> "Settings":
    """Return the settings of an answer, with the version that makes it."""
    from breakwright.usecases.settings import CeilingReading, Settings

    return Settings(
        level=level,
        seed=seed,
        resamples=resamples,
        ceiling=_one_of(CeilingReading, ceiling, "ceiling"),
        version=VERSION,
    )


def answer_source(
    source: "Source", settings: "Settings", *, progress: Progress | None = None
) -> "Answer":
    """Answer what was read; ``progress`` is told what is being done and the share done."""
    from breakwright.usecases.answer import answer_study

    return answer_study(source.study, settings, notices=source.notices, progress=progress)


def answer(
    source: str | os.PathLike[str] | None = None,
    *,
    group: Iterable[object] | None = None,
    lower: Iterable[object] | None = None,
    upper: Iterable[object] | None = None,
    failure: Iterable[object] | None = None,
    unit: str | None = None,
    decimal: str | None = None,
    negative: str = Negative.ASK.value,
    sharing: str | None = None,
    reference: str | None = None,
    counts: str | None = None,
    worth: float | None = None,
    resolution: float | None = None,
    capacity: float | None = None,
    level: float = LEVEL,
    seed: int = SEED,
    resamples: int = RESAMPLES,
    ceiling: str = CEILING,
) -> "NotebookAnswer":
    """Answer a sheet or a study folder, or arrays with one place for each piece.

    ``source`` is a path; or leave it out and give ``group``, ``lower`` and, where readings are
    not exact, ``upper``: the ends of each reading in ``unit`` (N if left out), ``upper``
    infinite for 'at least', ``lower`` 0 for 'at most'. ``failure`` says how each piece broke,
    where ``counts`` names the way you ask about. The rest is as on the command line;
    ``decimal``, ``negative`` and ``sharing`` are for sheets only.

    The same input and the same ``seed`` give the same answer. Raises InputRefused with every
    problem found in a sheet, ImpossibleValue (a ValueError) for arrays and settings that make
    no sense.
    """
    from breakwright.report.notebook import NotebookAnswer
    from breakwright.usecases.answer import answer_study

    settings = make_settings(level=level, seed=seed, resamples=resamples, ceiling=ceiling)
    force = None if unit is None else force_unit(unit)
    if source is not None:
        if any(array is not None for array in (group, lower, upper, failure)):
            raise ImpossibleValue("give a path, or group and lower as arrays, not both")
        options = ReadOptions(
            unit=force,
            decimal=None if decimal is None else _one_of(Decimal, decimal, "decimal"),
            pulls_negative=_one_of(Negative, negative, "negative"),
            sharing=None if sharing is None else _one_of(Sharing, sharing, "sharing"),
            reference=reference,
            counts=counts,
            worth=worth,
            resolution=resolution,
            capacity=capacity,
        )
        return NotebookAnswer(answer_source(read(Path(source), options), settings))
    if group is None or lower is None:
        raise ImpossibleValue("give a path, or group and lower as arrays")
    from breakwright.usecases.gather import gather_study

    study, notices = gather_study(
        group,
        lower,
        upper=upper,
        failure=failure,
        unit=force or ForceUnit.N,
        reference=reference,
        counts=counts,
        worth=worth,
        resolution=resolution,
        capacity=capacity,
    )
    return NotebookAnswer(answer_study(study, settings, notices=notices))


def write_report(answer: "Answer", path: Path) -> None:
    """Write the answer as one HTML file, whole or not at all."""
    from breakwright.files.atomic import write_beside
    from breakwright.report.page import answer_page

    write_beside(path, answer_page(answer).encode())


def write_pictures(
    answer: "Answer", folder: Path, *, progress: Progress | None = None
) -> tuple[Path, ...]:
    """Write the charts into ``folder`` (made if missing), and return where they lie."""
    from breakwright.files.atomic import write_beside
    from breakwright.report.pictures import pictures

    made = pictures(answer) if progress is None else pictures(answer, progress=progress)
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in made.items():
        write_beside(folder / name, data)
    return tuple(folder / name for name in made)


def write_sheet(sheet: "Sheet", path: Path) -> None:
    """Write what is known before the first cut as one HTML file, whole or not at all."""
    from breakwright.files.atomic import write_beside
    from breakwright.report.before_page import before_page

    write_beside(path, before_page(sheet).encode())


def plan_files(source: "Source", result: "Before", folder: Path) -> dict[Path, str]:
    """Return the files of a plan for ``folder``: ``specimens.csv`` and ``bench-sheet.html``."""
    from breakwright.files.write_plan import PlannedPiece, specimens_csv
    from breakwright.report.before_sheets import dangers
    from breakwright.report.bench_sheet import bench_sheet

    plan = result.plan
    scales = shared_scales(source)
    pieces = [
        PlannedPiece(r.order, r.label, r.group, r.block, r.day, r.operator, r.pair)
        for r in plan.order
    ]
    return {
        folder / "specimens.csv": specimens_csv(pieces, scales=len(scales)),
        folder / "bench-sheet.html": bench_sheet(
            plan,
            scales=scales,
            cautions=result.rig.cautions,
            dangers=dangers(result),
            invented=source.study.invented,
            made=f"Made by Breakwright {VERSION}, seed {plan.method.seed}.",
        ),
    }


def shared_scales(source: "Source") -> tuple[str, ...]:
    """Return the displays to be read together; without sharing a piece is read on one of them."""
    study = source.study
    if study.sharing is None and len(study.instruments) > 1:
        return ()
    return tuple(instrument.name for instrument in study.instruments)


def refuse_changed(files: dict[Path, str]) -> None:
    """Raise ImpossibleValue where one of ``files`` is there already and says something else."""
    from breakwright.files import write_plan

    write_plan.refuse_changed(files)


def write_plan_files(files: dict[Path, str]) -> tuple[Path, ...]:
    """Write the files of a plan, each whole or not at all, and return where they lie."""
    from breakwright.files.write_plan import write_all

    for folder in {path.parent for path in files}:
        folder.mkdir(parents=True, exist_ok=True)
    return write_all(files)


def copy_demo(folder: Path) -> None:
    """Write the demo study into ``folder`` (made if missing), touching nothing of another's.

    Raises ImpossibleValue where a file of that name is there and says something else.
    """
    from importlib.resources import files

    from breakwright.files.atomic import write_beside

    packed = files("breakwright.demo")
    data = {name: packed.joinpath(name).read_bytes() for name in (*DEMO_FILES, *DEMO_FILM)}
    there = {name for name in data if (folder / name).exists()}
    for name in sorted(there):
        if _without_filmed((folder / name).read_bytes()) != _without_filmed(data[name]):
            raise ImpossibleValue(
                f"{folder / name} is there already and is not the demo's; nothing was written. "
                "Name another folder: breakwright demo DIR"
            )
    folder.mkdir(parents=True, exist_ok=True)
    for name in sorted(data.keys() - there):
        write_beside(folder / name, data[name])


def _without_filmed(data: bytes) -> list[bytes]:
    """Return the lines without that of the piece whose reading comes off the film: a run of the
    demo may have put it there anew."""
    mark = f",{DEMO_PIECE},".encode()
    return [line for line in data.splitlines() if mark not in line]


def _one_of(enum: type[Choice], value: str, name: str) -> Choice:
    try:
        return enum(value)
    except ValueError:
        allowed = ", ".join(member.value for member in enum)
        raise ImpossibleValue(f"{name} is one of {allowed}; got {value!r}") from None
