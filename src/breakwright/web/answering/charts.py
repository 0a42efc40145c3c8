"""The charts of an answer: data for the drawing script, and pictures for pages without scripts."""

from typing import Any

from breakwright.usecases.bench.ports import Job, JobState
from breakwright.web.services import Services
from breakwright.web.work.answers import result_of
from breakwright.web.work.asking import ask_and_wait

__all__ = ["SIZES", "THEMES", "chart_data", "chart_drawing"]

THEMES = ("light", "dark")
SIZES = ("page", "phone")
# Drawing is quick once the worker runs; the first time it must load its libraries.
_WAIT_S = 30.0


def chart_data(
    services: Services, job: Job, *, unit: str, theme: str, size: str
) -> list[dict[str, Any]] | None:
    """Return the charts of the answer that ``job`` made; None where they could not be drawn."""
    given = {"job": job.id, "unit": unit, "theme": theme, "size": size}
    made = ask_and_wait(services, job.study, "answer-charts", given=given, timeout_s=_WAIT_S)
    if made.state is not JobState.DONE:
        return None
    charts: list[dict[str, Any]] = result_of(made)["charts"]
    return charts


def chart_drawing(
    services: Services, job: Job, *, name: str, unit: str, theme: str, size: str
) -> str | None:
    """Return one chart as SVG; None where there is none of this name or it was not drawn."""
    given = {"job": job.id, "name": name, "unit": unit, "theme": theme, "size": size}
    made = ask_and_wait(services, job.study, "answer-drawing", given=given, timeout_s=_WAIT_S)
    if made.state is not JobState.DONE:
        return None
    drawn: str | None = result_of(made)["svg"]
    return drawn
