"""Form 0001: the first book.

The statements are written out and never change again; ``tables.py`` says what
holds now.
"""

import sqlalchemy as sa
from alembic import op

from pourcast.book.guards import guard_statements

revision = "0001"
down_revision = None

KEPT = (
    "costs",
    "lots",
    "movements",
    "notes",
    "outcome_parts",
    "outcome_signs",
    "outcomes",
    "photographs",
    "pieces",
    "plan_parts",
    "plans",
    "pours",
    "readings",
)
"""Tables that refuse changes and deletions from this form on."""


def _texts(*names: str) -> list[sa.Column[str]]:
    return [sa.Column(name, sa.Text(), nullable=False) for name in names]


def _wholes(*names: str) -> list[sa.Column[int]]:
    return [sa.Column(name, sa.BigInteger(), nullable=False) for name in names]


def _numbers(*names: str) -> list[sa.Column[float]]:
    return [sa.Column(name, sa.Double(), nullable=False) for name in names]


def upgrade() -> None:
    """Make all tables of an empty book."""
    op.create_table(
        "flasks",
        *_texts("id", "name"),
        *_numbers("inside_diameter_mm", "height_mm"),
        *_texts("wall"),
        *_wholes("count"),
        sa.PrimaryKeyConstraint("id", name="pk_flasks"),
    )
    op.create_table(
        "lots",
        *_texts("id", "kind", "material", "name", "composition"),
        *_wholes("remelts"),
        *_texts("bought"),
        *_wholes("bought_mg"),
        *_texts("price", "created"),
        sa.PrimaryKeyConstraint("id", name="pk_lots"),
    )
    op.create_table(
        "pieces",
        *_texts("id", "name", "created"),
        sa.PrimaryKeyConstraint("id", name="pk_pieces"),
    )
    op.create_index("ix_pieces_name", "pieces", ["name"])
    op.create_table(
        "program",
        *_texts("key", "value"),
        sa.PrimaryKeyConstraint("key", name="pk_program"),
    )
    op.create_table(
        "settings",
        *_texts("key", "value"),
        sa.PrimaryKeyConstraint("key", name="pk_settings"),
    )
    op.create_table(
        "plans",
        *_texts("id", "piece_id", "created", "file_name"),
        *_numbers("chance_whole"),
        *_wholes("draws", "seed"),
        *_texts("version", "inputs_sha256", "kernels_sha256"),
        sa.Column("calibration", sa.Text(), nullable=True),
        *_texts("alloy", "powder"),
        *_wholes("metal_mg", "powder_mg"),
        *_texts("sheet", "document"),
        sa.ForeignKeyConstraint(["piece_id"], ["pieces.id"], name="fk_plans_piece_id"),
        sa.PrimaryKeyConstraint("id", name="pk_plans"),
    )
    op.create_index("ix_plans_piece_id_created_id", "plans", ["piece_id", "created", "id"])
    op.create_table(
        "plan_parts",
        *_texts("plan_id"),
        *_wholes("number"),
        *_texts("name"),
        *_wholes("count"),
        *_numbers("chance_full"),
        sa.ForeignKeyConstraint(["plan_id"], ["plans.id"], name="fk_plan_parts_plan_id"),
        sa.PrimaryKeyConstraint("plan_id", "number", name="pk_plan_parts"),
        sa.UniqueConstraint("plan_id", "name", name="uq_plan_parts_plan_id_name"),
    )
    op.create_table(
        "pours",
        *_texts("id", "plan_id", "day", "created"),
        sa.ForeignKeyConstraint(["plan_id"], ["plans.id"], name="fk_pours_plan_id"),
        sa.PrimaryKeyConstraint("id", name="pk_pours"),
    )
    op.create_index("ix_pours_plan_id_day", "pours", ["plan_id", "day"])
    op.create_table(
        "costs",
        *_texts("id", "pour_id", "kind"),
        sa.Column("amount", sa.Text(), nullable=True),
        sa.Column("minutes", sa.BigInteger(), nullable=True),
        sa.Column("rate_per_hour", sa.Text(), nullable=True),
        *_texts("note", "created"),
        sa.CheckConstraint(
            "(kind = 'hours' AND amount IS NULL"
            " AND minutes IS NOT NULL AND rate_per_hour IS NOT NULL)"
            " OR (kind <> 'hours' AND amount IS NOT NULL"
            " AND minutes IS NULL AND rate_per_hour IS NULL)",
            name="ck_costs_either",
        ),
        sa.ForeignKeyConstraint(["pour_id"], ["pours.id"], name="fk_costs_pour_id"),
        sa.PrimaryKeyConstraint("id", name="pk_costs"),
    )
    op.create_index("ix_costs_pour_id", "costs", ["pour_id"])
    op.create_table(
        "movements",
        *_texts("id", "lot_id"),
        sa.Column("pour_id", sa.Text(), nullable=True),
        *_texts("move"),
        *_wholes("change_mg"),
        *_texts("reason", "created"),
        sa.CheckConstraint(
            "(move IN ('taken', 'lost') AND change_mg < 0)"
            " OR (move IN ('bought', 'returned', 'found') AND change_mg > 0)",
            name="ck_movements_direction",
        ),
        sa.ForeignKeyConstraint(["lot_id"], ["lots.id"], name="fk_movements_lot_id"),
        sa.ForeignKeyConstraint(["pour_id"], ["pours.id"], name="fk_movements_pour_id"),
        sa.PrimaryKeyConstraint("id", name="pk_movements"),
    )
    op.create_index("ix_movements_lot_id_created_id", "movements", ["lot_id", "created", "id"])
    op.create_index("ix_movements_pour_id", "movements", ["pour_id"])
    op.create_table(
        "notes",
        *_texts("id", "piece_id"),
        sa.Column("pour_id", sa.Text(), nullable=True),
        *_texts("created", "text"),
        sa.ForeignKeyConstraint(["piece_id"], ["pieces.id"], name="fk_notes_piece_id"),
        sa.ForeignKeyConstraint(["pour_id"], ["pours.id"], name="fk_notes_pour_id"),
        sa.PrimaryKeyConstraint("id", name="pk_notes"),
    )
    op.create_index("ix_notes_piece_id_created", "notes", ["piece_id", "created"])
    op.create_table(
        "outcomes",
        *_texts("id", "pour_id"),
        *_wholes("revision"),
        *_texts("seen", "created", "sure"),
        sa.Column("button", sa.Text(), nullable=True),
        *_texts("note"),
        sa.ForeignKeyConstraint(["pour_id"], ["pours.id"], name="fk_outcomes_pour_id"),
        sa.PrimaryKeyConstraint("id", name="pk_outcomes"),
        sa.UniqueConstraint("pour_id", "revision", name="uq_outcomes_pour_id_revision"),
    )
    op.create_table(
        "photographs",
        *_texts("id", "piece_id"),
        sa.Column("pour_id", sa.Text(), nullable=True),
        *_texts("created", "sha256", "kind"),
        *_wholes("size_bytes"),
        *_texts("original_name"),
        sa.ForeignKeyConstraint(["piece_id"], ["pieces.id"], name="fk_photographs_piece_id"),
        sa.ForeignKeyConstraint(["pour_id"], ["pours.id"], name="fk_photographs_pour_id"),
        sa.PrimaryKeyConstraint("id", name="pk_photographs"),
    )
    op.create_index("ix_photographs_piece_id_created", "photographs", ["piece_id", "created"])
    op.create_table(
        "readings",
        *_texts("pour_id", "kind", "taken"),
        *_wholes("entry"),
        *_numbers("value"),
        sa.ForeignKeyConstraint(["pour_id"], ["pours.id"], name="fk_readings_pour_id"),
        sa.PrimaryKeyConstraint("pour_id", "kind", "taken", "entry", name="pk_readings"),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "outcome_parts",
        *_texts("outcome_id", "part", "state"),
        sa.Column("members_short", sa.BigInteger(), nullable=True),
        sa.Column("filled_share", sa.Double(), nullable=True),
        sa.Column("short_by_mm", sa.Double(), nullable=True),
        *_texts("note"),
        sa.ForeignKeyConstraint(
            ["outcome_id"], ["outcomes.id"], name="fk_outcome_parts_outcome_id"
        ),
        sa.PrimaryKeyConstraint("outcome_id", "part", name="pk_outcome_parts"),
    )
    op.create_table(
        "outcome_signs",
        *_texts("outcome_id", "part", "sign", "amount"),
        sa.ForeignKeyConstraint(
            ["outcome_id"], ["outcomes.id"], name="fk_outcome_signs_outcome_id"
        ),
        sa.PrimaryKeyConstraint("outcome_id", "part", "sign", name="pk_outcome_signs"),
    )
    for table in KEPT:
        for statement in guard_statements(table):
            op.execute(statement)
