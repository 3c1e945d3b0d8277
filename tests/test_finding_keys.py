"""Keys of findings: each kind has one of its own, kept for good and listed for programs.

House rules, so no outside number is held against them.  They are read from the source text
of the stages: whatever makes a finding names its key there.
"""

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import pytest

from pourcast.burnout.matter_checks import matter_findings
from pourcast.burnout.model import Original
from pourcast.findings import Finding
from pourcast.materials import caution, library

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "pourcast"
MAKERS = ("Finding", "finding", "_finding", "_told", "_watch", "_apart", "_heat_finding")
"""Calls that make a finding: the record itself, and what some stages put before it."""

FAMILIES = ("caution-", "held-", "fume-")
"""Keys of one for each caution, each matter and each fume begin so."""

PLAIN = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


def made() -> dict[str, set[str]]:
    """Return each key that the source writes out, with the functions that do."""
    found: dict[str, set[str]] = defaultdict(set)
    for path in sorted(SOURCE.rglob("*.py")):
        for owner, key in _keys(path):
            found[key].add(f"{path.relative_to(SOURCE).as_posix()}:{owner}")
    return found


def _keys(path: Path) -> Iterator[tuple[str, str]]:
    for function in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(function, ast.FunctionDef):
            continue
        for call in ast.walk(function):
            if isinstance(call, ast.Call) and _name(call.func) in MAKERS:
                key = next((word.value for word in call.keywords if word.arg == "key"), None)
                if key is None and _name(call.func) != "Finding" and call.args:
                    key = call.args[0]
                parts = ast.walk(key) if isinstance(key, (ast.Constant, ast.IfExp)) else ()
                for part in parts:
                    text = part.value if isinstance(part, ast.Constant) else None
                    if isinstance(text, str) and PLAIN.fullmatch(text):
                        yield function.name, text


def _name(called: ast.expr) -> str:
    return called.id if isinstance(called, ast.Name) else ""


def listed() -> list[str]:
    """Return the keys of docs/findings.md, in its order."""
    text = (ROOT / "docs" / "findings.md").read_text(encoding="utf-8")
    return re.findall(r"^\| `([^`]+)` \|", text, flags=re.MULTILINE)


def test_each_kind_of_finding_has_a_key_of_its_own() -> None:
    shared = {key: places for key, places in made().items() if len(places) > 1}

    assert len(made()) > 90
    assert not shared


def test_every_key_is_listed_once_and_nothing_else_is() -> None:
    """A key that is renamed or dropped fails here: programs go by it."""
    keys = listed()

    assert len(keys) == len(set(keys))
    assert {key for key in keys if not key.endswith("…")} == set(made())
    assert {key.removesuffix("…") for key in keys if key.endswith("…")} == set(FAMILIES)


def test_no_finding_can_be_made_without_a_key() -> None:
    with pytest.raises(TypeError, match="key"):
        Finding(stage="pour", level="GOOD", text="It fills.")  # type: ignore[call-arg]


def test_cautions_and_matter_have_a_key_each() -> None:
    """Of the records themselves: each has one, and no two share it."""
    book = library()
    cautions = [caution(fact, "pour").key for fact in book.facts.values()]
    held = [matter_findings(Original(holds=(key,)), book.matter)[0].key for key in book.matter]

    assert len(set(cautions)) == len(cautions) > 10
    assert len(set(held)) == len(held) > 30
    assert all(PLAIN.fullmatch(key) for key in (*cautions, *held))
    assert all(key.startswith("caution-") for key in cautions)
    assert all(key.startswith("held-") for key in held)


@pytest.mark.parametrize(
    "text",
    ['def f():\n    return Finding(stage="pour", key="cold-shut", level="GOOD", text="")'],
)
def test_a_key_that_two_give_would_be_seen(text: str, tmp_path: Path) -> None:
    """Made to fail: the same key from another function."""
    (tmp_path / "again.py").write_text(text, encoding="utf-8")

    assert list(_keys(tmp_path / "again.py")) == [("f", "cold-shut")]
    assert "cold-shut" in made()
