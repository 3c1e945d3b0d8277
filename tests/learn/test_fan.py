"""The fan: which strips tell most, its drawing, its sheet, and how far they ran."""

import re
import xml.etree.ElementTree as Tree
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given

from pourcast.errors import InputError
from pourcast.learn.fan import FAN, RUNNER, Fan, design, room_for
from pourcast.learn.fan_drawing import PAPER, fan_svg
from pourcast.learn.fan_outcome import ran_parts
from pourcast.learn.fan_sheet import fan_sheet
from pourcast.sheet import read_plan
from tests.forecast.hand import EXAMPLES, example
from tests.strategies_learn import fans
from tests.whole.paired import by_gravity

FOLDER = Path(__file__).parents[2] / "examples"
EXAMPLE_TEXTS = {name: (FOLDER / f"{name}.toml").read_text(encoding="utf-8") for name in EXAMPLES}


@pytest.fixture(scope="module")
def fan() -> Fan:
    """Design a fan of six for a demo flask, by gravity."""
    return design(by_gravity(example("sea_holly")), strips=6, draws=200)


def test_each_strip_adds_to_what_the_set_tells(fan: Fan) -> None:
    """Published: a further observation never tells less on the mean.

    Source: Lindley (1956), theorem 2.  By simulation gains may rise by luck: 0.1 bit.
    """
    gains = [strip.gain for strip in fan.strips]

    assert fan.information == pytest.approx(sum(gains), rel=1e-9)
    assert gains[0] == max(gains)
    assert all(after < before + 0.1 for before, after in pairwise(gains))
    assert all(gain > -0.05 for gain in gains)


def test_strip_that_is_taken_first_is_one_that_may_go_either_way(fan: Fan) -> None:
    """What nobody doubts tells nothing."""
    first = fan.strips[0]

    assert first.run[0] < 0.9 * fan.room
    assert first.run[2] > 0.2 * fan.room


def test_vacuum_asks_for_thinner_strips_than_gravity(fan: Fan) -> None:
    """Common practice, no source: under vacuum thinner ways fill."""
    drawn = design(example("sea_holly"), strips=3, draws=200)

    assert drawn.strips[0].thickness < fan.strips[0].thickness


def test_no_two_strips_are_alike_and_all_fit_the_flask(fan: Fan) -> None:
    assert len({strip.name for strip in fan.strips}) == 6
    assert all(0.015 <= strip.length <= fan.room for strip in fan.strips)


@given(fans())
def test_drawing_is_at_its_true_size_on_either_paper(fan: Fan) -> None:
    for paper, (width, height) in PAPER.items():
        tree = Tree.fromstring(fan_svg(fan, paper))  # type: ignore[arg-type]
        assert tree.get("width") == f"{width}mm"
        assert tree.get("viewBox") == f"0 0 {width} {height}"
        boxes = [e for e in tree if e.tag.endswith("rect")][1:]
        assert len(boxes) == len(fan.strips)
        cut = sorted(1000.0 * strip.length for strip in fan.strips)
        assert sorted(float(box.get("width", 0)) for box in boxes) == pytest.approx(cut, abs=0.01)
        for box in boxes:
            assert float(box.get("x", 0)) + float(box.get("width", 0)) <= width
            assert float(box.get("y", 0)) + float(box.get("height", 0)) <= height


@given(fans())
def test_rule_of_the_drawing_is_as_long_as_it_says_and_has_a_mark_at_each_centimetre(
    fan: Fan,
) -> None:
    """By definition of a rule; the page is in millimetres."""
    tree = Tree.fromstring(fan_svg(fan))
    drawn = [e.get("d", "") for e in tree if e.tag.endswith("path")]
    words = " ".join(e.text or "" for e in tree)

    told = re.search(r"rule is (\d+) mm long", words)
    (rule,) = [one for d in drawn if (one := re.fullmatch(r"M([\d.]+) [\d.]+ h([\d.]+)", d))]
    marks = [float(one[1]) for d in drawn if (one := re.match(r"M([\d.]+) [\d.]+ v", d))]
    assert told is not None
    assert float(rule[2]) == float(told[1])
    assert marks == pytest.approx([float(rule[1]) + 10.0 * n for n in range(11)], abs=0.01)


@pytest.mark.parametrize("name", EXAMPLES)
def test_sheet_of_a_fan_is_a_piece_file_in_the_same_flask(fan: Fan, name: str) -> None:
    before = example(name)

    plan = read_plan(fan_sheet(EXAMPLE_TEXTS[name], fan))

    assert plan.piece.name.startswith(FAN)
    assert (plan.flask, plan.mix, plan.assist) == (before.flask, before.mix, before.assist)
    assert plan.kiln == before.kiln
    named = {part.name: part for part in plan.piece.parts}
    assert set(named) == {RUNNER, *(strip.name for strip in fan.strips)}
    for strip in fan.strips:
        assert named[strip.name].length == pytest.approx(strip.length)
        assert named[strip.name].thickness == pytest.approx((strip.thickness,) * 2)


def test_how_far_strips_ran_becomes_shares_of_their_length(fan: Fan) -> None:
    plan = read_plan(fan_sheet(EXAMPLE_TEXTS["sea_holly"], fan))
    first, second, third = fan.strips[:3]
    half = f"{first.name}={500 * first.length:g} mm"
    inch = f"{second.name}=0"
    full = f"{third.name}={1000 * third.length:g}"

    got = ran_parts(plan, [half, inch, full])

    assert got[0][:2] == (first.name, False)
    assert got[0][2] == pytest.approx(0.5)
    assert got[1] == (second.name, False, 0.0)
    assert got[2] == (third.name, True, 1.0)


@pytest.mark.parametrize("said", ["twig=3 mm", "{0}", "{0}=900 mm", "{0}=3 kg"])
def test_strip_that_is_not_there_or_ran_too_far_is_refused(fan: Fan, said: str) -> None:
    plan = read_plan(fan_sheet(EXAMPLE_TEXTS["sea_holly"], fan))

    with pytest.raises(InputError):
        ran_parts(plan, [said.format(fan.strips[0].name)])
    with pytest.raises(InputError, match="once"):
        ran_parts(plan, [f"{fan.strips[0].name}=1"] * 2)


def test_flask_without_room_is_refused() -> None:
    plan = example("sea_holly")
    small = replace(plan.flask, inside_diameter=0.035)

    with pytest.raises(InputError, match="larger flask"):
        room_for(small, plan.piece.button)
    with pytest.raises(InputError, match="2 to 12"):
        design(plan, strips=1)


def test_names_of_strips_say_their_thickness(fan: Fan) -> None:
    assert all(re.fullmatch(r"(rod|strip) \d\.\d", strip.name) for strip in fan.strips)
