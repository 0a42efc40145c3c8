"""A copy of the whole store, made while others write on."""

import threading
from pathlib import Path

import pytest
from raw_store import raw, rows_of
from store_samples import NOW, Maker, a_photo

from breakwright.store.opening import open_store
from breakwright.usecases.bench.ports import StoreUnreachable


def test_a_backup_is_a_store_with_everything_in_it(url: str, tmp_path: Path) -> None:
    make, other = Maker(1), Maker(2)
    store = open_store(url)
    piece, added = make.piece("A1")
    store.append([make.made(), other.made("other"), added, make.reading(piece)], received=NOW)
    store.put_media(a_photo(b"x" * 100_000))
    copy = tmp_path / "backup.sqlite"
    store.backup(copy)
    # What is written later is not in it, and the copy lives on without the store.
    store.append([make.piece("A2")[1]], received=NOW)
    restored = open_store(str(copy))
    assert restored.feed(after=0) == store.feed(after=0)[:4]
    assert restored.media(a_photo(b"x" * 100_000).name) == a_photo(b"x" * 100_000)
    assert [line.handle for line in restored.studies()] == ["wedge", "other"]
    assert restored.append([make.piece("A3")[1]], received=NOW).new == (5,)
    restored.close()
    store.close()
    assert copy.stat().st_mode & 0o077 == 0
    with raw(f"sqlite:///{copy}") as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def test_a_backup_while_others_write_is_of_one_moment(url: str, tmp_path: Path) -> None:
    make = Maker(1)
    store = open_store(url)
    store.append([make.made()], received=NOW)
    pairs = [make.piece(f"A{n}") for n in range(400)]
    begun, stop = threading.Event(), threading.Event()

    def write() -> None:
        for number, (piece, added) in enumerate(pairs):
            # Both or none: a copy with one of them is of no moment at all.
            store.append([added, make.reading(piece)], received=NOW)
            if number == 5:
                begun.set()
            if stop.is_set():
                return

    writer = threading.Thread(target=write)
    writer.start()
    begun.wait()
    copies = [tmp_path / f"{n}.sqlite" for n in range(3)]
    for copy in copies:
        before = store.last()
        store.backup(copy)
        restored = open_store(str(copy))
        last = restored.last()
        assert before <= last <= store.last()
        assert (last - 1) % 2 == 0, "half a call is in the copy"
        assert restored.feed(after=0, limit=10_000) == store.feed(after=0, limit=last)
        rows = rows_of(f"sqlite:///{copy}", "pieces"), rows_of(f"sqlite:///{copy}", "studies")
        assert len(rows[0]) == (last - 1) // 2
        restored.rebuild()
        again = rows_of(f"sqlite:///{copy}", "pieces"), rows_of(f"sqlite:///{copy}", "studies")
        assert again == rows
        restored.close()
    stop.set()
    writer.join()
    store.close()


def test_a_backup_without_its_folder(url: str, tmp_path: Path) -> None:
    store = open_store(url)
    with pytest.raises(StoreUnreachable, match=r"no/copy\.sqlite: cannot be written"):
        store.backup(tmp_path / "no" / "copy.sqlite")
    store.close()
