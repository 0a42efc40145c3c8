"""The kinds of work behind the Answer page."""

from breakwright.web.work.kinds import LONG, QUICK, Kind

__all__ = ["KINDS"]

_TASKS = "breakwright.web.work.tasks_answer"
_FILES = "breakwright.web.work.tasks_download"

KINDS = {
    "quick-answer": Kind(QUICK, _TASKS, "quick_answer"),
    "answer": Kind(LONG, _TASKS, "answer"),
    "answer-charts": Kind(QUICK, _TASKS, "charts"),
    "answer-drawing": Kind(QUICK, _TASKS, "drawing"),
    "chart-script": Kind(QUICK, _TASKS, "chart_script"),
    "report": Kind(LONG, _FILES, "report"),
    "pictures": Kind(LONG, _FILES, "pictures"),
    "package": Kind(LONG, _FILES, "package"),
}
