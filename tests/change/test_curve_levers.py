"""The usual curve in the place of one that is too short; back into what is usual at once."""

import math
from dataclasses import replace

import pytest

from pourcast.burnout.model import KilnStep
from pourcast.burnout.usual import within_curve
from pourcast.change.ask import Ask, moved_to, plainly_out
from pourcast.change.curve_levers import curve_levers
from pourcast.change.heat_levers import heat_levers
from pourcast.change.levers import go_together
from pourcast.change.model import Lever
from pourcast.forecast.burn import steps_as_usual
from pourcast.materials import library
from pourcast.sheet.edit import edited
from pourcast.sheet.model import Plan
from pourcast.sheet.read import read_plan
from tests.change.small import ask_of, by_kind, ground, only, text_of
from tests.forecast.hand import example

LIMITS = library().investment["limits"]


def _ask(plan: Plan, text: str | None = None) -> Ask:
    return replace(ask_of(ground("larch_twig")), plan=plan, text=text)


def _with_steps(many: int) -> Plan:
    plan = example("larch_twig")
    steps = tuple(
        KilnStep(temperature=500.0 + 30.0 * place, ramp=0.1, hold=600.0) for place in range(many)
    )
    return replace(plan, kiln=replace(plan.kiln, steps=steps))


def _lever(ask: Ask) -> Lever:
    (lever,) = only(curve_levers(ask))
    return lever


@pytest.mark.parametrize("many", [1, 3, 5, 7])
def test_the_steps_are_those_of_the_trade_whatever_stood_there(many: int) -> None:
    """Common practice, no source: `pourcast.burnout.usual`; ramps to a whole degree per hour."""
    plan = _with_steps(many)
    ask = _ask(plan)

    made = _lever(ask).plan.kiln.steps

    usual = steps_as_usual(plan, ask.ready)
    assert [step.temperature for step in made] == pytest.approx(
        [step.temperature for step in usual], abs=0.5
    )
    assert [step.hold for step in made] == pytest.approx([step.hold for step in usual], abs=36.0)
    assert [step.ramp for step in made] == pytest.approx([step.ramp for step in usual], rel=0.01)


def test_file_and_records_make_the_same_curve() -> None:
    """House rule: an edit makes the same plan either way; here three steps become five."""
    text = text_of("larch_twig")
    plan = read_plan(text)

    lever = _lever(_ask(plan, text))

    assert read_plan(edited(text, lever.edits)).kiln == lever.plan.kiln
    assert _lever(_ask(plan)).plan.kiln == lever.plan.kiln


def test_a_plan_without_a_curve_is_not_given_one() -> None:
    plan = example("larch_twig")

    assert only(curve_levers(_ask(replace(plan, kiln=replace(plan.kiln, steps=()))))) == []
    assert only(curve_levers(_ask(replace(plan, kiln=replace(plan.kiln, volume=None))))) == []


def test_two_ways_to_change_the_curve_do_not_go_together() -> None:
    ask = _ask(example("larch_twig"))
    curve, heats = _lever(ask), list(heat_levers(ask))
    (hold,) = by_kind(heats, "burnout")
    air, metal = by_kind(heats, "air"), by_kind(heats, "pour temperature")

    assert not go_together(curve, hold)
    assert all(go_together(curve, other) for other in (*air, *metal))


@pytest.mark.parametrize(
    ("now", "step", "to"),
    [
        (250.0, 50.0, 650.0),  # out of the usual: all the way
        (560.0, 50.0, 650.0),
        (640.0, 50.0, 690.0),  # within it: by a step
        (640.0, -50.0, 590.0),
        (560.0, -50.0, 510.0),  # away from the usual: by a step
        (615.0, 50.0, 665.0),  # nearer than a step: by a step
        (780.0, -50.0, 650.0),
    ],
)
def test_what_is_out_of_the_usual_goes_back_at_once(now: float, step: float, to: float) -> None:
    """By hand: 620 to 700, usually 650."""
    assert moved_to(now, step, (620.0, 650.0, 700.0)) == to


@pytest.mark.parametrize(
    ("now", "plainly"), [(249.0, True), (270.0, False), (650.0, False), (751.0, True)]
)
def test_out_by_more_than_a_step_is_plain(now: float, *, plainly: bool) -> None:
    """By hand: 320 to 700 and steps of 50."""
    assert plainly_out(now, 50.0, 320.0, 700.0) is plainly
    assert not plainly_out(now, 50.0, 200.0, math.inf)


def test_a_flask_off_the_usual_curve_is_a_finding_and_no_fault() -> None:
    """A bad casting is a finding: at 800 and at 100 °C the usual curve ends where it can."""
    top = LIMITS["burnout_peak_default"].si

    assert within_curve(LIMITS, 1073.15) == top
    assert within_curve(LIMITS, 373.15) == pytest.approx(423.15)
    assert within_curve(LIMITS, 900.0) == 900.0
    for heat, ends in ((1073.15, top), (373.15, 423.15)):
        plan = example("larch_twig")
        off = replace(plan, flask=replace(plan.flask, temperature=heat))
        assert steps_as_usual(off, _ask(off).ready)[-1].temperature == pytest.approx(ends)


def test_a_kiln_over_the_hard_stop_comes_down_with_the_flask() -> None:
    """Common practice, no source: 760 °C is the stop, 730 °C the usual top."""
    plan = example("larch_twig")
    first, _, last = plan.kiln.steps
    hot = (first, replace(last, temperature=1053.15), replace(last, temperature=1053.15))
    plan = replace(
        plan,
        flask=replace(plan.flask, temperature=1053.15),
        kiln=replace(plan.kiln, steps=hot),
    )
    made = list(heat_levers(_ask(plan)))

    (top,) = by_kind(made, "top")
    (flask,) = by_kind(made, "flask temperature")
    assert [step.temperature for step in top.plan.kiln.steps[1:]] == pytest.approx([1003.15] * 2)
    assert [step.temperature for step in flask.plan.kiln.steps[1:]] == pytest.approx(
        [1003.15, 923.15]
    )
    assert flask.plan.flask.temperature == pytest.approx(923.15)
    assert not by_kind(heat_levers(_ask(example("larch_twig"))), "top")
    cold = replace(plan, flask=replace(plan.flask, temperature=873.15))
    for lever in by_kind(heat_levers(_ask(cold)), "flask temperature"):
        assert lever.plan.kiln.steps[1] == hot[1], "a flask that is no stop leaves the top alone"
