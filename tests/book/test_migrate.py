"""From one form of the book to the next: whole or not at all, with a copy before.

House rules; the traps are those of the database and of the library that runs the
steps (a failed step on SQLite leaves half its columns unless it is guarded).
"""

import shutil
import sqlite3
import textwrap
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext

from pourcast.book import migrate, sqlite, store, tables
from pourcast.book.faults import BookError
from pourcast.book.store import open_book
from pourcast.errors import InputError
from tests.book.conftest import kept


def steps_with(folder: Path, body: str, revision: str = "9001", down: str = tables.FORM) -> Path:
    """Return a folder with the steps of the program and one more."""
    steps = folder / "steps with a % sign"
    if not steps.exists():
        shutil.copytree(migrate.STEPS, steps, ignore=shutil.ignore_patterns("__pycache__"))
    text = f"""
        import sqlalchemy as sa
        from alembic import op

        revision = "{revision}"
        down_revision = "{down}"


        def upgrade():
        {textwrap.indent(textwrap.dedent(body), " " * 12).lstrip()}
    """
    lines = textwrap.dedent(text).replace("def upgrade():\n", "def upgrade():\n    ")
    (steps / "versions" / f"form_{revision}.py").write_text(lines, encoding="utf-8")
    return steps


GOOD = "op.add_column('pieces', sa.Column('place', sa.Text()))"
BAD = "op.add_column('pieces', sa.Column('place', sa.Text())); raise RuntimeError('power cut')"


def columns(engine: sa.Engine, table: str) -> list[str]:
    with engine.connect() as connection:
        return [column["name"] for column in sa.inspect(connection).get_columns(table)]


def test_steps_make_the_tables_that_the_program_works_with(tmp_path: Path) -> None:
    """The two ways of writing the tables down agree, by the library's own comparison."""
    with open_book(tmp_path) as book, book.reading() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, tables.metadata) == []
        checks = sa.inspect(connection).get_check_constraints
        made = {
            table: {check["name"] for check in checks(table)} for table in tables.metadata.tables
        }
    wanted = {
        name: {str(c.name) for c in table.constraints if isinstance(c, sa.CheckConstraint)}
        for name, table in tables.metadata.tables.items()
    }
    assert made == wanted


def test_form_of_the_program_is_the_newest_step(tmp_path: Path) -> None:
    with open_book(tmp_path) as book, book.reading() as connection:
        assert MigrationContext.configure(connection).get_current_revision() == tables.FORM


def test_upgrade_keeps_the_rows_and_a_copy_of_the_book_before(tmp_path: Path) -> None:
    place = tmp_path / "book"
    with open_book(place) as book:
        plan = kept(book)
        copy = migrate.upgrade(book.engine, place, steps=steps_with(tmp_path, GOOD))

        assert "place" in columns(book.engine, "pieces")
        with book.reading() as connection:
            assert connection.execute(sa.select(tables.plans.c.id)).scalars().all() == [plan.id]
    assert copy is not None
    before = sqlite3.connect(copy)
    assert before.execute("SELECT id FROM plans").fetchall() == [(plan.id,)]
    assert before.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    names = [row[1] for row in before.execute("PRAGMA table_info(pieces)")]
    before.close()
    assert "place" not in names


def test_step_that_fails_leaves_nothing_half_done(tmp_path: Path) -> None:
    place = tmp_path / "book"
    with open_book(place) as book:
        plan = kept(book)
        before = columns(book.engine, "pieces")
        with pytest.raises(BookError, match="it is as it was") as fault:
            migrate.upgrade(book.engine, place, steps=steps_with(tmp_path, BAD))

        assert columns(book.engine, "pieces") == before
        assert sqlite.integrity(book.engine) == ()
    assert "power cut" in str(fault.value)
    assert len(list((place / store.BACKUPS).iterdir())) == 1
    with open_book(place) as again, again.reading() as connection:
        assert connection.execute(sa.select(tables.plans.c.id)).scalars().all() == [plan.id]


def test_second_of_two_steps_that_fails_takes_the_first_back(tmp_path: Path) -> None:
    place = tmp_path / "book"
    steps_with(tmp_path, GOOD)
    steps = steps_with(tmp_path, BAD.replace("'place'", "'shelf'"), "9002", "9001")
    with open_book(place) as book:
        with pytest.raises(BookError):
            migrate.upgrade(book.engine, place, steps=steps)

        assert not {"place", "shelf"} & set(columns(book.engine, "pieces"))


def test_table_that_is_built_anew_keeps_its_references_and_its_guards(tmp_path: Path) -> None:
    """SQLite cannot change a table in place; rows that refer to it must stay whole."""
    body = """
        from pourcast.book.sqlite import guard_statements
        with op.batch_alter_table('pieces', recreate='always') as batch:
            batch.add_column(sa.Column('place', sa.Text()))
        for statement in guard_statements('pieces'):
            op.execute(statement)
    """
    place = tmp_path / "book"
    with open_book(place) as book:
        kept(book)
        migrate.upgrade(book.engine, place, steps=steps_with(tmp_path, body))

        assert sqlite.integrity(book.engine) == ()
        with book.reading() as connection:
            assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1
            found = connection.exec_driver_sql(
                "SELECT count(*) FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'pieces'"
            )
            assert found.scalar() == 2


def test_step_that_tears_references_is_taken_back(tmp_path: Path) -> None:
    body = "op.execute('DROP TRIGGER kept_pieces_delete'); op.execute('DELETE FROM pieces')"
    place = tmp_path / "book"
    with open_book(place) as book:
        kept(book)
        with pytest.raises(BookError, match="refer to rows that are not there"):
            migrate.upgrade(book.engine, place, steps=steps_with(tmp_path, body))

        assert sqlite.integrity(book.engine) == ()


def test_new_book_needs_no_copy(tmp_path: Path) -> None:
    open_book(tmp_path).close()

    assert not (tmp_path / store.BACKUPS).exists()


def test_book_of_a_newer_program_is_refused_by_name(tmp_path: Path) -> None:
    place = tmp_path / "book"
    with open_book(place) as book:
        migrate.upgrade(book.engine, place, steps=steps_with(tmp_path, GOOD))
    other = sqlite3.connect(place / store.FILE)
    other.execute("UPDATE program SET value = '9.8.7' WHERE key = 'written_by'")
    other.commit()
    other.close()

    with pytest.raises(InputError, match=r"written by pourcast 9\.8\.7"):
        open_book(place)


def test_steps_lie_inside_the_package() -> None:
    """House rule: a wheel holds them; they are files of the package and no data elsewhere."""
    package = Path(migrate.__file__).parents[1]

    assert package in migrate.STEPS.parents
    assert (migrate.STEPS / "versions" / f"form_{tables.FORM}.py").is_file()
