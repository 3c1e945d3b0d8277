"""Ramp levers: a slower way up is offered where the plan heats faster than the trade does."""

from dataclasses import replace

import pytest

from pourcast.burnout.model import KilnStep
from pourcast.change.judge import look_for_mending
from pourcast.change.model import Lever, Refused
from pourcast.change.pours import Poured, poured
from pourcast.change.ramp_levers import ramp_levers
from pourcast.change.rank import rank
from pourcast.page.words_change import first
from pourcast.sheet.model import Plan
from tests.change.small import ask_of, ground, only
from tests.forecast.hand import EXAMPLES, example

CELSIUS = 273.15


def _with(*steps: tuple[float, float | None, float]) -> Plan:
    """Return a demo piece whose kiln goes through steps of °C, K/h and h."""
    plan = example("sea_holly")
    made = tuple(
        KilnStep(
            temperature=to + CELSIUS,
            ramp=None if ramp is None else ramp / 3600.0,
            hold=hold * 3600.0,
        )
        for to, ramp, hold in steps
    )
    return replace(plan, kiln=replace(plan.kiln, steps=made))


def _offered(plan: Plan) -> list[Lever]:
    return only(ramp_levers(replace(ask_of(ground("sea_holly")), plan=plan)))


@pytest.mark.parametrize("name", EXAMPLES)
def test_where_nothing_warns_or_stops_a_slower_way_up_is_not_offered(name: str) -> None:
    """Two demo curves are somewhat faster than usual, and nothing comes of it."""
    base = replace(ground(name), stops={}, watches={})
    made = [
        tried
        for lever in only(ramp_levers(ask_of(base)))
        if isinstance(tried := poured(base, (lever,), lever.plan, draws=4), Poured)
    ]
    refused: list[Refused] = []

    look_for_mending(base, made, refused)

    assert made == []
    assert refused == []


def test_what_is_faster_than_usual_is_slowed_to_the_usual_and_its_hours_are_told() -> None:
    """Common practice: 2.5 K/min to 300 °C for a small flask; a way down is no way up.

    By hand: 710 K at 300 and at 150 K/h are 2.4 and 4.7 h.
    """
    (made,) = _offered(_with((730.0, 300.0, 8.0), (600.0, 300.0, 1.5)))

    assert [round(3600.0 * (step.ramp or 0.0)) for step in made.plan.kiln.steps] == [150, 300]
    assert made.cost.words.startswith("2.4 h of kiln more")


def test_past_300_degrees_the_steeper_ramp_is_the_limit() -> None:
    """Common practice: 4 K/min past 300 °C, an equipment manual."""
    (made,) = _offered(_with((350.0, 100.0, 1.0), (730.0, None, 8.0), (600.0, 100.0, 1.0)))

    assert [round(3600.0 * (step.ramp or 0.0)) for step in made.plan.kiln.steps] == [100, 240, 100]
    assert made.before == "as fast as the kiln can"


def test_a_usual_curve_is_offered_none() -> None:
    assert _offered(_with((150.0, 150.0, 2.0), (730.0, 150.0, 8.0), (600.0, 300.0, 1.5))) == []


def test_a_slower_way_up_takes_the_warning_away_and_is_told() -> None:
    """Common practice: 2.5 K/min for a small flask; 300 K/h at once loads the block more."""
    plan = _with((730.0, 300.0, 8.0), (600.0, 300.0, 1.5))
    made = rank(plan, draws=40, threads=2, most=1)

    (slower,) = [each for each in made.changes if each.levers[0].kind == "ramp"]
    told = " ".join((*slower.mends, *slower.eases))
    assert "loads the block" in told
    assert "Heat the kiln by 150 °C per hour" in first(made)
