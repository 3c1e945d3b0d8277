"""Export: the whole book as plain files, which any program can read.

One file of JSON Lines for each table, one row a line, keys as in `tables`; the
photographs; and ``book.json``, written last, which says how many rows each file
holds and what its hash is.  A folder without it is no whole export.

CSV is for a spreadsheet to look at, and cannot be taken in again: its texts are
changed so that no spreadsheet runs them (`spreadsheet.py`).
"""

import csv
import hashlib
import json
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import sqlalchemy as sa
from sqlalchemy import Connection
from sqlalchemy.engine.default import DefaultDialect

from pourcast import __version__
from pourcast.book import sqlite, tables
from pourcast.book.faults import BookError
from pourcast.book.pictures import get_content, picture_path, store_file
from pourcast.book.spreadsheet import cell_of
from pourcast.book.store import PICTURES, Book
from pourcast.errors import InputError

SCHEMA = "pourcast.book/1"
HEAD = "book.json"

_DIALECT = DefaultDialect()


def export_book(book: Book, folder: Path, *, at: datetime, as_csv: bool = False) -> dict[str, int]:
    """Write the whole book into an empty folder, and return the rows of each table.

    Parameters
    ----------
    book : Book
    folder : Path
        Empty, or not there yet.
    at : datetime
        Now, with its zone.
    as_csv : bool
        CSV beside JSON Lines.

    Raises
    ------
    InputError
        If the folder is not empty or cannot be written, or a photograph is gone.
    BookError
        If the disk is full.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if any(folder.iterdir()):
            raise InputError("folder", folder, "", "empty, or a new one")
        return _write(book, folder, at=at, as_csv=as_csv)
    except OSError as fault:
        meant = sqlite.meaning(fault, folder)
        if isinstance(meant, BookError):
            raise meant from None
        must = f"one that can be written ({fault.strerror or fault})"
        raise InputError("folder of the export", folder, "", must) from None


def plain_row(table: sa.Table, row: Any) -> dict[str, Any]:
    """Return a row as plain values: numbers, texts and None."""
    return {column.name: plain_value(column, row[column.name]) for column in table.columns}


def plain_value(column: sa.Column[Any], value: Any) -> Any:
    """Return a value as it is stored and written, or raise `InputError`."""
    bind = getattr(column.type, "process_bind_param", None)
    return value if bind is None else bind(value, _DIALECT)


def file_of(table: sa.Table) -> str:
    """Return the name of the file that holds a table."""
    return f"{table.name}.jsonl"


def _write(book: Book, folder: Path, *, at: datetime, as_csv: bool) -> dict[str, int]:
    counts: dict[str, int] = {}
    hashes: dict[str, str] = {}
    # One state of the book, whatever others write meanwhile.
    with book.reading() as connection:
        for table in tables.EXPORTED:
            name = file_of(table)
            plain = (plain_row(table, row) for row in rows_of(connection, table))
            counts[table.name], hashes[name] = write_rows(folder / name, plain)
            if as_csv:
                _write_csv(connection, table, folder / f"{table.name}.csv")
        _copy_pictures(connection, book, folder)
    write_head(folder, tables.FORM, at, counts, hashes)
    return counts


def write_head(
    folder: Path, form: str, at: datetime, counts: dict[str, int], hashes: dict[str, str]
) -> None:
    """Write what an export says of itself."""
    head = {
        "schema": SCHEMA,
        "version": __version__,
        "form": form,
        "written": at.isoformat(),
        "rows": counts,
        "sha256": hashes,
    }
    store_file(folder / HEAD, (json.dumps(head, indent=1) + "\n").encode())


def write_rows(path: Path, rows: Iterable[dict[str, Any]]) -> tuple[int, str]:
    """Write rows of plain values into a new file, a line each; return their number and hash."""
    with path.open("xb") as opened:
        return counted(rows, opened.write)


def counted(
    rows: Iterable[dict[str, Any]], take: Callable[[bytes], object] = len
) -> tuple[int, str]:
    """Return how many rows of plain values there are, and a hash of their lines.

    Parameters
    ----------
    rows : iterable of dict
    take : callable
        Is given each line.
    """
    digest, count = hashlib.sha256(), 0
    for row in rows:
        line = json.dumps(row, ensure_ascii=False, allow_nan=False).encode() + b"\n"
        take(line)
        digest.update(line)
        count += 1
    return count, digest.hexdigest()


def full_table(connection: Connection) -> str | None:
    """Return the name of a table that holds something; None: the book is empty."""
    for table in tables.EXPORTED:
        if connection.execute(sa.select(sa.literal(1)).select_from(table).limit(1)).first():
            return table.name
    return None


def rows_of(connection: Connection, table: sa.Table) -> Iterator[Any]:
    """Yield the rows of a table, a few hundred at once, in the order of their keys."""
    asked = sa.select(table).order_by(*table.primary_key.columns)
    yield from connection.execute(asked, execution_options={"yield_per": 500}).mappings()


def _write_csv(connection: Connection, table: sa.Table, path: Path) -> None:
    names = [column.name for column in table.columns]
    with path.open("x", encoding="utf-8", newline="") as opened:
        writer = csv.writer(opened, lineterminator="\r\n")  # RFC 4180 (2005), 2
        writer.writerow(names)
        for row in rows_of(connection, table):
            plain = plain_row(table, row)
            writer.writerow([_cell(plain[name]) for name in names])


def _cell(value: Any) -> Any:
    return cell_of(value) if isinstance(value, str) else value


def _copy_pictures(connection: Connection, book: Book, target: Path) -> None:
    kept = tables.photographs.c
    asked = sa.select(kept.sha256, kept.kind).distinct().order_by(kept.sha256)
    for sha256, kind in connection.execute(asked).all():
        path = picture_path(target, sha256, kind)
        if not book.on_server and not picture_path(book.folder, sha256, kind).is_file():
            raise InputError("photograph", path.name, "", f"in the folder {PICTURES} of the book")
        store_file(path, get_content(book, connection, sha256, kind))
