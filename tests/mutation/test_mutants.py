"""The mutation run itself: what it makes wrong, and that it tells red from green."""

import ast
import os
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.mutation.equations import with_wrong, wrong_equations
from tests.mutation.mutants import DATA, STAGES, TESTS_OF_VALUES, gone, mutants
from tests.mutation.run import _holds_kernels
from tests.mutation.table import write_table
from tests.mutation.trial import GREEN, RED, STOPPED, looked_through, tried
from tests.mutation.values import wrong_values

ROOT = Path(__file__).parents[2]
SOURCE = '''
"""A text with -1.0 in it."""

def fill(a, b, parts):
    if a > 2.5:
        raise ValueError(f"{a * 2.0} is too much")
    return min(-a + b * 3.0, parts[1 + 2]) / b**2
'''


def test_each_kind_of_place_is_made_wrong_and_no_text_is() -> None:
    names = [name.partition(": ")[2] for name in wrong_equations(SOURCE)]

    assert names == [
        "a > 2.5 → a <= 2.5",
        "2.5 → 3.25",
        "min(-a + b * 3.0, parts[1 + 2]) / b ** 2 → min(-a + b * 3.0, parts[1 + 2]) * b ** 2",
        "min(-a + b * 3.0, parts[1 + 2]) → max(-a + b * 3.0, parts[1 + 2])",
        "-a + b * 3.0 → -a - b * 3.0",
        "-a → +a",
        "b * 3.0 → b / 3.0",
        "3.0 → 3.9",
        "b ** 2 → b ** (2 + 1)",
    ]


@pytest.mark.parametrize("place", range(9))
def test_a_wrong_source_differs_from_the_right_one_and_can_be_read(place: int) -> None:
    wrong = with_wrong(SOURCE, place)

    assert ast.dump(ast.parse(wrong)) != ast.dump(ast.parse(SOURCE))


@pytest.mark.parametrize("file", sorted(TESTS_OF_VALUES))
def test_a_wrong_value_is_the_only_thing_that_changes(file: str) -> None:
    """Every ninth value, since each is a whole file to be read."""
    text = (ROOT / DATA / f"{file}.toml").read_text(encoding="utf-8")
    right = tomllib.loads(text)

    for name, wrong in list(wrong_values(text))[::9]:
        section, _, key = name.partition(":")[0].rpartition(".")
        table = tomllib.loads(wrong)
        found, kept = table[section].pop(key), right[section][key]
        for field in ("value", "low", "high"):
            assert found[field] == pytest.approx(1.3 * kept[field], rel=1e-8)
        assert table == {
            one: {k: v for k, v in values.items() if (one, k) != (section, key)}
            if isinstance(values, dict)
            else values
            for one, values in right.items()
        }


def test_every_data_file_and_every_stage_is_tried() -> None:
    """All but matter.toml, which says in words what burns and holds no number with a range."""
    assert not list(wrong_values((ROOT / DATA / "matter.toml").read_text(encoding="utf-8")))
    chosen = mutants(ROOT, of_equations=1, of_values=1)

    files = {path.stem for path in (ROOT / DATA).glob("*.toml")} - {"matter"}
    assert {one.group for one in chosen} == {*STAGES, *(f"materials/{name}" for name in files)}
    for one in chosen:
        assert all(any((ROOT / "tests" / folder).glob("test_*.py")) for folder in one.tests)


def test_a_larger_choice_holds_the_smaller_one() -> None:
    small = {one.key for one in mutants(ROOT, of_equations=3, of_values=2)}
    large = {one.key for one in mutants(ROOT, of_equations=6, of_values=4)}

    assert len(small) == 3 * len(STAGES) + 2 * len(TESTS_OF_VALUES)
    assert small < large


def test_a_judgement_of_a_place_that_is_gone_is_named(tmp_path: Path) -> None:
    (tmp_path / "a.py").write_text("\nA = 2.0\n", encoding="utf-8")
    (tmp_path / "b.toml").write_text(
        "[wax]\nash = { value = 2, low = 1, high = 4, x = 0 }\n", encoding="utf-8"
    )
    there = ["a.py line 2: 2.0 → 2.6", "b.toml wax.ash: 2 → 2.6"]
    moved = ["a.py line 1: 2.0 → 2.6", "b.toml wax.ash: 3 → 3.9", "c.py line 1: 2.0 → 2.6"]

    assert gone(tmp_path, [*there, *moved]) == moved


@pytest.mark.parametrize(("module", "holds"), [("pour/flow", True), ("change/family", False)])
def test_modules_that_hold_kernels_are_known(module: str, holds: bool) -> None:
    """Of a compiled function nothing is noted: no test file may be left out for not calling it."""
    assert _holds_kernels((ROOT / "src" / "pourcast" / f"{module}.py").read_bytes()) is holds


@pytest.fixture
def suite(tmp_path: Path) -> Iterator[Path]:
    """Make a small repository of its own, whose package is one number."""
    (tmp_path / "src").mkdir()
    (tmp_path / "src" / "one_number.py").write_text("NUMBER = 2.0\n")
    (tmp_path / "test_it.py").write_text(
        "import one_number\n\ndef test_two():\n    while one_number.NUMBER < 0.0: pass\n"
        "    assert one_number.NUMBER == 2.0\n"
    )
    (tmp_path / "pytest.ini").write_text("[pytest]\nmarkers = long\n")
    kept = sys.dont_write_bytecode
    # Two wrong files of one length in one second have the same bytecode in Python's eyes.
    sys.dont_write_bytecode = True
    yield tmp_path
    sys.dont_write_bytecode = kept


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a process split off")
@pytest.mark.parametrize(
    ("number", "end", "first"),
    [("2.0", GREEN, ""), ("2.6", RED, "test_it.py::test_two"), ("-2.", STOPPED, "")],
)
def test_red_green_and_endless_are_told_apart(
    suite: Path, number: str, end: str, first: str
) -> None:
    (suite / "src" / "one_number.py").write_text(f"NUMBER = {number}\n")

    outcome = tried(suite, ["test_it.py"], limit=4.0)

    assert (outcome.end, outcome.first) == (end, first)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a process split off")
def test_a_look_through_tells_what_a_test_file_reaches(suite: Path) -> None:
    materials = suite / "src" / "pourcast" / "materials"
    materials.mkdir(parents=True)
    (materials.parent / "__init__.py").touch()
    (materials / "__init__.py").touch()
    (materials / "model.py").write_text(
        "class Value:\n    __slots__ = ('key', 'value', 'low', 'high')\n\n"
        "    def warm(self): return self.low\n\n    def cold(self): return self.high\n"
    )
    (suite / "test_it.py").write_text(
        "from pourcast.materials.model import Value\n\ndef test_it():\n"
        "    value = Value()\n    value.key, value.low = 'a.b', 2.0\n"
        "    assert value.warm() == 2.0\n"
    )

    outcome = looked_through(suite, "test_it.py", limit=8.0)

    assert (outcome.end, outcome.first) == (GREEN, "")
    assert "a.b" in outcome.reached
    assert "materials/model.py:Value.warm" in outcome.reached
    assert "materials/model.py:Value.cold" not in outcome.reached


def test_the_table_counts_by_stage_and_names_what_survived(tmp_path: Path) -> None:
    (tmp_path / "docs").mkdir()
    (tmp_path / "tests" / "mutation").mkdir(parents=True)
    (tmp_path / "tests" / "mutation" / "judged.toml").write_text('"a.py line 1" = "Harmless."\n')
    ends = {"a.py line 1": GREEN, "a.py line 2": RED, "a.py line 3": STOPPED, "b.py line 1": GREEN}
    state = {
        "baseline": {"tests/pour/test_slow.py": {"end": STOPPED}},
        "mutants": {
            key: {
                "end": end,
                "group": "pour" if key[0] == "a" else "melt",
                "survived_once": end in (GREEN, STOPPED),
            }
            for key, end in ends.items()
        },
    }

    write_table(tmp_path, state, [*ends, "c.py line 1"])

    page = (tmp_path / "docs" / "mutation.md").read_text(encoding="utf-8")
    assert "Of 4 mutants 2 were found and 2 survived." in page
    assert "| pour | 3 | 2 | 1 | 1 |" in page
    assert "| a.py | `line 1` | Harmless. |" in page
    assert "| b.py | `line 1` | not judged yet |" in page
    assert "- tests/pour/test_slow.py" in page


def test_the_table_keeps_what_an_earlier_run_found_of_other_stages(tmp_path: Path) -> None:
    (tmp_path / "docs").mkdir()
    (tmp_path / "tests" / "mutation").mkdir(parents=True)
    (tmp_path / "tests" / "mutation" / "judged.toml").write_text("")

    def write(group: str, file: str, slow: str) -> str:
        one = {"end": GREEN, "group": group, "survived_once": True}
        state: dict[str, Any] = {
            "baseline": {
                slow: {"end": STOPPED, "compiled": {"end": GREEN if group == "pour" else STOPPED}},
                "tests/melt/test_a.py": {"end": RED, "first": "f"},
            },
            "mutants": {f"src/pourcast/{file} b | c → d": one},
        }
        write_table(tmp_path, state, list(state["mutants"]))
        return (tmp_path / "docs" / "mutation.md").read_text(encoding="utf-8")

    write("pour", "pour/flow.py", "tests/pour/test_slow.py")
    both = write("materials/kiln", "materials/data/kiln.toml", "tests/melt/test_slow.py")
    page = write("materials/kiln", "materials/data/kiln.toml", "tests/melt/test_slow.py")

    assert page == both
    assert "Of 2 mutants 0 were found and 2 survived." in page
    assert "From an earlier run, on the sources of its day: pour." in page
    for line in (
        "| pour | 1 | 0 | 0 | 1 |",
        "| pour/flow.py | `b \\| c → d` | not judged yet |",
        "| materials/kiln | 1 | 0 | 0 | 1 |",
        "| materials/data/kiln.toml | `b \\| c → d` | not judged yet |",
        "- tests/melt/test_slow.py",
        "- tests/pour/test_slow.py (with kernels compiled what survived was tried on it)",
    ):
        assert page.splitlines().count(line) == 1, line


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a process split off")
def test_a_file_of_slow_tests_alone_is_not_red(suite: Path) -> None:
    slow = "import pytest\n\n@pytest.mark.long\ndef test_slow():\n    assert False\n"
    (suite / "test_slow.py").write_text(slow)

    assert tried(suite, ["test_slow.py"], limit=4.0).end == GREEN


def test_what_was_judged_since_is_told_of_an_earlier_run_too(tmp_path: Path) -> None:
    """A stage that the state does not know keeps its rows; only the judgement is new."""
    (tmp_path / "docs").mkdir()
    (tmp_path / "tests" / "mutation").mkdir(parents=True)
    judged = tmp_path / "tests" / "mutation" / "judged.toml"
    judged.write_text("", encoding="utf-8")
    keys = ["src/pourcast/pour/a.py line 1: x | y", "src/pourcast/pour/b.py line 2"]
    one = {"end": GREEN, "group": "pour", "survived_once": True}
    write_table(tmp_path, {"baseline": {}, "mutants": dict.fromkeys(keys, one)}, keys)
    page = tmp_path / "docs" / "mutation.md"
    assert page.read_text(encoding="utf-8").count("| not judged yet |") == 2

    judged.write_text(f'"{keys[0]}" = "Found since by test_a."\n', encoding="utf-8")
    write_table(tmp_path, {"baseline": {}, "mutants": {}}, keys)

    text = page.read_text(encoding="utf-8")
    assert "| pour/a.py | `line 1: x \\| y` | Found since by test_a. |" in text
    assert "| pour/b.py | `line 2` | not judged yet |" in text
    assert "| pour | 2 | 0 | 0 | 2 |" in text
    assert "Of the survivors 1 were tried again by hand" in text
