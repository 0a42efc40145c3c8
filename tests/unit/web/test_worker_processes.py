"""Worker processes over a store on disk: done, cancelled, killed, orphaned, found again."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from answer_samples import NOW, demo

from breakwright.bootstrap.bench import checked_source_of
from breakwright.bootstrap.sheets import CEILING, LEVEL, RESAMPLES, SEED, make_settings
from breakwright.report.json_form import answer_dict
from breakwright.store.opening import open_store
from breakwright.usecases.bench.bench import Bench
from breakwright.usecases.bench.ports import JobState
from breakwright.usecases.quick_answer import quick_answer
from breakwright.web.services import Services
from breakwright.web.work.asking import ask, ask_and_wait
from breakwright.web.work.digest import readings_digest
from breakwright.web.work.hands import Workers

LONGEST_S = 60.0
SETTINGS = make_settings(level=LEVEL, seed=SEED, resamples=RESAMPLES, ceiling=CEILING)


def until(found, what):
    """Wait until ``found()`` is true and return it; ``what`` is said where it never is."""
    end = time.monotonic() + LONGEST_S
    while time.monotonic() < end:
        there = found()
        if there:
            return there
        time.sleep(0.02)
    raise AssertionError(f"never: {what}")


class Server:
    """What a server holds: the store, its workers, and the demo study."""

    def __init__(self, folder, **wish):
        self.url = f"sqlite:///{folder / 'bench.db'}"
        self.store = open_store(self.url)
        self.hands = Workers(self.url, folder, jobs=self.store, **wish)
        self.hands.start()
        self.services = Services(Bench(self.store), self.store, folder, hands=self.hands)
        if not self.store.last():
            self.store.append(demo(16), received=NOW)
        self.state = self.services.bench.state(self.store.studies()[0].id)
        self.given = {"readings": readings_digest(self.state)}

    def begun(self):
        """A calibrated answer on its way, with some progress behind it."""
        job = ask(self.services, self.state.id, "answer", given=self.given)
        until(lambda: self.job(job).share > 0.0, "progress of the answer")
        return job

    def job(self, job):
        return self.store.job(job.id)

    def ended(self, job):
        return until(
            lambda: (j := self.job(job)).state not in (JobState.QUEUED, JobState.RUNNING) and j,
            "the end of the job",
        )

    def close(self):
        self.hands.stop()
        self.store.close()


@pytest.fixture
def server(tmp_path):
    made = Server(tmp_path)
    yield made
    made.close()


def gone(pid):
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return True
    # A process that ended and was not waited for yet still has its number.
    stat = Path(f"/proc/{pid}/stat")
    return stat.exists() and stat.read_text().rpartition(")")[2].split()[0] == "Z"


def test_a_worker_does_what_is_asked_once(server):
    quick = ask_and_wait(
        server.services, server.state.id, "quick-answer", given=server.given, timeout_s=LONGEST_S
    )
    assert quick.state is JobState.DONE, quick.trouble
    found = quick_answer(checked_source_of(server.state).study, SETTINGS)
    assert json.loads(quick.result)["answer"]["comparisons"] == answer_dict(found)["comparisons"]
    again = ask(server.services, server.state.id, "quick-answer", given=server.given)
    assert again == quick


def test_a_cancelled_job_stops_and_the_next_one_is_done(server):
    job = server.begun()
    server.store.cancel(job.id)
    other = ask(
        server.services, server.state.id, "package", given={**server.given, "handle": "pegs"}
    )
    assert server.ended(other).state is JobState.DONE, server.job(other).trouble
    assert server.job(job).state is JobState.CANCELLED


def test_a_killed_worker_is_noticed_and_another_takes_its_place(server):
    job = server.begun()
    os.kill(server.hands.processes()["long"], signal.SIGKILL)
    failed = server.ended(job)
    assert failed.state is JobState.FAILED
    assert "ended before it was done (signal 9)" in failed.trouble
    again = server.begun()
    assert again.id != job.id
    server.store.cancel(again.id)


def test_an_idle_worker_ends_and_is_started_again(tmp_path):
    server = Server(tmp_path, idle_s=0.2)
    try:
        for turn in range(2):
            given = {**server.given, "turn": turn}
            job = ask(server.services, server.state.id, "quick-answer", given=given)
            assert server.ended(job).state is JobState.DONE
            until(lambda: not server.hands.processes(), "the end of an idle worker")
    finally:
        server.close()


def test_a_killed_server_leaves_no_orphan_and_its_job_is_found_again(tmp_path):
    script = (
        "import pathlib, sys, time\n"
        "from test_worker_processes import Server\n"
        "server = Server(pathlib.Path(sys.argv[1]))\n"
        "job = server.begun()\n"
        "print(job.id, server.hands.processes()['long'], flush=True)\n"
        "sys.stdin.read()\n"
    )
    first = subprocess.Popen(
        [sys.executable, "-c", script, str(tmp_path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parent)},
    )
    job_id, worker = first.stdout.readline().split()
    first.kill()
    first.communicate()
    until(lambda: gone(int(worker)), "the end of an orphaned worker")
    second = Server(tmp_path, dead_after_s=1.5)
    try:
        left = second.store.job(job_id)
        assert left.state in (JobState.RUNNING, JobState.QUEUED)
        # Whoever looks at the page is given the same job, and nobody has to look for it to go on.
        same = ask(second.services, second.state.id, "answer", given=second.given)
        assert same.id == job_id
        done = second.ended(left)
        assert done.state is JobState.DONE, done.trouble
        ratio = json.loads(done.result)["answer"]["comparisons"][0]["ratio"]
        assert (ratio["method"], ratio["resamples"]) == ("calibrated", RESAMPLES)
    finally:
        second.close()


def test_the_server_itself_loads_no_numerics():
    script = (
        "import sys\n"
        "import breakwright.web.answer_page, breakwright.web.work.hands\n"
        "heavy = ('numpy', 'scipy', 'altair', 'vl_convert', 'rich', 'alembic', 'PIL')\n"
        "print([name for name in heavy if name in sys.modules])\n"
    )
    found = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)
    assert found.stdout == "[]\n", found.stderr
