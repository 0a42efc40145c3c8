"""Before the first cut, from the text of a ``study.toml``: read, looked at, planned, printed."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from breakwright.bootstrap.sheets import check_rig, check_scales, predict, shared_scales
from breakwright.model.errors import InputRefused
from breakwright.version import VERSION

if TYPE_CHECKING:
    from breakwright.files.source import Source
    from breakwright.usecases.plan_result import OrderRow
    from breakwright.usecases.predict_result import PredictResult
    from breakwright.usecases.rig_result import RigResult
    from breakwright.usecases.scales_result import ScalesResult

__all__ = [
    "FILE",
    "bench_sheet_of",
    "draw_order_of",
    "look_at",
    "parts_checked",
    "plan_text",
]

# What messages call the text that has no file.
FILE = "study.toml"


def plan_text(toml: str) -> "Source":
    """Return the study of this text without its readings. The parts are read, not yet judged.

    Raises InputRefused with every problem, each with its line.
    """
    from breakwright.files.planning import plan_source_of

    return plan_source_of(toml, file=FILE)


def parts_checked(source: "Source") -> "Source":
    """Return ``source`` if its parts are possible. Raises InputRefused with every problem."""
    from breakwright.usecases.part_checks import part_check_problems

    problems = part_check_problems(source.study, file=source.study_file or FILE)
    if problems:
        raise InputRefused(problems)
    return source


def look_at(
    source: "Source", *, offers: tuple[float, ...] = ()
) -> "tuple[PredictResult, RigResult, ScalesResult]":
    """Foretell, hold the rig against the pieces, try the scales: all that is quick.

    ``offers`` are capacities (N) of scales that could be bought.
    """
    rig = check_rig(source, seed=None)
    return predict(source), rig, check_scales(source, rig, seed=None, offers=offers)


def draw_order_of(source: "Source", pieces: int) -> "tuple[OrderRow, ...]":
    """Return ``pieces`` of each group in an order drawn by lot with the study's own seed."""
    from breakwright.usecases.plan import draw_order

    return draw_order(source.study, pieces=pieces)


def bench_sheet_of(source: "Source", rows: "Sequence[OrderRow]") -> str:
    """Return the bench sheet of these pieces, with the cautions of the rig, as one HTML page."""
    from breakwright.report.before_sheets import dangers_of
    from breakwright.report.bench_sheet import bench_sheet_for

    study = source.study
    _, rig, scales = look_at(source)
    return bench_sheet_for(
        rows,
        title=study.title,
        facts=f"in the order of their turn. Readings in {study.unit.value}.",
        scales=shared_scales(source),
        cautions=rig.cautions,
        dangers=dangers_of(rig, scales),
        invented=study.invented,
        made=f"Made by Breakwright {VERSION}.",
    )
