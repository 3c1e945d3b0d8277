"""A caster who writes in °F is told °F through every door, and one who writes in °C never.

House rule.  What a source is quoted with stays as the source has it, and is left out here.
Few draws: the words are looked at, not the chances.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from html import unescape
from io import StringIO

import pytest
from rich.console import RenderableType

from pourcast.burnout.curves import steps_of
from pourcast.change.as_written import as_the_sheets_say
from pourcast.change.compare import compare
from pourcast.change.heat_levers import heat_levers
from pourcast.change.hold_levers import hold_levers
from pourcast.change.model import Change, Lever, Ranking
from pourcast.change.other_levers import other_levers
from pourcast.change.ramp_levers import ramp_levers
from pourcast.cli.change import blocks as change_blocks
from pourcast.cli.compare import blocks as compare_blocks
from pourcast.cli.show import terminal, text, write
from pourcast.cli.show_burn import blocks as burnout_blocks
from pourcast.forecast.burnout_study import BurnoutStudy, middle_section, study
from pourcast.forecast.document import document
from pourcast.forecast.model import Forecast
from pourcast.forecast.solve import forecast
from pourcast.materials import library
from pourcast.page import words, words_burn, words_kiln
from pourcast.page.burnout_page import render_burnout
from pourcast.page.render import render
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan
from pourcast.signs.table import SIGNS
from pourcast.signs.tells import TELLS
from pourcast.speech import CELSIUS, FAHRENHEIT, Speech
from tests.change.test_lever_steps import ask_of
from tests.speech.written import example, in_celsius_left, in_fahrenheit_left

PIECE = "sea_holly"
BOTH = pytest.mark.parametrize("speech", [CELSIUS, FAHRENHEIT], ids=lambda each: each.degrees)


@cache
def _said(speech: Speech) -> Forecast:
    """Return a forecast of the same pours, for one who writes in °C or in °F."""
    made = forecast(read_plan(example(PIECE, fahrenheit=True)), draws=8, rng=1)
    return replace(made, plan=replace(made.plan, speech=speech))


@cache
def _study(speech: Speech) -> BurnoutStudy:
    made = study(read_plan(example(PIECE, fahrenheit=True)), draws=6, rng=1)
    return replace(made, plan=replace(made.plan, speech=speech))


@cache
def _ranking(speech: Speech) -> Ranking:
    """Return a ranking of every lever of heat, each as if it won something and mended a stop."""
    plan = replace(_hot(), speech=speech)
    ask = ask_of(plan)
    ask = replace(ask, at_hand=replace(ask.at_hand, alloys=("yellow_brass_c85700",)))
    levers = [
        lever
        for levers in (heat_levers, hold_levers, ramp_levers, other_levers)
        for lever in levers(ask)
        if isinstance(lever, Lever)
    ]
    stops = tuple(each.text for each in _said(speech).findings if "°C" in each.text)
    changes = tuple(
        Change(
            levers=(lever,), chance_before=0.4, chance_after=0.6, gain=0.2, standard_error=0.01,
            draws=100, mends=(stop,), place=1,
        )
        for lever, stop in zip(levers, stops, strict=False)
    )  # fmt: skip
    assert len(changes) > 4
    return Ranking(plan=plan, chance=0.4, changes=changes, draws=100, seed=0, stops=stops)


def _hot() -> Plan:
    """Return a plan whose curve goes over the stop, as fast as it can: every lever is offered."""
    plan = read_plan(example(PIECE))
    steps = (replace(plan.kiln.steps[0], ramp=None, temperature=1073.15, hold=0.0),)
    return replace(plan, kiln=replace(plan.kiln, steps=steps))


def _written(blocks: Sequence[RenderableType]) -> str:
    file = StringIO()
    write(blocks, terminal(file, {"NO_COLOR": "1"}, 100))
    return file.getvalue()


def _quoted(made: Forecast) -> list[str]:
    """Return what sources are quoted with."""
    return [
        *(each.source for each in made.findings if not hasattr(each.source, "places")),
        *(each.source for each in made.unknowns),
        *(each.source for each in library().facts.values()),
    ]


def _told(speech: Speech) -> Iterator[tuple[str, str]]:
    """Yield what each door says of one piece, by its name."""
    made, burnt = _said(speech), _study(speech)
    yield "terminal", text(made, 100)
    yield "terminal in full", text(made, 100, full=True)
    yield "page", _of_page(render(made, _ranking(speech)))
    yield "burnout in the terminal", _written(burnout_blocks(burnt, start=25_200.0))
    yield "burnout page", _of_page(render_burnout(burnt, middle_section(burnt), start=25_200.0))
    yield "change in the terminal", _written(change_blocks(_ranking(speech), 20))


def _of_page(page: str) -> str:
    """Return what a person reads of a page, or hears of its drawings."""
    plain = re.sub(r"<style.*?</style>", " ", page, flags=re.DOTALL)
    spoken = " ".join(re.findall(r'aria-label="([^"]*)"', plain))
    return unescape(re.sub(r"<[^>]+>", " ", plain) + " " + spoken)


def test_every_door_tells_fahrenheit_to_who_writes_it() -> None:
    for door, told in _told(FAHRENHEIT):
        assert "°F" in told or door == "terminal"
        assert in_celsius_left(told, _quoted(_said(FAHRENHEIT))) == [], door


def test_every_door_tells_celsius_to_who_writes_it() -> None:
    for door, told in _told(CELSIUS):
        assert "°C" in told or door == "terminal"
        assert in_fahrenheit_left(told, _quoted(_said(CELSIUS))) == [], door


def test_the_document_is_the_same_whoever_asks() -> None:
    """Keys keep their names: °C stands in JSON, and no hash hangs on the unit of the sheet."""
    one, other = (document(_said(speech), version="0") for speech in (CELSIUS, FAHRENHEIT))

    assert one == other
    assert "°F" not in str([each["text"] for each in other["findings"]])


def test_the_words_of_a_sheet_in_fahrenheit() -> None:
    """Exact: 1120 and 600 °C are 2048 and 1112 °F; 700 °C is 1292, 60 °C an hour 108 °F."""
    made, burnt = _said(FAHRENHEIT), _study(FAHRENHEIT)
    found = {each.key: FAHRENHEIT.finding(each) for each in made.findings}
    steps = words_kiln.steps_told(burnt.burnout, steps_of(burnt.burnout.curve), FAHRENHEIT)

    assert "pour at 2048\u00a0°F." in words.pour(made)
    assert found["flask-heat"].text == (
        "Flask at 1112 °F at the pour; 1148 to 1292 °F is usual for the thinnest section of this "
        "piece."
    )
    assert found["flask-heat"].unit == "°F"
    assert found["burnout-top"].text.startswith("The curve goes to 1292 °F; 1346 °F is the usual")
    assert found["mix-heat"].text == "Powder and water at 70 °F; 68 to 75 °F is usual."
    assert found["pour-heat"].text.startswith("2048 °F in the pot; 1850 to 2151 °F is usual for")
    assert steps[0] == "Heat to 302\u00a0°F at 108 °F an hour, and hold it for 2\u00a0h."
    assert "°F at its hottest, the wall to" in words_burn.heat(burnt.burnout, FAHRENHEIT)
    told = _written(change_blocks(_ranking(FAHRENHEIT), 20))
    assert "Metal 54 °F hotter, at 2102 °F" in " ".join(told.split())


@BOTH
def test_signs_of_a_failed_casting_are_told_in_the_unit_of_its_sheet(speech: Speech) -> None:
    told = " ".join(
        [
            *(speech.text(cause.remedy) for sign in SIGNS.values() for cause in sign.causes),
            *(speech.text(asks) for asks in TELLS.values()),
        ]
    )
    other = in_celsius_left(told) if speech == FAHRENHEIT else in_fahrenheit_left(told)

    assert not other
    assert f"Cap the burnout at {speech.heat(1003.15)}." in told
    assert f"at {speech.figure(393.15)} to {speech.heat(423.15)}" in told


@BOTH
def test_two_plans_are_each_told_what_stops_them_in_its_own_unit(speech: Speech) -> None:
    """The first is written in °C, the second as asked; both go over the stop of the burnout."""
    one = example(PIECE).replace("to_C = 700", "to_C = 800")
    other = example(PIECE, fahrenheit=speech == FAHRENHEIT)
    other = other.replace('to = "1292 F"', 'to = "1472 F"').replace("to_C = 700", "to_C = 800")

    said = as_the_sheets_say(compare(read_plan(one), read_plan(other), draws=4), one, other)
    told = _written(compare_blocks(said))

    assert any("1472 °F" in stop for stop in said.other.stops) == (speech == FAHRENHEIT)
    assert any("800 °C" in stop for stop in said.one.stops)
    assert not any("°F" in stop for stop in said.one.stops)
    assert "Stop, second" in told
