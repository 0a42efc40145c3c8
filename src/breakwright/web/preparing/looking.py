"""Numbers that a worker process reckons while a page is shown or a size is typed."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from breakwright.model.errors import Problem
from breakwright.usecases.bench.ports import Job, JobState
from breakwright.web.services import Services
from breakwright.web.work.asking import ask_and_wait

__all__ = ["Looked", "look", "part_problems", "problems_of", "result_of", "worked"]

# A worker that is not warm loads its libraries first.
_START_S = 20.0


@dataclass(frozen=True, slots=True)
class Looked:
    """``result`` is empty while it is being reckoned (``is_waiting``) or where it failed:
    ``trouble`` then says why."""

    result: Mapping[str, Any] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()
    trouble: str = ""
    is_waiting: bool = False


def look(
    services: Services,
    study: str,
    toml: str,
    *,
    unit: str,
    offers: Sequence[float] = (),
    timeout_s: float = _START_S,
) -> Looked:
    """Return what breaks, margins and reach of the scales for this ``study.toml``."""
    given = {"toml": toml, "unit": unit, "offers": list(offers)}
    return worked(ask_and_wait(services, study, "look", given=given, timeout_s=timeout_s))


def worked(job: Job) -> Looked:
    """Return what came of a job."""
    if job.state is JobState.DONE:
        result = result_of(job)
        return Looked(result, problems_of(result))
    if job.state in (JobState.QUEUED, JobState.RUNNING):
        return Looked(is_waiting=True)
    return Looked(trouble=job.trouble or "The work was stopped.")


def result_of(job: Job) -> dict[str, Any]:
    """Return the result of a job that is done."""
    result: dict[str, Any] = json.loads(job.result or "{}")
    return result


def problems_of(result: Mapping[str, Any]) -> tuple[Problem, ...]:
    """Return the problems that a worker found."""
    return tuple(Problem(**problem) for problem in result.get("problems", ()))


def part_problems(services: Services, study: str, toml: str) -> tuple[Problem, ...]:
    """Return what is wrong with the parts of the rig. Where no worker answers in time, nothing
    is known to be wrong; the pages say what is as soon as one does."""
    given = {"toml": toml}
    job = ask_and_wait(services, study, "part-check", given=given, timeout_s=_START_S)
    return worked(job).problems
