"""The server dies at any moment, and nothing that it had acknowledged is lost.

Writer and server are killed with SIGKILL, which neither can catch.  As with a book in a
folder this is the death of a program, not of the machine: that the server flushes at each
commit is asked of it when the book is opened (`tests.book.test_server`).
"""

import hashlib
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest
import sqlalchemy as sa

from pourcast.book import server as of_server
from pourcast.book import tables
from pourcast.book.address import VARIABLE
from pourcast.book.days import keep_note, notes_of
from pourcast.book.faults import BookError
from pourcast.book.store import Book, open_book
from tests.book.conftest import AT, kept
from tests.book.kill.test_kill import ROOT
from tests.book.kill.writer import PARTS
from tests.book.server import Server, find_binaries


@pytest.fixture(scope="module")
def mortal() -> Iterator[Server]:
    """Start a server of this file's own, since it dies."""
    binaries = find_binaries()
    if binaries is None:
        pytest.skip("no PostgreSQL server is installed: its death was not tried")
    made = Server(binaries)
    yield made
    made.stop()


def started(folder: Path, address: str) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", "tests.book.kill.writer", str(folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        env={**os.environ, VARIABLE: address},
    )


def said_by(writer: subprocess.Popen[str], first: str) -> tuple[list[tuple[str, str]], str]:
    """Return what a writer has acknowledged, and what it said of its fault."""
    rest, fault = writer.communicate()
    # The last line may be torn: it was being said when the end came.
    said = (first + rest).split("\n")[:-1]
    return [(table, row) for table, _, row in (line.partition(" ") for line in said)], fault


def faults(address: str, said: list[tuple[str, str]]) -> list[str]:
    """Return what of the book is lost or torn."""
    found: list[str] = []
    with psycopg.connect(address) as connection:
        asked = connection.execute
        for table in ("plans", "outcomes", "notes", "photographs"):
            there = {row[0] for row in asked(f"SELECT id FROM {table}")}
            found += [
                f"lost {table} {row}" for named, row in said if named == table and row not in there
            ]
        for table, key in (("plan_parts", "plan_id"), ("outcome_parts", "outcome_id")):
            counts = asked(f"SELECT {key}, count(*) FROM {table} GROUP BY {key}").fetchall()
            found += [f"torn {table} {row}" for row in counts if row[1] != PARTS]
            heads = asked(f"SELECT count(*) FROM {table.partition('_')[0]}s").fetchone()
            assert heads is not None
            found += [f"{heads[0]} heads, {len(counts)}"] if heads[0] != len(counts) else []
        torn = asked("SELECT count(*) FROM pours WHERE id NOT IN (SELECT pour_id FROM outcomes)")
        found += [f"{count} pours without their outcome" for (count,) in torn if count]
        for sha256, content in asked(
            "SELECT p.sha256, c.content FROM photographs p LEFT JOIN picture_contents c"
            " ON c.sha256 = p.sha256"
        ):
            if content is None or hashlib.sha256(content).hexdigest() != sha256:
                found.append(f"photograph {sha256} is gone or torn")
    return found


def new_book(mortal: Server, folder: Path) -> str:
    address = mortal.new_database()
    open_book(folder, address=address).close()
    return address


@pytest.mark.parametrize("kills", [5, pytest.param(200, marks=pytest.mark.long)])
def test_writer_that_is_killed_loses_nothing_it_acknowledged(
    mortal: Server, tmp_path: Path, kills: int
) -> None:
    address = new_book(mortal, tmp_path)
    moments = random.Random(kills)
    said: list[tuple[str, str]] = []
    for _ in range(kills):
        writer = started(tmp_path, address)
        assert writer.stdout is not None
        first = writer.stdout.readline()
        time.sleep(moments.uniform(0.0, 0.15))
        writer.send_signal(signal.SIGKILL)
        now, _ = said_by(writer, first)
        said += now
        assert faults(address, now) == []
    assert faults(address, said) == []
    assert len(said) > kills
    mortal.drop(address)


@pytest.mark.parametrize("kills", [3, pytest.param(200, marks=pytest.mark.long)])
@pytest.mark.parametrize("whole", [True, False], ids=["all of it", "its first process"])
def test_server_that_is_killed_loses_nothing_it_acknowledged(
    mortal: Server, tmp_path: Path, kills: int, whole: bool
) -> None:
    """The writer is told in plain words; after a restart the book goes on where it stood."""
    address = new_book(mortal, tmp_path)
    moments = random.Random(kills)
    said: list[tuple[str, str]] = []
    for _ in range(kills):
        writer = started(tmp_path, address)
        assert writer.stdout is not None
        first = writer.stdout.readline()
        time.sleep(moments.uniform(0.0, 0.15))
        if whole:
            mortal.kill()
        else:
            mortal.kill_postmaster()
        now, fault = said_by(writer, first)
        said += now
        assert "BookError" in fault
        assert "does not answer" in fault
        mortal.start()
        assert faults(address, now) == []
    assert faults(address, said) == []
    assert len(said) > kills
    with open_book(tmp_path, address=address) as book:
        assert of_server.integrity(book.engine) == ()
    mortal.drop(address)


def test_open_book_goes_on_after_the_server_was_away(mortal: Server, tmp_path: Path) -> None:
    """One program that stays open: told while the server is away, and at work after it is back."""
    address = new_book(mortal, tmp_path)
    with open_book(tmp_path, address=address) as book:
        plan = kept(book)
        keep_note(book, plan.piece_id, "before", at=AT)
        mortal.kill()
        for act in (
            lambda: keep_note(book, plan.piece_id, "meanwhile", at=AT),
            lambda: notes_of(book, plan.piece_id),
        ):
            with pytest.raises(BookError, match="does not answer"):
                act()
        mortal.start()
        keep_note(book, plan.piece_id, "after", at=AT.replace(hour=11))

        assert [note.text for note in notes_of(book, plan.piece_id)] == ["before", "after"]
    mortal.drop(address)


def test_server_that_goes_in_the_middle_of_a_change_keeps_none_of_it(
    mortal: Server, tmp_path: Path
) -> None:
    address = new_book(mortal, tmp_path)
    with open_book(tmp_path, address=address) as book:
        plan = kept(book)
        with pytest.raises(BookError, match="Nothing of this entry was kept"):
            _die_within(book, mortal, plan.piece_id)
        mortal.start()

        assert notes_of(book, plan.piece_id) == ()
        with book.reading() as connection:
            count = connection.execute(sa.select(sa.func.count()).select_from(tables.plans))
            assert count.scalar() == 1
    mortal.drop(address)


def _die_within(book: Book, mortal: Server, piece: str) -> None:
    row = {"id": "first", "piece_id": piece, "created": AT, "text": "first"}
    with book.writing() as connection:
        connection.execute(tables.notes.insert(), row)
        mortal.kill()
        connection.execute(tables.notes.insert(), {**row, "id": "second"})
