"""Hold levers: offered where the curve has none; what stops a burnout is taken away first."""

from dataclasses import replace

import pytest

from pourcast.burnout.model import KilnStep
from pourcast.change.hold_levers import hold_levers
from pourcast.change.judge import OF_THE_BURNOUT
from pourcast.change.model import Lever
from pourcast.change.rank import rank
from pourcast.page.words_change import first
from pourcast.sheet.model import Plan
from tests.change.small import ask_of, ground, only
from tests.forecast.hand import EXAMPLES, example

CELSIUS = 273.15


def _with(*steps: tuple[float, float, float]) -> Plan:
    """Return a demo piece whose kiln goes through steps of °C, K/h and h."""
    plan = example("sea_holly")
    made = tuple(
        KilnStep(temperature=to + CELSIUS, ramp=ramp / 3600.0, hold=hold * 3600.0)
        for to, ramp, hold in steps
    )
    return replace(plan, kiln=replace(plan.kiln, steps=made))


def _offered(plan: Plan) -> list[Lever]:
    asked = ask_of(ground("sea_holly"))
    return only(hold_levers(replace(asked, plan=plan)))


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_demo_curves_have_the_hold(name: str) -> None:
    assert only(hold_levers(ask_of(ground(name)))) == []


@pytest.mark.parametrize(
    ("steps", "place", "ramp"),
    [
        (((150.0, 60.0, 3.0), (500.0, 200.0, 4.0), (450.0, 100.0, 1.0)), 2, 200.0),
        (((150.0, 60.0, 3.0), (745.0, 90.0, 0.0), (450.0, 100.0, 1.0)), 1, 90.0),
        (((500.0, 120.0, 4.0),), 1, 120.0),
    ],
    ids=["a new top", "on the way up", "after the only step"],
)
def test_a_curve_that_burns_no_char_is_offered_the_usual_top(
    steps: tuple[tuple[float, float, float], ...], place: int, ramp: float
) -> None:
    """Common practice: 3 h at 730 °C, a burnout table for wax."""
    (made,) = _offered(_with(*steps))

    step = made.plan.kiln.steps[place]
    assert len(made.plan.kiln.steps) == len(steps) + 1
    assert step.temperature == pytest.approx(730.0 + CELSIUS)
    assert step.hold == pytest.approx(3.0 * 3600.0)
    assert step.ramp == pytest.approx(ramp / 3600.0)


def test_a_plan_without_a_kiln_is_offered_none() -> None:
    plan = _with((500.0, 120.0, 4.0))
    assert _offered(replace(plan, kiln=replace(plan.kiln, volume=None))) == []
    assert _offered(replace(plan, kiln=replace(plan.kiln, steps=()))) == []


def test_what_takes_a_stop_away_stands_first_and_is_said() -> None:
    """A curve that ends at 340 °C leaves char, and a plant is burnt at 700 °C and more.

    Common practice, no source.
    """
    made = rank(_with((150.0, 60.0, 3.0), (340.0, 150.0, 1.0)), draws=40, threads=2)
    best = made.changes[0]

    assert best.levers[0].kind == "hold"
    assert any("of char is left" in text for text in best.mends)
    assert "takes away what stops the plan" in first(made)
    others = [each for each in made.changes if each.levers[0].kind not in OF_THE_BURNOUT]
    assert others
    assert not any("of char is left" in text for each in others for text in each.mends)
