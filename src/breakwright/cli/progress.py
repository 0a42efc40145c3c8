"""Progress of long work, on standard error, and only where a person sees it move."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from breakwright.bootstrap import Progress

__all__ = ["shown_progress"]


@contextmanager
def shown_progress(*, wanted: bool) -> Iterator[Progress | None]:
    """Yield a function of (what is being done, share done), None where nobody would see it."""
    if not wanted or not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, TaskID, TextColumn, TimeRemainingColumn
    from rich.progress import Progress as Bar

    bar = Bar(
        TextColumn("{task.description}", markup=False),
        BarColumn(),
        TimeRemainingColumn(),
        console=Console(stderr=True),
        transient=True,
    )
    task: TaskID | None = None

    def tell(stage: str, share: float) -> None:
        nonlocal task
        if task is None:
            task = bar.add_task(stage, total=1.0)
        bar.update(task, description=stage, completed=share)

    with bar:
        yield tell
