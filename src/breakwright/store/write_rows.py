"""The tables ``studies`` and ``pieces``, written with the events they come from."""

import functools
from typing import Any

from sqlalchemy import Connection, Table, delete, select
from sqlalchemy.dialects import postgresql, sqlite

from breakwright.store.derived import Change, StudyRows
from breakwright.store.rows import recorded_of
from breakwright.store.schema import events, pieces, studies

__all__ = ["rebuild_rows", "write_change"]

_AT_ONCE = 500


def write_change(connection: Connection, study: str, change: Change) -> None:
    """Bring the rows of ``study`` (id) up to date."""
    if change.line is None:
        connection.execute(delete(pieces).where(pieces.c.study == study))
        connection.execute(delete(studies).where(studies.c.id == study))
        return
    _put(connection, studies, [change.line])
    for start in range(0, len(change.gone), _AT_ONCE):
        gone = change.gone[start : start + _AT_ONCE]
        connection.execute(delete(pieces).where(pieces.c.study == study, pieces.c.piece.in_(gone)))
    if change.rows:
        _put(connection, pieces, list(change.rows))


def rebuild_rows(connection: Connection) -> None:
    """Make all rows anew from the events."""
    connection.execute(delete(pieces))
    connection.execute(delete(studies))
    for study in connection.execute(select(events.c.study).distinct()).scalars().all():
        rows = connection.execute(
            select(events).where(events.c.study == study).order_by(events.c.seq)
        )
        write_change(connection, study, StudyRows().take(map(recorded_of, rows)))


def _put(connection: Connection, table: Table, rows: list[dict[str, Any]]) -> None:
    """Insert ``rows``, or replace those with the same key."""
    connection.execute(_upsert(connection.dialect.name, table), rows)


@functools.cache
def _upsert(dialect: str, table: Table) -> Any:
    put = (postgresql if dialect == "postgresql" else sqlite).insert(table)
    keys = [column.name for column in table.primary_key]
    others = {c.name: put.excluded[c.name] for c in table.c if c.name not in keys}
    return put.on_conflict_do_update(index_elements=keys, set_=others)
