"""Levers: steps that a caster can make, within limits."""

import math
from dataclasses import replace

import pytest

from pourcast.change.at_hand import AtHand
from pourcast.change.heat_levers import FLASK_STEP, POUR_STEP
from pourcast.change.levers import go_together
from pourcast.change.model import Lever
from pourcast.change.push_levers import DEEPEST
from pourcast.change.shape_levers import MOST_COAT, counted, size_of
from pourcast.forecast.prepare import prepare
from pourcast.gating.shape import tips_of
from pourcast.mould.flask_heat import usual_flask_temperature
from pourcast.mould.vents import blind_ends, ways_out
from pourcast.piece.model import Part, Vent
from pourcast.sheet.model import Plan
from tests.change.small import ALL_AT_HAND, ask_of, by_kind, ground, levers_of, only
from tests.forecast.hand import example


def made(name: str, at_hand: AtHand = ALL_AT_HAND) -> list[Lever]:
    return only(levers_of(ask_of(ground(name), at_hand=at_hand)))


def of_plan(plan: Plan, at_hand: AtHand = ALL_AT_HAND) -> list[Lever]:
    from pourcast.change.ground import ground_of

    return only(levers_of(ask_of(ground_of(plan, None, 8, 0, threads=1), at_hand=at_hand)))


def test_flask_and_metal_stay_within_what_the_record_calls_usual() -> None:
    """Source: records of the alloy; silicon bronze is poured at 1010 to 1177 °C."""
    plan = example("sea_holly")
    for heat in (1010.0, 1020.0, 1170.0, 1177.0):
        charge = replace(plan.charge, pour_temperature=heat + 273.15)
        for lever in by_kind(tuple(of_plan(replace(plan, charge=charge))), "pour temperature"):
            now = lever.plan.charge.pour_temperature - 273.15

            assert 1009.5 <= now <= 1177.5
            assert POUR_STEP / 2 - 0.5 <= abs(now - heat) <= POUR_STEP + 0.5


def test_a_curve_that_ends_at_the_flask_goes_with_it() -> None:
    """The kiln must end where the flask is to be poured."""
    lever = next(each for each in made("sea_holly") if each.act.startswith("Flask 50 °C hotter"))

    assert lever.plan.flask.temperature == pytest.approx(650 + 273.15)
    assert lever.plan.kiln.steps[-1].temperature == lever.plan.flask.temperature
    assert lever.plan.kiln.steps[:-1] == example("sea_holly").kiln.steps[:-1]


def test_a_flask_that_is_not_said_is_moved_where_it_is_decided() -> None:
    """Without a word of the flask the end of the curve is its heat at the pour."""
    plan = example("sea_holly")
    unsaid = replace(plan, flask=replace(plan.flask, temperature=None))

    lever = next(each for each in of_plan(unsaid) if each.kind == "flask temperature")

    assert lever.plan.flask.temperature is None
    moved = lever.plan.kiln.steps[-1].temperature - plan.kiln.steps[-1].temperature
    assert abs(moved) == pytest.approx(FLASK_STEP)


def test_a_flask_that_is_not_said_and_whose_curve_is_not_followed_is_said_by_its_lever() -> None:
    """Without the litres of the kiln the end of the curve moves no pour: the usual heat counts."""
    plan = example("sea_holly")
    unsaid = replace(
        plan,
        flask=replace(plan.flask, temperature=None),
        kiln=replace(plan.kiln, volume=None),
    )
    ready = prepare(unsaid, None, 2, 0)

    levers = [each for each in of_plan(unsaid) if each.kind == "flask temperature"]

    assert levers
    usual = usual_flask_temperature(ready.alloy, ready.measures.thinnest).si
    for lever in levers:
        assert lever.plan.flask.temperature is not None
        assert float(lever.before) == pytest.approx(usual - 273.15, abs=0.1)
        assert abs(lever.plan.flask.temperature - usual) <= FLASK_STEP + 0.5


def test_no_vacuum_is_asked_deeper_than_the_air_allows() -> None:
    """At 3 000 m the air weighs 70 kPa; nine tenths of it are left to a pump."""
    plan = example("sea_holly")
    high = replace(plan, studio=replace(plan.studio, altitude=3000.0),
                   assist=replace(plan.assist, vacuum=55e3))  # fmt: skip

    (lever,) = by_kind(tuple(of_plan(high, AtHand())), "vacuum")

    assert lever.plan.assist.vacuum is not None
    assert 55e3 < lever.plan.assist.vacuum <= DEEPEST * 70.2e3


def test_a_pump_is_offered_to_gravity_only_where_there_is_one() -> None:
    assert not by_kind(tuple(made("larch_twig", AtHand())), "assist")

    (lever,) = by_kind(tuple(made("larch_twig")), "assist")

    assert lever.plan.assist.kind == "vacuum"
    assert lever.plan.assist.vacuum == 80e3


def test_vents_lead_to_the_pump_under_vacuum_and_to_the_air_without() -> None:
    """Trade: what is open to the air is not drawn empty; common practice, no source."""
    for name, leads_to in (("sea_holly", "vacuum"), ("larch_twig", "air")):
        vents = by_kind(tuple(made(name)), "vent")

        assert vents or name == "sea_holly"
        for lever in vents:
            assert lever.plan.piece.vents[-1].leads_to == leads_to
            assert lever.part == lever.plan.piece.vents[-1].part


def test_a_blind_vent_is_led_on_to_the_air() -> None:
    """By hand: a tip 60 mm under the rim needs 60 mm of thread; 10 mm end in the plaster.

    The changed plan has no blind vent left, and what it says of the vent is gone.
    """
    plan = example("larch_twig")
    blind = Vent(part="open scale", diameter=1e-3, length=10e-3, leads_to="air")
    plan = replace(plan, piece=replace(plan.piece, vents=(blind,)))

    (lever,) = [each for each in of_plan(plan) if each.kind == "vent" and each.part == "open scale"]

    assert lever.plainly
    assert lever.act.startswith("Lead the vents of “open scale” on to the air, ")
    (led,) = lever.plan.piece.vents
    rim = plan.piece.button.height
    ready = prepare(lever.plan, None, 2, 0)
    ways = ways_out(tips_of(ready.network, "open scale"), plan.flask, rim, to_pump=False)
    assert 0.0 <= led.length - ways.max() < 0.5e-3 + 1e-9
    assert not blind_ends(ready.network, plan.flask, rim).any()
    assert blind_ends(prepare(plan, None, 2, 0).network, plan.flask, rim).any()


def test_a_vent_that_reaches_its_end_is_offered_no_more_length() -> None:
    plan = example("larch_twig")
    open_one = Vent(part="open scale", diameter=1e-3, length=0.5, leads_to="air")
    plan = replace(plan, piece=replace(plan.piece, vents=(open_one,)))

    assert not [each for each in of_plan(plan) if each.part == "open scale" and each.kind == "vent"]


def test_coats_stay_under_their_limit_and_on_thin_parts() -> None:
    plan = example("larch_twig")
    thick = tuple(
        replace(part, coat=MOST_COAT) if part.name == "open scale" else part
        for part in plan.piece.parts
    )
    coats = by_kind(tuple(made("larch_twig")), "coat")
    full = by_kind(tuple(of_plan(replace(plan, piece=replace(plan.piece, parts=thick)))), "coat")

    assert [lever.part for lever in coats] == ["open scale"]
    assert "open scale" not in [lever.part for lever in full]
    for lever in coats:
        assert max(part.coat for part in lever.plan.piece.parts) <= MOST_COAT * (1 + 1e-12)


def test_a_piece_that_fills_is_offered_no_coat_and_no_vent() -> None:
    """Nothing to mend, nothing to spoil."""
    kinds = {lever.kind for lever in made("dragonfly")}

    assert not kinds & {"coat", "vent", "split"}


def test_holds_grow_at_the_hottest_step() -> None:
    (lever,) = by_kind(tuple(made("sea_holly")), "burnout")

    holds = [step.hold / 3600 for step in lever.plan.kiln.steps]

    assert holds == pytest.approx([2.0, 1.0, 10.0, 1.5])
    assert lever.after == "10"


def test_alloys_keep_their_heat_over_the_liquidus() -> None:
    """Two alloys are compared at one superheat, as far as each is usually poured."""
    ask = ask_of(ground("sea_holly"))
    levers = by_kind(levers_of(ask), "alloy")

    assert [lever.plan.charge.alloy for lever in levers] == [
        "sn_bronze_cusn10",
        "yellow_brass_c85700",
    ]
    for lever in levers:
        other = ask.ready.book.alloy(lever.plan.charge.alloy)
        over = ask.plan.charge.pour_temperature - ask.ready.alloy["liquidus"].si
        now = lever.plan.charge.pour_temperature
        usual = other["pour"]
        want = min(max(other["liquidus"].si + over, usual.si_low), usual.si_high)
        assert now == pytest.approx(want, abs=0.5)  # written in whole degrees


def test_another_alloy_is_not_said_to_be_short_of_the_first() -> None:
    """What lies on the shelf of one alloy says nothing of another."""
    lever = by_kind(tuple(made("sea_holly")), "alloy")[0]

    assert lever.plan.charge.on_hand is None
    assert lever.plan.charge.returns is None


def test_a_piece_is_cast_in_two_at_its_weakest_part() -> None:
    """Both castings together hold every member once."""
    plan = example("larch_twig")
    few = tuple(
        replace(part, count=2, position=(0.5, 0.6)) if part.name == "short shoot" else part
        for part in plan.piece.parts
        if part.parent != "cone" and not part.name.endswith("side twig")
    )
    cut = replace(plan, piece=replace(plan.piece, parts=few))
    from pourcast.change.ground import ground_of

    base = ground_of(cut, None, 40, 0, threads=1)
    levers = by_kind(levers_of(ask_of(base)), "split")

    for lever in levers:
        assert lever.second is not None
        names = [part.name for part in (*lever.plan.piece.parts, *lever.second.piece.parts)]
        assert sorted(names) == sorted(part.name for part in few)
        first: Part = lever.second.piece.parts[0]
        assert first.parent == "button"
        assert lever.counted == "both"
    assert bool(levers) == (base.ends.whole.mean() < 1.0)


def test_two_levers_on_one_key_do_not_go_together() -> None:
    levers = {lever.act: lever for lever in made("larch_twig")}
    hot, cold = levers["Flask 90 °C hotter, at 650 °C"], levers["Flask 50 °C cooler, at 510 °C"]
    vents = [lever for lever in levers.values() if lever.kind == "vent"]
    two = next(lever for lever in levers.values() if lever.kind == "two")

    assert not go_together(hot, cold)
    assert not go_together(hot, two)
    assert go_together(hot, vents[0])
    assert go_together(vents[0], vents[1])


@pytest.mark.parametrize(("count", "said"), [(1, "one stub"), (9, "nine stubs"), (48, "48 stubs")])
def test_small_numbers_are_words(count: int, said: str) -> None:
    assert counted(count, "stub") == said


def test_every_lever_says_what_it_is_and_what_it_costs() -> None:
    for name in ("sea_holly", "larch_twig", "dragonfly", "fern_crozier"):
        for lever in made(name):
            assert lever.act[0].isupper() or lever.act[0].isdigit()
            assert lever.cost.words
            assert lever.before != lever.after
            assert lever.cost.time >= 0.0
            assert math.isfinite(lever.cost.metal)


def test_a_flask_is_named_by_its_sizes() -> None:
    assert size_of(ALL_AT_HAND.flasks[0]) == "100 × 180"
