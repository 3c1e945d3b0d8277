"""A book in an empty folder, and forecasts that are made up for the test."""

import shutil
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from pourcast.book.model import KeptPlan
from pourcast.book.plans import keep_plan
from pourcast.book.store import FILE, Book, open_book
from tests.book.server import Server, find_binaries

AT = datetime(2026, 3, 1, 9, 30, tzinfo=UTC)
"""When plans of a test are kept."""

LATER = datetime(2026, 3, 3, 18, 0, tzinfo=UTC)
"""When its outcomes are entered."""

DAY = date(2026, 3, 2)
"""When it is poured."""

SHEET = 'name = "Teasel head"\n# a line with ü and 葉\n'


def made_up(
    name: str = "Teasel head",
    chances: dict[str, float] | None = None,
    whole: float = 0.6,
    draws: int = 400,
) -> dict[str, Any]:
    """Return what the book needs of a forecast; the figures are invented."""
    parts = chances if chances is not None else {"stem": 0.99, "bract": 0.7}
    return {
        "schema": "pourcast.forecast/1",
        "version": "0.1.0",
        "seed": 7,
        "draws": draws,
        "calibration": None,
        "inputs_sha256": "a" * 64,
        "kernels_sha256": "b" * 64,
        "piece": {"name": name},
        "weigh": {"metal_g": 120.5, "powder_g": 900.0},
        "fill": {
            "chance_all": whole,
            "parts": [
                {"name": part, "count": 1 if part == "stem" else 12, "chance_full": chance}
                for part, chance in parts.items()
            ],
        },
    }


def kept(book: Book, at: datetime = AT, **more: Any) -> KeptPlan:
    """Keep a made-up plan."""
    options = {key: more.pop(key) for key in ("piece_id", "new_piece") if key in more}
    return keep_plan(
        book,
        sheet=SHEET,
        file_name="teasel.toml",
        document=made_up(**more),
        alloy="si_bronze_c87300",
        powder="gypsum_silica",
        at=at,
        **options,
    )


STORES = ("file", "server")


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """Start a real server for this run."""
    binaries = find_binaries()
    if binaries is None:
        pytest.skip("no PostgreSQL server is installed: the shared book was not tried")
    made = Server(binaries)
    yield made
    made.stop()


@pytest.fixture(scope="session")
def empty_book(server: Server, tmp_path_factory: pytest.TempPathFactory) -> str:
    """Return the address of a book with nothing in it, from which others are copied."""
    address = server.new_database()
    open_book(tmp_path_factory.mktemp("empty"), address=address).close()
    return address


@pytest.fixture(scope="session")
def shared_database(server: Server, empty_book: str) -> str:
    """Return the address of the one book that the tests empty after themselves."""
    return server.new_database(empty_book)


@pytest.fixture
def address(server: Server, shared_database: str) -> Iterator[str]:
    """Return the address of an empty book."""
    yield shared_database
    server.empty(shared_database)


@pytest.fixture
def another_address(server: Server, empty_book: str) -> Iterator[str]:
    """Return the address of an empty book beside that one, of this test's own."""
    made = server.new_database(empty_book)
    yield made
    server.drop(made)


@pytest.fixture(scope="session")
def empty_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the file of a book with nothing in it: the steps to its form are taken once."""
    folder = tmp_path_factory.mktemp("empty file")
    open_book(folder).close()
    return folder / FILE


def lay(empty_file: Path, folder: Path) -> Path:
    """Put an empty book into a folder that is not there yet, with the rights of a new one."""
    folder.mkdir(mode=0o700)
    shutil.copy(empty_file, folder / FILE)
    return folder


@pytest.fixture(params=STORES)
def book(request: pytest.FixtureRequest, tmp_path: Path, empty_file: Path) -> Iterator[Book]:
    """Open an empty book, in a folder and on a server."""
    at_server = request.param == "server"
    place = request.getfixturevalue("address") if at_server else None
    folder = tmp_path / "book" if at_server else lay(empty_file, tmp_path / "book")
    with open_book(folder, address=place) as opened:
        yield opened


in_a_file = pytest.mark.parametrize("book", ["file"], indirect=True)
"""For what holds of a file alone: its pragmas, its rights, its bytes."""

on_a_server = pytest.mark.parametrize("book", ["server"], indirect=True)


@pytest.fixture
def plan(book: Book) -> KeptPlan:
    """Keep one plan of two parts."""
    return kept(book)
