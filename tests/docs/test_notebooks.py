"""The worked notebooks: kept without outputs, run, and saying what they claim."""

import html
import json
import re
from pathlib import Path

import pytest

from tests.docs.conftest import DOCS

NOTEBOOKS = sorted((DOCS / "notebooks").glob("*.ipynb"))


def said(site: Path, name: str) -> str:
    """Return the words of a notebook's page; building the site has run it."""
    text = (site / "notebooks" / f"{name}.html").read_text(encoding="utf-8")
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", text)).split())


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_notebook_is_kept_without_outputs(path: Path) -> None:
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    run = [cell for cell in cells if cell["cell_type"] == "code"]

    assert run
    assert [cell for cell in run if cell["outputs"] or cell["execution_count"]] == []


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_notebook_has_its_page(path: Path) -> None:
    assert f"made: notebook {path.stem} " in path.with_suffix(".md").read_text(encoding="utf-8")


def test_sheet_becomes_a_forecast_with_arrays_in_and_out(site: Path) -> None:
    """The slow day of the notebook dries later than the planned one, as it must."""
    text = said(site, "sheet-to-forecast")

    planned, ran = (
        float(re.search(rf"{name}: dry and clean at ([\d.]+) h", text)[1])  # type: ignore[index]
        for name in ("as planned", "as it ran")
    )
    assert re.search(r"In 100 pours, (?:\d+|under 1|over 99|none) comes? out whole", text)
    assert ran > planned + 1.0


def test_own_permeability_is_found_and_narrows_the_forecast(site: Path) -> None:
    """Truth of the invented gauge: 2.5e-13 m².

    Tolerance 20 %: three of the standard deviations that the fit tells of itself (7 %,
    most of it the volume of the chamber and the shape, which are exact here).  Found: 0.3 %.
    """
    text = said(site, "own-permeability")

    off = float(re.search(r"([+-][\d.]+) % off the truth", text)[1])  # type: ignore[index]
    spreads = re.findall(r"(?:before|after): (\d+) in 100 .*? few as (\d+), as many as (\d+)", text)
    assert abs(off) < 20.0
    (_, low, high), (_, later_low, later_high) = (map(int, each) for each in spreads)
    assert later_high - later_low < high - low
