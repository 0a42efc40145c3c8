"""Long work, kept where a worker process and a reloaded page find it."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"

_BIG = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
_TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")


def upgrade() -> None:
    op.create_table(
        "jobs",
        sa.Column("asked", _BIG, primary_key=True, autoincrement=False),
        sa.Column("id", _TEXT, nullable=False, unique=True),
        sa.Column("study", _TEXT, nullable=False),
        sa.Column("kind", _TEXT, nullable=False),
        sa.Column("key", _TEXT, nullable=False),
        sa.Column("given", _TEXT, nullable=False),
        sa.Column("state", _TEXT, nullable=False),
        sa.Column("made", _TEXT, nullable=False),
        sa.Column("beat", _TEXT, nullable=False),
        sa.Column("share", sa.Float(53), nullable=False),
        sa.Column("doing", _TEXT, nullable=False),
        sa.Column("early", _TEXT),
        sa.Column("result", _TEXT),
        sa.Column("trouble", _TEXT),
    )
    op.create_index("jobs_of_study", "jobs", ["study", "kind", "asked"])
    op.create_index("jobs_by_state", "jobs", ["state", "asked"])
