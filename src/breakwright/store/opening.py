"""Opening a store: made where there is none, migrated where it is older, refused where it is
newer or not ours."""

import contextlib
import os
import time
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Connection, text

from breakwright.store.address import Address, read_address, store_place
from breakwright.store.database import Database
from breakwright.store.faults import plain_faults
from breakwright.store.schema import HEAD, REVISIONS, VERSION_TABLE
from breakwright.store.sql_store import SqlStore
from breakwright.usecases.bench.ports import StoreUnfit, StoreUnreachable

__all__ = ["migrate_store", "open_store", "store_place"]

_PATIENCE_S = 10.0


def open_store(url: str, *, day: str | None = None) -> SqlStore:
    """Return the store at ``url``: a SQLite file or a ``postgresql+psycopg://`` address.

    An empty place becomes a store. An older SQLite store is migrated after a copy was laid
    beside it, named after ``day`` (2026-01-31; None: today in UTC); an older one in PostgreSQL
    is left to ``migrate_store``, since others may be using it. Raises StoreUnreachable,
    StoreUnfit, StoreFull.
    """
    database = _database(url)
    try:
        _bring_up(database, day or _today())
    except BaseException:
        database.close()
        raise
    return SqlStore(database)


def migrate_store(url: str, *, day: str | None = None) -> None:
    """Bring an older store up to this version, in PostgreSQL too; one that is new enough is left
    as it is. ``day`` is as for ``open_store``. Raises StoreUnreachable, StoreUnfit, StoreFull."""
    database = _database(url)
    try:
        if database.address.path is not None:
            _bring_up(database, day or _today())
        else:
            _migrate(database, day or _today())
    finally:
        database.close()


def _today() -> str:
    return datetime.now(UTC).date().isoformat()


def _database(url: str) -> Database:
    address = read_address(url)
    if address.path is not None:
        _see_to_file(address.path)
    return Database(address)


def _see_to_file(path: Path) -> None:
    if path.is_dir():
        raise StoreUnreachable(f"{path}: this is a folder; a store is a file in it")
    try:
        # SQLite's own log files take the rights of this one: its owner's alone. A file that is
        # there is left to SQLite: closing it here would drop the locks that this process holds
        # on it, and another process could then delete the log that readings are still written to
        # (sqlite.org/howtocorrupt.html, 2.2).
        os.close(os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600))
    except FileExistsError:
        if not os.access(path, os.R_OK | os.W_OK):
            raise StoreUnreachable(
                f"{path}: the store cannot be opened for writing (no rights to it)"
            ) from None
    except FileNotFoundError as error:
        raise StoreUnreachable(
            f"{path}: its folder is not there; make it, or name another file"
        ) from error
    except OSError as error:
        raise StoreUnreachable(
            f"{path}: the store cannot be opened for writing ({error.strerror})"
        ) from error


def _bring_up(database: Database, day: str) -> None:
    with database.reading() as connection:
        revision = _revision(connection, database.address)
    if database.address.path is not None:
        if revision is None:
            _use_log(database)
        if revision != HEAD:
            _migrate(database, day)
    elif revision is None:
        _migrate(database, day)
    elif revision != HEAD:
        raise StoreUnfit(
            f"{database.address.shown}: the store was made by an older version of Breakwright "
            f"(revision {revision}; this version uses {HEAD}). Nothing was changed, since others "
            "may be using it: stop their servers, make a dump (pg_dump), then start once with "
            "`breakwright serve --store … --migrate`"
        )


def _migrate(database: Database, day: str) -> None:
    with database.writing() as connection:
        # Asked again, now that nobody else can write: two may open one new store at once.
        revision = _revision(connection, database.address)
        if revision == HEAD:
            return
        if revision is not None and database.address.path is not None:
            from breakwright.store.backup import copy_beside

            copy_beside(database.address, f"before-{HEAD}-{day}")
        from breakwright.store.migrating import migrate

        migrate(connection)
        from breakwright.store.write_rows import rebuild_rows

        rebuild_rows(connection)


def _revision(connection: Connection, address: Address) -> str | None:
    """Return the revision of the tables; None where there are none. Raises StoreUnfit where they
    are another program's, or newer."""
    there = set(connection.execute(text(_TABLES[connection.dialect.name])).scalars())
    if not there:
        return None
    found = (
        connection.execute(text(f"SELECT version_num FROM {VERSION_TABLE}")).scalar()
        if VERSION_TABLE in there
        else None
    )
    if found in REVISIONS:
        return str(found)
    if found is None:
        others = ", ".join(sorted(there)[:3])
        raise StoreUnfit(
            f"{address.shown}: this database holds tables of another program ({others}) and was "
            "left as it is; name a new file, or an empty database"
        )
    raise StoreUnfit(
        f"{address.shown}: the store was made by a newer version of Breakwright (revision "
        f"{found}; this version knows {HEAD}). Install the newer version to open it; nothing "
        "was changed"
    )


_TABLES = {
    "sqlite": "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite~_%'"
    " ESCAPE '~'",
    "postgresql": "SELECT table_name FROM information_schema.tables"
    " WHERE table_schema = current_schema()",
}


def _use_log(database: Database) -> None:
    """Have a new SQLite file keep a write-ahead log, so that readers never wait for a writer."""
    end = time.monotonic() + _PATIENCE_S
    while True:
        try:
            with plain_faults(database.address):
                raw = database.engine.raw_connection()
                with contextlib.closing(raw):
                    mode = raw.cursor().execute("PRAGMA journal_mode = WAL").fetchone()[0]
            break
        except StoreUnreachable:
            # SQLite does not wait here by itself when another process does the same.
            if time.monotonic() > end:
                raise
            time.sleep(0.02)
    if mode != "wal":
        raise StoreUnreachable(
            f"{database.address.shown}: a store cannot be kept on this disk (a network drive?), "
            "which has no shared memory; name a file on a disk of this computer"
        )
