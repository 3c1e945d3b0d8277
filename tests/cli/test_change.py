"""Change and compare, as they are typed."""

import json
from pathlib import Path

import pytest

from tests.cli.conftest import Typed

EXAMPLES = Path(__file__).parents[2] / "examples"
LARCH = str(EXAMPLES / "larch_twig.toml")
DRAGONFLY = str(EXAMPLES / "dragonfly.toml")
FEW = ("--draws", "8", "--threads", "1")


def test_change_tells_first_what_to_do(typed: Typed) -> None:
    """House rule: the answer in words first, and how it was made last."""
    said = typed("change", DRAGONFLY, *FEW)

    assert said.status == 0
    assert said.err == ""
    assert said.out.startswith("Nothing: over 99 of 100 pours come out whole")
    assert "8 pours with the same draws" in said.out
    assert "\x1b" not in said.out


def test_change_as_json_follows_its_promise(typed: Typed) -> None:
    said = typed("change", DRAGONFLY, "--json", *FEW)

    tree = json.loads(said.out)
    assert said.status == 0
    assert tree["schema"] == "pourcast.change/1"
    assert tree["draws"] == 8
    assert {"change", "from", "to", "cost_note"} <= set(tree["changes"][0])


@pytest.mark.parametrize(("pump", "asked"), [((), True), (("--vacuum", "80kPa"), False)])
def test_gravity_without_a_pump_is_asked_for_one(
    typed: Typed, pump: tuple[str, ...], *, asked: bool
) -> None:
    """Common practice, no source: vacuum is the biggest lever; it is not offered unasked."""
    said = typed("change", LARCH, *pump, "--draws", "8", "--threads", "1")

    assert ("no pump was named" in said.out) == asked
    assert ("Pour under a vacuum" in said.out) != asked


def test_best_says_how_many_rows(typed: Typed) -> None:
    said = typed("change", DRAGONFLY, "--best", "2", *FEW)

    assert "more changes with --best" in said.out


def test_changes_that_move_nothing_stand_in_one_sentence(typed: Typed) -> None:
    """House rule: rows that say the same fold; a dragonfly fills in each of 8 pours."""
    told = " ".join(typed("change", DRAGONFLY, "--best", "100", *FEW).out.split())
    tree = json.loads(typed("change", DRAGONFLY, "--json", *FEW).out)
    still = [
        each["change"]
        for each in tree["changes"]
        if each["chance_all_after"] == each["chance_all_before"] and not each["standard_error"]
    ]

    assert len(still) > 3
    _, folded = told.split("pours ends otherwise: ")
    for act in still:
        assert folded.count(act) == 1, act
    assert "+0 ± 0" not in told


def test_what_is_at_hand_is_offered(typed: Typed) -> None:
    said = typed(
        "change", DRAGONFLY, "--alloy", "CuSn10", "--flask", "120 x 180 perforated", "--twin",
        "--json", *FEW,
    )  # fmt: skip

    kinds = {kind for each in json.loads(said.out)["changes"] for kind in each["kinds"]}
    assert {"alloy", "two"} <= kinds


def test_a_bad_word_is_wrong_use(typed: Typed) -> None:
    assert typed("change", DRAGONFLY, "--alloy", "unobtainium", *FEW).status == 2
    assert typed("change", DRAGONFLY, "--flask", "large", *FEW).status == 2
    assert typed("change", "not_there.toml", *FEW).status == 2


def test_compare_tells_what_differs_and_whether_it_is_luck(typed: Typed, tmp_path: Path) -> None:
    hot = tmp_path / "hot.toml"
    text = Path(DRAGONFLY).read_text(encoding="utf-8")
    hot.write_text(text.replace("pour_temperature_C = ", "pour_temperature_C = 1"), "utf-8")
    other = text.replace("seal = ", "seal = 0.5 # ")
    hot.write_text(other, encoding="utf-8")

    said = typed("compare", DRAGONFLY, str(hot), *FEW)

    assert said.status == 0
    assert "whole in 100 pours" in said.out.splitlines()[0]
    assert "What differs" in said.out


@pytest.mark.parametrize("json_too", [False, True])
def test_a_file_against_itself_says_the_same(typed: Typed, *, json_too: bool) -> None:
    said = typed("compare", DRAGONFLY, DRAGONFLY, *FEW, *(("--json",) if json_too else ()))

    if json_too:
        tree = json.loads(said.out)
        assert tree["differences"] == []
        assert tree["gain"] == 0.0
    else:
        assert "The two files say the same." in said.out
        assert "within the noise" in said.out
