"""A whole book from a folder to a server and back: every row, with its id, or nothing.

House rules; the rows are held against each other by the test itself, not by the program.
"""

import signal
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.app.carry import carry_book
from pourcast.app.faults import ConflictError
from pourcast.app.studio import pieces_of
from pourcast.book import carry as carrying
from pourcast.book import export, tables
from pourcast.book.address import FILE as NOTE
from pourcast.book.address import HERE, VARIABLE
from pourcast.book.faults import BookError
from pourcast.book.pictures import photographs_of, read_file
from pourcast.book.sheets import put_sheet
from pourcast.book.store import BACKUPS, FILE, Book, open_book
from pourcast.book.who import acting
from pourcast.errors import InputError
from tests.book.test_export import fill, rows_of
from tests.book.test_pictures import PNG
from tests.book.test_writers import ROOT

NOW = datetime(2026, 5, 1, 8, 0, tzinfo=UTC)


@pytest.fixture(autouse=True)
def no_address(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(VARIABLE, raising=False)


def without_sheets(rows: dict[str, list[dict[str, object]]]) -> dict[str, list[dict[str, object]]]:
    return {name: held for name, held in rows.items() if name not in carrying.OF_SHEETS}


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    """Make a folder with a full book and two piece files, one of them in three texts."""
    folder = tmp_path / "studio"
    with open_book(folder) as book:
        with acting("Rowan"):
            fill(book)
        pieces = pieces_of(book)
        with acting("Rowan"):
            fern = pieces.add("fern, first\n")
            pieces.save(fern.id, "fern, second\n", base=1)
        pieces.save(fern.id, "fern, third\n", base=2)
        with pytest.raises(ConflictError):
            pieces.save(fern.id, "fern, too late\n", base=2)
        pieces.add("teasel\n")
        with book.reading() as connection:
            piece = connection.execute(sa.select(tables.pieces.c.id)).scalar_one()
        pieces.set_book_piece(fern.id, piece)
    return folder


def texts(book: Book) -> dict[str, list[tuple[int, str, str]]]:
    """Return every text of every piece file, with its number and hand."""
    pieces = pieces_of(book)
    return {
        piece: [(each.revision, each.text, each.who) for each in pieces.earlier(piece)]
        + [(-each.revision, each.text, each.who) for each in pieces.asides(piece)]
        for piece in pieces.ids()
    }


def on_disk(folder: Path) -> dict[str, bytes]:
    """Return every file of a folder but the note of the address and what a reader leaves."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != NOTE and not path.name.endswith(("-shm", "-wal"))
    }


def test_book_moves_to_a_server_and_back_with_every_row(studio: Path, address: str) -> None:
    with open_book(studio) as book:
        before, wrote = rows_of(book), texts(book)
        links = {piece: pieces_of(book).book_piece(piece) for piece in wrote}
    lay = on_disk(studio)

    said = carry_book(studio, address, at=NOW)

    assert on_disk(studio) == lay, "the book that was moved is left as it was"
    with open_book(studio) as shared:
        assert shared.on_server, "the folder knows where its book is now"
        assert without_sheets(rows_of(shared)) == without_sheets(before)
        assert texts(shared) == wrote
        assert {piece: pieces_of(shared).book_piece(piece) for piece in wrote} == links
        piece = before["pieces"][0]["id"]
        assert read_file(shared, photographs_of(shared, piece)[0]) == PNG
        changed = next(piece for piece, held in wrote.items() if len(held) == 4)
        with acting("Hazel"):
            pieces_of(shared).save(changed, "fern, on the server\n", base=3)
        after, wrote_after = rows_of(shared), texts(shared)
    assert all("***" in line or "postgresql" not in line for line in said)

    carry_book(studio, HERE, at=NOW)

    with open_book(studio) as back:
        assert not back.on_server
        assert without_sheets(rows_of(back)) == without_sheets(after)
        assert texts(back) == wrote_after
        assert texts(back)[changed][0] == (4, "fern, on the server\n", "Hazel")
        assert read_file(back, photographs_of(back, piece)[0]) == PNG
    aside = list((studio / BACKUPS).glob("before-move-*"))
    assert len(aside) == 1
    assert (aside[0] / FILE).read_bytes() == lay[FILE]


def test_book_moves_from_a_server_into_a_new_folder(
    studio: Path, address: str, tmp_path: Path
) -> None:
    carry_book(studio, address, at=NOW)
    with open_book(studio) as shared:
        before, wrote = rows_of(shared), texts(shared)

    carry_book(studio, str(tmp_path / "new"), at=NOW)

    with open_book(tmp_path / "new") as new:
        assert rows_of(new) == before
        assert texts(new) == wrote
    with open_book(studio) as shared:
        assert rows_of(shared) == before


def test_place_that_holds_something_is_refused_and_left(
    studio: Path, address: str, another_address: str, tmp_path: Path
) -> None:
    with open_book(tmp_path / "other", address=another_address) as other:
        fill(other, name="Another")
        held = rows_of(other)
    with pytest.raises(InputError, match="not empty"):
        carry_book(studio, another_address, at=NOW)
    with open_book(tmp_path / "other", address=another_address) as other:
        assert rows_of(other) == held
    assert not (studio / NOTE).exists()

    with open_book(tmp_path / "full") as full:
        fill(full)
        held = rows_of(full)
    carry_book(studio, address, at=NOW)
    with pytest.raises(InputError, match="not empty"):
        carry_book(studio, str(tmp_path / "full"), at=NOW)
    with open_book(tmp_path / "full") as full:
        assert rows_of(full) == held


def test_book_is_not_moved_onto_itself(studio: Path, address: str) -> None:
    with pytest.raises(InputError, match="lies there already"):
        carry_book(studio, HERE, at=NOW)
    carry_book(studio, address, at=NOW)
    with pytest.raises(InputError, match=r"lies there already|not empty"):
        carry_book(studio, address, at=NOW)


@pytest.mark.parametrize("spoilt", ["plan_parts", "notes", "sheet_texts", "users"])
def test_row_that_arrives_otherwise_stops_the_move(
    studio: Path, address: str, monkeypatch: pytest.MonkeyPatch, spoilt: str
) -> None:
    """Made to fail: the store drops a row, or a sign of one; the target then stays empty."""
    if spoilt == "sheet_texts":

        def put(connection: Connection, sheet: str, piece: str | None, told: object, *more: object):  # type: ignore[no-untyped-def]
            put_sheet(connection, sheet, piece, list(told)[:1], *more)  # type: ignore[call-overload,arg-type]

        monkeypatch.setattr(carrying, "put_sheet", put)
    else:
        copy = carrying._copy

        def drops(reading: Connection, writing: Connection, table: sa.Table) -> None:
            if table.name != spoilt:
                copy(reading, writing, table)

        monkeypatch.setattr(carrying, "_copy", drops)

    with pytest.raises(BookError, match="did not arrive as it was"):
        carry_book(studio, address, at=NOW)

    with open_book(studio, address=address) as shared:
        assert not any(rows_of(shared).values())
    assert not (studio / NOTE).exists()


def test_sign_that_changes_on_the_way_is_seen(
    studio: Path, address: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As many rows, and one of them other: the hash tells."""
    inner = export.rows_of

    def other(connection: Connection, table: sa.Table) -> Iterator[dict[str, object]]:
        for row in inner(connection, table):
            changed = dict(row)
            if table.name == "notes" and connection.dialect.name == "sqlite":
                changed["text"] += " "
            yield changed

    calls: list[str] = []
    copy = carrying._copy

    def copies(reading: Connection, writing: Connection, table: sa.Table) -> None:
        with monkeypatch.context() as here:
            here.setattr(carrying, "rows_of", other)
            copy(reading, writing, table)
        calls.append(table.name)

    monkeypatch.setattr(carrying, "_copy", copies)
    with pytest.raises(BookError, match="notes did not arrive"):
        carry_book(studio, address, at=NOW)
    assert "notes" in calls


_MOVE = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from pourcast.app.carry import carry_book
from pourcast.book import carry as carrying
copy = carrying._copy
def slowly(reading, writing, table):
    copy(reading, writing, table)
    if table.name == sys.argv[3]:
        print("half way", flush=True)
        sys.stdin.readline()
carrying._copy = slowly
carry_book(Path(sys.argv[1]), sys.argv[2], at=datetime.now(UTC))
"""


def test_move_that_is_killed_half_way_leaves_the_target_empty(studio: Path, address: str) -> None:
    """SIGKILL in the middle; then the same move again goes through."""
    with open_book(studio) as book:
        before = rows_of(book)
    for table in ("pieces", "movements"):
        program = subprocess.Popen(
            [sys.executable, "-c", _MOVE, str(studio), address, table],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=ROOT,
        )
        assert program.stdout is not None
        assert program.stdout.readline() == "half way\n"
        program.send_signal(signal.SIGKILL)
        program.communicate()
        with open_book(studio, address=address) as shared:
            assert not any(rows_of(shared).values())
        with open_book(studio) as book:
            assert rows_of(book) == before

    carry_book(studio, address, at=NOW)
    with open_book(studio) as shared:
        assert without_sheets(rows_of(shared)) == without_sheets(before)


def test_move_back_that_is_killed_leaves_the_server_in_use(studio: Path, address: str) -> None:
    carry_book(studio, address, at=NOW)
    lay = on_disk(studio)
    program = subprocess.Popen(
        [sys.executable, "-c", _MOVE, str(studio), HERE, "movements"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    )
    assert program.stdout is not None
    assert program.stdout.readline() == "half way\n"
    program.send_signal(signal.SIGKILL)
    program.communicate()

    with open_book(studio) as shared:
        assert shared.on_server
    left = {name: held for name, held in on_disk(studio).items() if not name.startswith(".moving-")}
    assert left == lay
