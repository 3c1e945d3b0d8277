"""From form 0004 to 0005, on both stores: a book with pours and kiln days keeps all, and goes on.

House rules.
"""

import json
import shutil
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa
from sqlalchemy.exc import DBAPIError

from pourcast.book import migrate, server, sqlite, tables
from pourcast.book.export import HEAD, export_book
from pourcast.book.kinds import as_kept
from pourcast.book.listing import list_pieces
from pourcast.book.outcomes import correct_day, pours_of, revisions
from pourcast.book.store import BACKUPS, FILE, Book, open_book
from pourcast.book.take_in import import_book
from pourcast.errors import InputError
from tests.book.conftest import AT, STORES
from tests.book.server import Server

LIT, POURED = datetime(2026, 3, 6, 19, tzinfo=UTC), datetime(2026, 3, 7, 12, tzinfo=UTC)
FRIDAY, SATURDAY = date(2026, 3, 6), date(2026, 3, 7)
NEW = "pour_days"

ROWS: dict[str, list[dict[str, Any]]] = {
    "pieces": [{"id": "piece1", "name": "Fern", "created": as_kept(AT)}],
    "plans": [
        {
            "id": "plan1", "piece_id": "piece1", "created": as_kept(AT), "file_name": "fern.toml",
            "chance_whole": 0.5, "draws": 400, "seed": 1, "version": "0.1.0",
            "inputs_sha256": "a" * 64, "kernels_sha256": "b" * 64, "calibration": None,
            "alloy": "si_bronze_c87300", "powder": "gypsum_silica", "metal_mg": 1, "powder_mg": 1,
            "sheet": "", "document": "{}",
        }
    ],
    "plan_parts": [
        {"plan_id": "plan1", "number": 0, "name": "stem", "count": 1, "chance_full": 0.5}
    ],
    "pours": [
        {"id": "dayeve", "plan_id": "plan1", "day": "2026-03-06", "created": as_kept(LIT)},
        {"id": "cast22", "plan_id": "plan1", "day": "2026-03-02", "created": as_kept(AT)},
    ],
    "events": [
        {
            "id": f"event{number}", "pour_id": "dayeve", "key": act, "act": act,
            "at": as_kept(at), "setting": None, "reading": None, "takes_back": None, "note": "",
            "created": as_kept(at),
        }
        for number, (act, at) in enumerate((("began", LIT), ("poured", POURED)))
    ],
    "outcomes": [
        {
            "id": "outcome1", "pour_id": "cast22", "revision": 1, "seen": "2026-03-03",
            "created": as_kept(LIT), "sure": "sure", "button": None, "note": "",
        }
    ],
    "outcome_parts": [
        {
            "outcome_id": "outcome1", "part": "stem", "state": "filled", "members_short": None,
            "filled_share": None, "short_by_mm": None, "note": "",
        }
    ],
}  # fmt: skip
"""What a book of form 0004 holds: a kiln day with its pour, and a pour that was only noted."""


class Old:
    """A book of form 0004 with rows."""

    def __init__(self, folder: Path, address: str | None) -> None:
        self.folder = folder
        self.address = address

    def open(self) -> Book:
        """Open it with this program, which upgrades it."""
        return open_book(self.folder, address=self.address)


def former_steps(folder: Path) -> Path:
    """Return the steps of the program as they were before form 0005."""
    ignored = shutil.ignore_patterns("__pycache__", "form_0005*")
    return Path(shutil.copytree(migrate.STEPS, folder / "steps", ignore=ignored))


@pytest.fixture(params=STORES)
def old(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Old]:
    """Make a book of form 0004, in a folder and on a server."""
    folder, address = tmp_path / "old", None
    folder.mkdir()
    if request.param == "server":
        running: Server = request.getfixturevalue("server")
        address = running.new_database()
        engine = server.make_engine(sa.make_url(address))
    else:
        engine = sqlite.make_engine(folder / FILE)
    migrate.upgrade(engine, folder, steps=former_steps(tmp_path))
    found = sa.MetaData()
    with engine.begin() as connection:
        found.reflect(connection)
        assert NEW not in found.tables
        for table, rows in ROWS.items():
            connection.execute(found.tables[table].insert(), rows)
    engine.dispose()
    yield Old(folder, address)
    if address is not None:
        running.drop(address)


def rows_as_they_stand(book: Book) -> dict[str, list[dict[str, Any]]]:
    found = sa.MetaData()
    with book.reading() as connection:
        found.reflect(connection)
        made = {}
        for name in ROWS:
            table = found.tables[name]
            asked = sa.select(table).order_by(*table.primary_key.columns)
            made[name] = [dict(row) for row in connection.execute(asked).mappings()]
        return made


def test_every_row_is_as_it_was_and_a_copy_lies_beside(old: Old) -> None:
    with old.open() as book:
        after = rows_as_they_stand(book)
        with book.reading() as connection:
            form = connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalar()

    assert form == tables.FORM
    for name, rows in ROWS.items():
        want = {json.dumps(row | {"who": "unknown", "noted": None}, sort_keys=True) for row in rows}
        assert {json.dumps(row, sort_keys=True) for row in after[name]} == want
    assert [path.name[:10] for path in (old.folder / BACKUPS).iterdir()] == ["book-0004-"]


def test_pours_have_the_day_on_which_they_were_poured(old: Old) -> None:
    """The one that the acts tell, which form 0004 did not look at."""
    with old.open() as book:
        found = [(each.id, each.day, each.lit, each.stage) for each in pours_of(book, "plan1")]
        (line,) = list_pieces(book)

    assert found == [
        ("dayeve", SATURDAY, FRIDAY, "poured"),
        ("cast22", date(2026, 3, 2), None, "poured"),
    ]
    assert (line.poured, line.begun, line.came) == (SATURDAY, None, None)


def test_a_day_can_be_entered_and_is_kept_for_good(old: Old) -> None:
    at = datetime(2026, 3, 9, 12, tzinfo=UTC)
    with old.open() as book:
        correct_day(book, "dayeve", date(2026, 3, 8), at=at)
        correct_day(book, "dayeve", FRIDAY, at=at)

        assert pours_of(book, "plan1")[0].day == FRIDAY
        for statement in (f"UPDATE {NEW} SET day = '2026-01-01'", f"DELETE FROM {NEW}"):
            with pytest.raises(DBAPIError, match="kept for good"), book.engine.begin() as change:
                change.exec_driver_sql(statement)
        with pytest.raises(DBAPIError), book.engine.begin() as change:
            change.exec_driver_sql(
                f"INSERT INTO {NEW} (id, pour_id, revision, day, created)"
                " VALUES ('x', 'dayeve', 2, '2026-03-08', '')"
            )
        with book.reading() as connection:
            asked = sa.select(tables.pour_days.c.day).order_by(tables.pour_days.c.revision)
            assert connection.execute(asked).scalars().all() == [date(2026, 3, 8), FRIDAY]


def test_texts_of_the_new_table_sort_by_their_bytes(old: Old) -> None:
    """A file sorts so of itself; a server is told."""
    with old.open() as book:
        kinds = [column["type"] for column in sa.inspect(book.engine).get_columns(NEW)]
        on_server = book.on_server

    found = {kind.collation for kind in kinds if isinstance(kind, sa.Text)}
    assert found == ({"C"} if on_server else {None})


def test_an_export_of_the_former_form_is_read(old: Old, tmp_path: Path) -> None:
    """A caster's copy from before the upgrade; and of a server, the one the upgrade made."""
    export = tmp_path / "export"
    with old.open() as book:
        if book.on_server:
            (export,) = (old.folder / BACKUPS).iterdir()
        else:
            export_book(book, export, at=AT)
            as_before(export)
        before = list_pieces(book)

    with open_book(tmp_path / "other") as other:
        added = import_book(other, export)

        assert added[NEW] == 0
        assert added["pours"] == 2
        assert list_pieces(other) == before
        assert len(revisions(other, "cast22")) == 1


def as_before(export: Path) -> None:
    """Take out of an export what form 0004 did not have."""
    head = json.loads((export / HEAD).read_text("utf-8"))
    (export / f"{NEW}.jsonl").unlink()
    del head["sha256"][f"{NEW}.jsonl"], head["rows"][NEW]
    (export / HEAD).write_text(json.dumps(head | {"form": "0004"}), "utf-8")


def test_an_export_of_this_form_without_its_days_is_not_whole(old: Old, tmp_path: Path) -> None:
    export = tmp_path / "export"
    with old.open() as book:
        export_book(book, export, at=AT)
    (export / f"{NEW}.jsonl").unlink()

    with open_book(tmp_path / "other") as other, pytest.raises(InputError, match="can be read"):
        import_book(other, export)
