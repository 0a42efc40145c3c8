"""The store that a command works on: the user's own, or the one that ``--store`` names."""

import secrets
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from breakwright.usecases.bench.ports import EventStore

__all__ = ["at_store", "new_id", "now", "opened", "opened_if_there"]

Command = TypeVar("Command", bound=Callable[..., Any])

_OPTION = click.option(
    "--store",
    metavar="FILE_OR_URL",
    help="The store: a file, or postgresql+psycopg://…; your own if left out.",
)


def at_store(command: Command) -> Command:
    """Give a command the option ``--store``."""
    return _OPTION(command)


@contextmanager
def opened(store: str | None) -> "Iterator[EventStore]":
    """Open the store for a while. Raises StoreUnreachable, StoreUnfit."""
    from breakwright.bootstrap.bench import open_bench

    there = open_bench(store).store
    try:
        yield there
    finally:
        there.close()


@contextmanager
def opened_if_there(store: str | None) -> "Iterator[EventStore]":
    """As ``opened``, and make no new store where a name was mistyped. Raises ImpossibleValue."""
    from breakwright.bootstrap.bench import store_file
    from breakwright.model.errors import ImpossibleValue

    path = None if store is None else store_file(store)
    if path is not None and not path.exists():
        raise ImpossibleValue(f"{path}: there is no such store; check the name after --store")
    with opened(store) as there:
        yield there


def now() -> str:
    """Return the time as events have it: ISO 8601 in UTC, to the millisecond."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")[:-6] + "Z"


def new_id() -> str:
    """Return 32 hexadecimal digits that nobody else has."""
    return secrets.token_hex(16)
