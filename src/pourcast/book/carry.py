"""Carry: a whole book from one store to another, with its ids, and looked over twice.

Everything is one change of the target: it holds all of it at the end, or nothing.
Before the end each table is read back and held against the source, by the number of
its rows and by a hash of their content.  The source is only read.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.export import counted, full_table, plain_row, rows_of
from pourcast.book.faults import BookError
from pourcast.book.pictures import get_content, put_content
from pourcast.book.sheets import Aside, SheetText, all_texts, put_sheet
from pourcast.book.store import Book
from pourcast.errors import InputError

BATCH = 500
"""Rows that are written at once; own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetFiles:
    """A piece file of a folder with all its texts.

    Parameters
    ----------
    sheet_id : str
    piece_id : str or None
        Under which the book keeps its plans.
    texts : tuple of SheetText
        The oldest first.
    asides : tuple of Aside
        Texts that had no place.
    """

    sheet_id: str
    piece_id: str | None
    texts: tuple[SheetText, ...]
    asides: tuple[Aside, ...] = ()


OF_SHEETS = frozenset({"sheets", "sheet_texts", "sheet_asides"})
"""Tables of piece files; a book in a folder has them as files instead."""


def carry(source: Book, target: Book, sheets: Sequence[SheetFiles] = ()) -> dict[str, int]:
    """Copy a whole book into an empty one, and return the rows of each table.

    Parameters
    ----------
    source, target : Book
    sheets : sequence of SheetFiles
        Piece files that lie beside a source in a folder, and stand in a target on a
        server as rows.

    Raises
    ------
    InputError
        If the target holds something.
    BookError
        If what was written is not what was read; the target is then empty as before.
    """
    counts: dict[str, int] = {}
    copied = [each for each in tables.EXPORTED if source.on_server or each.name not in OF_SHEETS]
    with source.reading() as reading, target.writing() as writing:
        require_empty(writing)
        for table in copied:
            _copy(reading, writing, table)
        _copy_pictures(source, reading, target, writing)
        for table in copied:
            before, after = content_of(reading, table), content_of(writing, table)
            if before != after:
                raise _not_arrived(table.name, before[0], after[0])
            counts[table.name] = after[0]
        if not source.on_server and target.on_server:
            counts |= _put_sheets(writing, sheets)
    return counts


def _put_sheets(writing: Connection, sheets: Sequence[SheetFiles]) -> dict[str, int]:
    """Write piece files as rows, read them back, and return how many rows there are."""
    pieces = set(writing.execute(sa.select(tables.pieces.c.id)).scalars())
    for sheet in sheets:
        known = sheet.piece_id if sheet.piece_id in pieces else None
        put_sheet(writing, sheet.sheet_id, known, sheet.texts, sheet.asides)
    wanted = {
        "sheets": len(sheets),
        "sheet_texts": sum(len(sheet.texts) for sheet in sheets),
        "sheet_asides": sum(len(sheet.asides) for sheet in sheets),
    }
    for name, count in wanted.items():
        found = content_of(writing, tables.metadata.tables[name])[0]
        if found != count:
            raise _not_arrived(name, count, found)
    for sheet in sheets:
        if all_texts(writing, sheet.sheet_id) != list(sheet.texts):
            raise _not_arrived("sheet_texts", len(sheet.texts), len(sheet.texts))
    return wanted


def _not_arrived(table: str, before: int, after: int) -> BookError:
    return BookError(
        f"{table} did not arrive as it was: {before} rows before, {after} after. "
        "The new book is left empty; the old one is as it was"
    )


def require_empty(connection: Connection) -> None:
    """Refuse a book that holds something.

    Raises
    ------
    InputError
    """
    full = full_table(connection)
    if full is not None:
        raise InputError("book to move to", f"not empty ({full})", "", "empty")


def content_of(connection: Connection, table: sa.Table) -> tuple[int, str]:
    """Return how many rows a table has, and a hash of all that stands in them."""
    return counted(plain_row(table, row) for row in rows_of(connection, table))


def _copy(reading: Connection, writing: Connection, table: sa.Table) -> None:
    rows = rows_of(reading, table)
    while batch := [dict(row) for row in islice(rows, BATCH)]:
        writing.execute(table.insert(), batch)


def _copy_pictures(source: Book, reading: Connection, target: Book, writing: Connection) -> None:
    kept = tables.photographs.c
    asked = sa.select(kept.sha256, kept.kind).distinct().order_by(kept.sha256)
    for sha256, kind in reading.execute(asked).all():
        content = get_content(source, reading, sha256, kind)
        put_content(target, writing, sha256, kind, content)
        # Read back: the hash of what arrived is looked at.
        get_content(target, writing, sha256, kind)
