"""The how-to pages, done as they say: what a page promises to the next person is tried.

House rules, so no outside number is held against them.
"""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.docs.conftest import ROOT

ALLOYS = "src/pourcast/materials/data/alloys.toml"
KEPT = "si_bronze_c87300"


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """Return a copy of the program with its demo pieces, to be changed."""
    for name in ("src", "examples"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    return tmp_path


def program(copied: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "pourcast", *words],
        cwd=copied,
        env=os.environ | {"PYTHONPATH": str(copied / "src")},
        capture_output=True,
        text=True,
        check=False,
    )


def table(text: str) -> str:
    found = re.search(rf"^\[{KEPT}\]\n.*?(?=^\[)", text, re.M | re.S)
    assert found is not None
    return found[0]


def test_an_alloy_is_added_by_its_table_alone(copied: Path) -> None:
    """No line of code changes: it is shown, found by its designation, and weighed."""
    path = copied / ALLOYS
    kept = path.read_text(encoding="utf-8")
    new = table(kept).replace(f"[{KEPT}]", "[zz_bronze_tried]")
    new = new.replace("UNS C87300", "TRIED 1, TRIED 2")
    path.write_text(f"{kept}\n{new}", encoding="utf-8")
    piece = copied / "examples" / "larch_twig.toml"
    text = piece.read_text(encoding="utf-8")
    piece.write_text(re.sub(r'^alloy = ".*"', 'alloy = "TRIED 2"', text, flags=re.M), "utf-8")

    shown = program(copied, "values", "alloys.zz_bronze_tried.liquidus")
    weighed = program(copied, "weigh", str(piece))

    assert (shown.returncode, "published" in shown.stdout) == (0, True), shown.stderr
    assert (weighed.returncode, "Metal" in weighed.stdout) == (0, True), weighed.stderr


@pytest.mark.parametrize("left_out", ["source", "kind", "low"])
def test_a_value_without_its_source_kind_or_range_is_refused(copied: Path, left_out: str) -> None:
    """Made to fail: the loader refuses the line, and names it."""
    path = copied / ALLOYS
    text = path.read_text(encoding="utf-8")
    line = re.search(r"^liquidus = .*$", table(text), re.M)
    assert line is not None
    without = re.sub(rf', {left_out} = ("[^"]*"|[\d.]+)', "", line[0])
    path.write_text(text.replace(line[0], without, 1), encoding="utf-8")

    said = program(copied, "values", f"alloys.{KEPT}.liquidus")

    assert without != line[0]
    assert said.returncode != 0
    assert f"alloys.{KEPT}.liquidus: {left_out}" in said.stderr + said.stdout
