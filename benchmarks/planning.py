"""Speed of the planner: the table for n = 3 to 40, and a whole plan with its order."""

import math
import time
from collections.abc import Callable

from breakwright.model.foresight import Expected, Wish
from breakwright.model.instrument import Instrument
from breakwright.model.study import Study
from breakwright.plan.power import Effort
from breakwright.plan.table import SIZES, make_table
from breakwright.plan.truth import Truth
from breakwright.usecases.plan import plan_study

__all__ = ["planning_table"]

_SIGMA, _RATIO = 0.2, 1.25
_CAP = math.log(_RATIO) + 0.5244 * _SIGMA  # three in ten of the stronger group beyond it
_FREE = Truth(_SIGMA, math.log(_RATIO))
_CAPPED = Truth(_SIGMA, math.log(_RATIO), _CAP, _CAP)
_WRONG = Truth(_SIGMA, math.log(_RATIO), _CAP, _CAP, 0.15, 0.15)


def _study(groups: tuple[str, ...], wrong_way: float) -> Study:
    return Study(
        (),
        groups,
        groups[0],
        worth=_RATIO,
        instruments=(Instrument("scale", capacity=550.0),),
        expected=Expected(
            median=400.0, cv=0.2, wrong_way=wrong_way, ratio=dict.fromkeys(groups[2:], 1.3)
        ),
        wish=Wish(pieces=8, width=1.5, blocks=("A", "B", "C", "D"), days=2, longest_run=3),
    )


def _timed(work: Callable[[], object]) -> tuple[float, float]:
    """Seconds on the clock and seconds of CPU, the better of two runs."""
    best = (math.inf, math.inf)
    for _ in range(2):
        wall, cpu = time.perf_counter(), time.process_time()
        work()
        best = min(best, (time.perf_counter() - wall, time.process_time() - cpu))
    return best


def _table_of(truth: Truth) -> Callable[[], object]:
    return lambda: make_table(truth, error=0.05, level=0.95, effort=Effort(), seed=1)


def _plan_of(study: Study) -> Callable[[], object]:
    return lambda: plan_study(study, rig=None, scales=None)


def planning_table() -> list[str]:
    """Lines of the table for ``docs/benchmarks.md``."""
    usual = Effort()
    lines = [
        f"Numbers of pieces: {usual.experiments} experiments of each of {len(SIZES)} sizes, "
        f"{usual.widths} of them with both ends of the interval; scatter {_SIGMA}, ratio {_RATIO}.",
        "",
        "| what | wall time, s | CPU, s |",
        "|---|---|---|",
    ]
    for name, work in (
        ("table n = 3 to 40, no capacity", _table_of(_FREE)),
        ("the same, 30 % capped", _table_of(_CAPPED)),
        ("the same, 30 % capped and 15 % breaking another way", _table_of(_WRONG)),
        ("whole plan, two groups, 30 % capped", _plan_of(_study(("a", "b"), 0.0))),
        ("whole plan, three groups, 30 % capped", _plan_of(_study(("a", "b", "c"), 0.0))),
        (
            "whole plan, two groups, 30 % capped and 15 % another way",
            _plan_of(_study(("a", "b"), 0.15)),
        ),
    ):
        wall, cpu = _timed(work)
        lines.append(f"| {name} | {wall:.1f} | {cpu:.1f} |")
    return lines
