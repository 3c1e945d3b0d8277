"""Attack: whatever plan comes, a forecast or an error with a name comes out.

Source: none is needed; the claim is about errors, warnings and numbers that are not finite.
"""

import math
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, seed, settings

from pourcast.errors import InputError, PourcastError
from pourcast.forecast.model import Forecast
from pourcast.piece.model import Part, Piece, Vent
from pourcast.sheet.model import Plan
from pourcast.units import ZERO_CELSIUS
from tests.forecast.hand import example
from tests.strategies import plans
from tests.whole.attack import ALLOYS, forecast_or_refusal, hard_plans, sums_hold
from tests.whole.paired import plan_of, rod

FEW = settings(
    max_examples=50,
    database=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
MANY = settings(FEW, max_examples=2500, derandomize=False)
SEEDS = (1, 2)


def attack(plan: Plan) -> None:
    made = forecast_or_refusal(plan)
    assert isinstance(made, PourcastError) or sums_hold(made)


@FEW
@given(plans())
def test_a_usual_plan_gives_a_forecast(plan: Plan) -> None:
    made = forecast_or_refusal(plan)

    assert isinstance(made, Forecast)
    assert sums_hold(made)


@FEW
@given(hard_plans())
def test_a_hard_plan_gives_a_forecast_or_a_named_error(plan: Plan) -> None:
    attack(plan)


@pytest.mark.long
@pytest.mark.parametrize("number", SEEDS)
def test_thousands_of_plans_give_a_forecast_or_a_named_error(number: int) -> None:
    @seed(number)
    @MANY
    @given(hard_plans())
    def hard(plan: Plan) -> None:
        attack(plan)

    hard()


@pytest.mark.long
def test_thousands_of_usual_plans_give_a_forecast() -> None:
    @seed(3)
    @MANY
    @given(plans())
    def usual(plan: Plan) -> None:
        attack(plan)

    usual()


def _piece(*parts: Part, **changes: object) -> Plan:
    plan = plan_of(*parts)
    return replace(plan, piece=replace(plan.piece, **changes))  # type: ignore[arg-type]


STEM = rod("stem", "button", 25.0, 3.0)


def _hairs(diameter_mm: float, count: int) -> Part:
    return rod("hair", "stem", 3.0, diameter_mm, count=count, position=(0.1, 0.9), angle=1.0)


def _vented(plan: Plan) -> Plan:
    vents = tuple(
        Vent(part=part.name, diameter=1e-3, length=0.02, leads_to="air")
        for part in plan.piece.parts
    )
    return replace(plan, piece=replace(plan.piece, vents=vents))


def _at(plan: Plan, **changes: object) -> Plan:
    return replace(plan, **changes)  # type: ignore[arg-type]


def _extremes() -> dict[str, Plan]:
    holly, larch = example("sea_holly"), example("larch_twig")
    cold = replace(holly.charge, pour_temperature=700.0 + ZERO_CELSIUS)
    little = replace(holly.charge, poured=1e-6)
    room = replace(holly.flask, temperature=20.0 + ZERO_CELSIUS)
    narrow = replace(holly.flask, inside_diameter=0.030)
    high = replace(holly.studio, altitude=5000.0)
    deep = replace(holly.assist, vacuum=100e3, seal=1.0)
    tall: Piece = replace(holly.piece, button=replace(holly.piece.button, height=0.15))
    spiral = replace(STEM, bend=6 * math.pi, length=0.1)
    sheet = rod(
        "leaf", "stem", 30.0, 1.0, shape="blade", width=(0.1, 0.1), thickness=(4e-4, 4e-4),
        angle=1.0,
    )  # fmt: skip
    arm = rod("arm", "stem", 10.0, 1.0, position=(0.3, 0.3), angle=1.0)
    ring = replace(arm, tip_on="stem", tip_position=0.8)
    handle = rod(
        "handle", "stem", 12.0, 1.0, position=(0.6, 0.6), angle=2.0, count=3, turn_step=2.0,
        tip_on="arm", tip_position=1.0,
    )  # fmt: skip
    return {
        "parts of 0.05 mm": _piece(STEM, _hairs(0.05, 8)),
        "piece wider than its flask": _at(holly, flask=narrow),
        "flask at 20 °C": _at(holly, flask=room),
        "metal under its liquidus": _at(holly, charge=cold),
        "metal under its liquidus, gravity": _at(larch, charge=cold),
        "hardly any metal": _at(holly, charge=little),
        "altitude of 5000 m": _at(holly, studio=high),
        "vacuum of 100 kPa": _at(holly, assist=deep),
        "vacuum of 100 kPa at 5000 m": _at(holly, assist=deep, studio=high),
        "button taller than the flask": _at(holly, piece=tall),
        "one stem": _piece(STEM),
        "a stem of 1 µm": _piece(replace(STEM, length=1e-6)),
        "bend of three turns": _piece(spiral, _hairs(0.8, 12)),
        "ring": _piece(STEM, ring),
        "rings on rings": _piece(STEM, ring, handle),
        "ring to the gate": _piece(STEM, replace(ring, tip_position=0.0)),
        "vents on all tips": _vented(_piece(STEM, _hairs(0.8, 12))),
        "vents on rings": _vented(_piece(STEM, ring, handle)),
        "blade 100 mm wide": _piece(STEM, sheet),
        "blade 100 mm wide in a wide flask": _at(
            _piece(STEM, sheet), flask=replace(holly.flask, inside_diameter=0.2)
        ),
    }


@pytest.mark.parametrize(("name", "plan"), _extremes().items(), ids=list(_extremes()))
def test_an_extreme_gives_a_forecast_or_a_named_error(name: str, plan: Plan) -> None:
    attack(plan)


@pytest.mark.parametrize("alloy", ALLOYS)
def test_any_alloy_gives_a_forecast(alloy: str) -> None:
    plan = example("sea_holly")

    made = forecast_or_refusal(replace(plan, charge=replace(plan.charge, alloy=alloy)))

    assert isinstance(made, Forecast)


def test_a_piece_wider_than_its_flask_is_told_and_not_refused() -> None:
    """Our own rule: a bad casting is a finding and no error."""
    made = forecast_or_refusal(_extremes()["piece wider than its flask"])

    assert isinstance(made, Forecast)
    assert made.mould.wall_gap < 0.0
    assert any(finding.level == "STOP" for finding in made.findings if finding.stage == "mould")


def test_metal_that_is_not_there_fills_nothing() -> None:
    made = forecast_or_refusal(_extremes()["hardly any metal"])

    assert isinstance(made, Forecast)
    assert made.outcomes.lost == 1.0
    assert made.parts[0].cause == "no_metal"


def test_metal_under_its_liquidus_is_said_to_be_so() -> None:
    """Published: C87300 is solid under 821 °C (data sheet C87300, 1510 F); it is poured at 700."""
    made = forecast_or_refusal(_extremes()["metal under its liquidus"])

    assert isinstance(made, Forecast)
    assert any(finding.level == "STOP" for finding in made.findings if finding.stage != "forecast")
    assert made.chance_all == 0.0


def test_two_thousand_members_give_a_forecast_and_one_more_is_refused() -> None:
    """Our own limit, told with its cure."""
    most = forecast_or_refusal(_piece(STEM, _hairs(0.8, 1999)), draws=1)
    refused = forecast_or_refusal(_piece(STEM, _hairs(0.8, 2000)), draws=1)

    assert isinstance(most, Forecast)
    assert sums_hold(most)
    assert isinstance(refused, InputError)
    assert "2000 members" in str(refused)
