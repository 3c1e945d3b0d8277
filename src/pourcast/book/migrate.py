"""Migrate: bring the tables of a book to the form that this program writes.

Steps ship inside the package, in ``migrations``.  Before each upgrade a whole
copy of the book is written into the folder and kept: of a book in a file that file,
of a book on a server an export of its rows as they stand.  All steps are one
transaction: if one fails, the book is as it was.
"""

from datetime import UTC, datetime
from pathlib import Path

import sqlalchemy as sa
from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine

from pourcast import __version__
from pourcast.book import server, sqlite
from pourcast.book.faults import BookError
from pourcast.book.store import meaning
from pourcast.book.tables import program
from pourcast.errors import InputError, PourcastError

STEPS = Path(__file__).parent / "migrations"


def upgrade(engine: Engine, folder: Path, *, steps: Path = STEPS) -> Path | None:
    """Bring a book to the newest form, and return where its copy lies.

    Parameters
    ----------
    engine : Engine
    folder : Path
        Of the book.
    steps : Path
        Folder with ``env.py`` and ``versions``.

    Returns
    -------
    Path or None
        None: the book was new, or there was nothing to do.

    Raises
    ------
    InputError
        If a newer program has written the book.
    BookError
        If a step fails; the book is then as it was.
    """
    config = _config(steps)
    scripts = ScriptDirectory.from_config(config)
    newest = scripts.get_current_head()
    with engine.connect().execution_options(**{sqlite.READING: True}) as connection:
        form = _form(connection)
        if form == newest:
            return None
        if form is not None and form not in {step.revision for step in scripts.walk_revisions()}:
            raise _newer(connection, form, str(newest))
    copy = None
    on_server = engine.dialect.name == server.NAME
    if form is not None:
        copy = _copy_place(folder, form, "" if on_server else ".db")
        if on_server:
            from pourcast.book.raw_export import write_raw

            write_raw(engine, copy, form=form, at=datetime.now(UTC))
        else:
            sqlite.copy_to(engine, copy)
    change = server.whole_change if on_server else sqlite.whole_change
    try:
        with change(engine) as connection:
            # Another program may have done it while this one waited; then no step runs.
            config.attributes["connection"] = connection
            command.upgrade(config, "head")
            if form is None and not on_server:
                sqlite.mark_as_book(connection)
            _sign(connection)
    except Exception as fault:
        meant = meaning(fault, engine, folder)
        why = str(meant or f"{type(fault).__name__}: {fault}")
        if isinstance(meant, InputError):
            raise meant from fault
        kept = f" A copy from before lies in {copy}." if copy else ""
        raise BookError(f"the book could not be upgraded; it is as it was.{kept} {why}") from fault
    return copy


def _config(steps: Path) -> Config:
    config = Config()
    # A percent sign would be taken for the start of a setting.
    config.set_main_option("script_location", str(steps).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    return config


def _form(connection: Connection) -> str | None:
    return MigrationContext.configure(connection).get_current_revision()


def _sign(connection: Connection) -> None:
    """Write down which program gave the book its form."""
    connection.execute(program.delete().where(program.c.key == "written_by"))
    connection.execute(program.insert(), {"key": "written_by", "value": __version__})


def _newer(connection: Connection, form: str, newest: str) -> PourcastError:
    by = "a newer pourcast"
    if sa.inspect(connection).has_table("program"):
        found = connection.execute(sa.text("SELECT value FROM program WHERE key = 'written_by'"))
        by = f"pourcast {found.scalar() or 'of a newer version'}"
    return InputError(
        "form of the book",
        form,
        "",
        f"{newest} or older; it was written by {by}, and this is pourcast {__version__}",
        "Install that version, or name another folder with --data.",
    )


def _copy_place(folder: Path, form: str, ending: str) -> Path:
    backups = folder / "backups"
    backups.mkdir(mode=0o700, exist_ok=True)
    now = datetime.now(UTC).strftime("%Y%m%dT%H%M%S%fZ")
    return backups / f"book-{form}-{now}{ending}"
