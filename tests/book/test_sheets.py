"""Two writers on one piece file: the first has the place, the later one is told, both stay.

House rules, on both stores; the race is run by two programs with threads of their own.
"""

import json
import subprocess
import sys

import pytest
import sqlalchemy as sa

from pourcast.book import tables
from pourcast.book.faults import ChangedElsewhereError, KeptForGoodError
from pourcast.book.sheets import (
    add_sheet,
    asides_of,
    keep_text,
    link,
    link_of,
    read_sheet,
    sheet_ids,
    texts_of,
)
from pourcast.book.store import Book
from pourcast.book.who import acting
from pourcast.errors import InputError
from tests.book.conftest import AT, LATER, kept
from tests.book.test_writers import ROOT, where


def test_each_text_has_the_next_number_and_none_is_lost(book: Book) -> None:
    made = add_sheet(book, "one", at=AT)
    keep_text(book, made.sheet_id, "two", base=1, at=LATER)

    assert [each.text for each in texts_of(book, made.sheet_id)] == ["two", "one"]
    stands = read_sheet(book, made.sheet_id)
    assert stands is not None
    assert (stands.revision, stands.text) == (2, "two")


def test_same_text_again_changes_nothing(book: Book) -> None:
    made = add_sheet(book, "one", at=AT)

    assert keep_text(book, made.sheet_id, "one", base=1, at=LATER).revision == 1


def test_later_writer_is_told_who_and_when_and_both_texts_stay(book: Book) -> None:
    made = add_sheet(book, "one", at=AT)
    with acting("Rowan"):
        keep_text(book, made.sheet_id, "Rowan's", base=1, at=LATER)

    with acting("Hazel"), pytest.raises(ChangedElsewhereError, match="Rowan kept text 2") as fault:
        keep_text(book, made.sheet_id, "Hazel's", base=1, at=LATER)

    assert (fault.value.who, fault.value.when) == ("Rowan", LATER)
    assert [each.text for each in texts_of(book, made.sheet_id)] == ["Rowan's", "one"]
    aside = asides_of(book, made.sheet_id)
    assert [(each.text, each.base, each.who) for each in aside] == [("Hazel's", 1, "Hazel")]


def test_text_of_a_sheet_is_never_changed(book: Book) -> None:
    add_sheet(book, "one", at=AT)

    for table in (tables.sheet_texts, tables.sheet_asides):
        with pytest.raises(KeptForGoodError), book.writing() as connection:
            connection.execute(table.update().values(text="other"))


def test_sheet_that_is_not_there_is_refused(book: Book) -> None:
    with pytest.raises(InputError, match="one of the book"):
        keep_text(book, "0123456789abcdef", "x", base=1, at=AT)


def test_sheet_knows_the_piece_of_its_plans(book: Book) -> None:
    made = add_sheet(book, "one", at=AT)
    assert link_of(book, made.sheet_id) is None
    plan = kept(book)
    link(book, made.sheet_id, plan.piece_id)

    assert link_of(book, made.sheet_id) == plan.piece_id


def test_sheet_changed_last_stands_first(book: Book) -> None:
    first = add_sheet(book, "first", at=AT)
    second = add_sheet(book, "second", at=AT.replace(hour=10))
    keep_text(book, first.sheet_id, "first again", base=1, at=LATER)

    assert sheet_ids(book) == [first.sheet_id, second.sheet_id]


_RACE = """
import json, sys, threading
from datetime import UTC, datetime
from pathlib import Path
from pourcast.book.faults import ChangedElsewhereError
from pourcast.book.sheets import keep_text, read_sheet
from pourcast.book.store import open_book
EACH, THREADS = 25, 4
said = {"kept": [], "told": []}
lock = threading.Lock()
with open_book(Path(sys.argv[1])) as book:
    sheet, name = sys.argv[2], sys.argv[3]
    def write(number):
        for time in range(EACH):
            text = f"{name} {number} {time}"
            base = read_sheet(book, sheet).revision
            try:
                made = keep_text(book, sheet, text, base=base, at=datetime.now(UTC))
                with lock: said["kept"].append([made.revision, text])
            except ChangedElsewhereError:
                with lock: said["told"].append(text)
    print("open", flush=True)
    sys.stdin.readline()
    threads = [threading.Thread(target=write, args=(n,)) for n in range(THREADS)]
    for each in threads: each.start()
    for each in threads: each.join()
print(json.dumps(said))
"""


def test_two_hundred_racing_writes_lose_no_text(book: Book) -> None:
    """Two programs of four threads: what was accepted has a number each, the rest stands aside."""
    made = add_sheet(book, "first", at=AT)
    both = [
        subprocess.Popen(
            [sys.executable, "-c", _RACE, str(book.folder), made.sheet_id, name],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            cwd=ROOT,
            env=where(book),
        )
        for name in ("a", "b")
    ]
    for program in both:
        assert program.stdout is not None
        assert program.stdout.readline() == "open\n"
    for program in both:
        assert program.stdin is not None
        program.stdin.write("go\n")
        program.stdin.flush()
    ends = [program.communicate() for program in both]
    assert [end[1] for end in ends] == ["", ""]
    kept_, told = [], []
    for out, _ in ends:
        said = json.loads(out)
        kept_ += said["kept"]
        told += said["told"]

    stands = read_sheet(book, made.sheet_id)
    assert stands is not None
    assert len(kept_) + len(told) == 200
    assert len(kept_) == stands.revision - 1
    assert sorted(number for number, _ in kept_) == list(range(2, stands.revision + 1))
    assert {(each.revision, each.text) for each in texts_of(book, made.sheet_id)} == {
        (1, "first"),
        *((number, text) for number, text in kept_),
    }
    assert sorted(each.text for each in asides_of(book, made.sheet_id)) == sorted(told)
    assert told, "nobody met; the race was none"
    with book.reading() as connection:
        count = connection.execute(sa.select(sa.func.count()).select_from(tables.sheet_asides))
        assert count.scalar() == len(told)
