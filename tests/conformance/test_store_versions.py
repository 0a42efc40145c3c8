"""Opening a store that is new, older, newer, someone else's, or not to be reached."""

from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from raw_store import raw, rows_of
from store_samples import NOW, Maker, a_job, a_photo

from breakwright.store.address import read_address
from breakwright.store.database import Database
from breakwright.store.migrating import alembic_config, migrate
from breakwright.store.opening import migrate_store, open_store
from breakwright.store.schema import METADATA, REVISIONS, VERSION_TABLE
from breakwright.usecases.bench.ports import StoreUnfit, StoreUnreachable


def made_at_first_revision(url: str) -> Maker:
    """Make a store as the first version did, with a study, a reading and a photo in it."""
    make = Maker(1)
    store = open_store(url)
    piece, added = make.piece("A1")
    store.append([make.made(), added, make.reading(piece)], received=NOW)
    store.put_media(a_photo())
    store.close()
    with raw(url) as connection:
        connection.execute("DROP TABLE jobs")
        connection.execute(f"UPDATE {VERSION_TABLE} SET version_num = '0001'")
    return make


def test_the_first_revision_is_what_it_says(url: str) -> None:
    # That a store stripped of its jobs is the first revision's, so that the tests below hold.
    database = Database(read_address(url))
    with database.writing() as connection:
        migrate(connection, to=REVISIONS[0])
        first = MigrationContext.configure(connection, opts={"version_table": VERSION_TABLE})
        missing = compare_metadata(first, METADATA)
    database.close()
    assert {(change[0], getattr(change[1], "name", "")) for change in missing} == {
        ("add_table", "jobs"),
        ("add_index", "jobs_of_study"),
        ("add_index", "jobs_by_state"),
    }


def test_the_tables_are_those_the_code_expects(url: str) -> None:
    open_store(url).close()
    database = Database(read_address(url))
    with database.reading() as connection:
        made = MigrationContext.configure(
            connection, opts={"version_table": VERSION_TABLE, "compare_type": True}
        )
        assert compare_metadata(made, METADATA) == []
        script = ScriptDirectory.from_config(alembic_config(connection))
        assert tuple(r.revision for r in script.walk_revisions())[::-1] == REVISIONS
    database.close()


def test_an_older_sqlite_store_is_migrated_after_a_copy(tmp_path: Path) -> None:
    path = tmp_path / "bench.sqlite"
    url = f"sqlite:///{path}"
    make = made_at_first_revision(url)
    before = rows_of(url, "events")
    store = open_store(url, day="2026-02-01")
    assert [r.event.study for r in store.feed(after=0)] == [make.study] * 3
    assert store.media(a_photo().name) == a_photo()
    assert store.ask(a_job(1)).id == a_job(1).id
    store.close()
    copy = tmp_path / "bench-before-0003-2026-02-01.sqlite"
    assert sorted(p.name for p in tmp_path.iterdir()) == [copy.name, path.name]
    assert rows_of(f"sqlite:///{copy}", "events") == before
    assert rows_of(f"sqlite:///{copy}", VERSION_TABLE) == [("0001",)]
    assert copy.stat().st_mode & 0o077 == 0

    # A second time on the same day the first copy stays.
    with raw(url) as connection:
        connection.execute("DROP TABLE jobs")
        connection.execute(f"UPDATE {VERSION_TABLE} SET version_num = '0001'")
    migrate_store(url, day="2026-02-01")
    assert (tmp_path / "bench-before-0003-2026-02-01-2.sqlite").exists()


def test_an_older_postgresql_store_is_left_until_told(postgres_url: str) -> None:
    make = made_at_first_revision(postgres_url)
    with pytest.raises(StoreUnfit, match=r"older version.*pg_dump.*--migrate"):
        open_store(postgres_url)
    assert rows_of(postgres_url, VERSION_TABLE) == [("0001",)]
    migrate_store(postgres_url)
    migrate_store(postgres_url)
    store = open_store(postgres_url)
    assert [line.id for line in store.studies()] == [make.study]
    assert store.ask(a_job(1)).id == a_job(1).id
    store.close()


def test_a_migration_that_fails_leaves_all_as_it_was(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'bench.sqlite'}"
    made_at_first_revision(url)
    with raw(url) as connection:
        # The name of an index that the second revision makes, its table being made before.
        connection.execute("CREATE INDEX jobs_by_state ON studies (title)")
    with pytest.raises(Exception, match="jobs_by_state already exists"):
        open_store(url, day="2026-02-01")
    assert rows_of(url, VERSION_TABLE) == [("0001",)]
    with raw(url) as connection:
        assert (
            connection.execute("SELECT name FROM sqlite_master WHERE name = 'jobs'").fetchall()
            == []
        )
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def test_a_newer_store_is_refused_and_untouched(url: str) -> None:
    make = Maker(1)
    store = open_store(url)
    store.append([make.made()], received=NOW)
    store.close()
    with raw(url) as connection:
        connection.execute(f"UPDATE {VERSION_TABLE} SET version_num = '0999'")
    for opening in (open_store, migrate_store):
        with pytest.raises(StoreUnfit, match=r"newer version of Breakwright.*0999.*Install"):
            opening(url)
    assert rows_of(url, VERSION_TABLE) == [("0999",)]


def test_another_programs_database_is_refused_and_untouched(url: str) -> None:
    with raw(url) as connection:
        connection.execute("CREATE TABLE cheese (name TEXT)")
        connection.execute("CREATE TABLE alembic_version (version_num TEXT)")
        connection.execute("INSERT INTO alembic_version VALUES ('0001')")
    with pytest.raises(StoreUnfit, match=r"another program .*cheese"):
        open_store(url)
    assert rows_of(url, "cheese") == []
    if url.startswith("sqlite"):
        with raw(url) as connection:
            assert connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)


def test_a_database_that_is_not_there_says_so(postgres_url: str) -> None:
    away = postgres_url.rpartition("/")[0] + "/nowhere"
    with pytest.raises(StoreUnreachable, match="nowhere") as caught:
        open_store(away)
    password = postgres_url.split(":")[2].split("@")[0]
    assert password not in str(caught.value)
    with pytest.raises(StoreUnreachable, match="cannot be reached"):
        open_store(away.replace(password, "wrong"))
    with pytest.raises(StoreUnreachable, match="cannot be reached"):
        open_store("postgresql+psycopg://breakwright@127.0.0.1:1/bench")
