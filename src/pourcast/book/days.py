"""Days: readings of the day of a pour, and notes; later entries supersede earlier ones."""

from datetime import datetime

import sqlalchemy as sa

from pourcast.book import tables
from pourcast.book.model import Note, Reading
from pourcast.book.outcomes import load_pour
from pourcast.book.store import Book, find_id, new_id, retried
from pourcast.book.words import READINGS
from pourcast.errors import InputError, require_between


@retried
def keep_reading(book: Book, pour_id: str, kind: str, value: float, *, taken: datetime) -> Reading:
    """Keep a reading and return it; one of the same moment and kind is superseded.

    Parameters
    ----------
    book : Book
    pour_id : str
    kind : str
        One of `pourcast.book.words.READINGS`, which carries its unit.
    value : float
        In that unit.
    taken : datetime
        When it was read, with its zone.

    Raises
    ------
    InputError
        If the kind is not known, or the value is not finite or outside its limits.
    """
    if kind not in READINGS:
        raise InputError("kind of reading", kind, "", "one of " + ", ".join(READINGS))
    words, low, high = READINGS[kind]
    unit = kind.rpartition("_")[2]
    require_between(words, value, "°C" if unit == "C" else unit, low, high)
    table = tables.readings
    with book.writing() as connection:
        pour = load_pour(connection, find_id(connection, tables.pours, pour_id))
        same = (table.c.pour_id == pour.id) & (table.c.kind == kind) & (table.c.taken == taken)
        latest = connection.execute(
            sa.select(table.c.entry, table.c.value).where(same).order_by(table.c.entry.desc())
        ).first()
        made = Reading(pour_id=pour.id, kind=kind, taken=taken, value=float(value))
        # The same reading sent twice, as over a poor link, is one reading.
        if latest is None or latest.value != made.value:
            row = {
                "pour_id": pour.id,
                "kind": kind,
                "taken": taken,
                "entry": 1 if latest is None else latest.entry + 1,
                "value": made.value,
            }
            connection.execute(table.insert(), row)
    return made


def readings_of(
    book: Book, pour_id: str, kind: str | None = None, *, after: datetime | None = None
) -> tuple[Reading, ...]:
    """Return the readings of a pour that count, by kind and time.

    Parameters
    ----------
    book : Book
    pour_id : str
    kind : str or None
        None: of all kinds.
    after : datetime or None
        Those taken later alone; None: all.
    """
    table = tables.readings
    asked = sa.select(table).where(table.c.pour_id == pour_id)
    if kind is not None:
        asked = asked.where(table.c.kind == kind)
    if after is not None:
        asked = asked.where(table.c.taken > after)
    order = (table.c.pour_id, table.c.kind, table.c.taken, table.c.entry)
    counting: dict[tuple[str, datetime], Reading] = {}
    with book.reading() as connection:
        for row in connection.execute(asked.order_by(*order)).mappings():
            counting[row["kind"], row["taken"]] = Reading(
                pour_id=row["pour_id"], kind=row["kind"], taken=row["taken"], value=row["value"]
            )
    return tuple(counting.values())


def count_readings(book: Book, pour_id: str) -> int:
    """Return how many rows of readings a pour has, with those that were superseded."""
    table = tables.readings
    asked = sa.select(sa.func.count()).where(table.c.pour_id == pour_id)
    with book.reading() as connection:
        return int(connection.execute(asked).scalar_one())


@retried
def keep_note(
    book: Book, piece_id: str, text: str, *, at: datetime, pour_id: str | None = None
) -> Note:
    """Keep a note on a piece, or on one of its pours, and return it.

    Raises
    ------
    InputError
        If there is no such piece, or the note is empty or too long.
    """
    if not text.strip():
        raise InputError("note", "empty", "", "some words")
    with book.writing() as connection:
        row = {
            "id": new_id(),
            "piece_id": find_id(connection, tables.pieces, piece_id),
            "pour_id": find_id(connection, tables.pours, pour_id) if pour_id else None,
            "created": at,
            "text": text,
        }
        connection.execute(tables.notes.insert(), row)
        note = sa.select(*tables.told(tables.notes, who=True)).where(tables.notes.c.id == row["id"])
        return Note(**connection.execute(note).mappings().one())


def notes_of(book: Book, piece_id: str) -> tuple[Note, ...]:
    """Return the notes on a piece, the oldest first."""
    table = tables.notes
    asked = sa.select(*tables.told(table, who=True)).where(table.c.piece_id == piece_id)
    with book.reading() as connection:
        rows = connection.execute(asked.order_by(table.c.created, table.c.id)).mappings()
        return tuple(Note(**row) for row in rows)
