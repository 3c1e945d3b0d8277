"""Security: the page names each door of the program, and no more leads out than it says.

House rules, so no outside number is held against them.
"""

import ast
import functools
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "pourcast"

SPEAKS = {
    "socket": {"app"},
    "ssl": set[str](),
    "http": {"app"},
    "urllib": {"app", "book", "cli", "probe"},
    "smtplib": set[str](),
    "ftplib": set[str](),
    "requests": set[str](),
    "httpx": set[str](),
    "paho": {"probe"},
    "serial": {"probe"},
    "psycopg": {"book"},
    "distributed": {"execute"},
    "uvicorn": {"app"},
    "subprocess": set[str](),
}
"""Library that can speak to others, or start something: the folders that may use it."""


@functools.cache
def imported(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            found.add(node.module.partition(".")[0])
    return found


@pytest.mark.parametrize("library", sorted(SPEAKS))
def test_what_speaks_to_others_stands_where_the_page_says(library: str) -> None:
    """A new way out is entered here and in SECURITY.md first."""
    used = {
        path.relative_to(PACKAGE).parts[0]
        for path in PACKAGE.rglob("*.py")
        if library in imported(path)
    }

    assert used <= SPEAKS[library]


@pytest.mark.parametrize(
    "door", ["--lan", "--book", "mqtt:", "mqtts:", "serial:", "--cluster", "token", "sslmode"]
)
def test_the_page_names_each_door(door: str) -> None:
    assert door in (ROOT / "SECURITY.md").read_text(encoding="utf-8")


def test_urls_are_only_taken_apart_and_never_opened() -> None:
    """Of urllib only `parse` is used: nothing fetches an address by itself."""
    opened = {
        path.relative_to(PACKAGE).as_posix()
        for path in PACKAGE.rglob("*.py")
        if re.search(r"urllib\.request|urlopen|http\.client", path.read_text(encoding="utf-8"))
    }

    assert opened == set()
