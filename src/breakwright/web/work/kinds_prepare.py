"""The kinds of work behind the Prepare page."""

from breakwright.web.work.kinds import LONG, QUICK, Kind

__all__ = ["KINDS"]

_TASKS = "breakwright.web.work.tasks_prepare"

KINDS: dict[str, Kind] = {
    "part-check": Kind(QUICK, _TASKS, "part_check"),
    "look": Kind(QUICK, _TASKS, "look"),
    "order": Kind(QUICK, _TASKS, "order"),
    "bench-sheet": Kind(QUICK, _TASKS, "bench_sheet"),
    "before": Kind(LONG, _TASKS, "before"),
}
