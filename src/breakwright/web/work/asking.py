"""Asking for work: the same thing is computed once, and found again by whoever asks for it."""

import hashlib
import json
import time
from collections.abc import Mapping
from typing import Any

from breakwright.usecases.bench.ports import Job, JobState
from breakwright.version import VERSION
from breakwright.web.services import Services, new_id

__all__ = ["ALIVE", "ask", "ask_and_wait", "ask_instead", "standing"]

ALIVE = (JobState.QUEUED, JobState.RUNNING)
_LOOK_S = 0.03


def ask(services: Services, study: str, kind: str, *, given: Mapping[str, Any]) -> Job:
    """Have work done, or return the job that does or did the same; a worker is woken."""
    text = json.dumps(given, sort_keys=True)
    now = services.now()
    job = services.jobs.ask(
        Job(
            id=new_id(),
            study=study,
            kind=kind,
            key=_key(kind, text),
            given=text,
            state=JobState.QUEUED,
            made=now,
            beat=now,
        )
    )
    if job.state in ALIVE:
        services.hands.wake(kind)
    return job


def ask_instead(services: Services, study: str, kind: str, *, given: Mapping[str, Any]) -> Job:
    """As ``ask``; work of this kind on the same study that is not the same is cancelled first."""
    key = _key(kind, json.dumps(given, sort_keys=True))
    before = services.jobs.newest(study, kind)
    if before is not None and before.key != key and before.state in ALIVE:
        services.jobs.cancel(before.id)
    return ask(services, study, kind, given=given)


def standing(services: Services, study: str, kind: str, *, given: Mapping[str, Any]) -> Job | None:
    """Return the last job of this kind if it is about the same, in whatever state it is."""
    job = services.jobs.newest(study, kind)
    same = job is not None and job.key == _key(kind, json.dumps(given, sort_keys=True))
    return job if same else None


def ask_and_wait(
    services: Services, study: str, kind: str, *, given: Mapping[str, Any], timeout_s: float
) -> Job:
    """As ``ask``, waiting until it is done or ``timeout_s`` have passed; look at its state."""
    job = ask(services, study, kind, given=given)
    until = time.monotonic() + timeout_s
    while job.state in ALIVE and time.monotonic() < until:
        time.sleep(_LOOK_S)
        job = services.jobs.job(job.id) or job
    return job


def _key(kind: str, given: str) -> str:
    return hashlib.sha256(f"{VERSION}\n{kind}\n{given}".encode()).hexdigest()
