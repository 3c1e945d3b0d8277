"""Form 0002: tests that were cast, and what outcomes and tests have taught.

The statements are written out and never change again; ``tables.py`` says what
holds now.
"""

import sqlalchemy as sa
from alembic import op

from pourcast.book.guards import guard_statements

revision = "0002"
down_revision = "0001"

KEPT = ("calibrations", "tests")
"""Tables that refuse changes and deletions from this form on."""


def _texts(*names: str) -> list[sa.Column[str]]:
    return [sa.Column(name, sa.Text(), nullable=False) for name in names]


def upgrade() -> None:
    """Add the two tables; no row of form 0001 changes."""
    op.create_table(
        "tests",
        *_texts("id", "kind", "day", "created", "inputs", "result", "note"),
        sa.PrimaryKeyConstraint("id", name="pk_tests"),
    )
    op.create_index("ix_tests_created_id", "tests", ["created", "id"])
    op.create_table(
        "calibrations",
        *_texts("id", "created", "act", "name", "version", "document"),
        sa.PrimaryKeyConstraint("id", name="pk_calibrations"),
    )
    op.create_index("ix_calibrations_created_id", "calibrations", ["created", "id"])
    for table in KEPT:
        for statement in guard_statements(table):
            op.execute(statement)
