"""What the trade knows, held against whole forecasts poured with the same draws.

Source of all: common practice, no source.  A direction is counted draw by draw: in how
many of the draws a part is lost that filled before, and in how many it is won.

Met: thin florets, hot flask, deeper vacuum, taller button under gravity, vents on tips
that gas stops, altitude, parts that rise.  Not met: a plain stem under vacuum, and that
silicon bronze runs finer than brass.  Not looked at: wet against dry moulds, whose burnout is
not built.
"""

import math
from dataclasses import replace

import pytest

from pourcast.gating.shape import tips_of
from pourcast.materials import library
from pourcast.mould.vents import ways_out
from pourcast.piece.model import Vent
from pourcast.piece.network import build
from pourcast.sheet.model import Plan
from tests.forecast.hand import example
from tests.whole.paired import Poured, by_gravity, floret, lost, plan_of, pour, rod, won

DRAWS = 100
STRAY = 2
"""Draws that may turn the other way: one part that fills takes metal from another (estimate)."""

BRONZE = "si_bronze_c87300"

STEM = rod("stem", "button", 25.0, 3.0)


@pytest.fixture(scope="module")
def holly() -> Poured:
    return pour(example("sea_holly"), DRAWS)


@pytest.fixture(scope="module")
def larch() -> Poured:
    return pour(example("larch_twig"), DRAWS)


def hotter(plan: Plan, kelvin: float) -> Plan:
    assert plan.flask.temperature is not None
    return replace(plan, flask=replace(plan.flask, temperature=plan.flask.temperature + kelvin))


def vented(plan: Plan, part: str, leads_to: str) -> Plan:
    """Return a plan with threads of 1 mm from each tip, as long as the farthest needs."""
    tips = tips_of(build(plan.piece), part)
    ways = ways_out(tips, plan.flask, plan.piece.button.height, to_pump=leads_to == "vacuum")
    length = float(ways.max())
    vent = Vent(part=part, diameter=1e-3, length=length, leads_to=leads_to)  # type: ignore[arg-type]
    return replace(plan, piece=replace(plan.piece, vents=(vent,)))


def test_thin_florets_fill_under_vacuum() -> None:
    """Florets of 0.35 mm on a stem fill under 70 kPa: casters tell so.

    Met.  Half of the draws or more is meant by "fill".  Found: 163 of 200, by gravity 0.
    """
    assert pour(plan_of(STEM, floret(0.35)), DRAWS).chance("floret") >= 0.5


@pytest.mark.parametrize("diameter_mm", [3.0, 5.0])
def test_a_plain_stem_fills_under_vacuum(diameter_mm: float) -> None:
    """A wax rod of 3 or 5 mm, 25 mm long, fills under 70 kPa in nearly each pour.

    Met.  While the gas was kept in the pores of a cylinder that just holds the piece,
    half of the volume of the rod itself, it was 0.22 and 0.79.
    """
    made = pour(plan_of(rod("stem", "button", 25.0, diameter_mm)), DRAWS)

    assert made.chance("stem") >= 0.9


@pytest.mark.parametrize("thickness_mm", [0.3, 0.4])
def test_thin_florets_do_not_fill_by_gravity(thickness_mm: float) -> None:
    """Met.  "Do not fill": in at most one pour of ten.  Found: 0 of 100."""
    made = pour(by_gravity(plan_of(STEM, floret(thickness_mm))), DRAWS)

    assert made.chance("floret") <= 0.1


def test_a_vacuum_fills_what_gravity_does_not(holly: Poured) -> None:
    """Met.  Found: spines of the sea holly fill in about 95 pours of 100 against none."""
    gravity = pour(by_gravity(example("sea_holly")), DRAWS)

    assert lost(gravity, holly, "spine") == 0
    assert won(gravity, holly, "spine") >= 50


def test_a_hotter_flask_helps_under_vacuum(holly: Poured) -> None:
    """Met, but weakly.  Found at 80 K more: none of 100 draws lost, and a greater mean share.

    Nearly each pour fills already; the share tells the direction.
    """
    hot = pour(hotter(example("sea_holly"), 80.0), DRAWS)

    assert lost(holly, hot, "spine") <= STRAY
    assert hot.share.mean() > holly.share.mean()


def test_a_colder_flask_harms_under_vacuum(holly: Poured) -> None:
    """Met.  Found at 150 K less: 7 of 200 draws lost and none won."""
    cold = pour(hotter(example("sea_holly"), -150.0), DRAWS)

    assert won(holly, cold, "spine") <= STRAY
    assert lost(holly, cold, "spine") >= 1
    assert cold.share.mean() < holly.share.mean()


def test_a_hotter_flask_does_not_harm_under_gravity(larch: Poured) -> None:
    """Met, weakly.  Found at 80 K more: 3 of 200 draws won and none lost: gas stops the scales."""
    hot = pour(hotter(example("larch_twig"), 80.0), DRAWS)

    assert lost(larch, hot, "open scale") <= STRAY
    assert hot.share.mean() > larch.share.mean()


@pytest.mark.xfail(strict=True, reason="values of the records make brass run finer than bronze")
@pytest.mark.parametrize("same_superheat", [False, True])
def test_silicon_bronze_runs_finer_than_yellow_brass(same_superheat: bool) -> None:
    """Not met.

    At the same pour temperature brass has 30 K more over its liquidus.  Found: it wins 9
    draws of 200 and loses none; at the same heat over the liquidus it wins 8 and loses
    none.  Why the trade finds otherwise is not known here.
    """
    bronze = example("sea_holly")
    alloys = library().alloys
    colder = alloys["yellow_brass_c85700"]["liquidus"].si - alloys[BRONZE]["liquidus"].si
    heat = bronze.charge.pour_temperature + (colder if same_superheat else 0.0)
    charge = replace(bronze.charge, alloy="yellow_brass_c85700", pour_temperature=heat)

    brass = pour(replace(bronze, charge=charge), DRAWS)

    assert pour(bronze, DRAWS).chance("spine") > brass.chance("spine")


def test_vents_to_the_pump_help_tips_that_gas_stops(holly: Poured) -> None:
    """Met.  Found: each spine fills in each pour; 5 of 200 draws won."""
    better = pour(vented(example("sea_holly"), "spine", "vacuum"), DRAWS)

    assert lost(holly, better, "spine") == 0
    assert won(holly, better, "spine") >= 1
    assert better.chance("spine") == 1.0


def test_vents_to_the_air_help_under_gravity(larch: Poured) -> None:
    """Met.  Found: open scales of the larch win 99 draws of 200 and lose none."""
    better = pour(vented(example("larch_twig"), "open scale", "air"), DRAWS)

    assert lost(larch, better, "open scale") <= STRAY
    assert won(larch, better, "open scale") >= 20


def test_vents_to_the_air_spoil_a_vacuum(holly: Poured) -> None:
    """Met: what is open to the air is not drawn empty.  Found: 132 of 200 draws lost."""
    worse = pour(vented(example("sea_holly"), "spine", "air"), DRAWS)

    assert lost(holly, worse, "spine") >= 30


def test_a_taller_button_helps_under_gravity(larch: Poured) -> None:
    """Met.  Found, 45 mm for 28 mm: 20 draws of 200 won, 3 lost.

    Tolerance five in a hundred: more metal in a taller cup comes later to its full head.
    """
    plan = example("larch_twig")
    button = replace(plan.piece.button, height=0.045)
    tall = replace(
        plan,
        piece=replace(plan.piece, button=button),
        flask=replace(plan.flask, height=0.18),
        charge=replace(plan.charge, on_hand=None),
    )

    made = pour(tall, DRAWS)

    assert lost(larch, made, "open scale") <= 5
    assert won(larch, made, "open scale") >= 5


def test_altitude_lowers_what_a_vacuum_can_do() -> None:
    """Met: at 3 000 m the air weighs 70 kPa, so no pump can draw 95.  Found: 28 of 200 lost."""
    plan = example("sea_holly")
    deep = replace(plan, assist=replace(plan.assist, vacuum=95e3))
    high = replace(deep, studio=replace(deep.studio, altitude=3000.0))

    low, up = pour(deep, DRAWS), pour(high, DRAWS)

    assert won(low, up, "spine") <= STRAY
    assert lost(low, up, "spine") >= 5


def test_a_weaker_vacuum_fills_less(holly: Poured) -> None:
    """Met.  Found, 30 kPa for 70: 50 of 200 draws lost and none won."""
    plan = example("sea_holly")
    weak = pour(replace(plan, assist=replace(plan.assist, vacuum=30e3)), DRAWS)

    assert won(holly, weak, "spine") <= STRAY
    assert lost(holly, weak, "spine") >= 10


def test_a_part_that_rises_above_the_gate_fills_less_by_gravity() -> None:
    """Met: one rod of 2 mm on an arm, up to 13 mm over the gate or down to 49 mm under it.

    Found: up 0 and down 59 of 100 pours.
    """
    arm = rod("arm", "stem", 12.0, 2.0, position=(0.8, 0.8), angle=math.pi / 2)
    plans = [
        plan_of(STEM, arm, rod("end", "arm", 30.0, 2.0, angle=math.pi / 2, turn=turn),
                like="larch_twig")
        for turn in (0.0, math.pi)
    ]  # fmt: skip

    up, down = (pour(plan, DRAWS) for plan in plans)

    assert build(plans[0].piece).end_position[-1, 2] > 0.01
    assert build(plans[1].piece).end_position[-1, 2] < -0.04
    assert won(down, up, "end") <= STRAY
    assert lost(down, up, "end") >= 20


def test_metal_poured_hotter_fills_more(holly: Poured) -> None:
    """Met.  Found at 30 K more: 5 of 200 draws won and none lost."""
    plan = example("sea_holly")
    hot = replace(
        plan, charge=replace(plan.charge, pour_temperature=plan.charge.pour_temperature + 30.0)
    )
    made = pour(hot, DRAWS)

    assert lost(holly, made, "spine") <= STRAY
    assert made.share.mean() > holly.share.mean()
