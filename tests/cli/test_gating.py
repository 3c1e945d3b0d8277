"""Flasks and proposals as they are typed; house rules, so no outside number."""

import json
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

from pourcast.book.settings import put_flask
from pourcast.book.store import open_book
from pourcast.sheet import read_plan
from tests.cli.conftest import Typed

EXAMPLES = Path(__file__).parents[2] / "examples"
HOLLY, FERN = str(EXAMPLES / "sea_holly.toml"), str(EXAMPLES / "fern_crozier.toml")
FEW = ("--draws", "20", "--threads", "1", "--data", "none")


def test_flask_is_taken_from_those_that_are_named(typed: Typed, tmp_path: Path) -> None:
    said = typed("flasks", HOLLY, "--flask", "64 x 90", "--flask", "76x127", "--data", "none")

    assert said.status == 0, said.err
    assert "64 x 90 is the smallest" in said.out
    assert "76 x 127 perforated: goes in" in said.out
    assert not (tmp_path / "none").exists()


def test_flasks_of_the_book_are_the_shelf(typed: Typed, tmp_path: Path) -> None:
    with open_book(tmp_path / "book") as book:
        put_flask(book, "the tall one", inside_diameter_mm=76, height_mm=127, count=2)
        put_flask(book, "lent out", inside_diameter_mm=64, height_mm=90, count=0)

    tree = json.loads(typed("flasks", HOLLY, "--json", "--data", "book").out)

    assert tree["schema"] == "pourcast.flasks/1"
    assert tree["taken"] == "the tall one"
    assert [each["count"] for each in tree["flasks"]] == [2]


def test_empty_shelf_says_how_to_name_a_flask(typed: Typed, tmp_path: Path) -> None:
    said = typed("flasks", HOLLY, "--data", "none")

    assert said.status == 2
    assert "--flask" in said.err
    assert not (tmp_path / "none").exists()


def test_several_files_go_into_one_flask(typed: Typed) -> None:
    said = typed("flasks", HOLLY, FERN, "--flask", "127 x 150", "--data", "none")
    tree = json.loads(typed("flasks", HOLLY, FERN, "--flask", "127 x 150", "--json").out)

    assert said.status == 0, said.err
    assert "2 pieces go into 127 x 150" in said.out
    assert len(tree["circles_mm"]) == 2


@pytest.mark.parametrize(("files", "shown"), [((HOLLY,), "take"), ((HOLLY, FERN), ">2<")])
def test_flasks_are_drawn_into_a_file_that_stands_alone(
    typed: Typed, tmp_path: Path, files: tuple[str, ...], shown: str
) -> None:
    """SVG 1.1: one document with its own name space and look, and nothing from outside it."""
    said = typed(
        "flasks", *files, "--flask", "127 x 150", "--data", "none", "--picture", "shelf.svg"
    )

    drawn = (tmp_path / "shelf.svg").read_text(encoding="utf-8")
    assert said.status == 0, said.err
    assert ElementTree.fromstring(drawn).tag == "{http://www.w3.org/2000/svg}svg"
    assert shown in drawn
    assert "<style>" in drawn


def test_flask_that_is_no_size_is_wrong_use(typed: Typed) -> None:
    said = typed("flasks", HOLLY, "--flask", "big", "--data", "none")

    assert said.status == 2
    assert "76 x 127" in said.err


def test_proposals_are_numbered_and_one_is_taken(typed: Typed, tmp_path: Path) -> None:
    listed = typed("gating", HOLLY, *FEW)
    tree = json.loads(typed("gating", HOLLY, "--json", *FEW).out)
    taken = typed("gating", HOLLY, "--take", "1", "--out", "new.toml", *FEW)

    assert "1. feeder to head" in listed.out
    assert tree["proposals"][0]["name"] == "feeder to head"
    assert tree["proposals"][0]["bench_min"] > 0
    assert taken.status == 0, taken.err
    text = (tmp_path / "new.toml").read_text(encoding="utf-8")
    assert read_plan(text).piece.parts[-1].name == "feeder to head"
    assert "# gauge with the flask on" in text
    again = typed("gating", HOLLY, "--take", "1", *FEW)
    assert again.out == text


def test_file_that_is_there_is_not_written_over(typed: Typed, tmp_path: Path) -> None:
    (tmp_path / "new.toml").write_text("mine", encoding="utf-8")

    said = typed("gating", HOLLY, "--take", "1", "--out", "new.toml", *FEW)

    assert said.status == 2
    assert (tmp_path / "new.toml").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("words", "told"),
    [(("--take", "99"), "--take is 99"), (("--out", "new.toml"), "--take N")],
)
def test_what_cannot_be_taken_is_wrong_use(typed: Typed, words: tuple[str, ...], told: str) -> None:
    said = typed("gating", HOLLY, *words, *FEW)

    assert said.status == 2
    assert told in said.err
