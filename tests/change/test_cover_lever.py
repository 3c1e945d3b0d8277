"""A covered button is offered where it takes away what stops the freezing, and else not at all."""

from functools import cache

import pytest

from pourcast.change.model import Ranking
from pourcast.change.other_levers import other_levers
from pourcast.change.rank import rank
from pourcast.page.words_change import first
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan
from tests.change.small import ask_of, by_kind, ground, only, text_of

SHEET = """
name = "Rod as thick as its gate"
invented = true
metal = {{alloy = "si_bronze_c87300", pour_temperature_C = 1140}}
flask = {{inside_diameter_mm = 100, height_mm = 140, wall = "solid", temperature_C = 550}}
investment = {{water_to_powder = 0.40, mixed_at_C = 20}}
assist = {{kind = "gravity"}}
button = {{diameter_mm = 36, height_mm = 16, gate_diameter_mm = 24, top = "{top}"}}

[[part]]
name = "body"
on = "button"
shape = "rod"
length_mm = 40
diameter_mm = [24, 20]
material = "casting"
"""


def _plan(top: str) -> Plan:
    return read_plan(SHEET.format(top=top))


@cache
def _ranked(top: str) -> Ranking:
    return rank(_plan(top), draws=60, most=1)


def test_a_button_that_freezes_before_a_thick_piece_is_covered_first() -> None:
    """Common practice, no source: hot fibre or dry powder on the button keeps it open."""
    made = _ranked("open")

    (cover,) = [each for each in made.changes if each.levers[0].kind == "cover"]
    assert any("must shrink without being fed" in text for text in cover.mends)
    assert cover.gain == 0.0  # it does nothing for the filling
    assert cover.place == 1
    assert "Cover the button as soon as the metal stands" in first(made)


def test_a_covered_button_is_not_covered_again() -> None:
    assert not [each for each in _ranked("covered").changes if each.levers[0].kind == "cover"]


@pytest.mark.parametrize("name", ["larch_twig", "dragonfly"])
def test_where_the_button_is_last_in_any_case_a_cover_is_not_told(name: str) -> None:
    """The ranking has no row for it; the lever is there to be asked for."""
    made = rank(ground(name).layout.plan, draws=40, most=1)

    assert not [each for each in made.changes if each.levers[0].kind == "cover"]


def test_the_edit_writes_one_key() -> None:
    ask = ask_of(ground("larch_twig"), text=text_of("larch_twig"))
    (lever,) = by_kind(only(other_levers(ask)), "cover")

    assert [edit.path for edit in lever.edits] == [("button", "top")]
    assert lever.plan.piece.button.top == "covered"
