"""Whole copies of a store, made while others write on."""

import contextlib
import os
import secrets
import sqlite3
from collections.abc import Iterator
from pathlib import Path

from sqlalchemy import insert, select

from breakwright.model.errors import ImpossibleValue
from breakwright.store.address import Address, read_address
from breakwright.store.database import Database
from breakwright.store.faults import plain_faults
from breakwright.store.schema import events, media
from breakwright.usecases.bench.ports import StoreUnreachable

__all__ = ["back_up", "copy_beside"]

_AT_ONCE = 500


def back_up(database: Database, path: Path) -> None:
    """Write all of ``database`` as it is at one moment to ``path``, a SQLite store.

    Raises ImpossibleValue where ``path`` is there already, StoreFull, StoreUnreachable.
    """
    with _new_file(path) as unfinished:
        if database.address.path is not None:
            _copy_file(database.address, unfinished)
        else:
            _copy_rows(database, unfinished)


def copy_beside(address: Address, named: str) -> Path:
    """Copy the SQLite file at ``address`` to a new one beside it; return its path."""
    assert address.path is not None
    stem, ending = address.path.stem, address.path.suffix
    count = 1
    while True:
        more = "" if count == 1 else f"-{count}"
        path = address.path.with_name(f"{stem}-{named}{more}{ending}")
        try:
            with _new_file(path) as unfinished:
                _copy_file(address, unfinished)
            return path
        except ImpossibleValue:
            count += 1


@contextlib.contextmanager
def _new_file(path: Path) -> Iterator[Path]:
    """Give a place to write to, whose file becomes ``path`` only when it is whole."""
    if path.exists():
        raise ImpossibleValue(f"{path}: is there already; name a new file")
    unfinished = path.with_name(f".{path.name}.{secrets.token_hex(4)}.unfinished")
    try:
        os.close(os.open(unfinished, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600))
    except OSError as error:
        raise StoreUnreachable(f"{path}: cannot be written ({error.strerror})") from error
    try:
        yield unfinished
        _to_disk(unfinished)
        try:
            # Unlike a renaming, this never replaces a file that came there meanwhile.
            os.link(unfinished, path)
        except FileExistsError as error:
            raise ImpossibleValue(f"{path}: is there already; name a new file") from error
        except OSError:
            # A memory stick, for one, knows no second name for a file.
            unfinished.rename(path)
        _to_disk(path.parent)
    finally:
        for leftover in ("", "-wal", "-shm", "-journal"):
            unfinished.with_name(unfinished.name + leftover).unlink(missing_ok=True)


def _to_disk(path: Path) -> None:
    # A folder cannot be opened on Windows, which writes names by itself.
    if path.is_dir() and os.name == "nt":
        return
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _copy_file(address: Address, to: Path) -> None:
    with (
        plain_faults(Address(to, "", str(to))),
        contextlib.closing(sqlite3.connect(str(address.path), timeout=10.0)) as source,
        contextlib.closing(sqlite3.connect(str(to))) as target,
    ):
        # In one step: a copy in several begins again whenever somebody writes.
        source.backup(target, pages=-1)


def _copy_rows(database: Database, to: Path) -> None:
    from breakwright.store.opening import open_store
    from breakwright.store.write_rows import rebuild_rows

    open_store(str(to)).close()
    target = Database(read_address(str(to)))
    try:
        with database.reading() as source, target.writing() as copy:
            asked = select(events).order_by(events.c.seq).execution_options(yield_per=_AT_ONCE)
            for part in source.execute(asked).partitions():
                copy.execute(insert(events), [dict(row._mapping) for row in part])
            # One by one: a photo is a thousand times an event.
            for name in source.execute(select(media.c.name)).scalars().all():
                one = source.execute(select(media).where(media.c.name == name)).one()
                copy.execute(insert(media), [dict(one._mapping)])
            rebuild_rows(copy)
    finally:
        target.close()
