"""Bringing the tables of a store to a revision, by Alembic. Slow to import: only when needed."""

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection

from breakwright.store.schema import HEAD

__all__ = ["alembic_config", "migrate"]


def alembic_config(connection: Connection) -> Config:
    """Return what Alembic needs to know to work on ``connection``."""
    config = Config()
    folder = str(Path(__file__).parent / "migrations")
    # A config file's own sign for "insert here".
    config.set_main_option("script_location", folder.replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    return config


def migrate(connection: Connection, *, to: str = HEAD) -> None:
    """Bring the store up to the revision ``to``, in the transaction that ``connection`` is in."""
    command.upgrade(alembic_config(connection), to)
