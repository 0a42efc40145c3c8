"""What the quick work says of a film that was read, asked for and kept at hand."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from breakwright.model.event import Entry
from breakwright.model.trial import Ending
from breakwright.usecases.bench.ports import Job, JobState
from breakwright.usecases.bench.state import FilmState
from breakwright.web.services import Services
from breakwright.web.work.asking import ask_and_wait

__all__ = ["Told", "entry_in", "told_of"]

# The first time the worker must load its libraries.
_WAIT_S = 20.0


@dataclass(frozen=True, slots=True)
class Told:
    """``result`` is what ``tasks_film_review.review`` returns; None where ``trouble`` says why
    there is none, or, without trouble, where it is still being worked on."""

    result: Mapping[str, Any] | None
    trouble: str | None


def told_of(services: Services, study: str, film: FilmState, *, unit: str) -> Told:
    """Return what the film says with the corrections that stand, loads in ``unit``."""
    given = {"film": film.event, "corrections": sorted(film.corrections), "unit": unit}
    job = ask_and_wait(services, study, "film-review", given=given, timeout_s=_WAIT_S)
    if job.state is not JobState.DONE:
        return Told(None, job.trouble)
    return Told(_parsed(job.id, _text(job)), None)


def _text(job: Job) -> str:
    assert job.result is not None
    return job.result


# A long film is a megabyte; dragging through it asks for the same many times.
@lru_cache(maxsize=4)
def _parsed(job: str, text: str) -> Mapping[str, Any]:  # noqa: ARG001
    result: Mapping[str, Any] = json.loads(text)
    return result


def entry_in(pull: Mapping[str, Any]) -> Entry | None:
    """Return a pull of the result as an entry; None where its displays are not the study's."""
    form = pull["entry"]
    if form is None:
        return None
    return Entry(**{**form, "loads": tuple(form["loads"]), "ended": Ending(form["ended"])})
