"""Steps of the levers, one by one: how far each goes and where it stops, without a pour."""

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from pourcast.change.ask import Ask
from pourcast.change.at_hand import AtHand
from pourcast.change.heat_levers import FLASK_STEP, heat_levers
from pourcast.change.model import Lever, PartMove, Refused
from pourcast.change.other_levers import other_levers
from pourcast.change.paired import from_all_draws
from pourcast.change.push_levers import push_levers
from pourcast.change.shape_levers import shape_levers
from pourcast.forecast.prepare import prepare
from pourcast.forecast.whole import Ends
from pourcast.pour.model import CAPILLARY
from pourcast.sheet.model import Plan
from tests.forecast.hand import example

Levers = Callable[[Ask], Iterator[Lever | Refused]]


def ask_of(plan: Plan, *, short: str = "") -> Ask:
    """Return what levers are made from; every pour is whole but for a part."""
    ready = prepare(plan, None, 4, 0)
    member_part, names = ready.network.member_part, ready.network.part_names
    full = np.ones((4, member_part.size), dtype=bool)
    full[:, [names[part] == short for part in member_part]] = False
    ends = Ends(
        full=full,
        cause=np.full(full.shape, CAPILLARY),
        member_part=member_part,
        part_names=names,
        share=np.ones(4),
    )
    return Ask(plan=plan, text=None, ready=ready, ends=ends, at_hand=AtHand())


def found(levers: Levers, ask: Ask, kind: str) -> list[Plan]:
    """Return the plans of the levers of a kind."""
    return [each.plan for each in levers(ask) if isinstance(each, Lever) and each.kind == kind]


def with_(plan: Plan, part: str, **changes: Any) -> Plan:
    """Return a plan with one of its records changed."""
    return replace(plan, **{part: replace(getattr(plan, part), **changes)})


@pytest.mark.parametrize(
    ("now", "to"),
    [(0.0, [10, -10]), (10.0, [20, 0]), (-5.0, [5, -15]), (24.0, [30, 14]), (30.0, [20])],
)
def test_a_piece_leans_ten_degrees_more_or_less_and_thirty_at_most(
    now: float, to: list[float]
) -> None:
    """Common practice, no source.  At 30° nothing more is offered, under it the rest of the way."""
    plan = example("larch_twig")
    leaning = replace(plan.piece.button, tilt=math.radians(now))

    made = found(shape_levers, ask_of(with_(plan, "piece", button=leaning)), "tilt")

    tilts = [math.degrees(one.piece.button.tilt) for one in made]
    assert tilts == pytest.approx(to, abs=0.05)  # written to a tenth of a degree


@pytest.mark.parametrize(("now", "to"), [(0.60, 0.95), (0.93, 0.98), (0.97, 1.0), (0.99, None)])
def test_a_seal_is_mended_to_what_a_new_ring_makes_and_never_past_all(
    now: float, to: float | None
) -> None:
    """By definition no seal is better than 1; 0.95 for a new ring is an estimate."""
    made = found(push_levers, ask_of(with_(example("sea_holly"), "assist", seal=now)), "seal")

    assert [one.assist.seal for one in made] == pytest.approx([] if to is None else [to])


def test_two_steps_of_water_go_from_the_stiffest_usual_mix_to_the_wettest() -> None:
    """Common practice, no source: 38 to 42 parts of water to 100 of powder, 40 between them."""
    plan = with_(example("larch_twig"), "mix", water_to_powder=0.38)
    mixes = [plan.mix.water_to_powder]
    for _ in range(2):
        (plan,) = (
            one
            for one in found(other_levers, ask_of(plan), "mix")
            if one.mix.water_to_powder > plan.mix.water_to_powder
        )
        mixes.append(plan.mix.water_to_powder)

    assert mixes == pytest.approx([0.38, 0.40, 0.42])
    assert len(found(other_levers, ask_of(plan), "mix")) == 1


@pytest.mark.parametrize(("diameter", "offered"), [(1.3e-3, True), (1.7e-3, False)])
def test_a_coat_is_for_what_is_very_thin(diameter: float, offered: bool) -> None:
    """The alloy records and `pourcast.mould.flask_heat`: sections under 1.5 mm are very thin."""
    plan = example("larch_twig")
    part = plan.piece.parts[0]
    rod = replace(part, width=(diameter, diameter), thickness=(diameter, diameter))
    plan = with_(plan, "piece", parts=(rod,), vents=())

    made = found(shape_levers, ask_of(plan, short=part.name), "coat")

    assert bool(made) is offered


def test_a_curve_that_ends_in_its_top_near_the_flask_goes_with_it() -> None:
    """Where the hottest step is the last and the flask is said, the kiln ends where the pour is."""
    plan = example("sea_holly")
    flask = plan.flask.temperature
    assert flask is not None
    steps = tuple(
        replace(step, temperature=min(step.temperature, flask)) for step in plan.kiln.steps
    )
    assert max(step.temperature for step in steps) == steps[-1].temperature == flask
    near = with_(plan, "kiln", steps=steps)
    far = with_(plan, "kiln", steps=(*steps[:-1], replace(steps[-1], temperature=flask + 60.0)))

    goes = found(heat_levers, ask_of(near), "flask temperature")
    stays = found(heat_levers, ask_of(far), "flask temperature")

    assert len(goes) == len(stays) == 2
    for one in goes:
        moved = one.kiln.steps[-1].temperature - steps[-1].temperature
        assert abs(moved) == pytest.approx(FLASK_STEP)
        assert one.kiln.steps[-1].temperature == one.flask.temperature
    assert all(one.kiln.steps == far.kiln.steps for one in stays)


def test_moves_of_some_draws_are_told_from_all_draws() -> None:
    """By hand: full in 3 of 4 pours, moved by 2 tenths of others, from 1/10 to 3/10, is 0.95."""
    full = np.array([[True, True], [True, False], [True, True], [False, True]])
    stands = Ends(
        full=full,
        cause=np.full(full.shape, CAPILLARY),
        member_part=np.array([0, 1]),
        part_names=("stem", "leaf"),
        share=np.ones(4),
    )
    moves = tuple(
        PartMove(name=name, before=before, after=after, standard_error=0.1)
        for name, before, after in (("stem", 0.1, 0.3), ("leaf", 0.9, 0.5), ("stem", 0.1, 0.6))
    )

    told = from_all_draws(moves, stands)

    assert [one.before for one in told] == [0.75] * 3
    assert [one.after for one in told] == pytest.approx([0.95, 0.35, 1.0])
