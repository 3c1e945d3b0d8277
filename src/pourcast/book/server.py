"""Server: all that holds for a book on a PostgreSQL server, and for no other store.

- Writers wait their turn, as at a book in a file: each change begins with one lock
  for the whole book, which the server lets go at its end, however it ends.  So what
  was read inside a change still holds when it is written, and no update is lost.
- Reading sees one state of the book and holds up nobody.
- Each commit is flushed by the server before it is acknowledged; a server that does
  not flush is refused.
- Texts sort by the value of their bytes, as in a file, and not by the habits of a country.
- The guards of what is kept for good are triggers here too.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any
from urllib.parse import quote

import sqlalchemy as sa
from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL

from pourcast.book.address import shown
from pourcast.book.faults import NOTHING_LOST, BookError, ClashError
from pourcast.book.sqlite import MARK, READING, WAIT_S
from pourcast.errors import InputError, PourcastError

NAME = "postgresql"
"""As the library calls the kind of database."""

REACHED_WITHIN = 10
"""s that a server may take to answer a first time; own choice."""

_IDLE_MS = 120_000  # a change that is left open so long lets the lock go; own choice
_NOT_KNOWN = (
    "It went while an entry was being acknowledged: whether that one was kept is not known. "
    "Look for it before you enter it again; what was kept before is whole."
)


def make_engine(url: URL, *, wait_s: float = WAIT_S) -> Engine:
    """Return an engine on a server; nothing is opened yet.

    Raises
    ------
    InputError
        If the library that speaks to it is not installed.
    """
    try:
        import psycopg  # noqa: F401
    except ModuleNotFoundError:
        raise InputError(
            "book",
            shown(url),
            "",
            "in a folder, unless the extra shared is installed",
            'Install it: pip install "pourcast[shared]"',
        ) from None
    engine = create_engine(
        url.set(drivername="postgresql+psycopg"),
        pool_pre_ping=True,
        # What was entered is nobody's business in an error.
        hide_parameters=True,
        connect_args={
            "connect_timeout": REACHED_WITHIN,
            "application_name": "pourcast",
            "client_encoding": "utf8",
        },
    )

    @event.listens_for(engine, "connect")
    def _connected(connection: Any, record: object) -> None:
        del record
        with connection.cursor() as cursor:
            cursor.execute(
                "SELECT set_config('synchronous_commit', 'on', false)"
                " WHERE current_setting('synchronous_commit') = 'off'"
            )
            cursor.execute(f"SET idle_in_transaction_session_timeout = {_IDLE_MS}")
            cursor.execute(f"SET lock_timeout = {round(1000 * wait_s)}")
        connection.commit()

    @event.listens_for(engine, "begin")
    def _begun(connection: Connection) -> None:
        if connection.get_execution_options().get(READING, False):
            connection.exec_driver_sql("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            return
        connection.exec_driver_sql("SET TRANSACTION ISOLATION LEVEL READ COMMITTED")
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({MARK})")

    return engine


def require_fit(engine: Engine) -> None:
    """Refuse a database that would keep the book wrongly, or that is of another program.

    Raises
    ------
    InputError
    """
    with engine.connect().execution_options(**{READING: True}) as connection, connection.begin():
        for setting, wanted, must in (
            ("server_encoding", "UTF8", "UTF8, so that every name can be kept"),
            ("fsync", "on", "on, so that what was kept survives a power cut"),
        ):
            found = connection.exec_driver_sql(f"SHOW {setting}").scalar()
            if found != wanted:
                raise InputError(f"setting {setting} of the server", found, "", must)
        names = set(sa.inspect(connection).get_table_names())
        if names and not {"alembic_version", "program"} <= names:
            raise InputError("database", "of another program", "", "empty, or a book of pourcast")


@contextmanager
def whole_change(engine: Engine) -> Iterator[Connection]:
    """Give a connection for a change of tables, which is done whole or not at all."""
    with engine.connect() as connection, connection.begin():
        yield connection


def guard_statements(table: str) -> tuple[str, ...]:
    """Return the statements that make a table refuse changes and deletions."""
    return (
        "CREATE OR REPLACE FUNCTION kept_for_good() RETURNS trigger LANGUAGE plpgsql AS "
        "$$BEGIN RAISE EXCEPTION 'kept for good: %', TG_TABLE_NAME; END$$",
        f"CREATE TRIGGER kept_{table} BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
        "FOR EACH STATEMENT EXECUTE FUNCTION kept_for_good()",
    )


def unguard_statements(table: str) -> tuple[str, ...]:
    """Return the statements that take the guards of a table off."""
    return (f"DROP TRIGGER kept_{table} ON {table}",)


def sort_by_bytes(connection: Connection) -> None:
    """Let every text of the book sort by its bytes; part of the step that makes its tables."""
    inspector = sa.inspect(connection)
    for table in inspector.get_table_names():
        for column in inspector.get_columns(table):
            if isinstance(column["type"], sa.Text) and column["type"].collation != "C":
                connection.exec_driver_sql(
                    f'ALTER TABLE "{table}" ALTER COLUMN "{column["name"]}" TYPE text COLLATE "C"'
                )


def integrity(engine: Engine) -> tuple[str, ...]:
    """Return which constraints of the book are not in force; nothing if all are."""
    with engine.connect().execution_options(**{READING: True}) as connection, connection.begin():
        asked = (
            "SELECT conname FROM pg_constraint WHERE NOT convalidated"
            " UNION ALL SELECT tgname FROM pg_trigger WHERE tgenabled = 'D'"
        )
        return tuple(connection.exec_driver_sql(asked).scalars())


_CLASHES = {"40001", "40P01"}
_FULL = {"53100"}
_HELD = {"55P03"}
_NO_RIGHT = {"42501"}
_ONLY_READS = {"25006"}
_GONE = {"57P01", "57P02", "57P03", "25P03"}


def meaning(fault: BaseException, url: URL, *, at_the_end: bool = False) -> PourcastError | None:
    """Return what a fault of the driver means for the caster; None: it is no such fault.

    Parameters
    ----------
    fault : BaseException
        As SQLAlchemy or the driver raised it.
    url : URL
        Of the book.
    at_the_end : bool
        True: it came while the change was being acknowledged.
    """
    import psycopg

    inner = getattr(fault, "orig", None) or fault
    if isinstance(inner, PourcastError):
        return inner
    if not isinstance(inner, psycopg.Error):
        return None
    state = inner.sqlstate or ""
    why = _said(inner, url)
    if state in _CLASHES:
        return ClashError(f"the server gave way to another change ({why}). {NOTHING_LOST}")
    if state in _FULL:
        return BookError(f"the disk of the server is full. {NOTHING_LOST}")
    if state in _HELD:
        return BookError(
            "another program holds the book, and did not let go in time. " + NOTHING_LOST
        )
    if state in _NO_RIGHT or state in _ONLY_READS:
        return InputError("right to the book", why, "", "that of an account that may do this")
    if _is_gone(inner, state):
        after = _NOT_KNOWN if at_the_end else NOTHING_LOST
        return BookError(f"the server of the book at {shown(url)} does not answer: {why}. {after}")
    return BookError(f"the book could not be read or written: {why}. {NOTHING_LOST}")


def _is_gone(fault: Any, state: str) -> bool:
    import psycopg

    lost = state.startswith("08") or state in _GONE
    return lost or (isinstance(fault, psycopg.OperationalError) and not state)


def _said(fault: BaseException, url: URL) -> str:
    """Return the first line of a fault, without the password and without steering signs."""
    text = str(fault).strip()
    for secret in {str(url.password or ""), quote(str(url.password or ""), safe="")} - {""}:
        text = text.replace(secret, "***")
    line = next((line for line in text.splitlines() if line.strip()), type(fault).__name__)
    return re.sub(r"[\x00-\x1f\x7f]", " ", line).strip().rstrip(".")[:300]
