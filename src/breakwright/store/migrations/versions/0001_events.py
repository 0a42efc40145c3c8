"""Events and media, which are never changed, and the two tables derived from them."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

_BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
_TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")


def upgrade() -> None:
    op.create_table(
        "events",
        sa.Column("seq", _BIG, primary_key=True, autoincrement=False),
        sa.Column("id", _TEXT, nullable=False, unique=True),
        sa.Column("study", _TEXT, nullable=False),
        sa.Column("kind", _TEXT, nullable=False),
        sa.Column("made", _TEXT, nullable=False),
        sa.Column("received", _TEXT, nullable=False),
        sa.Column("device", _TEXT, nullable=False),
        sa.Column("person", _TEXT),
        sa.Column("body", _TEXT, nullable=False),
    )
    op.create_index("events_of_study", "events", ["study", "seq"])
    op.create_table(
        "media",
        sa.Column("name", _TEXT, primary_key=True),
        sa.Column("kind", _TEXT, nullable=False),
        sa.Column("data", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "studies",
        sa.Column("id", _TEXT, primary_key=True),
        sa.Column("handle", _TEXT, nullable=False),
        sa.Column("title", _TEXT, nullable=False),
        sa.Column("made", _TEXT, nullable=False),
        sa.Column("pieces", sa.Integer, nullable=False),
        sa.Column("read", sa.Integer, nullable=False),
        sa.Column("void", sa.Integer, nullable=False),
        sa.Column("clashes", sa.Integer, nullable=False),
        sa.Column("shelved", sa.Boolean, nullable=False),
        sa.Column("last", _BIG, nullable=False),
        sa.Column("touched", _TEXT, nullable=False),
    )
    op.create_index("studies_by_last", "studies", ["last"])
    op.create_table(
        "pieces",
        sa.Column("study", _TEXT, sa.ForeignKey("studies.id"), primary_key=True),
        sa.Column("piece", _TEXT, primary_key=True),
        sa.Column("label", _TEXT, nullable=False),
        sa.Column("group_name", _TEXT, nullable=False),
        sa.Column("block", _TEXT),
        sa.Column("turn", _BIG),
        sa.Column("day", _BIG),
        sa.Column("operator", _TEXT),
        sa.Column("pair", _TEXT),
        sa.Column("standing", _TEXT, nullable=False),
        sa.Column("loads", _TEXT),
        sa.Column("unit", _TEXT),
        sa.Column("ended", _TEXT),
        sa.Column("failure", _TEXT),
        sa.Column("note", _TEXT),
        sa.Column("tested", _TEXT),
        sa.Column("person", _TEXT),
        sa.Column("readings", sa.Integer, nullable=False),
        sa.Column("clash", sa.Boolean, nullable=False),
        sa.Column("void", _TEXT),
    )
    if op.get_context().dialect.name == "postgresql":
        _guard_postgres()
    else:
        _guard_sqlite()


def _guard_sqlite() -> None:
    for table, keys in (("events", ("seq", "id")), ("media", ("name",))):
        words = f"{table} are never changed or deleted: what was wrong is put right by a new event"
        for change in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_no_{change.lower()} BEFORE {change} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{words}'); END"
            )
        # INSERT OR REPLACE deletes without asking the trigger for DELETE.
        same = " OR ".join(f"{key} = NEW.{key}" for key in keys)
        op.execute(
            f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
            f"WHEN EXISTS (SELECT 1 FROM {table} WHERE {same}) "
            f"BEGIN SELECT RAISE(ABORT, '{words}'); END"
        )


def _guard_postgres() -> None:
    op.execute(
        "CREATE FUNCTION breakwright_refuse() RETURNS trigger LANGUAGE plpgsql AS $$ "
        "BEGIN RAISE EXCEPTION '% are never changed or deleted: what was wrong is put right by "
        "a new event', TG_TABLE_NAME; END $$"
    )
    for table in ("events", "media"):
        op.execute(
            f"CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION breakwright_refuse()"
        )
        # Also where a session calls itself a replica, in which other triggers sleep.
        op.execute(f"ALTER TABLE {table} ENABLE ALWAYS TRIGGER {table}_no_change")
