"""Every row says who wrote it and when, in a folder and on a server.

House rules: it is held over every table there is, so a new table cannot be left out.
"""

import shutil
import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic import command

from pourcast.book import migrate, sqlite, tables
from pourcast.book.days import keep_note, notes_of
from pourcast.book.model import KeptPlan, PartOutcome
from pourcast.book.outcomes import keep_outcome
from pourcast.book.settings import change_settings
from pourcast.book.store import FILE, Book, open_book
from pourcast.book.users import add_user, change_role
from pourcast.book.who import CASTER, NAME, UNKNOWN, acting, hand_here
from tests.book.conftest import AT, DAY, LATER
from tests.book.test_export import fill

EVERY = [pytest.param(name, id=name) for name in sorted(tables.metadata.tables)]


def stamps(book: Book, table: str) -> set[tuple[str, bool]]:
    """Return who wrote the rows of a table, and whether each says when."""
    of = tables.metadata.tables[table].c
    with book.reading() as connection:
        rows = connection.execute(sa.select(of.who, of.noted))
        return {(who, noted is not None) for who, noted in rows}


@pytest.fixture
def begun() -> datetime:
    return datetime.now(UTC)


def test_each_row_of_each_table_says_who_and_when(book: Book, begun: datetime) -> None:
    """One pass over the whole book; "program" is written by the upgrade before."""
    with acting("Rowan"):
        pour = fill(book)
        short = PartOutcome(part="bract", state="short", signs=(("dirt", "many"),))
        keep_outcome(book, pour, [short], seen=DAY, at=LATER)

    for name, table in tables.metadata.tables.items():
        if name in ("program", "picture_contents"):
            continue
        assert stamps(book, name) == {("Rowan", True)}, name
        with book.reading() as connection:
            earliest = connection.execute(sa.select(sa.func.min(table.c.noted))).scalar()
        assert earliest is not None, name
        assert begun <= earliest <= datetime.now(UTC), name
    if book.on_server:
        assert stamps(book, "picture_contents") == {("Rowan", True)}
    assert [noted for _, noted in stamps(book, "program")] == [True]


@pytest.mark.parametrize("name", EVERY)
def test_every_table_has_both_columns_and_fills_them(name: str) -> None:
    """The columns fill themselves, whichever function of the program writes the row."""
    of = tables.metadata.tables[name].c

    assert of.who.default is not None
    assert of.noted.default is not None
    assert of.who.onupdate is not None
    assert of.noted.onupdate is not None
    assert not of.who.nullable


@pytest.mark.parametrize("name", sorted(tables.CHANGING))
def test_update_of_every_table_that_changes_moves_both_on(book: Book, name: str) -> None:
    with acting("Rowan"):
        fill(book)
    table = tables.metadata.tables[name]
    column = {
        "program": "value",
        "settings": "value",
        "flasks": "count",
        "users": "role",
        "sheets": "created",
    }[name]
    value: object = {"flasks": 3, "users": "owner", "sheets": AT}.get(name, "EUR")
    with book.reading() as connection:
        before = connection.execute(sa.select(sa.func.max(table.c.noted))).scalar_one()

    with acting("Hazel"), book.writing() as connection:
        connection.execute(table.update().values({column: value}))

    assert stamps(book, name) == {("Hazel", True)}
    with book.reading() as connection:
        after = connection.execute(sa.select(sa.func.min(table.c.noted))).scalar_one()
    assert after > before


def test_hand_is_the_one_that_the_door_names(book: Book, plan: KeptPlan) -> None:
    with acting("Rowan"):
        keep_note(book, plan.piece_id, "one", at=AT)
        with acting("Hazel"):
            keep_note(book, plan.piece_id, "two", at=AT.replace(hour=10))
        keep_note(book, plan.piece_id, "three", at=AT.replace(hour=11))

    said = [(note.text, note.who) for note in notes_of(book, plan.piece_id)]
    assert said == [("one", "Rowan"), ("two", "Hazel"), ("three", "Rowan")]


def test_single_caster_is_asked_for_no_name(monkeypatch: pytest.MonkeyPatch) -> None:
    """House rule: of a book in a folder nobody says who they are; of a shared one all do."""
    monkeypatch.delenv(NAME, raising=False)

    assert hand_here(shared=False) == CASTER
    assert hand_here(shared=True) not in ("", CASTER)
    monkeypatch.setenv(NAME, "Rowan")
    assert hand_here(shared=True) == hand_here(shared=False) == "Rowan"


def test_change_of_a_role_says_who_changed_it(book: Book) -> None:
    with acting("Rowan"):
        add_user(book, "Ash", "owner", at=AT)
        add_user(book, "Elm", "reader", at=AT)
    with acting("Ash"):
        assert change_role(book, "Elm", "maker").who == "Ash"


def test_rows_from_before_are_unknown_and_keep_their_moment(tmp_path: Path) -> None:
    """A book of form 0003 with rows: they become "unknown", with their moment where it is known."""
    place = tmp_path / "old"
    steps = tmp_path / "steps"
    shutil.copytree(
        migrate.STEPS,
        steps,
        ignore=shutil.ignore_patterns("__pycache__", "form_0004*", "form_0005*"),
    )
    place.mkdir()
    engine = sqlite.make_engine(place / FILE)
    with sqlite.whole_change(engine) as connection:
        config = migrate._config(steps)
        config.attributes["connection"] = connection
        command.upgrade(config, "head")
        sqlite.mark_as_book(connection)
    engine.dispose()
    old = sqlite3.connect(place / FILE)
    old.execute("INSERT INTO pieces VALUES ('abcd', 'Fern', '2026-03-01T09:30:00.000000Z')")
    old.execute(
        "INSERT INTO plans VALUES ('efgh', 'abcd', '2026-03-02T09:30:00.000000Z', 'f', 0.5, 1, 1,"
        " '0.1', '', '', NULL, 'a', 'b', 1, 1, '', '{}')"
    )
    old.execute("INSERT INTO plan_parts VALUES ('efgh', 0, 'stem', 1, 0.5)")
    old.execute("INSERT INTO settings VALUES ('currency', 'EUR')")
    old.commit()
    old.close()

    with open_book(place) as upgraded, upgraded.reading() as connection:
        found = {
            name: connection.execute(sa.select(of.c.who, of.c.noted)).one()
            for name, of in tables.metadata.tables.items()
            if name in ("pieces", "plans", "plan_parts", "settings")
        }
        guards = connection.exec_driver_sql(
            "SELECT count(*) FROM sqlite_master WHERE type = 'trigger'"
        ).scalar()
    assert {who for who, _ in found.values()} == {UNKNOWN}
    assert found["pieces"][1] == datetime(2026, 3, 1, 9, 30, tzinfo=UTC)
    assert found["plans"][1] == found["plan_parts"][1] == datetime(2026, 3, 2, 9, 30, tzinfo=UTC)
    assert found["settings"][1] is None
    assert guards == 2 * len(tables.KEPT)


def test_setting_that_is_put_anew_is_of_the_one_who_put_it(book: Book) -> None:
    with acting("Rowan"):
        change_settings(book, currency="EUR")
    with acting("Hazel"):
        change_settings(book, currency="CHF")

    assert stamps(book, "settings") == {("Hazel", True)}
