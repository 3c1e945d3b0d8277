"""Take in: read an export back into a book, row by row, with its ids.

All of it is one transaction: a fault in the last line leaves the book as it was.
What an export holds came from outside, so each value passes the same checks as
an entry, and a photograph must be what its hash says.

Into a book that holds something an export goes only on demand.  Then a row of the
same id must be the same row, since what is kept never changes; of settings and
flasks the ones that stand in the book stay.
"""

import hashlib
import json
from collections.abc import Generator, Iterator
from contextlib import closing
from datetime import timedelta
from itertools import islice
from pathlib import Path
from typing import Any

import sqlalchemy as sa
from sqlalchemy import Connection
from sqlalchemy.engine.default import DefaultDialect
from sqlalchemy.exc import IntegrityError

from pourcast.book import tables
from pourcast.book.costs import places
from pourcast.book.export import HEAD, SCHEMA, file_of, full_table, plain_value
from pourcast.book.kinds import Day, Moment, Money
from pourcast.book.pictures import MOST_BYTES, kind_of, picture_path, put_content
from pourcast.book.pour_days import load_pours, require_day
from pourcast.book.settings import load_settings
from pourcast.book.stock import unexplained
from pourcast.book.store import Book
from pourcast.errors import InputError

BATCH = 500
LONGEST_LINE = 120_000_000
"""Bytes of a line; above what the longest forecast can take."""

_DIALECT = DefaultDialect()
_EARLIEST_ZONE = timedelta(hours=26)  # from UTC-12 to UTC+14


def import_book(book: Book, folder: Path, *, merge: bool = False) -> dict[str, int]:
    """Take an export into a book, and return how many rows of each table were new.

    Parameters
    ----------
    book : Book
    folder : Path
        Written by `pourcast.book.export.export_book`.
    merge : bool
        True: also into a book that holds something.

    Raises
    ------
    InputError
        If the export is not whole, is of another form, holds what cannot be
        kept, or if the book is not empty and merge is False.
    """
    head = _read_head(folder)
    added: dict[str, int] = {}
    with book.writing() as connection:
        if not merge:
            _refuse_full(connection)
        before = _currency(connection)
        for table in tables.EXPORTED:
            path = folder / file_of(table)
            if table.name in tables.READ_TOO.get(head["form"], ()):
                added[table.name] = 0
                continue
            with closing(_read_rows(path, table, head["sha256"].get(path.name))) as rows:
                added[table.name] = _insert(connection, table, rows, looked_up=merge)
        _refuse_other_currency(before, folder)
        _check_whole(connection)
        _take_pictures(connection, folder, book)
    return added


def _read_head(folder: Path) -> dict[str, Any]:
    path = folder / HEAD
    try:
        head = json.loads(path.read_bytes()[:1_000_000])
    except (OSError, ValueError, RecursionError) as fault:
        raise InputError("export", folder, "", f"a folder with {HEAD} ({fault})") from None
    if not isinstance(head, dict) or head.get("schema") != SCHEMA:
        raise InputError("export", folder, "", f"of the schema {SCHEMA}")
    if head.get("form") not in (tables.FORM, *tables.READ_TOO):
        raise InputError(
            "form of the export",
            str(head.get("form"))[:20],
            "",
            f"{' or '.join((*tables.READ_TOO, tables.FORM))}; "
            f"it was written by pourcast {str(head.get('version'))[:20]}",
        )
    if not isinstance(head.get("sha256"), dict):
        raise InputError("export", folder, "", f"whole; {HEAD} names no hashes")
    return head


def _refuse_full(connection: Connection) -> None:
    full = full_table(connection)
    if full is not None:
        raise InputError(
            "book",
            f"not empty ({full})",
            "",
            "empty",
            "Put both together with --merge, or name another folder with --data.",
        )


def _read_rows(
    path: Path, table: sa.Table, sha256: object
) -> Generator[dict[str, Any], None, None]:
    digest = hashlib.sha256()
    try:
        with path.open("rb") as opened:
            number = 0
            while line := opened.readline(LONGEST_LINE):
                number += 1
                digest.update(line)
                yield _read_row(line, table, f"{path.name}:{number}")
    except OSError as fault:
        raise InputError("export", path, "", f"a file that can be read ({fault})") from None
    if digest.hexdigest() != sha256:
        raise InputError(
            "export", path.name, "", f"as it was written; its hash is not that of {HEAD}"
        )


def _read_row(line: bytes, table: sa.Table, place: str) -> dict[str, Any]:
    plain = _read_json(line, place)
    names = {column.name for column in table.columns}
    if set(plain) != names:
        raise InputError(place, "other keys", "", "a row with the keys " + ", ".join(sorted(names)))
    made: dict[str, Any] = {}
    for column in table.columns:
        value = plain[column.name]
        if value is None and not column.nullable:
            raise InputError(f"{place}: {column.name}", "null", "", "given")
        kind = column.type
        try:
            if isinstance(kind, Money | Moment | Day):
                value = kind.process_result_value(value, _DIALECT)
            plain_value(column, value)
            made[column.name] = value
        except InputError as fault:
            what = f"{place}: {fault.what}"
            raise InputError(what, fault.value, fault.unit, fault.must) from None
    if table is tables.plans:
        _read_json(made["document"], f"{place}: document")
    return made


def _read_json(text: str | bytes, place: str) -> dict[str, Any]:
    try:
        plain = json.loads(text, parse_constant=_refuse_constant)
    except (ValueError, RecursionError) as fault:
        raise InputError(place, str(fault)[:80], "", "JSON, without NaN or Infinity") from None
    if not isinstance(plain, dict):
        raise InputError(place, type(plain).__name__, "", "a JSON object")
    return plain


def _refuse_constant(name: str) -> None:
    raise ValueError(name)


def _insert(
    connection: Connection, table: sa.Table, rows: Iterator[dict[str, Any]], *, looked_up: bool
) -> int:
    added = 0
    while batch := list(islice(rows, BATCH)):
        new = [row for row in batch if not (looked_up and _is_there(connection, table, row))]
        added += len(new)
        if not new:
            continue
        try:
            connection.execute(table.insert(), new)
        except IntegrityError as fault:
            said = f"{table.name}: {fault.orig}"
            must = "of rows that stand once and fit together"
            raise InputError("export", said, "", must) from None
    return added


def _is_there(connection: Connection, table: sa.Table, row: dict[str, Any]) -> bool:
    keys = [column == row[column.name] for column in table.primary_key.columns]
    found = connection.execute(sa.select(table).where(*keys)).mappings().first()
    if found is None:
        return False
    if table.name not in tables.CHANGING and dict(found) != row:
        named = ", ".join(str(row[column.name]) for column in table.primary_key.columns)
        raise InputError(
            f"row of {table.name}", named, "", "the same in both books, since it is kept for good"
        )
    return True


def _currency(connection: Connection) -> str | None:
    table = tables.settings.c
    asked = sa.select(table.value).where(table.key == "currency")
    return connection.execute(asked).scalar()


def _refuse_other_currency(before: str | None, folder: Path) -> None:
    """Refuse amounts of another currency; they would be taken for those of the book."""
    lines = (folder / file_of(tables.settings)).read_bytes().splitlines()
    kept = {row["key"]: row["value"] for row in map(json.loads, lines)}
    theirs = kept.get("currency")
    if theirs is not None:
        places(theirs)
    if before is not None and theirs not in (None, before):
        raise InputError("currency of the export", theirs, "", f"{before}, as in the book")


def _check_whole(connection: Connection) -> None:
    below = unexplained(connection)
    if below:
        raise InputError(
            "lots", ", ".join(below[:5]), "", "0 g or more, or one line must say why not"
        )
    told, entered, pours, parts = (
        tables.outcome_parts,
        tables.outcomes,
        tables.pours,
        tables.plan_parts,
    )
    strangers = (
        sa.select(told.c.part)
        .join(entered, entered.c.id == told.c.outcome_id)
        .join(pours, pours.c.id == entered.c.pour_id)
        .outerjoin(parts, (parts.c.plan_id == pours.c.plan_id) & (parts.c.name == told.c.part))
        .where(parts.c.name.is_(None))
        .limit(1)
    )
    stranger = connection.execute(strangers).scalar()
    if stranger is not None:
        raise InputError("part of an outcome", stranger, "", "a part of its plan")
    _check_days(connection)
    load_settings(connection)


def _check_days(connection: Connection) -> None:
    """Refuse days of pours on which nothing can have been poured."""
    table = tables.pour_days.c
    of_them = tables.pours.c.id.in_(sa.select(table.pour_id))
    lit = {pour.id: pour.lit for pour in load_pours(connection, of_them)}
    for row in connection.execute(sa.select(table.pour_id, table.day, table.created)).all():
        # It may have been entered where the day begins earlier than here.
        require_day(row.day, at=row.created + _EARLIEST_ZONE, lit=lit[row.pour_id])


def _take_pictures(connection: Connection, source: Path, book: Book) -> None:
    kept = tables.photographs.c
    asked = sa.select(kept.sha256, kept.kind, kept.size_bytes).distinct()
    for sha256, kind, size in connection.execute(asked).all():
        path = picture_path(source, sha256, kind)
        if not path.exists() and _is_kept(connection, book, sha256, kind):
            continue  # of the book that the export is put together with
        try:
            with path.open("rb") as opened:
                content = opened.read(MOST_BYTES + 1)
        except OSError as fault:
            raise InputError("photograph", path.name, "", f"in the export ({fault})") from None
        if (
            hashlib.sha256(content).hexdigest() != sha256
            or kind_of(content) != kind
            or len(content) != size
        ):
            raise InputError("photograph", path.name, "", "what its hash, kind and size say")
        put_content(book, connection, sha256, kind, content)


def _is_kept(connection: Connection, book: Book, sha256: str, kind: str) -> bool:
    if not book.on_server:
        return picture_path(book.folder, sha256, kind).exists()
    table = tables.picture_contents.c
    asked = sa.select(table.sha256).where(table.sha256 == sha256)
    return connection.execute(asked).first() is not None
