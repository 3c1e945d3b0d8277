"""Prepare: what is made ready before a pour, and what is refused."""

import math
from dataclasses import replace

import numpy as np
import pytest

from pourcast.errors import InputError, SourceError
from pourcast.forecast.prepare import MOST_DRAWS, prepare
from pourcast.forecast.solve import forecast
from pourcast.sheet.model import Assist, Plan, Studio
from tests.forecast.hand import alike, example


def test_parts_of_what_is_ready_belong_together() -> None:
    ready = prepare(example("dragonfly"), None, 30, 3)

    assert ready.scale.shape == (30, ready.network.member_part.size)
    assert {drawn.shape for drawn in ready.drawn.values()} == {(30,)}
    assert set(ready.drawn) == set(ready.values)
    assert ready.seed == 3


def test_spread_of_the_metal_holds_its_middle() -> None:
    metal = prepare(example("dragonfly"), None, 200, 0).metal

    assert metal.metal_low < metal.metal < metal.metal_high


@pytest.mark.parametrize("draws", [0, -1, MOST_DRAWS + 1])
def test_a_number_of_pours_outside_its_limits_is_refused(draws: int) -> None:
    with pytest.raises(InputError, match=r"draws is .*; it must be 1 to 100000"):
        prepare(example("dragonfly"), None, draws, 0)


def test_a_seed_below_0_is_refused() -> None:
    with pytest.raises(InputError, match=r"seed is -1; it must be 0 or more"):
        prepare(example("dragonfly"), None, 4, -1)


def test_a_generator_gives_its_seed_once() -> None:
    one, two = (prepare(example("dragonfly"), None, 4, np.random.default_rng(8)) for _ in range(2))
    chance = np.random.default_rng(8)
    third, fourth = (prepare(example("dragonfly"), None, 4, chance) for _ in range(2))

    assert one.seed == two.seed == third.seed != fourth.seed
    assert alike(one.drawn, prepare(example("dragonfly"), None, 4, one.seed).drawn)


def test_a_seed_may_be_any_whole_number() -> None:
    numpy_seed: int = np.int64(7)  # type: ignore[assignment]

    assert prepare(example("dragonfly"), None, 4, numpy_seed).seed == 7


def test_an_alloy_that_is_not_known_is_a_source_that_is_not_there() -> None:
    plan = example("dragonfly")

    with pytest.raises(SourceError):
        prepare(replace(plan, charge=replace(plan.charge, alloy="moonsilver")), None, 4, 0)


NAN, ENDLESS = math.nan, math.inf
VACUUM = example("dragonfly").assist
REFUSED: list[tuple[str, Assist | Studio]] = [
    *(("vacuum", replace(VACUUM, vacuum=value)) for value in (NAN, ENDLESS, -1.0)),
    *(("pump_time", replace(VACUUM, pump_time=value)) for value in (NAN, ENDLESS, -1.0, 0.0)),
    *(("lead_time", replace(VACUUM, lead_time=value)) for value in (NAN, ENDLESS, -1.0)),
    *(("seal", replace(VACUUM, seal=value)) for value in (NAN, ENDLESS, -0.1, 1.1)),
    *(("air_pressure", Studio(air_pressure=value)) for value in (NAN, ENDLESS, -1.0, 0.0)),
    *(("altitude", Studio(altitude=value)) for value in (NAN, ENDLESS, -501.0, 6001.0)),
    *(("metal_thermometer_error", Studio(metal_thermometer_error=v)) for v in (NAN, -1.0)),
    *(("flask_thermometer_error", Studio(flask_thermometer_error=v)) for v in (NAN, -1.0)),
    *(("gauge_error", Studio(gauge_error=value)) for value in (NAN, ENDLESS, -1.0)),
]


@pytest.mark.parametrize(("name", "given"), REFUSED)
def test_a_plan_made_by_hand_is_held_to_the_limits_of_its_records(
    name: str, given: Assist | Studio
) -> None:
    """The reader of the piece file refuses these with their line; Python callers are told too."""
    plan = example("dragonfly")
    wrong: Plan = (
        replace(plan, assist=given) if isinstance(given, Assist) else replace(plan, studio=given)
    )

    with pytest.raises(InputError, match=rf"^{name} is "):
        forecast(wrong, draws=2)


@pytest.mark.parametrize("kelvin", [NAN, ENDLESS, -1.0, 0.0])
def test_a_pour_temperature_is_above_absolute_zero(kelvin: float) -> None:
    plan = example("dragonfly")
    wrong = replace(plan, charge=replace(plan.charge, pour_temperature=kelvin))

    with pytest.raises(InputError, match=r"^pour_temperature is "):
        prepare(wrong, None, 2, 0)
