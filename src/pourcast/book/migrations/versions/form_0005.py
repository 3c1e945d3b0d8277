"""Form 0005: the day of a pour, where it is another than the book would take.

The statements are written out and never change again; ``tables.py`` says what
holds now.
"""

import sqlalchemy as sa
from alembic import op

from pourcast.book.guards import guard_statements, is_server
from pourcast.book.server import sort_by_bytes

revision = "0005"
down_revision = "0004"

KEPT = ("pour_days",)
"""Tables that refuse changes and deletions from this form on."""


def upgrade() -> None:
    """Add the table; no row of form 0004 changes."""
    op.create_table(
        "pour_days",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("pour_id", sa.Text(), nullable=False),
        sa.Column("revision", sa.BigInteger(), nullable=False),
        sa.Column("day", sa.Text(), nullable=False),
        sa.Column("created", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False, server_default="unknown"),
        sa.Column("noted", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["pour_id"], ["pours.id"], name="fk_pour_days_pour_id"),
        sa.PrimaryKeyConstraint("id", name="pk_pour_days"),
        sa.UniqueConstraint("pour_id", "revision", name="uq_pour_days_pour_id_revision"),
    )
    for table in KEPT:
        for statement in guard_statements(table):
            op.execute(statement)
    if is_server():
        sort_by_bytes(op.get_bind())
