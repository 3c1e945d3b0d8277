"""Form 0004: who wrote each row and when, users, and piece files that several work on.

The statements are written out and never change again; ``tables.py`` says what
holds now.  A book on a server begins with this form: its tables are empty here.
"""

import sqlalchemy as sa
from alembic import op

from pourcast.book.guards import guard_statements, is_server, unguard_statements
from pourcast.book.server import sort_by_bytes

revision = "0004"
down_revision = "0003"

KEPT = ("picture_contents", "sheet_asides", "sheet_texts")
"""Tables that refuse changes and deletions from this form on."""

CREATED = (
    "calibrations",
    "costs",
    "events",
    "lots",
    "movements",
    "notes",
    "outcomes",
    "photographs",
    "pieces",
    "plans",
    "pours",
    "tests",
)
"""Tables whose rows say when they were entered."""

PARTS = (
    ("plan_parts", "plan_id", "plans"),
    ("outcome_parts", "outcome_id", "outcomes"),
    ("outcome_signs", "outcome_id", "outcomes"),
)
"""Tables whose rows were entered with a row of another."""

UNTOLD = ("flasks", "program", "readings", "settings")
"""Tables whose old rows do not say when they were entered."""


def _texts(*names: str) -> list[sa.Column[str]]:
    return [sa.Column(name, sa.Text(), nullable=False) for name in names]


def _stamps() -> list[sa.Column[str]]:
    return [
        sa.Column("who", sa.Text(), nullable=False, server_default="unknown"),
        sa.Column("noted", sa.Text(), nullable=True),
    ]


def upgrade() -> None:
    """Add the two columns to every table, and the new tables."""
    for table in (*CREATED, *(part for part, _, _ in PARTS), *UNTOLD):
        for column in _stamps():
            op.add_column(table, column)
    if not is_server():
        _date_old_rows()
    op.create_table(
        "users",
        *_texts("name", "role", "created"),
        *_stamps(),
        sa.PrimaryKeyConstraint("name", name="pk_users"),
    )
    op.create_table(
        "sheets",
        *_texts("id"),
        sa.Column("piece_id", sa.Text(), nullable=True),
        *_texts("created"),
        *_stamps(),
        sa.ForeignKeyConstraint(["piece_id"], ["pieces.id"], name="fk_sheets_piece_id"),
        sa.PrimaryKeyConstraint("id", name="pk_sheets"),
    )
    op.create_table(
        "sheet_texts",
        *_texts("sheet_id"),
        sa.Column("revision", sa.BigInteger(), nullable=False),
        *_texts("text", "created"),
        *_stamps(),
        sa.ForeignKeyConstraint(["sheet_id"], ["sheets.id"], name="fk_sheet_texts_sheet_id"),
        sa.PrimaryKeyConstraint("sheet_id", "revision", name="pk_sheet_texts"),
    )
    op.create_table(
        "sheet_asides",
        *_texts("id", "sheet_id"),
        sa.Column("base", sa.BigInteger(), nullable=False),
        *_texts("text", "created"),
        *_stamps(),
        sa.ForeignKeyConstraint(["sheet_id"], ["sheets.id"], name="fk_sheet_asides_sheet_id"),
        sa.PrimaryKeyConstraint("id", name="pk_sheet_asides"),
    )
    op.create_index("ix_sheet_asides_sheet_id_created", "sheet_asides", ["sheet_id", "created"])
    op.create_table(
        "picture_contents",
        *_texts("sha256"),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        *_stamps(),
        sa.PrimaryKeyConstraint("sha256", name="pk_picture_contents"),
    )
    for table in KEPT:
        for statement in guard_statements(table):
            op.execute(statement)
    if is_server():
        sort_by_bytes(op.get_bind())


def _date_old_rows() -> None:
    """Take the moment of each old row from what it says, or from the row it came with."""
    for table in (*CREATED, *(part for part, _, _ in PARTS)):
        for statement in unguard_statements(table):
            op.execute(statement)
    for table in CREATED:
        op.execute(f"UPDATE {table} SET noted = created")
    for part, key, head in PARTS:
        op.execute(
            f"UPDATE {part} SET noted ="
            f" (SELECT {head}.created FROM {head} WHERE {head}.id = {part}.{key})"
        )
    for table in (*CREATED, *(part for part, _, _ in PARTS)):
        for statement in guard_statements(table):
            op.execute(statement)
