"""The database as any other program reaches it, past all our code."""

import contextlib
import sqlite3
from collections.abc import Iterator
from typing import Any

import psycopg

__all__ = ["RawRefusal", "raw", "rows_of"]

RawRefusal = (sqlite3.DatabaseError, psycopg.Error)


@contextlib.contextmanager
def raw(url: str) -> Iterator[Any]:
    """Give a connection whose every statement is committed by itself."""
    if url.startswith("sqlite"):
        with contextlib.closing(
            sqlite3.connect(url.removeprefix("sqlite:///"), isolation_level=None, timeout=10)
        ) as connection:
            yield connection
    else:
        with psycopg.connect(url.replace("+psycopg", ""), autocommit=True) as connection:
            yield connection


def rows_of(url: str, table: str) -> list[tuple[Any, ...]]:
    """Return all rows of ``table``, in order."""
    with raw(url) as connection:
        return sorted(connection.execute(f"SELECT * FROM {table}").fetchall(), key=repr)
