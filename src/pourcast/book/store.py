"""Store: one book, in a folder or on a server, opened, read and written.

The folder holds ``book.db``, the photographs under the hash of their content,
and the copies that were made before each upgrade.  It is the folder that the
system keeps for data of a program, unless another is named.  A book on a server
has a folder on each machine too, for what is of that machine alone.
"""

import secrets
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import wraps
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

import platformdirs
import sqlalchemy as sa
from sqlalchemy import Connection, Engine, event
from sqlalchemy.exc import DBAPIError, StatementError

from pourcast.book import server, sqlite
from pourcast.book.address import find_address, shown
from pourcast.book.faults import ClashError, KeptForGoodError
from pourcast.book.tables import FORM, KEPT
from pourcast.errors import InputError, PourcastError

FILE = "book.db"
PICTURES = "photographs"
BACKUPS = "backups"

_LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"
"""Without i, l, o and u, which are misread or spell words."""

_ID_LENGTH = 16
"""80 bits: of ten million ids, two are alike in one of 10^10 books."""

TRIES = 6
"""How often a change is tried that gives way to others on a server; own choice."""

_PAUSE = 0.02  # s before the second try, twice as long before each further one

_In = ParamSpec("_In")
_Out = TypeVar("_Out")

SHORTEST_ID = 4
"""Signs of an id that must be typed, if no other id begins like it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """An open book; to be closed, or used in a ``with``.

    Parameters
    ----------
    folder : Path
    engine : Engine
    """

    folder: Path
    engine: Engine

    @property
    def on_server(self) -> bool:
        """Whether it lies on a server, where several machines write."""
        return self.engine.dialect.name == server.NAME

    @property
    def place(self) -> str:
        """Where it lies, as it may be said: no password stands in it."""
        return (
            shown(self.engine.url.set(drivername=server.NAME))
            if self.on_server
            else str(self.folder)
        )

    def __enter__(self) -> "Book":
        return self

    def __exit__(self, *fault: object) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self.engine.dispose()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give a connection that sees one state of the book."""
        with (
            _told(self.engine, self.folder),
            self.engine.connect().execution_options(**{sqlite.READING: True}) as connection,
            connection.begin(),
        ):
            yield connection

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Give a connection whose work is kept whole at the end, or not at all."""
        at_the_end = False
        try:
            with self.engine.begin() as connection:
                yield connection
                at_the_end = True
        except (DBAPIError, StatementError, OSError) as fault:
            meant = meaning(fault, self.engine, self.folder, at_the_end=at_the_end)
            if meant is None:
                raise
            raise meant from fault


def default_folder() -> Path:
    """Return the folder of the book where none is named."""
    return Path(platformdirs.user_data_dir("pourcast", appauthor=False))


def open_book(folder: Path | None = None, *, address: str | None = None) -> Book:
    """Return the book of a folder; a new one is made where there is none.

    Parameters
    ----------
    folder : Path or None
        None: that of the system.
    address : str or None
        Of a book on a server, or "here"; None: what the environment or the folder says.

    Raises
    ------
    InputError
        If the folder cannot be written, if the file is no book, or if a newer
        pourcast has written it.
    BookError
        If an upgrade does not work; the book is then as it was.
    """
    place = default_folder() if folder is None else folder
    try:
        place.mkdir(mode=0o700, parents=True, exist_ok=True)
        url = find_address(place, address)
    except OSError as fault:
        raise sqlite.unwritable(place, fault.strerror or str(fault)) from None
    engine = sqlite.make_engine(place / FILE) if url is None else server.make_engine(url)
    _refuse_changes(engine)
    book = Book(folder=place, engine=engine)
    try:
        with _told(engine, place):
            if book.on_server:
                server.require_fit(engine)
            if _form(engine) != FORM:
                from pourcast.book.migrate import upgrade

                upgrade(engine, place)
    except BaseException:
        engine.dispose()
        raise
    return book


def retried(work: Callable[_In, _Out]) -> Callable[_In, _Out]:
    """Return a change that is tried again where it gave way to another on the server.

    It must be one transaction, so that what gave way has left nothing behind.
    """

    @wraps(work)
    def tried(*args: _In.args, **named: _In.kwargs) -> _Out:
        pause = _PAUSE
        for _ in range(TRIES - 1):
            try:
                return work(*args, **named)
            except ClashError:
                time.sleep(pause)
                pause *= 2.0
        return work(*args, **named)

    return tried


def meaning(
    fault: BaseException, engine: Engine, folder: Path, *, at_the_end: bool = False
) -> PourcastError | None:
    """Return what a fault means for the caster; None: it is none of the store.

    Parameters
    ----------
    fault : BaseException
    engine : Engine
    folder : Path
    at_the_end : bool
        True: it came while a change was being acknowledged.
    """
    if engine.dialect.name == server.NAME and not isinstance(fault, OSError):
        return server.meaning(fault, engine.url, at_the_end=at_the_end)
    return sqlite.meaning(fault, folder)


def new_id() -> str:
    """Return an id that no other row has."""
    return "".join(secrets.choice(_LETTERS) for _ in range(_ID_LENGTH))


def find_id(connection: Connection, table: sa.Table, asked: str) -> str:
    """Return the one id of a table that begins like what was asked for.

    Raises
    ------
    InputError
        If there is none, or more than one.
    """
    what = table.name[:-1]
    short = asked.strip().lower()
    must = f"the first {SHORTEST_ID} signs or more of the id of a {what}"
    if len(short) < SHORTEST_ID or not set(short) <= set(_LETTERS):
        raise InputError(what, asked[:40], "", must)
    ids = sa.select(table.c.id).where(table.c.id >= short, table.c.id < short + "~")
    found = connection.execute(ids.order_by(table.c.id).limit(3)).scalars().all()
    if not found:
        raise InputError(what, asked, "", f"one that stands in the book; {must}")
    if len(found) > 1 and found[0] != short:
        raise InputError(what, asked, "", f"one and not several: {', '.join(found)}")
    return str(found[0])


def _form(engine: Engine) -> str | None:
    """Return the form of a book; None: there is nothing in it yet."""
    with engine.connect().execution_options(**{sqlite.READING: True}) as connection:
        if not sa.inspect(connection).has_table("alembic_version"):
            return None
        found = connection.execute(sa.text("SELECT version_num FROM alembic_version"))
        form: str | None = found.scalar()
        return form


@contextmanager
def _told(engine: Engine, folder: Path) -> Iterator[None]:
    """Turn faults of the database into errors that say what to do."""
    try:
        yield
    except (DBAPIError, StatementError, OSError) as fault:
        meant = meaning(fault, engine, folder)
        if meant is None:
            raise
        raise meant from fault


def _refuse_changes(engine: Engine) -> None:
    """Refuse, before the database does, to change or delete what is kept for good."""

    @event.listens_for(engine, "before_execute")
    def _looked_at(
        connection: Connection, statement: Any, many: Any, one: Any, options: Any
    ) -> None:
        del connection, many, one, options
        if isinstance(statement, sa.Update | sa.Delete):
            name = getattr(statement.table, "name", "")
            if name in KEPT:
                raise KeptForGoodError(name)
