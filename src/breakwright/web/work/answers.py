"""An answer in a job's result and out of it again, exact to the bit."""

import dataclasses
import json
from functools import cache
from typing import TYPE_CHECKING, Any

from breakwright.model.errors import ImpossibleValue
from breakwright.model.units import ForceUnit
from breakwright.usecases.bench.ports import Job
from breakwright.usecases.result import Answer

if TYPE_CHECKING:
    from pydantic import TypeAdapter

__all__ = ["answer_in", "in_unit", "result_of"]


@cache
def _adapter() -> "TypeAdapter[Answer]":
    from pydantic import TypeAdapter

    return TypeAdapter(Answer)


def result_of(job: Job | None) -> dict[str, Any]:
    """Return what a job that is done has made. Raises ImpossibleValue where it made nothing."""
    if job is None or job.result is None:
        raise ImpossibleValue("this work is not done; ask for it again")
    made: dict[str, Any] = json.loads(job.result)
    return made


def answer_in(result: dict[str, Any]) -> Answer:
    """Return the answer in a result. Raises ImpossibleValue where there is none in it."""
    if result.get("answer") is None:
        raise ImpossibleValue("there is no answer yet")
    return _adapter().validate_python(result["answer"])


def in_unit(answer: Answer, unit: str) -> Answer:
    """Return the same answer, to be shown in another unit of force."""
    return dataclasses.replace(answer, unit=ForceUnit(unit))
