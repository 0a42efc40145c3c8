"""The server's side of its worker processes: at most one a lane, started when there is work."""

import contextlib
import json
import os
import subprocess
import sys
import threading
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

from breakwright.model.errors import BreakwrightError
from breakwright.usecases.bench.ports import JobStore
from breakwright.web.work.kinds import LANES
from breakwright.web.work.registry import lane_of
from breakwright.web.work.tools import MADE, now_text

__all__ = ["Workers"]

_SWEEP_S = 2.0
_KEEP = timedelta(days=1)
_FORGET_S = 3600.0
_STOP_S = 3.0
# A worker that ends before it has said a word, so often in a row, is not started again by itself.
_STILLBORN = 3
_BROKEN_OFF = (
    "The worker process that computed this ended before it was done ({how}); perhaps the machine "
    "ran out of memory. The readings are safe. Ask again to have it computed anew."
)


class _Lane:
    def __init__(self, name: str) -> None:
        self.name = name
        self.lock = threading.Lock()
        self.process: subprocess.Popen[str] | None = None
        self.job: str | None = None
        self.wakes = 0
        self.idle = 0
        self.spoke = False
        self.stillborn = 0


class Workers:
    """Wakes workers, notices when one dies, and hands jobs of the dead to the living.

    ``store_url`` is what the worker opens; ``folder`` where large files lie. A worker without
    work ends after ``idle_s`` seconds, and the memory of the numerics is given back; a running
    job without a sign of life for ``dead_after_s`` is given to another.
    """

    def __init__(
        self,
        store_url: str,
        folder: Path,
        *,
        jobs: JobStore,
        idle_s: float = 60.0,
        dead_after_s: float = 8.0,
    ) -> None:
        self._hello = json.dumps({"store": store_url, "folder": str(folder), "idle_s": idle_s})
        self._dead_after = timedelta(seconds=dead_after_s)
        self._made = folder / MADE
        self._jobs = jobs
        self._lanes = {name: _Lane(name) for name in LANES}
        self._over = threading.Event()
        self._sweeper: threading.Thread | None = None

    def start(self) -> None:
        """Begin to look after jobs that another server, or a killed one, left behind."""
        self._sweeper = threading.Thread(target=self._sweep, name="sweep", daemon=True)
        self._sweeper.start()

    def stop(self) -> None:
        """End every worker; what it was doing is found again by the next server."""
        self._over.set()
        processes = []
        for lane in self._lanes.values():
            with lane.lock:
                if lane.process is not None:
                    processes.append(lane.process)
                    if lane.process.stdin is not None:
                        lane.process.stdin.close()
        for process in processes:
            try:
                process.wait(_STOP_S)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()
        if self._sweeper is not None:
            self._sweeper.join()

    def wake(self, kind: str) -> None:
        """See that a worker runs that takes jobs of this kind; returns at once."""
        self._wake(self._lanes[lane_of(kind)])

    def processes(self) -> dict[str, int]:
        """Return lane -> process id of the workers that run."""
        return {n: lane.process.pid for n, lane in self._lanes.items() if lane.process is not None}

    def _wake(self, lane: _Lane) -> None:
        with lane.lock:
            if self._over.is_set():
                return
            lane.wakes += 1
            lane.stillborn = 0
            if lane.process is None:
                self._begin(lane)
            else:
                self._nudge(lane)

    def _nudge(self, lane: _Lane) -> None:
        pipe = None if lane.process is None else lane.process.stdin
        try:
            if pipe is not None:
                pipe.write(f"{lane.wakes}\n")
                pipe.flush()
        except (OSError, ValueError):
            return  # it has just ended; whoever watches it starts another, as wakes > idle

    def _begin(self, lane: _Lane) -> None:
        lane.process = subprocess.Popen(
            [sys.executable, "-m", "breakwright.web.work.worker", "--lane", lane.name],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            # A key that stops the server must not also strike the worker in mid-job.
            start_new_session=True,
            env={"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1", **os.environ},
        )
        lane.job, lane.spoke = None, False
        if lane.process.stdin is not None:
            try:
                lane.process.stdin.write(f"{self._hello}\n{lane.wakes}\n")
                lane.process.stdin.flush()
            except OSError:
                pass  # the watcher sees that it ended
        threading.Thread(
            target=self._watch, args=(lane, lane.process), name=f"watch-{lane.name}", daemon=True
        ).start()

    def _watch(self, lane: _Lane, process: "subprocess.Popen[str]") -> None:
        for line in process.stdout or ():
            word, _, rest = line.strip().partition(" ")
            with lane.lock:
                lane.spoke = True
                if word == "took":
                    lane.job = rest
                elif word == "left":
                    lane.job = None
                elif word == "idle":
                    lane.idle = int(rest)
        code = process.wait()
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):
                    pipe.close()
        with lane.lock:
            lost, lane.job, lane.process = lane.job, None, None
            over = self._over.is_set()
            lane.stillborn = 0 if lane.spoke else lane.stillborn + 1
            again = not over and lane.wakes > lane.idle and lane.stillborn < _STILLBORN
        if lost is not None and not over:
            self._fail(lost, code)
        if again:
            with lane.lock:
                if lane.process is None and not self._over.is_set():
                    self._begin(lane)

    def _fail(self, job: str, code: int) -> None:
        how = f"signal {-code}" if code < 0 else f"code {code}"
        try:
            self._jobs.finish(job, result=None, trouble=_BROKEN_OFF.format(how=how), now=now_text())
        except BreakwrightError:
            return  # the store is away; without beats the job is given to another later

    def _sweep(self) -> None:
        forgotten = -_FORGET_S
        while True:
            try:
                dead = datetime.now(UTC) - self._dead_after
                if self._jobs.requeue(beat_before=_text(dead)):
                    for lane in self._lanes.values():
                        self._wake(lane)
                if time.monotonic() - forgotten > _FORGET_S:
                    forgotten = time.monotonic()
                    self._jobs.forget(made_before=_text(datetime.now(UTC) - _KEEP))
                    self._clear()
            except (BreakwrightError, OSError):
                # The store may come back; the pages say meanwhile that it is away. A file may be
                # gone before it was looked at. Neither may end the looking after.
                pass
            if self._over.wait(_SWEEP_S):
                return

    def _clear(self) -> None:
        oldest = time.time() - _KEEP.total_seconds()
        for path in self._made.glob("*"):
            if path.stat().st_mtime < oldest:
                path.unlink(missing_ok=True)


def _text(moment: datetime) -> str:
    return moment.isoformat(timespec="milliseconds")[:-6] + "Z"
