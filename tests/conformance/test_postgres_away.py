"""A PostgreSQL that cuts the line, or in which somebody else holds the lock."""

import pytest
from raw_store import raw
from sqlalchemy import text
from store_samples import NOW, Maker

from breakwright.store import database
from breakwright.store.opening import open_store
from breakwright.usecases.bench.ports import StoreUnreachable


def test_a_line_that_was_cut_is_made_anew(postgres_url: str) -> None:
    make = Maker(1)
    store = open_store(postgres_url)
    store.append([make.made()], received=NOW)
    with raw(postgres_url) as connection:
        connection.execute(
            "SELECT pg_terminate_backend(pid, 10000) FROM pg_stat_activity"
            " WHERE datname = current_database() AND pid <> pg_backend_pid()"
        )
    assert store.append([make.piece("A1")[1]], received=NOW).new == (2,)
    assert store.last() == 2
    store.close()


def test_a_lock_that_somebody_keeps(postgres_url: str, monkeypatch: pytest.MonkeyPatch) -> None:
    # A person waits ten seconds; a test need not.
    impatient = text(str(database._POSTGRES_TURN).replace("'10s'", "'100ms'"))
    monkeypatch.setattr(database, "_POSTGRES_TURN", impatient)
    first = Maker(1).made()
    store = open_store(postgres_url)
    with raw(postgres_url) as other:
        other.execute(f"SELECT pg_advisory_lock({database._LOCK})")
        with pytest.raises(StoreUnreachable, match="another program has held the store locked"):
            store.append([first], received=NOW)
        assert store.last() == 0
        other.execute(f"SELECT pg_advisory_unlock({database._LOCK})")
    assert store.append([first], received=NOW).new == (1,)
    store.close()
