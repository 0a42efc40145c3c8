"""The database itself refuses to change or delete what happened, whoever asks."""

import pytest
from raw_store import RawRefusal, raw, rows_of
from store_samples import NOW, Maker, a_photo

from breakwright.store.opening import open_store

SAME_EVENT = (
    "INTO events SELECT seq, id, study, kind, made, received, 'forged', person, body FROM events"
)
CHANGES = [
    "UPDATE events SET body = '{}'",
    "UPDATE events SET seq = seq + 10 WHERE seq = 1",
    "DELETE FROM events",
    "DELETE FROM events WHERE seq = 2",
    "UPDATE media SET data = 'x'",
    "DELETE FROM media",
]
OF_SQLITE = [
    f"INSERT OR REPLACE {SAME_EVENT}",
    "REPLACE INTO events SELECT seq + 10, id, study, kind, made, received, 'forged', person, body"
    " FROM events",
    f"INSERT {SAME_EVENT} WHERE true ON CONFLICT (seq) DO UPDATE SET device = excluded.device",
    "REPLACE INTO media SELECT name, kind, 'x' FROM media",
]
OF_POSTGRES = [
    "TRUNCATE events",
    "TRUNCATE media",
    "TRUNCATE events, media CASCADE",
    "SET session_replication_role = replica; DELETE FROM events",
    f"INSERT {SAME_EVENT} ON CONFLICT (seq) DO UPDATE SET device = excluded.device",
    "MERGE INTO events e USING events o ON e.seq = o.seq WHEN MATCHED THEN DELETE",
]


def filled(url: str) -> None:
    make = Maker(1)
    store = open_store(url)
    store.append([make.made(), make.piece("A1")[1]], received=NOW)
    store.put_media(a_photo())
    store.close()


def refuses(url: str, change: str) -> None:
    before = rows_of(url, "events"), rows_of(url, "media")
    assert len(before[0]) == 2
    with raw(url) as connection, pytest.raises(RawRefusal, match="never changed or deleted"):
        connection.execute(change)
    assert (rows_of(url, "events"), rows_of(url, "media")) == before


def test_update_and_delete_are_refused(url: str) -> None:
    filled(url)
    for change in CHANGES:
        refuses(url, change)


def test_sqlites_other_ways_to_replace_are_refused(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    url = f"sqlite:///{tmp_path_factory.mktemp('raw') / 'bench.sqlite'}"
    filled(url)
    for change in OF_SQLITE:
        refuses(url, change)


def test_postgresqls_other_ways_are_refused(postgres_url: str) -> None:
    filled(postgres_url)
    for change in OF_POSTGRES:
        refuses(postgres_url, change)


def test_an_insert_by_hand_is_not_in_the_way(url: str) -> None:
    filled(url)
    other = Maker(2)
    with raw(url) as connection:
        connection.execute(
            "INSERT INTO events (seq, id, study, kind, made, received, device, body) VALUES "
            f"(3, '{other.new_id()}', '{other.study}', 'study-made', '{NOW}', '{NOW}', '', "
            """'{"toml":"title = ''By hand''","handle":"by-hand"}')"""
        )
    store = open_store(url)
    store.rebuild()
    assert [line.title for line in store.studies()] == ["By hand", "Does a wedge help?"]
    store.close()
