"""Long work: how far it is, and stopping it."""

import json
from typing import Annotated, Any

from fastapi import HTTPException, Path

from breakwright.usecases.bench.ports import Job
from breakwright.web.api.common import api_router
from breakwright.web.api.shapes import HEX, JobOut
from breakwright.web.services import Services, ServicesHere

__all__ = ["router"]

router = api_router("jobs")

_JobId = Annotated[str, Path(pattern=HEX)]


@router.get("/jobs/{job}")
def one_job(services: ServicesHere, job: _JobId) -> JobOut:
    """How far a piece of long work is; it is found again after a restart of the server."""
    return _out(_job(services, job))


@router.post("/jobs/{job}/cancel")
def cancel_job(services: ServicesHere, job: _JobId) -> JobOut:
    """Stop long work; what has ended already stays as it is."""
    services.jobs.cancel(_job(services, job).id)
    return _out(_job(services, job))


def _job(services: Services, job_id: str) -> Job:
    job = services.jobs.job(job_id)
    if job is None:
        raise HTTPException(404, f"There is no work '{job_id}' (any more).")
    return job


def _out(job: Job) -> JobOut:
    return JobOut(
        id=job.id,
        study=job.study,
        kind=job.kind,
        state=job.state.value,
        share=job.share,
        doing=job.doing,
        trouble=job.trouble,
        early=_parsed(job.early),
        result=_parsed(job.result),
    )


def _parsed(text: str | None) -> Any:
    return None if text is None else json.loads(text)
