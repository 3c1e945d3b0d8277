"""The command that says what may have gone wrong.

That 27 signs are known and what they speak of is common practice, no source.
"""

import json
from pathlib import Path

from tests.cli.conftest import Typed

LARCH = str(Path("examples/larch_twig.toml").resolve())


def test_sign_named_by_hand_is_told_with_causes_remedy_and_questions(typed: Typed) -> None:
    said = typed("diagnose", "--seen", "fins", "--yes", "fins_radial", "--yes", "fast_heat")

    assert said.status == 0
    assert "Most likely: heat cracked the block." in said.out
    assert "First change: Rise slower" in said.out
    assert "--yes KEY or --no KEY" in said.out
    assert "they prove none" in said.out


def test_sign_is_read_from_the_outcome_in_the_book(typed: Typed, tmp_path: Path) -> None:
    book = ("--data", str(tmp_path / "book"))
    assert typed("book", "keep", LARCH, "--draws", "20", *book).status == 0
    told = ("--part", "open scale=short 1 mm, 4 of 36", "--sure", "sure", "--button", "full")
    assert typed("outcome", LARCH, *told, *book).status == 0

    said = typed("diagnose", LARCH, "--json", *book)

    tree = json.loads(said.out)
    assert tree["schema"] == "pourcast.diagnosis/1"
    assert tree["seen"] == ["short"]
    assert tree["record"]["button_full"] == "yes"
    assert tree["record"]["thin"] == "yes"
    assert tree["likely"][0]["cause"] == "held_back"


def test_latest_pour_that_came_out_is_asked_and_not_the_first(typed: Typed, tmp_path: Path) -> None:
    """Made to fail: the first of three pours came out well, the third is still in its mould."""
    book = ("--data", str(tmp_path / "book"))
    assert typed("book", "keep", LARCH, "--draws", "20", *book).status == 0
    first = ("--filled", "--poured", "2026-01-10", "--seen", "2026-01-10")
    assert typed("outcome", LARCH, *first, *book).status == 0
    second = ("--part", "twig=missing", "--poured", "2026-01-20", "--seen", "2026-01-20")
    assert typed("outcome", LARCH, *second, "--new-pour", *book).status == 0
    assert typed("book", "pour", LARCH, "--on", "2026-01-30", *book).status == 0

    said = typed("diagnose", LARCH, "--json", *book)

    assert said.status == 0, said.err
    assert json.loads(said.out)["seen"] == ["missing"]


def test_list_of_signs_holds_all_of_them(typed: Typed) -> None:
    said = typed("diagnose", "--signs")

    assert said.status == 0
    assert len(said.out.splitlines()) == 27


def test_nothing_seen_and_no_outcome_are_wrong_use(typed: Typed, tmp_path: Path) -> None:
    """Made to fail."""
    book = ("--data", str(tmp_path / "book"))
    assert typed("diagnose").status == 2
    assert typed("book", "keep", LARCH, "--draws", "20", *book).status == 0
    said = typed("diagnose", LARCH, *book)

    assert said.status == 2
    assert "one with an outcome" in said.err


def test_word_that_is_no_sign_is_refused_with_the_list(typed: Typed) -> None:
    """Made to fail."""
    said = typed("diagnose", "--seen", "sparkle")

    assert said.status == 2
    assert "short_tip" in said.err
