"""Several films in worker processes, and Ctrl-C that keeps what was read so far."""

import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing import get_context
from types import FrameType
from typing import Any

from breakwright.cli.read_job import FilmDone, FilmJob, read_job

__all__ = ["Share", "interrupted_softly", "read_jobs"]

Share = Callable[[str, float], None]

_POLL_S = 0.1


class _Stop:
    """What a worker asks before each frame."""

    def __init__(self) -> None:
        self.asked = False

    def __call__(self) -> bool:
        return self.asked


@contextmanager
def interrupted_softly() -> Iterator[Callable[[], bool]]:
    """Yield a function that says whether Ctrl-C was pressed. A second one raises
    KeyboardInterrupt, as the first one would elsewhere."""
    stop = _Stop()
    if threading.current_thread() is not threading.main_thread():
        yield stop
        return

    def on_signal(number: int, frame: FrameType | None) -> None:
        if stop.asked:
            signal.default_int_handler(number, frame)
        stop.asked = True

    before = signal.signal(signal.SIGINT, on_signal)
    try:
        yield stop
    finally:
        signal.signal(signal.SIGINT, before)


def read_jobs(
    jobs: Sequence[FilmJob],
    *,
    workers: int,
    stop: Callable[[], bool],
    share: Share | None,
    done: Callable[[FilmDone], None],
) -> None:
    """Do every job, up to ``workers`` of them at once, and tell ``done`` as each ends.

    ``share`` is told what is being read and the share of all films that is read (0..1). After
    ``stop`` says so nothing more is begun, and what is going on ends with what it has.
    """
    if min(workers, len(jobs)) < 2:
        for number, job in enumerate(jobs):
            if stop():
                return
            done(read_job(job, tell=_telling(job, number, len(jobs), share), stop=stop))
        return
    _in_processes(jobs, workers=workers, stop=stop, share=share, done=done)


def _telling(
    job: FilmJob, number: int, count: int, share: Share | None
) -> Callable[[float, float], None]:
    def tell(time: float, duration: float) -> None:
        if share is not None:
            part = min(1.0, time / duration) if duration > 0.0 else 0.0
            share(f"reading {job.film.name}", (number + part) / count)

    return tell


@dataclass(slots=True)
class _Hands:
    """What a worker process holds on to: how to say how far it is, and whether to stop."""

    news: Any
    stopped: Any


_hands: _Hands | None = None


def _begin(news: Any, stopped: Any) -> None:
    global _hands
    # The one who pressed Ctrl-C is answered by the parent, which asks the workers to end.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _hands = _Hands(news, stopped)


def _work(number: int, job: FilmJob) -> FilmDone:
    assert _hands is not None
    news, stopped = _hands.news, _hands.stopped

    def tell(time: float, duration: float) -> None:
        news.put((number, min(1.0, time / duration) if duration > 0.0 else 0.0))

    return read_job(job, tell=tell, stop=stopped.is_set)


def _in_processes(
    jobs: Sequence[FilmJob],
    *,
    workers: int,
    stop: Callable[[], bool],
    share: Share | None,
    done: Callable[[FilmDone], None],
) -> None:
    from concurrent.futures import FIRST_COMPLETED, ProcessPoolExecutor, wait

    context = get_context("spawn")
    news, stopped = context.SimpleQueue(), context.Event()
    parts = [0.0] * len(jobs)
    with ProcessPoolExecutor(
        max_workers=min(workers, len(jobs)),
        mp_context=context,
        initializer=_begin,
        initargs=(news, stopped),
    ) as pool:
        running = {pool.submit(_work, number, job): number for number, job in enumerate(jobs)}
        waiting = set(running)
        try:
            while waiting:
                ended, waiting = wait(waiting, timeout=_POLL_S, return_when=FIRST_COMPLETED)
                if stop() and not stopped.is_set():
                    stopped.set()
                    for future in waiting:
                        future.cancel()
                while not news.empty():
                    number, part = news.get()
                    parts[number] = part
                for future in ended:
                    parts[running[future]] = 1.0
                    if not future.cancelled():
                        done(future.result())
                if share is not None:
                    left = sum(part < 1.0 for part in parts)
                    share(f"reading {left} of {len(jobs)} films", sum(parts) / len(jobs))
        except BaseException:
            stopped.set()
            pool.shutdown(wait=False, cancel_futures=True)
            raise
