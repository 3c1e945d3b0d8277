"""Slow studies are run file by file, and one that was done is not run again.

Source: none is needed; the claim is about what is run and what is kept.
"""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from tests.outside.write_checks import BEGIN, END

TOOL = Path(__file__).parents[2] / "tools" / "check_long.py"

STUDY = """
import json, pathlib, pytest
ROOT = pathlib.Path(__file__).parents[1]

@pytest.mark.long
def test_slow():
    with (ROOT / "ran.txt").open("a") as told:
        told.write("x")
    row = dict(stage="mould", claim="density", source="book", got=1.0, want=1.0, unit="kg",
               tolerance=0.5, kind="table", slow=True, file="tests/test_slow.py")
    (ROOT / "out").mkdir(exist_ok=True)
    (ROOT / "out" / "checks.json").write_text(json.dumps([row]))
    assert not (ROOT / "src" / "broken.py").exists()

def test_quick():
    raise AssertionError
"""


@pytest.fixture
def tool(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """Return the tool, at work on a project of one slow study."""
    spec = importlib.util.spec_from_file_location("check_long", TOOL)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    for folder in ("src", "tests", "examples", "docs"):
        (tmp_path / folder).mkdir()
    (tmp_path / "tests" / "test_slow.py").write_text(STUDY, encoding="utf-8")
    (tmp_path / "README.md").write_text(f"{BEGIN}\n{END}\n", encoding="utf-8")
    (tmp_path / "pytest.ini").write_text("[pytest]\nmarkers = long: slow\n", encoding="utf-8")
    monkeypatch.setattr(module, "ROOT", tmp_path)
    monkeypatch.setattr(module, "KEPT", tmp_path / "out" / "check-long")
    monkeypatch.setenv("WORKERS", "0")
    # What the whole suite needs of plugins takes half a minute to load for every study.
    monkeypatch.setenv("PYTEST_DISABLE_PLUGIN_AUTOLOAD", "1")
    monkeypatch.setenv("PYTEST_ADDOPTS", "-p xdist.plugin")
    return module


def test_a_study_that_was_done_is_run_again_when_a_source_changes(
    tool: ModuleType, tmp_path: Path
) -> None:
    ran = tmp_path / "ran.txt"

    assert tool.main([]) == 0
    assert "density" in (tmp_path / "docs" / "checks.md").read_text(encoding="utf-8")
    assert tool.main([]) == 0
    assert ran.read_text(encoding="utf-8") == "x"

    (tmp_path / "src" / "new.py").write_text("", encoding="utf-8")

    assert tool.main(["tests/test_slow.py"]) == 0
    assert ran.read_text(encoding="utf-8") == "xx"


def test_a_study_that_failed_is_run_again(tool: ModuleType, tmp_path: Path) -> None:
    (tmp_path / "src" / "broken.py").write_text("", encoding="utf-8")

    assert tool.main([]) == 1
    assert tool.main([]) == 1
    assert (tmp_path / "ran.txt").read_text(encoding="utf-8") == "xx"


def test_a_study_that_breaks_off_takes_no_row_out_of_the_book(
    tool: ModuleType, tmp_path: Path
) -> None:
    """What an earlier run found stays, marked; a whole run takes the mark away again."""
    page, study = tmp_path / "docs" / "checks.md", tmp_path / "tests" / "test_slow.py"
    assert tool.main([]) == 0
    assert "earlier run |" not in page.read_text(encoding="utf-8")

    study.write_text(
        "import os\n" + STUDY.replace("    row = dict", "    os._exit(3)\n    row = dict")
    )
    assert tool.main([]) == 1
    assert page.read_text(encoding="utf-8").count("table, slow, earlier run |") == 1

    study.write_text(STUDY, encoding="utf-8")
    assert tool.main([]) == 0
    assert "earlier run |" not in page.read_text(encoding="utf-8")
