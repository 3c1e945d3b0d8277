"""SQLite: all that holds for this one database and no other.

Other files of the book speak to any database through SQLAlchemy.  Here stand how
a file is opened, what makes a commit durable, the triggers that guard what is
kept for good, the copy before an upgrade, and what its faults mean.

- Write-ahead log with ``synchronous = FULL``: each commit is flushed to the disk
  before it is acknowledged.  A disk that lies about its flush may still lose it.
- The driver's own transactions are switched off and each begins with ``BEGIN
  IMMEDIATE``.  So a writer waits its turn instead of failing half way, and a
  change of tables that fails leaves nothing behind.  Reading begins plainly: it
  sees one state of the book and holds up nobody.
"""

import errno
import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL

from pourcast.book.faults import NOTHING_LOST, BookError
from pourcast.errors import InputError, PourcastError

WAIT_S = 30.0
"""How long a writer waits for another [s]; own choice."""

MARK = 0x706F7572
"""Marks a file as a book of this program ("pour" in ASCII)."""

READING = "book_reading"
"""Option of a connection that only reads."""

NO_BOOK = "a book of pourcast"

_PRAGMAS = (
    "journal_mode = WAL",
    "synchronous = FULL",
    "foreign_keys = ON",
    # Without it a row that is put in place of another passes the guards by.
    "recursive_triggers = ON",
)


def make_engine(path: Path, *, wait_s: float = WAIT_S) -> Engine:
    """Return an engine on a file; nothing is opened yet."""
    engine = create_engine(
        URL.create("sqlite", database=str(path)), connect_args={"timeout": wait_s}
    )

    @event.listens_for(engine, "connect")
    def _connected(connection: sqlite3.Connection, record: object) -> None:
        del record
        connection.isolation_level = None
        # A file that holds tables of another program must not be touched at all.
        _refuse_foreign(connection)
        for pragma in _PRAGMAS:
            connection.execute(f"PRAGMA {pragma}").fetchall()

    @event.listens_for(engine, "begin")
    def _begun(connection: Connection) -> None:
        only_reads = connection.get_execution_options().get(READING, False)
        connection.exec_driver_sql("BEGIN" if only_reads else "BEGIN IMMEDIATE")

    return engine


def _refuse_foreign(connection: sqlite3.Connection) -> None:
    mark = connection.execute("PRAGMA application_id").fetchone()[0]
    if mark == MARK:
        return
    if connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]:
        raise InputError("file", "of another program", "", NO_BOOK)


def mark_as_book(connection: Connection) -> None:
    """Mark the file as a book; part of the transaction that makes its tables."""
    connection.exec_driver_sql(f"PRAGMA application_id = {MARK}")


def guard_statements(table: str) -> tuple[str, ...]:
    """Return the statements that make a table refuse changes and deletions.

    A migration that builds a table anew must run them again.
    """
    return tuple(
        f"CREATE TRIGGER kept_{table}_{act.lower()} BEFORE {act} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, 'kept for good: {table}'); END"
        for act in ("UPDATE", "DELETE")
    )


def unguard_statements(table: str) -> tuple[str, ...]:
    """Return the statements that take the guards of a table off."""
    return tuple(f"DROP TRIGGER kept_{table}_{act}" for act in ("update", "delete"))


@contextmanager
def whole_change(engine: Engine) -> Iterator[Connection]:
    """Give a connection for a change of tables, which is done whole or not at all.

    References are not checked while tables are built anew, and are checked before
    the commit.
    """
    with engine.connect() as connection:
        driver: Any = connection.connection.dbapi_connection
        driver.execute("PRAGMA foreign_keys = OFF")
        try:
            with connection.begin():
                yield connection
                torn = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
                if torn:
                    raise BookError(
                        f"{len(torn)} rows of the book refer to rows that are not there"
                    )
        finally:
            driver.execute("PRAGMA foreign_keys = ON")


def copy_to(engine: Engine, copy: Path) -> None:
    """Write a whole copy of the book beside it and flush it to the disk."""
    with engine.connect() as connection:
        driver: Any = connection.connection.dbapi_connection
        driver.execute("VACUUM INTO ?", (str(copy),))
    flush(copy)
    flush(copy.parent)


def flush(path: Path) -> None:
    """Flush a file or folder to the disk."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def integrity(engine: Engine) -> tuple[str, ...]:
    """Return what is damaged in the file; nothing if it is whole."""
    with engine.connect().execution_options(**{READING: True}) as connection:
        said = connection.exec_driver_sql("PRAGMA integrity_check").scalars().all()
        torn = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
    found = [line for line in said if line != "ok"]
    return tuple(found + [f"row of {row[0]} refers to no row of {row[2]}" for row in torn])


_FULL = {sqlite3.SQLITE_FULL}
_NOT_WRITABLE = {sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM}
_NO_BOOK = {sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT}
_BUSY = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}


def meaning(fault: BaseException, folder: Path) -> PourcastError | None:
    """Return what a fault of the driver means for the caster; None: it is no such fault.

    Parameters
    ----------
    fault : BaseException
        As SQLAlchemy or the driver raised it.
    folder : Path
        Of the book.
    """
    inner = getattr(fault, "orig", None) or fault
    if isinstance(inner, PourcastError):
        return inner
    if isinstance(inner, OSError):
        if inner.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
            return BookError(f"the disk is full. {NOTHING_LOST}")
        return unwritable(folder, inner.strerror or str(inner))
    if not isinstance(inner, sqlite3.Error):
        return None
    # The low byte is the kind; the rest says where it happened.
    code = getattr(inner, "sqlite_errorcode", 0) & 0xFF
    if code in _FULL:
        return BookError(f"the disk is full. {NOTHING_LOST}")
    if code in _NOT_WRITABLE:
        return unwritable(folder, str(inner))
    if code in _NO_BOOK:
        return InputError(
            "book",
            folder,
            "",
            f"{NO_BOOK} ({inner})",
            "Move the file away. Copies from before each upgrade lie in its folder backups.",
        )
    if code in _BUSY:
        return BookError(
            f"another program holds the book, and did not let go in {WAIT_S:.0f} s. {NOTHING_LOST}"
        )
    return BookError(f"the book could not be read or written: {inner}. {NOTHING_LOST}")


def unwritable(folder: Path, why: str) -> InputError:
    """Return the error for a folder in which the book cannot be kept."""
    return InputError(
        "folder of the book",
        folder,
        "",
        f"a folder that can be written ({why})",
        "Choose another with --data.",
    )
