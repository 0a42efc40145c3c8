"""Pictures of a film that quick work makes: a still, rows of digits found, the chart."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from breakwright.usecases.bench.ports import Job, JobState
from breakwright.usecases.bench.state import FilmState, StudyState
from breakwright.web.filming.finding import Filmed
from breakwright.web.services import Services
from breakwright.web.work.answers import result_of
from breakwright.web.work.asking import ask_and_wait

__all__ = ["Made", "chart_for", "proposals_for", "still_for"]

# The first time the worker must load its libraries.
_WAIT_S = 20.0
_PROPOSE_S = 60.0


@dataclass(frozen=True, slots=True)
class Made:
    """``result`` is None where there is none (yet); ``trouble`` says why there never will be."""

    state: JobState
    result: Mapping[str, Any] | None
    trouble: str | None


def still_for(services: Services, state: StudyState, film: Filmed, time: float) -> Made:
    """Return the still at ``time`` (s): file, width, height, time, duration."""
    return _made(services, state, film, "film-still", {"t": round(time, 2)}, _WAIT_S)


def proposals_for(services: Services, state: StudyState, film: Filmed) -> Made:
    """Return the rows of digits that the program finds by itself."""
    return _made(services, state, film, "film-propose", {}, _PROPOSE_S)


def chart_for(
    services: Services, study: str, film: FilmState, *, unit: str, theme: str, size: str
) -> Made:
    """Return the chart of load against time as SVG, corrections applied."""
    given = {
        "film": film.event,
        "corrections": sorted(film.corrections),
        "unit": unit,
        "theme": theme,
        "size": size,
    }
    return _done(ask_and_wait(services, study, "film-chart", given=given, timeout_s=_WAIT_S))


def _made(
    services: Services,
    state: StudyState,
    film: Filmed,
    kind: str,
    more: Mapping[str, Any],
    wait_s: float,
) -> Made:
    if film.video is None or not film.is_here:
        trouble = "The film is not on the server's disk (any more)."
        return Made(JobState.FAILED, None, trouble)
    given = {"file": film.video.file, **more}
    return _done(ask_and_wait(services, state.id, kind, given=given, timeout_s=wait_s))


def _done(job: Job) -> Made:
    result = result_of(job) if job.state is JobState.DONE else None
    return Made(job.state, result, job.trouble)
