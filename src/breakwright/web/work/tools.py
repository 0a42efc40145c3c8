"""What a task has at hand: the study as it stood, a place for files, a way to tell of progress."""

import json
import time
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Protocol

from breakwright.model.errors import ImpossibleValue
from breakwright.usecases.bench.fold import fold
from breakwright.usecases.bench.ports import EventStore, JobStore
from breakwright.usecases.bench.state import StudyState
from breakwright.web.work.digest import readings_digest

__all__ = ["MADE", "Stopped", "Store", "Tell", "Tools", "now_text"]

# The folder, below that of the uploads, for files which a job made and a person may fetch.
MADE = "made"
# Progress more often than this is written nowhere: each note is a commit.
_PAUSE = 0.2


class Store(EventStore, JobStore, Protocol):
    """Events and jobs in one place."""


class Stopped(BaseException):
    """The job was cancelled or given to another: leave at once. Not an ``Exception``, so that a
    task which mends its own faults does not mend this one."""


def now_text() -> str:
    """Return the time as jobs have it: ISO 8601 in UTC, to the millisecond."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")[:-6] + "Z"


class Tell:
    """How far a job is, for its page. ``note`` keeps it and returns False where the job is no
    longer ours."""

    def __init__(self, note: Callable[[float, str, str | None], bool]) -> None:
        self._note = note
        self._last = 0.0
        self._stopped = False
        self.share = 0.0
        self.doing = ""

    def __call__(self, doing: str, share: float) -> None:
        """Tell what is being done and the share behind (0..1). Raises Stopped if cancelled."""
        self.doing, self.share = doing, min(1.0, max(0.0, share))
        if self._stopped or time.monotonic() - self._last >= _PAUSE:
            self._write(None)

    def early(self, result: Mapping[str, Any]) -> None:
        """Keep a first result, JSON-able. Raises Stopped if cancelled."""
        self._write(json.dumps(result))

    def beat(self) -> bool:
        """Give a sign of life; False where the job was taken away. For the worker's own thread."""
        if not self._stopped:
            self._stopped = not self._note(self.share, self.doing, None)
        return not self._stopped

    def _write(self, early: str | None) -> None:
        self._last = time.monotonic()
        if self._stopped or not self._note(self.share, self.doing, early):
            self._stopped = True
            raise Stopped


class Tools:
    """``study`` is the id of the job's study; ``folder`` where large files lie."""

    def __init__(self, store: Store, *, study: str, job: str, folder: Path) -> None:
        self.store = store
        self.study = study
        self.job = job
        self.folder = folder

    def state(self) -> StudyState:
        """Return the study as it stands now. Raises ImpossibleValue where there is none."""
        return fold(self.store.events(self.study))

    def state_of(self, digest: str) -> StudyState:
        """Return the study as it stood when its ``readings_digest`` was this, the latest time.

        More may have come in between asking and doing, and the result must be of what was asked.
        Raises ImpossibleValue where it never stood so.
        """
        events = self.store.events(self.study)
        for k in range(len(events), 0, -1):
            state = fold(events[:k])
            if readings_digest(state) == digest:
                return state
        raise ImpossibleValue("the study has no such readings")

    def made(self, ending: str) -> Path:
        """Return where this job's file goes, its folder made."""
        folder = self.folder / MADE
        folder.mkdir(parents=True, exist_ok=True)
        return folder / f"{self.job}.{ending}"
