"""Many who write at once, and those who are killed while they write."""

import itertools
import os
import random
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from io import FileIO
from pathlib import Path

import pytest
from raw_store import raw
from store_samples import NOW, Maker

from breakwright.store.opening import open_store
from breakwright.store.sql_store import SqlStore

WRITER = Path(__file__).with_name("writing_process.py")


@dataclass(frozen=True)
class Writer:
    """A process that writes, and where it says what is kept."""

    process: int
    says: FileIO

    def kill(self) -> None:
        os.kill(self.process, signal.SIGKILL)


class Writers:
    """Begins processes that write into a store."""

    def __init__(self, forker: "subprocess.Popen[str]", folder: Path) -> None:
        self._forker = forker
        self._folder = folder
        self._numbers = itertools.count()

    def begin(self, url: str, study: str, *, first: int, how_many: int) -> Writer:
        pipe = self._folder / f"{next(self._numbers)}"
        os.mkfifo(pipe)
        assert self._forker.stdin is not None
        assert self._forker.stdout is not None
        self._forker.stdin.write(f"{url} {study} {first} {how_many} {pipe}\n")
        self._forker.stdin.flush()
        says = pipe.open("rb", buffering=0)
        return Writer(int(self._forker.stdout.readline()), says)


@pytest.fixture(scope="module")
def writers(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Writers]:
    with subprocess.Popen(
        [sys.executable, WRITER], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as forker:
        yield Writers(forker, tmp_path_factory.mktemp("pipes"))
        assert forker.stdin is not None
        forker.stdin.close()


def watch_feed(store: SqlStore, seen: list[int], stop: threading.Event) -> None:
    """Follow the feed as a page does, until told to stop and nothing is left."""
    while True:
        last_round = stop.is_set()
        news = store.feed(after=seen[-1] if seen else 0, limit=50)
        seen += [recorded.seq for recorded in news]
        if last_round and not news:
            return
        # As often as a page could possibly ask, and not so often that nobody else gets a turn.
        stop.wait(0.02)


def test_twenty_devices_lose_nothing(url: str, capsys: pytest.CaptureFixture[str]) -> None:
    # 2,000 readings in all on SQLite, which many hold to be weak at this.
    each = 100 if url.startswith("sqlite") else 20
    store = open_store(url)
    make = Maker(1)
    pieces = [make.piece(f"{n}", order=n) for n in range(1, 20 * each + 1)]
    store.append([make.made(), *(added for _, added in pieces)], received=NOW)
    readings = [make.reading(piece) for piece, _ in pieces]
    waits: list[float] = []
    ready = threading.Barrier(20)

    def device(number: int) -> list[int]:
        ready.wait()
        places = []
        for event in readings[number::20]:
            began = time.perf_counter()
            places += store.append([event], received=NOW).new
            waits.append(time.perf_counter() - began)
        return places

    stop, seen = threading.Event(), [len(pieces) + 1]
    watcher = threading.Thread(target=watch_feed, args=(store, seen, stop))
    watcher.start()
    began = time.perf_counter()
    with ThreadPoolExecutor(20) as devices:
        places = [place for places in devices.map(device, range(20)) for place in places]
    took = time.perf_counter() - began
    stop.set()
    watcher.join()
    first = len(pieces) + 2
    assert sorted(places) == list(range(first, first + 20 * each))
    assert seen[1:] == sorted(places), "the feed left one out"
    assert {r.event.id for r in store.feed(after=first - 1, limit=10_000)} == {
        event.id for event in readings
    }
    (line,) = store.studies()
    assert (line.pieces, line.read) == (20 * each, 20 * each)
    with raw(url) as connection:
        asked = "SELECT count(*) FROM pieces WHERE standing = 'read'"
        assert connection.execute(asked).fetchone() == (20 * each,)
    store.close()
    waits.sort()
    with capsys.disabled():
        print(  # noqa: T201
            f"\n  20 devices, {len(places)} readings, {url.partition(':')[0]}: {took:.1f} s, "
            f"{took / len(places) * 1e3:.1f} ms each; waited {waits[len(waits) // 2] * 1e3:.0f} ms "
            f"in the middle, {waits[-1] * 1e3:.0f} ms at most"
        )


def test_four_processes_lose_nothing(url: str, writers: Writers) -> None:
    make = Maker(1)
    store = open_store(url)
    store.append([make.made()], received=NOW)
    begun = [writers.begin(url, make.study, first=100 * n, how_many=40) for n in range(4)]
    stop, seen = threading.Event(), [1]
    watcher = threading.Thread(target=watch_feed, args=(store, seen, stop))
    watcher.start()
    # And this process writes among them.
    own = [make.piece(f"A{n}") for n in range(40)]
    for _, added in own:
        store.append([added], received=NOW)
    said = []
    for writer in begun:
        with writer.says:
            said.append(writer.says.read().decode().split())
    stop.set()
    watcher.join()
    assert [(len(words), words[-1]) for words in said] == [(42, "done")] * 4, "one ended early"
    assert seen == list(range(1, 4 * 40 + 40 + 2)), "the feed showed one late"
    kept = {recorded.event.id for recorded in store.events(make.study)}
    assert kept >= {word for words in said for word in words[1:-1]}
    line = store.studies()
    store.rebuild()
    assert store.studies() == line
    assert line[0].pieces == 40
    store.close()


def test_what_was_acknowledged_outlives_a_kill(url: str, writers: Writers) -> None:
    make = Maker(1)
    store = open_store(url)
    store.append([make.made()], received=NOW)
    moments = random.Random(4)
    acknowledged: set[str] = set()
    for kill in range(10):
        writer = writers.begin(url, make.study, first=kill * 1000, how_many=500)
        with writer.says:
            said = b""
            while said.count(b"\n") <= moments.randrange(1, 40):
                said += writer.says.read(4096)
            # Within a write, not only between two.
            time.sleep(moments.uniform(0.0, 0.01))
            writer.kill()
            # Until the pipe ends: what died says no more.
            said += writer.says.readall()
        words = said.decode().split()
        assert words[0] == "ready"
        assert "done" not in words, "it was done before it could be killed"
        acknowledged |= set(words[1:])
        kept = [recorded.event.id for recorded in store.events(make.study)]
        assert acknowledged <= set(kept)
        assert len(kept) - 1 <= len(acknowledged) + kill + 1, "one on its way at most, each time"
    if url.startswith("sqlite"):
        with raw(url) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    lines = store.studies()
    store.rebuild()
    assert store.studies() == lines
    assert store.append([make.piece("A1")[1]], received=NOW).new == (store.last(),)
    store.close()
