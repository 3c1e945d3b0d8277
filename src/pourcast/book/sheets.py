"""Sheets: piece files of a book on a server, every text of each kept for good.

A text carries a number, one more than the text that it was made from.  Of two writers
the first has the number; the later one is told who has it, and the text that had no
place is kept aside.  So nothing is written over, and nothing that was typed is lost.
"""

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import datetime

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.faults import ChangedElsewhereError
from pourcast.book.store import Book, new_id, retried
from pourcast.book.who import UNKNOWN
from pourcast.errors import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetText:
    """One text of a piece file.

    Parameters
    ----------
    sheet_id : str
    revision : int
        From 1; the highest stands.
    text : str
    created : datetime
    who : str
    """

    sheet_id: str
    revision: int
    text: str
    created: datetime
    who: str = UNKNOWN


@dataclass(frozen=True, slots=True, kw_only=True)
class Aside:
    """A text that had no place, since another had taken it.

    Parameters
    ----------
    id, sheet_id : str
    base : int
        Number of the text that it was made from.
    text : str
    created : datetime
    who : str
    """

    id: str
    sheet_id: str
    base: int
    text: str
    created: datetime
    who: str


def sheet_ids(book: Book) -> list[str]:
    """Return the ids of all sheets, the one changed last first."""
    table = tables.sheet_texts.c
    latest = sa.func.max(table.created)
    asked = sa.select(table.sheet_id).group_by(table.sheet_id)
    with book.reading() as connection:
        return list(connection.execute(asked.order_by(latest.desc(), table.sheet_id)).scalars())


def read_sheet(book: Book, sheet_id: str, revision: int | None = None) -> SheetText | None:
    """Return a text of a sheet, or the one that stands; None: there is no such text."""
    with book.reading() as connection:
        return _text(connection, sheet_id, revision)


def texts_of(book: Book, sheet_id: str) -> list[SheetText]:
    """Return all texts of a sheet, the newest first."""
    with book.reading() as connection:
        return all_texts(connection, sheet_id)[::-1]


def asides_of(book: Book, sheet_id: str) -> list[Aside]:
    """Return the texts that had no place, the newest first."""
    table = tables.sheet_asides
    asked = sa.select(*tables.told(table, who=True)).where(table.c.sheet_id == sheet_id)
    with book.reading() as connection:
        rows = connection.execute(asked.order_by(table.c.created.desc(), table.c.id)).mappings()
        return [Aside(**row) for row in rows]


@retried
def add_sheet(book: Book, text: str, *, at: datetime) -> SheetText:
    """Keep the first text of a new sheet, and return it."""
    made = new_id()
    with book.writing() as connection:
        connection.execute(tables.sheets.insert(), {"id": made, "created": at})
        return _insert(connection, made, 1, text, at)


def keep_text(book: Book, sheet_id: str, text: str, *, base: int, at: datetime) -> SheetText:
    """Keep a changed text and return it; the same text again changes nothing.

    Parameters
    ----------
    book : Book
    sheet_id, text : str
    base : int
        Number of the text that it was made from.
    at : datetime
        Now, with its zone.

    Raises
    ------
    ChangedElsewhereError
        If another text has the place; this one is then kept aside.
    InputError
        If there is no such sheet.
    """
    kept, stands = _kept_or_aside(book, sheet_id, text, base=base, at=at)
    if not kept:
        raise ChangedElsewhereError(
            sheet_id, revision=stands.revision, who=stands.who, when=stands.created
        )
    return stands


def link_of(book: Book, sheet_id: str) -> str | None:
    """Return the piece under which the plans of a sheet are kept; None: none yet."""
    table = tables.sheets.c
    with book.reading() as connection:
        return connection.execute(sa.select(table.piece_id).where(table.id == sheet_id)).scalar()


@retried
def link(book: Book, sheet_id: str, piece_id: str) -> None:
    """Note under which piece the plans of a sheet are kept."""
    table = tables.sheets
    with book.writing() as connection:
        connection.execute(table.update().where(table.c.id == sheet_id).values(piece_id=piece_id))


def put_sheet(
    connection: Connection,
    sheet_id: str,
    piece_id: str | None,
    texts: Iterable[SheetText],
    asides: Iterable[Aside] = (),
) -> None:
    """Write a whole sheet from elsewhere, with its numbers, hands and moments."""
    rows = [{**asdict(each), "noted": each.created} for each in texts]
    head = {"id": sheet_id, "piece_id": piece_id, "created": rows[0]["created"]}
    connection.execute(tables.sheets.insert(), head)
    connection.execute(tables.sheet_texts.insert(), rows)
    left = [{**asdict(each), "noted": each.created} for each in asides]
    if left:
        connection.execute(tables.sheet_asides.insert(), left)


def all_texts(connection: Connection, sheet_id: str) -> list[SheetText]:
    """Return all texts of a sheet that a connection sees, the oldest first."""
    table = tables.sheet_texts
    asked = sa.select(*tables.told(table, who=True)).where(table.c.sheet_id == sheet_id)
    rows = connection.execute(asked.order_by(table.c.revision)).mappings()
    return [SheetText(**row) for row in rows]


@retried
def _kept_or_aside(
    book: Book, sheet_id: str, text: str, *, base: int, at: datetime
) -> tuple[bool, SheetText]:
    with book.writing() as connection:
        stands = _text(connection, sheet_id, None)
        if stands is None:
            raise InputError("piece", sheet_id[:40], "", "one of the book")
        if stands.text == text:
            return True, stands
        if stands.revision == base:
            return True, _insert(connection, sheet_id, base + 1, text, at)
        row = {"id": new_id(), "sheet_id": sheet_id, "base": base, "text": text, "created": at}
        connection.execute(tables.sheet_asides.insert(), row)
        return False, stands


def _insert(
    connection: Connection, sheet_id: str, revision: int, text: str, at: datetime
) -> SheetText:
    row = {"sheet_id": sheet_id, "revision": revision, "text": text, "created": at}
    connection.execute(tables.sheet_texts.insert(), row)
    made = _text(connection, sheet_id, revision)
    assert made is not None
    return made


def _text(connection: Connection, sheet_id: str, revision: int | None) -> SheetText | None:
    table = tables.sheet_texts
    asked = sa.select(*tables.told(table, who=True)).where(table.c.sheet_id == sheet_id)
    if revision is not None:
        asked = asked.where(table.c.revision == revision)
    row = connection.execute(asked.order_by(table.c.revision.desc()).limit(1)).mappings().first()
    return None if row is None else SheetText(**row)
