"""The tables as the newest revision has them. ``migrations/`` makes them."""

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
)

__all__ = [
    "HEAD",
    "METADATA",
    "REVISIONS",
    "VERSION_TABLE",
    "events",
    "jobs",
    "media",
    "pieces",
    "studies",
]

# The revisions that this version knows, oldest first. They are listed here so that a store at
# the newest is opened without loading what migrates. A new kind of event needs a revision as
# well, even where no table changes: an older program then refuses the store, which it could
# not read.
REVISIONS = ("0001", "0002", "0003")
HEAD = REVISIONS[-1]

# A name of our own: an `alembic_version` may belong to another program.
VERSION_TABLE = "breakwright_version"

METADATA = MetaData()

# SQLite gives a primary key of exactly INTEGER its row number; PostgreSQL's holds only 2**31.
_BIG = BigInteger().with_variant(Integer(), "sqlite")
# Times are compared as text, which a language's own order of characters could upset.
_TEXT = Text().with_variant(Text(collation="C"), "postgresql")

events = Table(
    "events",
    METADATA,
    Column("seq", _BIG, primary_key=True, autoincrement=False),
    Column("id", _TEXT, nullable=False, unique=True),
    Column("study", _TEXT, nullable=False),
    Column("kind", _TEXT, nullable=False),
    Column("made", _TEXT, nullable=False),
    Column("received", _TEXT, nullable=False),
    Column("device", _TEXT, nullable=False),
    Column("person", _TEXT),
    Column("body", _TEXT, nullable=False),
    Index("events_of_study", "study", "seq"),
)

media = Table(
    "media",
    METADATA,
    Column("name", _TEXT, primary_key=True),
    Column("kind", _TEXT, nullable=False),
    Column("data", LargeBinary, nullable=False),
)

studies = Table(
    "studies",
    METADATA,
    Column("id", _TEXT, primary_key=True),
    Column("handle", _TEXT, nullable=False),
    Column("title", _TEXT, nullable=False),
    Column("made", _TEXT, nullable=False),
    Column("pieces", Integer, nullable=False),
    Column("read", Integer, nullable=False),
    Column("void", Integer, nullable=False),
    Column("clashes", Integer, nullable=False),
    Column("shelved", Boolean, nullable=False),
    Column("last", _BIG, nullable=False),
    Column("touched", _TEXT, nullable=False),
    Index("studies_by_last", "last"),
)

# `group` and `order` are words of SQL, which every query would have to put in quotes.
pieces = Table(
    "pieces",
    METADATA,
    Column("study", _TEXT, ForeignKey("studies.id"), primary_key=True),
    Column("piece", _TEXT, primary_key=True),
    Column("label", _TEXT, nullable=False),
    Column("group_name", _TEXT, nullable=False),
    Column("block", _TEXT),
    Column("turn", _BIG),
    Column("day", _BIG),
    Column("operator", _TEXT),
    Column("pair", _TEXT),
    Column("standing", _TEXT, nullable=False),
    Column("loads", _TEXT),
    Column("unit", _TEXT),
    Column("ended", _TEXT),
    Column("failure", _TEXT),
    Column("note", _TEXT),
    Column("tested", _TEXT),
    Column("person", _TEXT),
    Column("readings", Integer, nullable=False),
    Column("clash", Boolean, nullable=False),
    Column("void", _TEXT),
)

jobs = Table(
    "jobs",
    METADATA,
    Column("asked", _BIG, primary_key=True, autoincrement=False),
    Column("id", _TEXT, nullable=False, unique=True),
    Column("study", _TEXT, nullable=False),
    Column("kind", _TEXT, nullable=False),
    Column("key", _TEXT, nullable=False),
    Column("given", _TEXT, nullable=False),
    Column("state", _TEXT, nullable=False),
    Column("made", _TEXT, nullable=False),
    Column("beat", _TEXT, nullable=False),
    Column("share", Float(53), nullable=False),
    Column("doing", _TEXT, nullable=False),
    Column("early", _TEXT),
    Column("result", _TEXT),
    Column("trouble", _TEXT),
    Index("jobs_of_study", "study", "kind", "asked"),
    Index("jobs_by_state", "state", "asked"),
)
