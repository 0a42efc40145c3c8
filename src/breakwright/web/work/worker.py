"""A worker process: takes jobs of one lane, does them, and ends when nobody needs it.

Started by ``hands.Workers``, which writes to its standard input: one line of JSON that says where
the store is (an address may hold a password, and arguments can be read by every user of the
machine), then a number whenever there is work. When the input closes the server is gone, and so
is the worker, at once. It says on its standard output which job it took and when it is idle.
"""

import json
import os
import queue
import sys
import threading
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from breakwright.model.errors import BreakwrightError, InputRefused
from breakwright.usecases.bench.ports import Job
from breakwright.web.work.registry import kinds_of, task_of
from breakwright.web.work.tools import Stopped, Store, Tell, Tools, now_text

__all__ = ["BEAT_S", "drain", "main"]

BEAT_S = 1.0
# A cancelled computation that does not look up within this time is ended with its process.
_GRACE_BEATS = 3
_GAVE_UP = 70

Say = Callable[[str], None]


def drain(store: Store, *, lane: str, folder: Path, say: Say) -> None:
    """Do all jobs of ``lane`` that wait."""
    kinds = kinds_of(lane)
    while (job := store.take(kinds, now=now_text())) is not None:
        say(f"took {job.id}")
        _do(store, job, folder=folder)
        say(f"left {job.id}")


def _do(store: Store, job: Job, *, folder: Path) -> None:
    def note(share: float, doing: str, early: str | None) -> bool:
        return store.tell(job.id, share=share, doing=doing, early=early, now=now_text())

    tell = Tell(note)
    tools = Tools(store, study=job.study, job=job.id, folder=folder)
    result, trouble = None, None
    with _beating(tell):
        try:
            result = json.dumps(task_of(job.kind)(json.loads(job.given), tell, tools))
        except Stopped:
            return
        except InputRefused as refused:
            trouble = "; ".join(problem.message for problem in refused.problems)
        except BreakwrightError as error:
            trouble = str(error)
        except Exception as error:
            traceback.print_exc(file=sys.stderr)
            trouble = (
                f"The computation broke off by a fault of the program ({type(error).__name__}). "
                "The readings are safe. Please report it with what the server printed."
            )
    store.finish(job.id, result=result, trouble=trouble, now=now_text())


@contextmanager
def _beating(tell: Tell) -> Iterator[None]:
    """Give signs of life meanwhile, whatever the task does."""
    over = threading.Event()

    def beat() -> None:
        left = _GRACE_BEATS
        while not over.wait(BEAT_S):
            try:
                ours = tell.beat()
            except BreakwrightError:
                continue  # the store may come back; without beats the job goes to another
            if not ours:
                left -= 1
                if left < 0:
                    os._exit(_GAVE_UP)

    thread = threading.Thread(target=beat, name="beat", daemon=True)
    thread.start()
    try:
        yield
    finally:
        over.set()
        thread.join()


def _listen(wakes: "queue.Queue[int]") -> None:
    for line in sys.stdin:
        wakes.put(int(line))
    # The server is gone: leave nothing behind that nobody would ever stop.
    os._exit(0)


def _newest(wakes: "queue.Queue[int]", seen: int) -> int:
    while True:
        try:
            seen = wakes.get_nowait()
        except queue.Empty:
            return seen


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def main(arguments: list[str]) -> None:
    """Work in the lane named by ``--lane`` until idle or orphaned."""
    import argparse

    from breakwright.bootstrap.bench import worker_store

    parser = argparse.ArgumentParser(prog="breakwright worker")
    parser.add_argument("--lane", required=True)
    lane = parser.parse_args(arguments).lane
    given = json.loads(sys.stdin.readline())
    wakes: queue.Queue[int] = queue.Queue()
    threading.Thread(target=_listen, args=(wakes,), name="input", daemon=True).start()
    store = worker_store(given["store"])
    seen = 0
    while True:
        seen = _newest(wakes, seen)
        drain(store, lane=lane, folder=Path(given["folder"]), say=_say)
        _say(f"idle {seen}")
        try:
            seen = wakes.get(timeout=given["idle_s"])
        except queue.Empty:
            break
    store.close()


if __name__ == "__main__":
    main(sys.argv[1:])
    # Threads of numerical libraries must not hold up the end.
    sys.stdout.flush()
    os._exit(0)
