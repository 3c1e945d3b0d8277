"""Unknowns: what is drawn for a plan, and what a studio has learnt in its place."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast.errors import InputError
from pourcast.forecast.model import Calibration, Override
from pourcast.forecast.prepare import prepare
from pourcast.forecast.solve import forecast
from pourcast.forecast.unknowns import FARTHEST, normal, unknowns
from pourcast.materials import Value, library
from pourcast.pour.checks import UNPROVED_UNDER
from pourcast.sheet.model import Plan
from tests.forecast.hand import alike, example

HEAT_TRANSFER = "pour.interface_heat_transfer"


def drawn_for(plan: Plan, thinnest: float = 1e-3) -> dict[str, Value]:
    book = library()
    return unknowns(plan, book.alloy(plan.charge.alloy), book, thinnest, None)


def learnt(key: str, value: float, low: float, high: float) -> Calibration:
    override = Override(key=key, value=value, low=low, high=high, source="strips of this studio")
    return Calibration(name="Studio by the mill", overrides=(override,))


def test_each_unknown_has_a_range_and_a_source() -> None:
    values = drawn_for(example("sea_holly"), 3e-4)

    assert len(values) > 25
    assert [
        name for name, value in values.items() if not value.low <= value.value <= value.high
    ] == []
    assert [name for name, value in values.items() if not value.source] == []


def test_the_error_of_the_gauge_is_drawn_under_vacuum_only() -> None:
    assert "gauge_error" in drawn_for(example("sea_holly"))
    assert "gauge_error" not in drawn_for(example("larch_twig"))


@pytest.mark.parametrize(
    ("thinnest", "named"), [(UNPROVED_UNDER, False), (0.999 * UNPROVED_UNDER, True)]
)
def test_the_factor_of_thin_sections_is_drawn_under_half_a_millimetre_under_vacuum(
    thinnest: float, named: bool
) -> None:
    assert ("thin_section_factor" in drawn_for(example("sea_holly"), thinnest)) == named
    assert "thin_section_factor" not in drawn_for(example("larch_twig"), thinnest)


def test_an_override_takes_the_place_of_the_book_and_is_named() -> None:
    plan = example("sea_holly")
    calibration = learnt(HEAT_TRANSFER, 900.0, 890.0, 910.0)

    told = forecast(plan, calibration, draws=60)
    ready = prepare(plan, calibration, 60, 0)
    plain = prepare(plan, None, 60, 0)

    drawn = ready.drawn["interface_heat_transfer"]
    assert 890.0 <= drawn.min() < drawn.max() <= 910.0
    assert told.calibration == "Studio by the mill"
    assert any("Studio by the mill" in finding.text for finding in told.findings)
    named = next(unknown for unknown in told.unknowns if unknown.key == HEAT_TRANSFER)
    assert (named.value, named.low, named.high) == (900.0, 890.0, 910.0)
    assert (named.kind, named.source) == ("computed", "strips of this studio")
    others = {
        name: drawn for name, drawn in plain.drawn.items() if name != "interface_heat_transfer"
    }
    assert alike(others, {name: ready.drawn[name] for name in others})


def test_without_a_calibration_none_is_named() -> None:
    told = forecast(example("sea_holly"), draws=4)

    assert told.calibration is None
    assert not [finding for finding in told.findings if "has learnt" in finding.text]


@pytest.mark.parametrize(
    "key", ["pour.heat_transfer", "interface_heat_transfer", "pour.full_share"]
)
def test_a_key_that_is_not_drawn_is_refused_and_the_known_ones_are_named(key: str) -> None:
    with pytest.raises(InputError) as caught:
        forecast(example("sea_holly"), learnt(key, 1.0, 1.0, 1.0), draws=4)

    assert key in str(caught.value)
    assert HEAT_TRANSFER in caught.value.hint
    assert "pour.film_factor" in caught.value.hint


def test_a_key_that_this_plan_does_not_draw_is_refused() -> None:
    """The gauge has no part in a gravity pour, so a studio's gauge cannot change it."""
    calibration = learnt("pour.gauge_error", 1.0, 1.0, 2.0)

    with pytest.raises(InputError, match=r"pour\.gauge_error"):
        forecast(example("larch_twig"), calibration, draws=4)


@pytest.mark.parametrize(
    ("value", "low", "high"),
    [
        (900.0, 950.0, 1000.0),
        (900.0, 800.0, 850.0),
        (900.0, 1.0, float("nan")),
        (900.0, -1.0, 950.0),
    ],
)
def test_a_range_that_does_not_hold_its_value_is_refused(
    value: float, low: float, high: float
) -> None:
    with pytest.raises(InputError, match=HEAT_TRANSFER):
        forecast(example("sea_holly"), learnt(HEAT_TRANSFER, value, low, high), draws=4)


def test_what_is_known_more_closely_narrows_the_chance() -> None:
    """The interval spans the chance in each fifth of the strongest value.

    A studio that knows this value leaves the rest, which moves the chance less.
    The strongest of the larch is taken, whose chance lies near the middle.  Found 0.75 of the
    span with 400 draws and 0.80 with 800, and 0.56 to 0.76 with 200: a fifth is then 40 pours.
    """
    plan = example("larch_twig")
    plain = forecast(plan, draws=400)
    strongest = plain.unknowns[0]

    known = learnt(strongest.key, strongest.value, 0.99 * strongest.value, 1.01 * strongest.value)
    told = forecast(plan, known, draws=400)

    assert abs(strongest.rank_correlation) > 0.3
    assert told.chance_high - told.chance_low < 0.85 * (plain.chance_high - plain.chance_low)
    assert told.unknowns[0].key != strongest.key


def test_a_stream_of_normal_numbers_is_its_own() -> None:
    """By hand: mean 0 and standard deviation 1 of 10 000 numbers are known to 1 %."""
    one = normal("weather", (10_000,), 5)

    assert abs(one.mean()) < 0.04
    assert one.std() == pytest.approx(0.9887, rel=0.03)
    assert np.abs(one).max() == FARTHEST
    assert alike(one[:10].copy(), normal("weather", (10,), 5))
    assert abs(np.corrcoef(one, normal("gauge", (10_000,), 5))[0, 1]) < 0.04
    assert abs(np.corrcoef(one, normal("weather", (10_000,), 6))[0, 1]) < 0.04


def test_a_plan_without_flask_heat_draws_it_in_place_of_the_thermometer() -> None:
    plan = example("sea_holly")
    silent = replace(plan, flask=replace(plan.flask, temperature=None))
    without = replace(silent, kiln=replace(plan.kiln, volume=None))

    values = drawn_for(without)

    assert "flask_temperature" in values
    assert "flask_thermometer_error" not in values


def test_a_plan_without_flask_heat_takes_it_from_the_burnout_where_there_is_one() -> None:
    plan = example("sea_holly")
    silent = replace(plan, flask=replace(plan.flask, temperature=None))

    values = drawn_for(silent)

    assert "flask_temperature" not in values
    assert "flask_thermometer_error" not in values
    assert "kiln.controller_error" in values
