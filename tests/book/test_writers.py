"""Two programs with one book: each waits its turn, nothing is lost, none fails.

The trap is the database's: read and then write in a plain transaction is refused
at once when another writes, whatever the time it may wait.
"""

import os
import subprocess
import sys
import threading
from decimal import Decimal
from pathlib import Path

import pytest
import sqlalchemy as sa

from pourcast.book import sqlite
from pourcast.book.address import VARIABLE
from pourcast.book.days import keep_note, notes_of
from pourcast.book.faults import BookError
from pourcast.book.model import KeptPlan
from pourcast.book.settings import change_settings
from pourcast.book.stock import buy, lots
from pourcast.book.store import FILE, Book, open_book
from pourcast.book.tables import pieces
from tests.book.conftest import AT, DAY, in_a_file

ROOT = Path(__file__).parents[2]

_TAKE = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from pourcast.book.stock import move
from pourcast.book.store import open_book
with open_book(Path(sys.argv[1])) as book:
    print("open", flush=True)
    sys.stdin.readline()
    for _ in range(40):
        move(book, sys.argv[2], "taken", 1, at=datetime.now(UTC))
"""

_OPEN = """
import sys
from pathlib import Path
from pourcast.book.store import open_book
sys.stdin.readline()
open_book(Path(sys.argv[1])).close()
"""


def where(book: Book | None) -> dict[str, str]:
    """Return the environment in which another program opens the same book."""
    found = dict(os.environ)
    if book is not None and book.on_server:
        url = book.engine.url.set(drivername="postgresql")
        found[VARIABLE] = url.render_as_string(hide_password=False)
    return found


def started(script: str, *words: str, book: Book | None = None) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", script, *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        env=where(book),
    )


def test_two_programs_read_and_write_in_turn(book: Book) -> None:
    """Each reads the balance and writes; 80 milligrams are gone in the end, not fewer."""
    change_settings(book, currency="EUR")
    lot = buy(book, "wax", "casting", mass_mg=1000, price=Decimal(1), bought=DAY, at=AT)
    both = [started(_TAKE, str(book.folder), lot.id, book=book) for _ in range(2)]
    for program in both:
        assert program.stdout is not None
        assert program.stdout.readline() == "open\n"
    ends = [program.communicate("go\n") for program in both]

    assert [(program.returncode, end[1]) for program, end in zip(both, ends, strict=True)] == [
        (0, ""),
        (0, ""),
    ]
    assert lots(book)[0].balance_mg == 920


def test_two_programs_make_one_book(tmp_path: Path) -> None:
    both = [started(_OPEN, str(tmp_path / "book")) for _ in range(2)]
    ends = [program.communicate("go\n") for program in both]

    assert [end[1] for end in ends] == ["", ""]
    with open_book(tmp_path / "book") as book:
        assert sqlite.integrity(book.engine) == ()


def test_reader_is_not_held_up_and_sees_one_state(book: Book, plan: KeptPlan) -> None:
    with book.reading() as connection:
        asked = sa.select(sa.func.count()).select_from(pieces)
        before = connection.execute(asked).scalar()
        with book.writing() as writing:
            writing.execute(pieces.insert(), {"id": "x" * 16, "name": "n", "created": AT})
        assert connection.execute(asked).scalar() == before
    with book.reading() as connection:
        assert connection.execute(asked).scalar() == (before or 0) + 1


def test_threads_of_one_program_write_in_turn(book: Book, plan: KeptPlan) -> None:
    faults: list[Exception] = []

    def write() -> None:
        try:
            for number in range(20):
                keep_note(book, plan.piece_id, f"note {number}", at=AT)
        except Exception as fault:
            faults.append(fault)

    threads = [threading.Thread(target=write) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert faults == []
    assert len(notes_of(book, plan.piece_id)) == 80


@in_a_file
def test_book_that_is_held_too_long_is_told(book: Book, plan: KeptPlan) -> None:
    """A program that does not let go; the second waits a moment here, 30 s in use."""
    engine = sqlite.make_engine(book.folder / FILE, wait_s=0.05)
    impatient = Book(folder=book.folder, engine=engine)

    with book.writing(), pytest.raises(BookError, match="another program holds the book"):
        keep_note(impatient, plan.piece_id, "x", at=AT)
    impatient.close()


def test_book_can_be_moved_on_after_a_wait(book: Book, plan: KeptPlan) -> None:
    """BEGIN IMMEDIATE waits for the other writer instead of failing."""
    begun = threading.Event()

    def hold() -> None:
        with book.writing():
            begun.set()
            threading.Event().wait(0.2)

    holder = threading.Thread(target=hold)
    holder.start()
    begun.wait()
    keep_note(book, plan.piece_id, "after", at=AT)
    holder.join()

    assert [note.text for note in notes_of(book, plan.piece_id)] == ["after"]
