"""SQLite files that can or cannot be opened, and what a person is told."""

import contextlib
import sqlite3
import subprocess
import sys
import tempfile
import threading
from pathlib import Path

import pytest

from breakwright.store.opening import open_store, store_place
from breakwright.store.sql_store import SqlStore
from breakwright.usecases.bench.ports import StoreUnfit, StoreUnreachable


def test_a_new_store_is_its_owners_alone(tmp_path: Path) -> None:
    path = tmp_path / "bench.sqlite"
    store = open_store(str(path))
    assert {p.name: oct(p.stat().st_mode & 0o777) for p in tmp_path.iterdir()} == {
        "bench.sqlite": "0o600",
        "bench.sqlite-wal": "0o600",
        "bench.sqlite-shm": "0o600",
    }
    store.close()
    with contextlib.closing(sqlite3.connect(path)) as raw:
        assert raw.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_every_connection_waits_for_the_disk_and_keeps_foreign_keys(tmp_path: Path) -> None:
    store = open_store(str(tmp_path / "bench.sqlite"))
    with store._database.reading() as one, store._database.reading() as two:
        for connection in (one, two):
            asked = [
                connection.exec_driver_sql(f"PRAGMA {name}").scalar()
                for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
            ]
            # https://www.sqlite.org/pragma.html#pragma_synchronous: 2 is FULL.
            assert asked == ["wal", 2, 1, 10_000]
    store.close()


@pytest.mark.parametrize("name", ["100% oak?.sqlite", "a#b&c=d.sqlite", "Prüfung 木.sqlite"])
def test_a_file_may_have_any_name(tmp_path: Path, name: str) -> None:
    open_store(store_place(f"sqlite:///{tmp_path / name}").url).close()
    open_store(str(tmp_path / name)).close()
    assert [p.name for p in tmp_path.iterdir()] == [name]


def test_a_missing_folder(tmp_path: Path) -> None:
    with pytest.raises(StoreUnreachable, match=r"no/bench\.sqlite: its folder is not there"):
        open_store(str(tmp_path / "no" / "bench.sqlite"))


def test_a_folder_in_the_place_of_the_file(tmp_path: Path) -> None:
    with pytest.raises(StoreUnreachable, match="this is a folder"):
        open_store(str(tmp_path))


def test_a_file_of_another_sort_is_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "letter.txt"
    path.write_text("Dear bench, " * 100)
    before = path.read_bytes()
    with pytest.raises(StoreUnfit, match="no SQLite file"):
        open_store(str(path))
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]


# Root may write anywhere, so somebody else has to try.
AS_NOBODY = """
import os, sys
from breakwright.store.opening import open_store
from breakwright.usecases.bench.ports import StoreUnreachable
if os.geteuid() == 0:
    os.setgroups([])
    os.setgid(65534)
    os.setuid(65534)
try:
    open_store(sys.argv[1])
except StoreUnreachable as error:
    print(error)
"""


@pytest.mark.parametrize("there", [True, False], ids=["the file", "its folder"])
def test_a_write_protected_place(there: bool) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "bench.sqlite"
        if there:
            open_store(str(path)).close()
            path.chmod(0o444)
        Path(folder).chmod(0o555)
        done = subprocess.run(
            [sys.executable, "-c", AS_NOBODY, str(path)],
            capture_output=True,
            text=True,
            check=True,
        )
        assert "the store cannot be opened for writing" in done.stdout, done.stderr
        Path(folder).chmod(0o755)


def test_a_store_locked_by_another_program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "bench.sqlite"
    open_store(str(path)).close()
    # A person waits ten seconds; a test need not.
    monkeypatch.setattr("breakwright.store.database._PATIENCE_S", 0.1)
    store = open_store(str(path))
    with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as viewer:
        viewer.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreUnreachable, match="another program has held the store locked"):
            store.rebuild()
        viewer.execute("ROLLBACK")
        store.rebuild()
    store.close()


def test_many_open_one_new_store_at_once(tmp_path: Path) -> None:
    opened: list[SqlStore] = []
    ready = threading.Barrier(8)

    def go() -> None:
        ready.wait()
        opened.append(open_store(str(tmp_path / "bench.sqlite")))

    threads = [threading.Thread(target=go) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [store.last() for store in opened] == [0] * 8
    for store in opened:
        store.close()


def test_a_store_that_is_up_to_date_is_opened_without_what_migrates(tmp_path: Path) -> None:
    path = tmp_path / "bench.sqlite"
    open_store(str(path)).close()
    program = (
        "import sys\n"
        "from breakwright.store.opening import open_store\n"
        "open_store(sys.argv[1]).last()\n"
        "heavy = {'alembic', 'mako', 'numpy', 'scipy', 'psycopg', 'platformdirs'}\n"
        "print(sorted(heavy & set(sys.modules)))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, str(path)], capture_output=True, text=True, check=True
    )
    assert done.stdout == "[]\n"


# POSIX drops all locks of a process on a file when that process closes it once, however often it
# has it open (https://www.sqlite.org/howtocorrupt.html, 2.2). Whoever closes the store next would
# then think itself the last and delete the log that the first one still writes to.
OPENS_TWICE = """
import sys
from breakwright.model.event import Event, StudyMade
from breakwright.store.opening import open_store
store, again = open_store(sys.argv[1]), open_store(sys.argv[1])
print("open", flush=True)
sys.stdin.readline()
now = "2026-01-31T09:30:00Z"
for number in range(20):
    store.append([Event(f"{number:032x}", "1" * 32, now, StudyMade("", "wedge"))], received=now)
print("kept", flush=True)
sys.stdin.readline()
"""


def test_opening_a_store_twice_drops_no_lock(tmp_path: Path) -> None:
    path = tmp_path / "bench.sqlite"
    with subprocess.Popen(
        [sys.executable, "-c", OPENS_TWICE, str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as writer:
        assert writer.stdin is not None
        assert writer.stdout is not None
        assert writer.stdout.readline() == "open\n"
        other = open_store(str(path))
        other.backup(tmp_path / "copy.sqlite")
        other.close()
        writer.stdin.write("go\n")
        writer.stdin.flush()
        assert writer.stdout.readline() == "kept\n"
        writer.kill()
    store = open_store(str(path))
    assert store.last() == 20
    store.close()
