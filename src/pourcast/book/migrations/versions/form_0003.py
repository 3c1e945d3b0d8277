"""Form 0003: what was done on the day of a pour.

The statements are written out and never change again; ``tables.py`` says what
holds now.
"""

import sqlalchemy as sa
from alembic import op

from pourcast.book.guards import guard_statements

revision = "0003"
down_revision = "0002"

KEPT = ("events",)
"""Tables that refuse changes and deletions from this form on."""


def upgrade() -> None:
    """Add the table; no row of form 0002 changes."""
    op.create_table(
        "events",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("pour_id", sa.Text(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("act", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("setting", sa.Double(), nullable=True),
        sa.Column("reading", sa.Text(), nullable=True),
        sa.Column("takes_back", sa.Text(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("created", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["pour_id"], ["pours.id"], name="fk_events_pour_id"),
        sa.PrimaryKeyConstraint("id", name="pk_events"),
        sa.UniqueConstraint("pour_id", "key", name="uq_events_pour_id_key"),
    )
    for table in KEPT:
        for statement in guard_statements(table):
            op.execute(statement)
