"""Films that were read, corrected, accepted: new kinds of event in the tables that are there.

Nothing changes in the tables; an older program, which could not read such events, refuses the
store.
"""

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    return None
