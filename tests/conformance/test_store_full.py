"""A disk that is full: a plain message, nothing broken, and on it goes once there is room."""

import contextlib
import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from raw_store import raw
from sqlalchemy import event
from store_samples import NOW, Maker, a_photo

from breakwright.store.opening import open_store
from breakwright.store.sql_store import SqlStore
from breakwright.usecases.bench.ports import StoreFull
from postgres import Cluster


@contextlib.contextmanager
def small_disk(size: str, user: str | None = None) -> Iterator[Path]:
    """A disk of so many bytes, where this user may make one."""
    folder = Path(tempfile.mkdtemp())
    done = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", folder],
        capture_output=True,
        check=False,
    ) if shutil.which("mount") and os.geteuid() == 0 else None  # fmt: skip
    try:
        if done is None or done.returncode != 0:
            pytest.skip("only root may make a small disk, and not everywhere")
        if user is not None:
            shutil.chown(folder, user)
        yield folder
    finally:
        if done is not None and done.returncode == 0:
            subprocess.run(["umount", "-l", folder], check=True)
        folder.rmdir()


def fill(store: SqlStore, make: Maker) -> list[str]:
    """Write until the store is full; return the ids kept."""
    kept: list[str] = []

    def write() -> None:
        for number in range(2000):
            # Digits at random, which no database makes smaller.
            long = "".join(make.new_id() for _ in range(110))
            piece, added = make.piece(f"{number} {long}")
            both = [added, make.reading(piece, note=long)]
            store.append(both, received=NOW)
            kept.extend(event.id for event in both)

    with pytest.raises(StoreFull, match=r"full\. Nothing of this was kept"):
        write()
    return kept


def holds(store: SqlStore, make: Maker, kept: list[str]) -> None:
    assert [recorded.event.id for recorded in store.events(make.study)][1:] == kept
    (line,) = store.studies()
    assert (line.pieces, line.read, line.last) == (len(kept) // 2, len(kept) // 2, len(kept) + 1)


def goes_on(store: SqlStore, make: Maker, kept: list[str]) -> None:
    """Nothing is lost or half there, and there is room again."""
    holds(store, make, kept)
    piece, added = make.piece("after")
    store.append([added, make.reading(piece)], received=NOW)
    kept += [recorded.event.id for recorded in store.feed(after=len(kept) + 1)]
    holds(store, make, kept)
    lines = store.studies()
    store.rebuild()
    assert store.studies() == lines


def test_a_file_that_may_not_grow(tmp_path: Path) -> None:
    path = tmp_path / "bench.sqlite"
    store = open_store(str(path))
    limits = [60]

    @event.listens_for(store._database.engine, "begin")
    def limit(connection: object) -> None:
        connection.exec_driver_sql(f"PRAGMA max_page_count = {limits[-1]}")  # type: ignore[attr-defined]

    make = Maker(1)
    store.append([make.made()], received=NOW)
    kept = fill(store, make)
    assert len(kept) > 10
    holds(store, make, kept)
    with pytest.raises(StoreFull):
        store.put_media(a_photo(b"x" * 500_000))
    assert store.media(a_photo(b"x" * 500_000).name) is None
    with raw(f"sqlite:///{path}") as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    limits.append(1000)
    goes_on(store, make, kept)
    store.close()


def test_a_small_disk_under_sqlite() -> None:
    with small_disk("1m") as disk:
        ballast = disk / "ballast"
        # More than all that fits beside it: SQLite copies its log before it gives up its room.
        ballast.write_bytes(b"x" * 600_000)
        store = open_store(str(disk / "bench.sqlite"))
        make = Maker(1)
        store.append([make.made()], received=NOW)
        kept = fill(store, make)
        assert len(kept) > 10
        holds(store, make, kept)
        with pytest.raises(StoreFull):
            store.backup(disk / "copy.sqlite")
        store.close()
        ballast.unlink()
        with raw(f"sqlite:///{disk / 'bench.sqlite'}") as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        store = open_store(str(disk / "bench.sqlite"))
        goes_on(store, make, kept)
        store.close()


def test_no_room_for_a_new_store() -> None:
    with small_disk("64k") as disk:
        (disk / "ballast").write_bytes(b"x" * 50_000)
        with pytest.raises(StoreFull, match="full"):
            open_store(str(disk / "bench.sqlite"))
        (disk / "ballast").unlink()


def test_a_small_disk_under_postgresql(server: Cluster) -> None:
    with small_disk("16m", user=server.user) as disk:
        (disk / "ballast").write_bytes(b"x" * 6_000_000)
        space = f"small_{disk.name.lower().replace('-', '_')}"
        server.run(f"CREATE TABLESPACE {space} LOCATION '{disk}'")
        url = server.new_database(tablespace=space)
        store = open_store(url)
        try:
            make = Maker(1)
            store.append([make.made()], received=NOW)
            kept = fill(store, make)
            assert len(kept) > 10
            holds(store, make, kept)
            (disk / "ballast").unlink()
            goes_on(store, make, kept)
        finally:
            store.close()
            server.drop(url)
            server.run(f"DROP TABLESPACE {space}")
