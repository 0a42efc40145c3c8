"""Events, media and jobs in SQLite or PostgreSQL. See ``EventStore`` and ``JobStore``."""

import threading
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Select, func, insert, select

from breakwright.model.event import Event, Recorded
from breakwright.store.database import Database
from breakwright.store.derived import StudyRows
from breakwright.store.jobs import SqlJobs
from breakwright.store.rows import recorded_of, row_of
from breakwright.store.schema import events as events_table
from breakwright.store.schema import media as media_table
from breakwright.store.schema import studies as studies_table
from breakwright.store.write_rows import rebuild_rows, write_change
from breakwright.usecases.bench.ports import IdTaken, Media, Receipt, StudyLine

__all__ = ["SqlStore"]

# A statement takes so many values; SQLite's own limit is 32,766.
_AT_ONCE = 500
# What the events of this many studies come to is kept at hand, to write only what changes.
_AT_HAND = 16


class SqlStore(SqlJobs):
    """Made by ``open_store``. Safe to use from many threads and beside other processes."""

    def __init__(self, database: Database) -> None:
        super().__init__(database)
        self._at_hand: dict[str, StudyRows] = {}
        self._appending = threading.Lock()

    def append(self, events: Sequence[Event], *, received: str) -> Receipt:
        with self._appending:
            written: dict[str, StudyRows] = {}
            with self._database.writing() as connection:
                fresh = _fresh(connection, events)
                first = _last(connection) + 1 if fresh else 0
                recorded = [Recorded(seq, received, e) for seq, e in enumerate(fresh, first)]
                if recorded:
                    connection.execute(insert(events_table), [row_of(r) for r in recorded])
                for study in dict.fromkeys(event.study for event in fresh):
                    # Out of hand while in doubt: should this fail, they are made anew.
                    rows = self._at_hand.pop(study, None) or StudyRows()
                    # What came before is in the tables: whoever wrote it saw to that.
                    before = connection.execute(_of_study(study, rows.last, up_to=first))
                    rows.take(map(recorded_of, before))
                    now = [r for r in recorded if r.event.study == study]
                    write_change(connection, study, rows.take(now))
                    written[study] = rows
            self._at_hand.update(written)
            while len(self._at_hand) > _AT_HAND:
                del self._at_hand[next(iter(self._at_hand))]
        return Receipt(tuple(r.seq for r in recorded), len(events) - len(fresh))

    def events(self, study: str, *, after: int = 0) -> tuple[Recorded, ...]:
        with self._database.reading() as connection:
            return tuple(map(recorded_of, connection.execute(_of_study(study, after)).all()))

    def feed(self, *, after: int, limit: int = 500) -> tuple[Recorded, ...]:
        seq = events_table.c.seq
        asked = select(events_table).where(seq > after).order_by(seq).limit(limit)
        with self._database.reading() as connection:
            return tuple(map(recorded_of, connection.execute(asked).all()))

    def last(self) -> int:
        with self._database.reading() as connection:
            return _last(connection)

    def studies(self) -> tuple[StudyLine, ...]:
        asked = select(studies_table).order_by(studies_table.c.last.desc())
        with self._database.reading() as connection:
            return tuple(StudyLine(**row._mapping) for row in connection.execute(asked))

    def rebuild(self) -> None:
        with self._appending, self._database.writing() as connection:
            rebuild_rows(connection)

    def put_media(self, media: Media) -> None:
        same = select(media_table.c.name).where(media_table.c.name == media.name)
        with self._database.writing() as connection:
            # Not "insert or leave": the database's own guard refuses to be asked twice.
            if connection.execute(same).first() is None:
                row = {"name": media.name, "kind": media.kind, "data": media.data}
                connection.execute(insert(media_table).values(**row))

    def media(self, name: str) -> Media | None:
        with self._database.reading() as connection:
            row = connection.execute(select(media_table).where(media_table.c.name == name)).first()
        return None if row is None else Media(row.name, row.kind, bytes(row.data))

    def backup(self, path: Path) -> None:
        from breakwright.store.backup import back_up

        back_up(self._database, path)

    def close(self) -> None:
        self._database.close()


def _fresh(connection: Connection, events: Sequence[Event]) -> list[Event]:
    """Return those of ``events`` that are not there yet. Raises IdTaken where one has the id of
    another that says something else."""
    ids = list(dict.fromkeys(event.id for event in events))
    there: dict[str, Event] = {}
    for start in range(0, len(ids), _AT_ONCE):
        asked = events_table.c.id.in_(ids[start : start + _AT_ONCE])
        for row in connection.execute(select(events_table).where(asked)):
            there[row.id] = recorded_of(row).event
    fresh: dict[str, Event] = {}
    for event in events:
        same = there.get(event.id) or fresh.setdefault(event.id, event)
        if same != event:
            raise IdTaken(f"another event has the id {event.id}")
    return list(fresh.values())


def _last(connection: Connection) -> int:
    last: int = connection.execute(
        select(func.coalesce(func.max(events_table.c.seq), 0))
    ).scalar_one()
    return last


def _of_study(study: str, after: int, *, up_to: int | None = None) -> Select[Any]:
    columns = events_table.c
    asked = select(events_table).where(columns.study == study, columns.seq > after)
    if up_to is not None:
        asked = asked.where(columns.seq < up_to)
    return asked.order_by(columns.seq)
