"""Tables of the book, and which of them are kept for good.

Names carry the unit: ``mass_mg``, ``short_by_mm``.  A moment is universal time, a
day is that of the caster's calendar.  Every id is a random text, so that two
books can be put together and no id changes.

The statements that make these tables stand in ``migrations``; a test compares
the two.  Nothing here is of one database only, but for an option that others
pass over.

Every row says who wrote it and when.  The store fills both in, and moves them on where
a row may be changed.
"""

from collections.abc import Iterable
from datetime import UTC, datetime

import sqlalchemy as sa

from pourcast.book import kinds, who
from pourcast.book.words import (
    BUTTONS,
    COST_KINDS,
    DAY_ACTS,
    LEARN_ACTS,
    LOT_KINDS,
    MOVES,
    PICTURE_KINDS,
    READINGS,
    ROLES,
    SIGN_AMOUNTS,
    SIGNS,
    STATES,
    SURE,
    TEST_KINDS,
    WALLS,
)

FORM = "0005"
"""The form of the book that this program writes; the newest of ``migrations``."""

READ_TOO = {"0004": frozenset({"pour_days"})}
"""Forms whose exports are read as well, and the tables that they do not have yet."""

metadata = sa.MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)


def _id() -> sa.Column[str]:
    return sa.Column("id", kinds.Words("id", 40), primary_key=True)


def _of(table: str, *, needed: bool = True) -> sa.Column[str]:
    name = f"{table[:-1]}_id"
    return sa.Column(name, kinds.Words(name, 40), sa.ForeignKey(f"{table}.id"), nullable=not needed)


def _created() -> sa.Column[object]:
    return sa.Column("created", kinds.Moment("created"), nullable=False)


def _words(name: str, longest: int = kinds.NAME_LENGTH, *, needed: bool = True) -> sa.Column[str]:
    return sa.Column(name, kinds.Words(name, longest), nullable=not needed)


def _choice(
    name: str, words: Iterable[str], *, needed: bool = True, key: bool = False
) -> sa.Column[str]:
    kind = kinds.Choice(name, tuple(words))
    return sa.Column(name, kind, nullable=not needed, primary_key=key)


def _now() -> datetime:
    return datetime.now(UTC)


def _stamps() -> tuple[sa.Column[str], sa.Column[datetime]]:
    """Return who wrote a row and when; None: it was written before that was noted."""
    return (
        sa.Column(
            "who",
            kinds.Words("who", who.LONGEST),
            nullable=False,
            default=who.named,
            onupdate=who.named,
            server_default=who.UNKNOWN,
        ),
        sa.Column("noted", kinds.Moment("noted"), nullable=True, default=_now, onupdate=_now),
    )


def told(table: sa.Table, *, who: bool = False) -> tuple[sa.Column[object], ...]:
    """Return the columns of a table that a record holds; who wrote it on demand."""
    left_out = {"noted"} if who else {"noted", "who"}
    return tuple(column for column in table.c if column.name not in left_out)


program = sa.Table(
    "program",
    metadata,
    sa.Column("key", kinds.Words("key"), primary_key=True),
    _words("value"),
    *_stamps(),
)

settings = sa.Table(
    "settings",
    metadata,
    sa.Column("key", kinds.Words("key"), primary_key=True),
    _words("value", 1000),
    *_stamps(),
)

flasks = sa.Table(
    "flasks",
    metadata,
    _id(),
    _words("name"),
    sa.Column(
        "inside_diameter_mm", kinds.Number("inside_diameter_mm", 1.0, 3000.0), nullable=False
    ),
    sa.Column("height_mm", kinds.Number("height_mm", 1.0, 3000.0), nullable=False),
    _choice("wall", WALLS),
    sa.Column("count", kinds.Whole("count", 0, 10_000), nullable=False),
    *_stamps(),
)

pieces = sa.Table(
    "pieces",
    metadata,
    _id(),
    _words("name"),
    _created(),
    sa.Index(None, "name"),
    *_stamps(),
)

plans = sa.Table(
    "plans",
    metadata,
    _id(),
    _of("pieces"),
    _created(),
    _words("file_name"),
    sa.Column("chance_whole", kinds.Number("chance_whole", 0.0, 1.0), nullable=False),
    sa.Column("draws", kinds.Whole("draws", 1), nullable=False),
    sa.Column("seed", kinds.Whole("seed"), nullable=False),
    _words("version"),
    _words("inputs_sha256", 64),
    _words("kernels_sha256", 64),
    _words("calibration", needed=False),
    _words("alloy"),
    _words("powder"),
    sa.Column("metal_mg", kinds.Whole("metal_mg"), nullable=False),
    sa.Column("powder_mg", kinds.Whole("powder_mg"), nullable=False),
    _words("sheet", kinds.NOTE_LENGTH * 2),
    _words("document", kinds.DOCUMENT_LENGTH),
    sa.Index(None, "piece_id", "created", "id"),
    *_stamps(),
)

plan_parts = sa.Table(
    "plan_parts",
    metadata,
    sa.Column("plan_id", kinds.Words("plan_id", 40), sa.ForeignKey("plans.id"), primary_key=True),
    sa.Column("number", kinds.Whole("number", 0, 100_000), primary_key=True),
    _words("name"),
    sa.Column("count", kinds.Whole("count", 1), nullable=False),
    sa.Column("chance_full", kinds.Number("chance_full", 0.0, 1.0), nullable=False),
    sa.UniqueConstraint("plan_id", "name"),
    *_stamps(),
)

pours = sa.Table(
    "pours",
    metadata,
    _id(),
    _of("plans"),
    sa.Column("day", kinds.Day("day"), nullable=False),
    _created(),
    sa.Index(None, "plan_id", "day"),
    *_stamps(),
)

pour_days = sa.Table(
    "pour_days",
    metadata,
    _id(),
    _of("pours"),
    sa.Column("revision", kinds.Whole("revision", 1), nullable=False),
    sa.Column("day", kinds.Day("day"), nullable=False),
    _created(),
    sa.UniqueConstraint("pour_id", "revision"),
    *_stamps(),
)
"""Days of pours that the caster has entered; `pourcast.book.pour_days` says when one counts."""

outcomes = sa.Table(
    "outcomes",
    metadata,
    _id(),
    _of("pours"),
    sa.Column("revision", kinds.Whole("revision", 1), nullable=False),
    sa.Column("seen", kinds.Day("seen"), nullable=False),
    _created(),
    _choice("sure", SURE),
    _choice("button", BUTTONS, needed=False),
    _words("note", kinds.NOTE_LENGTH),
    sa.UniqueConstraint("pour_id", "revision"),
    *_stamps(),
)

outcome_parts = sa.Table(
    "outcome_parts",
    metadata,
    sa.Column(
        "outcome_id", kinds.Words("outcome_id", 40), sa.ForeignKey("outcomes.id"), primary_key=True
    ),
    sa.Column("part", kinds.Words("part"), primary_key=True),
    _choice("state", STATES),
    sa.Column("members_short", kinds.Whole("members_short", 1), nullable=True),
    sa.Column("filled_share", kinds.Number("filled_share", 0.0, 1.0), nullable=True),
    sa.Column("short_by_mm", kinds.Number("short_by_mm", 0.0, 10_000.0), nullable=True),
    _words("note", kinds.NOTE_LENGTH),
    *_stamps(),
)

outcome_signs = sa.Table(
    "outcome_signs",
    metadata,
    sa.Column(
        "outcome_id", kinds.Words("outcome_id", 40), sa.ForeignKey("outcomes.id"), primary_key=True
    ),
    sa.Column("part", kinds.Words("part"), primary_key=True),
    _choice("sign", SIGNS, key=True),
    _choice("amount", SIGN_AMOUNTS),
    *_stamps(),
)

notes = sa.Table(
    "notes",
    metadata,
    _id(),
    _of("pieces"),
    _of("pours", needed=False),
    _created(),
    _words("text", kinds.NOTE_LENGTH),
    sa.Index(None, "piece_id", "created"),
    *_stamps(),
)

photographs = sa.Table(
    "photographs",
    metadata,
    _id(),
    _of("pieces"),
    _of("pours", needed=False),
    _created(),
    _words("sha256", 64),
    _choice("kind", PICTURE_KINDS),
    sa.Column("size_bytes", kinds.Whole("size_bytes", 1), nullable=False),
    _words("original_name"),
    sa.Index(None, "piece_id", "created"),
    *_stamps(),
)

readings = sa.Table(
    "readings",
    metadata,
    sa.Column("pour_id", kinds.Words("pour_id", 40), sa.ForeignKey("pours.id"), primary_key=True),
    _choice("kind", READINGS, key=True),
    sa.Column("taken", kinds.Moment("taken"), primary_key=True),
    sa.Column("entry", kinds.Whole("entry", 1), primary_key=True),
    sa.Column("value", kinds.Number("value"), nullable=False),
    *_stamps(),
    # Ten million rows stand in one tree instead of two; other databases pass this over.
    sqlite_with_rowid=False,
)

events = sa.Table(
    "events",
    metadata,
    _id(),
    _of("pours"),
    _words("key"),
    _choice("act", DAY_ACTS),
    sa.Column("at", kinds.Moment("at"), nullable=False),
    sa.Column("setting", kinds.Number("setting", 0.0, 1e6), nullable=True),
    _choice("reading", READINGS, needed=False),
    _words("takes_back", 40, needed=False),
    _words("note", kinds.NOTE_LENGTH),
    _created(),
    sa.UniqueConstraint("pour_id", "key"),
    *_stamps(),
)

lots = sa.Table(
    "lots",
    metadata,
    _id(),
    _choice("kind", LOT_KINDS),
    _words("material"),
    _words("name"),
    _words("composition", kinds.NOTE_LENGTH),
    sa.Column("remelts", kinds.Whole("remelts", 0, 1000), nullable=False),
    sa.Column("bought", kinds.Day("bought"), nullable=False),
    sa.Column("bought_mg", kinds.Whole("bought_mg", 1), nullable=False),
    sa.Column("price", kinds.Money("price"), nullable=False),
    _created(),
    *_stamps(),
)

movements = sa.Table(
    "movements",
    metadata,
    _id(),
    _of("lots"),
    _of("pours", needed=False),
    _choice("move", MOVES),
    sa.CheckConstraint(
        "(move IN ('taken', 'lost') AND change_mg < 0)"
        " OR (move IN ('bought', 'returned', 'found') AND change_mg > 0)",
        name="direction",
    ),
    sa.Column("change_mg", kinds.Whole("change_mg", -kinds.MOST_WHOLE), nullable=False),
    _words("reason", kinds.NOTE_LENGTH),
    _created(),
    sa.Index(None, "lot_id", "created", "id"),
    sa.Index(None, "pour_id"),
    *_stamps(),
)

costs = sa.Table(
    "costs",
    metadata,
    _id(),
    _of("pours"),
    _choice("kind", COST_KINDS),
    sa.Column("amount", kinds.Money("amount"), nullable=True),
    sa.Column("minutes", kinds.Whole("minutes", 0), nullable=True),
    sa.Column("rate_per_hour", kinds.Money("rate_per_hour"), nullable=True),
    _words("note", kinds.NOTE_LENGTH),
    _created(),
    sa.Index(None, "pour_id"),
    sa.CheckConstraint(
        "(kind = 'hours' AND amount IS NULL AND minutes IS NOT NULL AND rate_per_hour IS NOT NULL)"
        " OR (kind <> 'hours' AND amount IS NOT NULL AND minutes IS NULL"
        " AND rate_per_hour IS NULL)",
        name="either",
    ),
    *_stamps(),
)

tests = sa.Table(
    "tests",
    metadata,
    _id(),
    _choice("kind", TEST_KINDS),
    sa.Column("day", kinds.Day("day"), nullable=False),
    _created(),
    _words("inputs", kinds.DOCUMENT_LENGTH),
    _words("result", kinds.DOCUMENT_LENGTH),
    _words("note", kinds.NOTE_LENGTH),
    sa.Index(None, "created", "id"),
    *_stamps(),
)

calibrations = sa.Table(
    "calibrations",
    metadata,
    _id(),
    _created(),
    _choice("act", LEARN_ACTS),
    _words("name"),
    _words("version"),
    _words("document", kinds.DOCUMENT_LENGTH),
    sa.Index(None, "created", "id"),
    *_stamps(),
)

users = sa.Table(
    "users",
    metadata,
    sa.Column("name", kinds.Words("name", who.LONGEST), primary_key=True),
    _choice("role", ROLES),
    _created(),
    *_stamps(),
)

sheets = sa.Table(
    "sheets",
    metadata,
    _id(),
    _of("pieces", needed=False),
    _created(),
    *_stamps(),
)

sheet_texts = sa.Table(
    "sheet_texts",
    metadata,
    sa.Column(
        "sheet_id", kinds.Words("sheet_id", 40), sa.ForeignKey("sheets.id"), primary_key=True
    ),
    sa.Column("revision", kinds.Whole("revision", 1, 999_999), primary_key=True),
    _words("text", kinds.NOTE_LENGTH * 2),
    _created(),
    *_stamps(),
)

sheet_asides = sa.Table(
    "sheet_asides",
    metadata,
    _id(),
    _of("sheets"),
    sa.Column("base", kinds.Whole("base", 1, 999_999), nullable=False),
    _words("text", kinds.NOTE_LENGTH * 2),
    _created(),
    sa.Index(None, "sheet_id", "created"),
    *_stamps(),
)

picture_contents = sa.Table(
    "picture_contents",
    metadata,
    sa.Column("sha256", kinds.Words("sha256", 64), primary_key=True),
    sa.Column("content", sa.LargeBinary(), nullable=False),
    *_stamps(),
)
"""Photographs of a book on a server; those of a book in a folder are files beside it."""

CHANGING = frozenset({"program", "settings", "flasks", "users", "sheets"})
"""Tables whose rows may be changed; all others are kept for good."""

KEPT = tuple(name for name in sorted(metadata.tables) if name not in CHANGING)

_NOT_EXPORTED = frozenset({"program", "picture_contents"})

EXPORTED = tuple(table for table in metadata.sorted_tables if table.name not in _NOT_EXPORTED)
"""Tables that an export holds as rows, each after those that it refers to."""
