"""A store in memory: gone when the process ends. For tests and for looking around."""

import dataclasses
import threading
from collections.abc import Sequence
from pathlib import Path

from breakwright.model.errors import ImpossibleValue
from breakwright.model.event import Event, Recorded
from breakwright.usecases.bench.fold import fold
from breakwright.usecases.bench.ports import (
    IdTaken,
    Job,
    JobState,
    Media,
    Receipt,
    StudyLine,
)
from breakwright.usecases.bench.state import Standing

__all__ = ["MemoryStore"]

_ALIVE = (JobState.QUEUED, JobState.RUNNING, JobState.DONE)


class MemoryStore:
    """Events, media and jobs in dictionaries behind one lock."""

    def __init__(self) -> None:
        self._events: list[Recorded] = []
        self._by_id: dict[str, Event] = {}
        self._media: dict[str, Media] = {}
        self._jobs: dict[str, Job] = {}
        self._lock = threading.RLock()

    def append(self, events: Sequence[Event], *, received: str) -> Receipt:
        with self._lock:
            fresh: dict[str, Event] = {}
            known = 0
            for event in events:
                there = self._by_id.get(event.id) or fresh.get(event.id)
                if there is None:
                    fresh[event.id] = event
                elif there == event:
                    known += 1
                else:
                    raise IdTaken(f"another event has the id {event.id}")
            first = len(self._events) + 1
            for seq, event in enumerate(fresh.values(), start=first):
                self._events.append(Recorded(seq, received, event))
                self._by_id[event.id] = event
            return Receipt(tuple(range(first, first + len(fresh))), known)

    def events(self, study: str, *, after: int = 0) -> tuple[Recorded, ...]:
        with self._lock:
            return tuple(r for r in self._events[after:] if r.event.study == study)

    def feed(self, *, after: int, limit: int = 500) -> tuple[Recorded, ...]:
        with self._lock:
            return tuple(self._events[after : after + limit])

    def last(self) -> int:
        with self._lock:
            return len(self._events)

    def studies(self) -> tuple[StudyLine, ...]:
        with self._lock:
            ids = dict.fromkeys(r.event.study for r in self._events)
            lines = [line for study in ids if (line := self._line(study)) is not None]
        return tuple(sorted(lines, key=lambda line: -line.last))

    def _line(self, study: str) -> StudyLine | None:
        events = self.events(study)
        try:
            state = fold(events)
        except ImpossibleValue:
            return None
        standings = [piece.standing for piece in state.pieces]
        return StudyLine(
            id=state.id,
            handle=state.handle,
            title=state.title,
            made=state.made,
            pieces=len(standings),
            read=sum(bool(piece.heads) for piece in state.pieces),
            void=standings.count(Standing.VOID),
            clashes=len(state.clashes),
            shelved=state.shelved,
            last=state.last,
            touched=events[-1].received,
        )

    def rebuild(self) -> None:
        """Nothing is derived ahead of time here."""

    def put_media(self, media: Media) -> None:
        with self._lock:
            self._media.setdefault(media.name, media)

    def media(self, name: str) -> Media | None:
        return self._media.get(name)

    def backup(self, path: Path) -> None:
        raise ImpossibleValue(f"{path}: what is in memory only has no copy on the disk")

    def close(self) -> None:
        """Nothing to give back."""

    def ask(self, job: Job) -> Job:
        with self._lock:
            for there in self._jobs.values():
                same = (there.study, there.kind, there.key) == (job.study, job.kind, job.key)
                if same and there.state in _ALIVE:
                    return there
            self._jobs[job.id] = dataclasses.replace(job, state=JobState.QUEUED)
            return self._jobs[job.id]

    def job(self, job_id: str) -> Job | None:
        return self._jobs.get(job_id)

    def newest(self, study: str, kind: str) -> Job | None:
        with self._lock:
            asked = [j for j in self._jobs.values() if (j.study, j.kind) == (study, kind)]
        return asked[-1] if asked else None

    def take(self, kinds: Sequence[str], *, now: str) -> Job | None:
        with self._lock:
            for job in self._jobs.values():
                if job.state is JobState.QUEUED and job.kind in kinds:
                    return self._put(job, state=JobState.RUNNING, beat=now)
        return None

    def tell(self, job_id: str, *, share: float, doing: str, early: str | None, now: str) -> bool:
        with self._lock:
            job = self._jobs.get(job_id)
            if job is None or job.state is not JobState.RUNNING:
                return False
            early = job.early if early is None else early
            self._put(job, share=share, doing=doing, early=early, beat=now)
            return True

    def finish(self, job_id: str, *, result: str | None, trouble: str | None, now: str) -> None:
        with self._lock:
            job = self._jobs.get(job_id)
            if job is not None and job.state is JobState.RUNNING:
                state = JobState.DONE if trouble is None else JobState.FAILED
                self._put(job, state=state, result=result, trouble=trouble, beat=now, share=1.0)

    def cancel(self, job_id: str) -> None:
        with self._lock:
            job = self._jobs.get(job_id)
            if job is not None and job.state in (JobState.QUEUED, JobState.RUNNING):
                self._put(job, state=JobState.CANCELLED)

    def requeue(self, *, beat_before: str) -> int:
        with self._lock:
            lost = [
                j
                for j in self._jobs.values()
                if j.state is JobState.RUNNING and j.beat < beat_before
            ]
            for job in lost:
                self._put(job, state=JobState.QUEUED, share=0.0, doing="")
            return len(lost)

    def forget(self, *, made_before: str) -> int:
        with self._lock:
            ended = (JobState.DONE, JobState.FAILED, JobState.CANCELLED)
            old = [j.id for j in self._jobs.values() if j.state in ended and j.made < made_before]
            for job_id in old:
                del self._jobs[job_id]
            return len(old)

    def _put(self, job: Job, **changes: object) -> Job:
        self._jobs[job.id] = dataclasses.replace(job, **changes)  # type: ignore[arg-type]
        return self._jobs[job.id]
