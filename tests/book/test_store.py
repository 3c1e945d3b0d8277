"""The store: durable, guarded, refused by name where it cannot work.

House rules and the documents of the database (SQLite: pragma, isolation, result
codes); no outside number is held against them.
"""

import inspect
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
import sqlalchemy as sa
from sqlalchemy.dialects import postgresql
from sqlalchemy.schema import CreateTable

import pourcast.book
from pourcast.book import sqlite, store
from pourcast.book.days import keep_note, notes_of
from pourcast.book.faults import BookError, KeptForGoodError
from pourcast.book.kinds import NOTE_LENGTH
from pourcast.book.model import KeptPlan
from pourcast.book.store import Book, default_folder, find_id, new_id, open_book
from pourcast.book.tables import KEPT, metadata, pieces, plans
from pourcast.errors import InputError
from tests.book.conftest import AT, in_a_file, kept


@in_a_file
def test_commit_is_flushed_and_references_are_kept(book: Book) -> None:
    """SQLite, pragma: WAL, synchronous 2 is FULL, foreign keys on."""
    with book.reading() as connection:
        asked = ("journal_mode", "synchronous", "foreign_keys", "recursive_triggers")
        found = [connection.exec_driver_sql(f"PRAGMA {name}").scalar() for name in asked]

    assert found == ["wal", 2, 1, 1]


def test_folder_of_the_system_is_used_where_none_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """XDG base directories: data lies under XDG_DATA_HOME on Linux."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))

    with open_book() as opened:
        assert opened.folder == default_folder()
    if sys.platform.startswith("linux"):
        assert (tmp_path / "pourcast" / "book.db").is_file()


def test_book_that_is_opened_again_holds_what_was_kept(tmp_path: Path) -> None:
    with open_book(tmp_path) as first:
        made = kept(first)
    with open_book(tmp_path) as second, second.reading() as connection:
        assert connection.execute(sa.select(pieces.c.name)).scalars().all() == ["Teasel head"]
        assert find_id(connection, plans, made.id[:6]) == made.id


@in_a_file
def test_database_refuses_to_change_what_is_kept(book: Book) -> None:
    """House rule: each table that is kept for good has both guards."""
    with book.reading() as connection:
        asked = "SELECT sql FROM sqlite_master WHERE type = 'trigger'"
        guards = connection.exec_driver_sql(asked).scalars().all()
    wanted = [f"BEFORE {act} ON {table} " for table in KEPT for act in ("UPDATE", "DELETE")]

    assert [want for want in wanted if sum(want in guard for guard in guards) != 1] == []
    assert len(guards) == len(wanted)


@in_a_file
def test_a_kept_plan_cannot_be_changed_past_the_program(book: Book, plan: KeptPlan) -> None:
    """Made to fail: another program with the same file may not rewrite a plan either."""
    other = sqlite3.connect(book.folder / store.FILE)
    other.execute("PRAGMA recursive_triggers = ON")
    for statement in (
        "UPDATE plans SET chance_whole = 1.0",
        "DELETE FROM plan_parts",
        "UPDATE plan_parts SET chance_full = 1.0",
        "INSERT OR REPLACE INTO pieces SELECT id, 'other', created, who, noted FROM pieces",
    ):
        with pytest.raises(sqlite3.IntegrityError, match="kept for good"):
            other.execute(statement)
    other.close()

    with book.reading() as connection:
        row = connection.execute(sa.select(plans.c.chance_whole)).scalar_one()
    assert row == plan.chance_whole


@pytest.mark.parametrize("statement", [plans.update().values(seed=1), plans.delete()])
def test_program_refuses_to_change_a_kept_plan(
    book: Book, plan: KeptPlan, statement: sa.Executable
) -> None:
    with pytest.raises(KeptForGoodError, match="plans is kept for good"), book.writing() as writing:
        writing.execute(statement)


def test_a_fault_half_way_keeps_nothing_of_the_entry(book: Book) -> None:
    def half_way() -> None:
        with book.writing() as connection:
            connection.execute(pieces.insert(), {"id": new_id(), "name": "half", "created": AT})
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        half_way()

    with book.reading() as connection:
        assert connection.execute(sa.select(sa.func.count()).select_from(pieces)).scalar() == 0


def test_id_is_found_by_its_first_signs_and_only_if_it_is_the_one(book: Book) -> None:
    with book.writing() as connection:
        for made in ("abcd000000000001", "abcd000000000002", "abcx000000000001"):
            connection.execute(pieces.insert(), {"id": made, "name": "x", "created": AT})
        assert find_id(connection, pieces, " ABCX ") == "abcx000000000001"
        assert find_id(connection, pieces, "abcd000000000002") == "abcd000000000002"
        for asked, said in (
            ("abcd", "one and not several"),
            ("abc", "first 4 signs"),
            ("zzzz", "stands in the book"),
            ("' OR 1=1 --", "first 4 signs"),
            ("%%%%", "first 4 signs"),
        ):
            with pytest.raises(InputError, match=said):
                find_id(connection, pieces, asked)


def test_ids_do_not_repeat_and_hold_no_sign_that_is_misread() -> None:
    """Own choice: 80 bits; 10 000 draws of 80 bits repeat once in 10^16 runs."""
    made = {new_id() for _ in range(10_000)}

    assert len(made) == 10_000
    assert not set("".join(made)) & set("ilou")


def test_file_of_another_program_is_refused_and_not_touched(tmp_path: Path) -> None:
    path = tmp_path / store.FILE
    other = sqlite3.connect(path)
    other.execute("CREATE TABLE recipes (name)")
    other.commit()
    other.close()
    before = path.read_bytes()

    with pytest.raises(InputError, match="of another program"):
        open_book(tmp_path)
    assert path.read_bytes() == before


@pytest.mark.parametrize("content", [b"no database at all, but long enough " * 9, b"\x00" * 4096])
def test_file_that_is_no_database_is_refused_and_not_touched(
    tmp_path: Path, content: bytes
) -> None:
    path = tmp_path / store.FILE
    path.write_bytes(content)

    with pytest.raises(InputError, match="a book of pourcast"):
        open_book(tmp_path)
    assert path.read_bytes() == content


def test_folder_that_is_a_file_is_refused(tmp_path: Path) -> None:
    place = tmp_path / "a file"
    place.write_text("x")

    with pytest.raises(InputError, match="a folder that can be written"):
        open_book(place / "book")


@in_a_file
def test_full_disk_loses_nothing_that_was_kept(book: Book, plan: KeptPlan) -> None:
    """SQLite, result codes: SQLITE_FULL, here at a limit of pages as at a full disk."""
    keep_note(book, plan.piece_id, "before", at=AT)
    book.engine.dispose()

    @sa.event.listens_for(book.engine, "connect")
    def _limited(connection: sqlite3.Connection, record: object) -> None:
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count = {pages + 2}").fetchall()

    with pytest.raises(BookError, match=r"the disk is full\. Nothing of this entry was kept"):
        keep_note(book, plan.piece_id, "x" * 100_000, at=AT)

    assert [note.text for note in notes_of(book, plan.piece_id)] == ["before"]
    assert sqlite.integrity(book.engine) == ()


_SMALL_FILES = """
import resource, signal, sys
from pathlib import Path
from tests.book.conftest import AT, in_a_file, kept
from pourcast.book import sqlite
from pourcast.book.days import keep_note, notes_of
from pourcast.book.faults import BookError
from pourcast.book.store import open_book
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
with open_book(Path(sys.argv[1])) as book:
    plan = kept(book)
    for number in range(3):
        keep_note(book, plan.piece_id, f"note {number}", at=AT)
    most = 400_000
    free = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, free[1]))
    try:
        for number in range(100):
            keep_note(book, plan.piece_id, "x" * 50_000, at=AT)
    except BookError as fault:
        print(fault)
    resource.setrlimit(resource.RLIMIT_FSIZE, free)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="limits of a process are of POSIX")
def test_system_that_writes_no_further_loses_nothing_that_was_kept(tmp_path: Path) -> None:
    """POSIX, setrlimit: a write beyond RLIMIT_FSIZE fails, as on a full disk."""
    done = subprocess.run(
        [sys.executable, "-c", _SMALL_FILES, str(tmp_path)],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[2],
    )

    assert "Nothing of this entry was kept" in done.stdout
    with open_book(tmp_path) as opened:
        with opened.reading() as connection:
            piece = connection.execute(sa.select(pieces.c.id)).scalar_one()
        texts = [note.text for note in notes_of(opened, piece)]
        assert {"note 0", "note 1", "note 2"} <= set(texts)
        assert set(texts) <= {"note 0", "note 1", "note 2", "x" * 50_000}
        assert sqlite.integrity(opened.engine) == ()


_OPEN = """
import os, sys
from pathlib import Path
from pourcast.book.store import open_book
from pourcast.errors import InputError
if os.geteuid() == 0:
    os.setegid(65534)
    os.seteuid(65534)
try:
    open_book(Path(sys.argv[1]))
except InputError as fault:
    print(fault)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="rights of a folder are of POSIX")
@pytest.mark.parametrize("made_before", [False, True])
def test_folder_that_cannot_be_written_is_named(made_before: bool) -> None:
    """POSIX rights: the superuser passes them, so the test runs as another user then."""
    with tempfile.TemporaryDirectory() as held:
        outer = Path(held)
        place = outer / "book"
        if made_before:
            open_book(place).close()
        else:
            place.mkdir()
        outer.chmod(0o755)
        place.chmod(0o555)
        if made_before:
            (place / store.FILE).chmod(0o444)
        done = subprocess.run(
            [sys.executable, "-c", _OPEN, str(place)], capture_output=True, text=True, check=False
        )
        place.chmod(0o755)

    assert "a folder that can be written" in done.stdout, done.stderr


@pytest.mark.parametrize(
    "text",
    [
        "'); DROP TABLE notes; --",
        'he said "so"; \\ %s {} ?',
        "葉 Блатт ورقة 🌿 e\u0301",
        "line\r\nline\ttab\x1b[31m",
        "x" * NOTE_LENGTH,
    ],
    ids=["statement", "quotes", "scripts", "steering signs", "longest"],
)
def test_hostile_text_comes_back_as_it_was(book: Book, plan: KeptPlan, text: str) -> None:
    keep_note(book, plan.piece_id, text, at=AT)

    assert notes_of(book, plan.piece_id)[0].text == text


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("x" * 10_000_000, "length of text"),
        ("a\0b", "NUL"),
        ("\ud800", "whole signs"),
        (" ", "empty"),
    ],
    ids=["ten million signs", "NUL", "half a sign", "empty"],
)
def test_text_that_no_file_holds_is_refused(
    book: Book, plan: KeptPlan, text: str, said: str
) -> None:
    with pytest.raises(InputError, match=said):
        keep_note(book, plan.piece_id, text, at=AT)
    assert notes_of(book, plan.piece_id) == ()


def test_tables_can_be_made_in_the_larger_database_too() -> None:
    """House rule: the code is neutral; each table compiles for PostgreSQL."""
    for table in metadata.tables.values():
        said = str(CreateTable(table).compile(dialect=postgresql.dialect()))  # type: ignore[no-untyped-call]

        assert "ROWID" not in said


def test_only_one_file_speaks_to_one_database() -> None:
    """House rule: words of one database alone stand in the one file that is for it."""
    own = {
        "sqlite.py": ("PRAGMA", "VACUUM", "BEGIN IMMEDIATE", "sqlite_master", "RAISE(", "rowid ="),
        "server.py": (
            "advisory",
            "plpgsql",
            "ISOLATION LEVEL",
            "COLLATE",
            "psycopg",
            "lock_timeout",
        ),
    }
    folder = Path(inspect.getfile(pourcast.book)).parent

    found = [
        (path.name, word)
        for path in folder.rglob("*.py")
        for name, words in own.items()
        if path.name != name
        for word in words
        if word in path.read_text(encoding="utf-8")
    ]

    assert found == []


def test_meaning_leaves_a_fault_that_is_none_of_its_own_alone(tmp_path: Path) -> None:
    assert sqlite.meaning(ValueError("x"), tmp_path) is None


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: OSError(28, "No space left on device"), "the disk is full"),
        (lambda: OSError(13, "Permission denied"), "a folder that can be written"),
        (lambda: sqlite3.OperationalError("odd"), "could not be read or written: odd"),
    ],
)
def test_meaning_of_a_fault_is_said(
    tmp_path: Path, make: Callable[[], Exception], said: str
) -> None:
    assert said in str(sqlite.meaning(make(), tmp_path))
