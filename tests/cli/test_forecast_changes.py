"""What to change first beside the forecast: the same ranking as by itself, at every door.

The promise of the JSON is its JSON Schema (draft 2020-12), read by a library of others.
"""

import json
from pathlib import Path

import jsonschema
import pytest

from pourcast.forecast.document import schema
from tests.cli.conftest import Typed

PIECE = str(Path(__file__).parents[2] / "examples" / "dragonfly.toml")
FEW = ("--draws", "24", "--seed", "3")


def test_changes_of_the_forecast_are_those_of_the_ranking(typed: Typed) -> None:
    beside = json.loads(typed("forecast", PIECE, *FEW, "--json", "--changes").out)
    alone = json.loads(typed("change", PIECE, *FEW, "--json").out)

    jsonschema.validate(beside, schema())
    assert beside["changes"]
    assert beside["changes"] == alone["changes"]


def test_without_being_asked_for_it_is_not_there(typed: Typed) -> None:
    told = json.loads(typed("forecast", PIECE, *FEW, "--json").out)

    assert "changes" not in told


def test_terminal_and_page_say_the_first_change(typed: Typed, tmp_path: Path) -> None:
    page = tmp_path / "page.html"

    said = typed("forecast", PIECE, *FEW, "--changes", "--page", str(page))

    told = page.read_text("utf-8")
    assert said.status == 0
    assert "What to change first" in said.out
    assert '<h2 id="first">What to change first</h2>' in told
    assert told.count('<th scope="row" role="rowheader">') > 3


@pytest.mark.parametrize("file", ["missing.toml", "-"])
def test_file_that_cannot_be_read_is_named(typed: Typed, file: str) -> None:
    said = typed("forecast", file, "--changes")

    assert said.status == 2
    assert ("missing.toml" if file != "-" else "input") in said.err
