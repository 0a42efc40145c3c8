"""Long work, in a table that a worker process, a server and a page read. See ``JobStore``."""

import dataclasses
from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, Row, delete, func, insert, select, update

from breakwright.store.database import Database
from breakwright.store.schema import jobs
from breakwright.usecases.bench.ports import Job, JobState

__all__ = ["SqlJobs"]

_QUEUED, _RUNNING = JobState.QUEUED.value, JobState.RUNNING.value
_ALIVE = (_QUEUED, _RUNNING, JobState.DONE.value)
_ENDED = (JobState.DONE.value, JobState.FAILED.value, JobState.CANCELLED.value)
_FIELDS = tuple(f.name for f in dataclasses.fields(Job))
_COLUMNS = [jobs.c[name] for name in _FIELDS]


class SqlJobs:
    """The jobs in ``database``."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def ask(self, job: Job) -> Job:
        same = (jobs.c.study == job.study) & (jobs.c.kind == job.kind) & (jobs.c.key == job.key)
        with self._database.writing() as connection:
            there = connection.execute(
                select(*_COLUMNS).where(same, jobs.c.state.in_(_ALIVE)).order_by(jobs.c.asked)
            ).first()
            if there is not None:
                return _job(there)
            queued = dataclasses.replace(job, state=JobState.QUEUED)
            asked = connection.execute(
                select(func.coalesce(func.max(jobs.c.asked), 0))
            ).scalar_one()
            connection.execute(insert(jobs).values(asked=asked + 1, **_row(queued)))
            return queued

    def job(self, job_id: str) -> Job | None:
        with self._database.reading() as connection:
            return _one(connection, jobs.c.id == job_id)

    def newest(self, study: str, kind: str) -> Job | None:
        with self._database.reading() as connection:
            row = connection.execute(
                select(*_COLUMNS)
                .where(jobs.c.study == study, jobs.c.kind == kind)
                .order_by(jobs.c.asked.desc())
                .limit(1)
            ).first()
        return None if row is None else _job(row)

    def take(self, kinds: Sequence[str], *, now: str) -> Job | None:
        waiting = (
            select(jobs.c.id)
            .where(jobs.c.state == _QUEUED, jobs.c.kind.in_(kinds))
            .order_by(jobs.c.asked)
            .limit(1)
        )
        # Workers ask every now and then: most find nothing, and need not wait for writers.
        with self._database.reading() as connection:
            if connection.execute(waiting).first() is None:
                return None
        with self._database.writing() as connection:
            job_id = connection.execute(waiting).scalar()
            if job_id is None:
                return None
            connection.execute(
                update(jobs).where(jobs.c.id == job_id).values(state=_RUNNING, beat=now)
            )
            return _one(connection, jobs.c.id == job_id)

    def tell(self, job_id: str, *, share: float, doing: str, early: str | None, now: str) -> bool:
        values: dict[str, Any] = {"share": share, "doing": doing, "beat": now}
        if early is not None:
            values["early"] = early
        with self._database.writing() as connection:
            told = connection.execute(
                update(jobs).where(jobs.c.id == job_id, jobs.c.state == _RUNNING).values(**values)
            )
            return told.rowcount == 1

    def finish(self, job_id: str, *, result: str | None, trouble: str | None, now: str) -> None:
        ended = JobState.DONE if trouble is None else JobState.FAILED
        with self._database.writing() as connection:
            connection.execute(
                update(jobs)
                .where(jobs.c.id == job_id, jobs.c.state == _RUNNING)
                .values(state=ended.value, result=result, trouble=trouble, beat=now, share=1.0)
            )

    def cancel(self, job_id: str) -> None:
        with self._database.writing() as connection:
            connection.execute(
                update(jobs)
                .where(jobs.c.id == job_id, jobs.c.state.in_((_QUEUED, _RUNNING)))
                .values(state=JobState.CANCELLED.value)
            )

    def requeue(self, *, beat_before: str) -> int:
        lost = (jobs.c.state == _RUNNING) & (jobs.c.beat < beat_before)
        return self._change_any(
            lost, update(jobs).where(lost).values(state=_QUEUED, share=0.0, doing="")
        )

    def forget(self, *, made_before: str) -> int:
        old = jobs.c.state.in_(_ENDED) & (jobs.c.made < made_before)
        return self._change_any(old, delete(jobs).where(old))

    def _change_any(self, which: Any, change: Any) -> int:
        """Carry out ``change`` where there are jobs such as ``which``; a server asks every few
        seconds, and nearly always there are none to write about."""
        with self._database.reading() as connection:
            if connection.execute(select(jobs.c.id).where(which).limit(1)).first() is None:
                return 0
        with self._database.writing() as connection:
            changed: int = connection.execute(change).rowcount
            return changed


def _one(connection: Connection, which: Any) -> Job | None:
    row = connection.execute(select(*_COLUMNS).where(which)).first()
    return None if row is None else _job(row)


def _row(job: Job) -> dict[str, Any]:
    return {**{name: getattr(job, name) for name in _FIELDS}, "state": job.state.value}


def _job(row: Row[Any]) -> Job:
    values = dict(row._mapping)
    return Job(**{**values, "state": JobState(values["state"])})
