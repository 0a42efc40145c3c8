"""One database: how it is connected to, read and written, whichever of the two it is."""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, text
from sqlalchemy.engine import URL

from breakwright.store.address import Address
from breakwright.store.faults import plain_faults
from breakwright.usecases.bench.ports import StoreUnreachable

__all__ = ["Database"]

# As long as a person waits before giving up.
_PATIENCE_S = 10
# Pages are served by some 40 threads; a connection costs little.
_CONNECTIONS: dict[str, Any] = {
    "pool_size": 5,
    "max_overflow": 45,
    "pool_timeout": _PATIENCE_S,
    # What people wrote about their pieces has no place in a log of errors.
    "hide_parameters": True,
}
# Any number that no other program in the same database uses for an advisory lock.
_LOCK = 0x42524B57


class Database:
    """Transactions on the database at ``address``. Safe to use from many threads.

    Writers come one at a time, in this process and among all: whoever writes sees everything
    written before, and the order in which writes end is the order in which they began.
    """

    def __init__(self, address: Address) -> None:
        self.address = address
        self.engine = _sqlite(address) if address.path else _postgres(address)
        # SQLite makes those who wait for its lock poll; threads can wait in line.
        self._turn = threading.Lock()

    @property
    def is_postgres(self) -> bool:
        return self.address.path is None

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A transaction that sees one moment. Raises StoreUnreachable, StoreUnfit."""
        with plain_faults(self.address), self.engine.connect() as connection:
            if self.is_postgres:
                connection = connection.execution_options(isolation_level="REPEATABLE READ")
            with connection.begin():
                yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction that is on the disk when the block ends, or was never there.

        Raises StoreFull, StoreUnreachable, StoreUnfit.
        """
        with plain_faults(self.address), self._turn, self.engine.connect() as connection:
            connection = connection.execution_options(breakwright_writes=True)
            with connection.begin():
                if self.is_postgres:
                    connection.execute(_POSTGRES_TURN)
                yield connection

    def close(self) -> None:
        self.engine.dispose()


# One round trip: the commit is on the disk when it returns whatever the server's setting, the
# wait has an end, and no other writer is between this and the commit. PostgreSQL gives an
# advisory lock back after the commit is there for others to see.
_POSTGRES_TURN = text(
    "SELECT set_config('synchronous_commit', 'on', true),"
    f" set_config('lock_timeout', '{_PATIENCE_S}s', true),"
    f" pg_advisory_xact_lock({_LOCK})"
)


def _sqlite(address: Address) -> Engine:
    engine = create_engine(
        URL.create("sqlite", database=str(address.path)),
        connect_args={"timeout": _PATIENCE_S},
        **_CONNECTIONS,
    )

    # SQLAlchemy's recipe for transactions that are really SQLite's own (its chapter on the
    # SQLite dialect): Python's sqlite3 begins none, the `begin` event does.
    @event.listens_for(engine, "connect")
    def _connected(connection: sqlite3.Connection, _record: Any) -> None:
        connection.isolation_level = None
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA synchronous = FULL")

    # A transaction that reads first and then writes would be refused where another wrote in
    # between; one that says so at its beginning waits for its turn.
    @event.listens_for(engine, "begin")
    def _begun(connection: Connection) -> None:
        writes = connection.get_execution_options().get("breakwright_writes")
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _postgres(address: Address) -> Engine:
    try:
        return create_engine(
            address.url,
            connect_args={"connect_timeout": _PATIENCE_S},
            isolation_level="READ COMMITTED",
            pool_pre_ping=True,
            **_CONNECTIONS,
        )
    except ImportError as error:
        raise StoreUnreachable(
            f"{address.shown}: the driver for PostgreSQL (psycopg) is not installed; "
            'pip install "breakwright[postgres]" brings it'
        ) from error
