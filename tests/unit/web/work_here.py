"""Work of the web's worker processes done at once, in the test's own process."""

import json
from typing import Any

from breakwright.model.errors import BreakwrightError
from breakwright.web.work.registry import task_of

__all__ = ["WorkHere"]


class WorkHere:
    """Hands that do queued work before ``wake`` returns. ``asked`` tells what was done."""

    def __init__(self, store: Any) -> None:
        self._store = store
        self.asked: list[str] = []

    def wake(self, kind: str) -> None:
        job = self._store.take([kind], now="2026-01-31T09:00:00.000Z")
        if job is None:
            return
        self.asked.append(kind)
        result, trouble = None, None
        try:
            made = task_of(kind)(json.loads(job.given), lambda _doing, _share: None, None)  # type: ignore[arg-type]
            result = json.dumps(made)
        except BreakwrightError as error:
            trouble = str(error)
        self._store.finish(job.id, result=result, trouble=trouble, now=job.beat)
