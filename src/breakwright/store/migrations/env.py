"""What Alembic runs: the revisions, on the connection and in the transaction it is given."""

from alembic import context

from breakwright.store.schema import METADATA, VERSION_TABLE


def _run() -> None:
    context.configure(
        connection=context.config.attributes["connection"],
        target_metadata=METADATA,
        version_table=VERSION_TABLE,
    )
    with context.begin_transaction():
        context.run_migrations()


# The name Alembic loads this file under: tools that look at every module only read it.
if __name__ == "env_py":
    _run()
