"""Kiln curves: corners by hand, round trips, logs made short, and what is refused."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast import units as si
from pourcast.burnout.curves import (
    LONGEST,
    curve_of,
    curve_of_log,
    simplified,
    steps_of,
    temperature_at,
)
from pourcast.burnout.model import Curve, KilnStep
from pourcast.errors import InputError
from tests.outside.record import record
from tests.strategies_kiln import FASTEST, ROOM, curves, written_steps

HOUR = 3600.0


def step(celsius: float, per_hour: float | None, hours: float) -> KilnStep:
    ramp = None if per_hour is None else per_hour / HOUR
    return KilnStep(temperature=celsius + 273.15, ramp=ramp, hold=hours * HOUR)


def curve(*steps: KilnStep, start: float = ROOM) -> Curve:
    return curve_of(steps, start=start, fastest=FASTEST, name="as written")


def test_corners_lie_where_a_pencil_puts_them() -> None:
    """Exact: 20 to 150 °C at 65 °C/h is 2 h; hold 3 h; to 600 °C at 90 °C/h is 5 h."""
    made = curve(step(150, 65, 3), step(600, 90, 1.5))

    assert made.time / HOUR == pytest.approx([0, 2, 5, 10, 11.5], abs=1e-12)
    assert made.temperature - 273.15 == pytest.approx([20, 150, 150, 600, 600], abs=1e-9)


def test_six_hour_ramp_to_the_usual_top_is_118_degrees_an_hour() -> None:
    """Common practice, no source: a straight burnout is six hours to 730 °C.

    Arithmetic: 710 K in 6 h.  Tolerance 0.1 K/h, rounding.
    """
    made = curve(step(730, 118.33, 3))
    hours = made.time[1] / HOUR
    record(
        "burnout",
        "hours of a ramp to 730 °C at 118.33 °C/h",
        "arithmetic",
        hours,
        6,
        "h",
        0.01,
        kind="closed form",
    )

    assert hours == pytest.approx(6.0, abs=0.01)


def test_step_below_the_one_before_it_cools() -> None:
    made = curve(step(730, 120, 1), step(600, 65, 1))

    assert made.time[3] - made.time[2] == pytest.approx(2.0 * HOUR)
    assert np.diff(made.temperature)[2] < 0.0


def test_step_without_a_ramp_goes_as_fast_as_the_kiln_can() -> None:
    steps = (step(420, None, 0), step(220, None, 0))

    made = curve_of(
        steps, start=ROOM, fastest=400 / HOUR, fastest_cooling=100 / HOUR, name="as written"
    )

    assert np.diff(made.time) / HOUR == pytest.approx([1.0, 2.0])


def test_step_to_the_temperature_that_it_has_is_a_hold() -> None:
    made = curve(step(150, 65, 1), step(150, 10, 2))

    assert made.time[-1] == pytest.approx(5.0 * HOUR)
    assert steps_of(made)[-1].hold == pytest.approx(3.0 * HOUR)


@given(steps=written_steps())
def test_steps_come_back_from_their_curve(steps: tuple[KilnStep, ...]) -> None:
    """Property: steps, curve, steps; no step of these goes where the one before it was."""
    back = steps_of(curve(*steps))

    assert len(back) == len(steps)
    for found, written in zip(back, steps, strict=True):
        assert found.temperature == written.temperature
        assert found.ramp == pytest.approx(written.ramp, rel=1e-9)
        assert found.hold == pytest.approx(written.hold, abs=1e-6)


@given(steps=written_steps())
def test_length_is_the_sum_of_ramps_and_holds(steps: tuple[KilnStep, ...]) -> None:
    """Conservation: no minute of a step is lost or counted twice."""
    froms = [ROOM, *(step.temperature for step in steps[:-1])]
    spans = [
        abs(step.temperature - before) / (step.ramp or math.nan) + step.hold
        for step, before in zip(steps, froms, strict=True)
    ]

    assert curve(*steps).time[-1] == pytest.approx(math.fsum(spans), rel=1e-12)


@given(made=curves())
def test_curve_comes_back_from_its_steps(made: Curve) -> None:
    back = curve_of(
        steps_of(made), start=float(made.temperature[0]), fastest=FASTEST, name=made.name
    )

    assert back.time == pytest.approx(made.time, rel=1e-9)
    assert back.temperature == pytest.approx(made.temperature, rel=1e-12)


@given(made=curves(), within=st.integers(0, 30).map(float))
def test_curve_made_short_stays_near_its_points(made: Curve, within: float) -> None:
    """Property of Douglas and Peucker (1973): no point lies further off than was asked."""
    time = np.linspace(0.0, made.time[-1], 200)
    wavy = temperature_at(made, time) + 5.0 * np.sin(time / 900.0)
    log = curve_of_log(time, wavy)

    short = simplified(log, within)

    off = np.abs(temperature_at(short, log.time) - log.temperature)
    assert off.max() <= within + 1e-5
    assert short.time[[0, -1]] == pytest.approx(log.time[[0, -1]])
    assert np.isin(short.time, log.time).all()


def test_straight_log_becomes_its_two_ends() -> None:
    time = np.linspace(0.0, 6 * HOUR, 361)

    short = simplified(curve_of_log(time, ROOM + time / 60.0), 0.5)

    assert short.time.size == 2


def test_log_counts_from_its_first_reading() -> None:
    log = curve_of_log(np.array([600.0, 1200.0]), np.array([300.0, 310.0]))

    assert log.time.tolist() == [0.0, 600.0]
    assert log.name == "logged"


def test_air_stays_before_the_start_and_after_the_end() -> None:
    made = curve(step(150, 65, 1))

    found = temperature_at(made, np.array([-1.0, 1e9]))

    assert found.tolist() == [ROOM, 423.15]


@pytest.mark.parametrize(
    ("steps", "what"),
    [
        ((), "kiln steps"),
        ((step(10, 60, 1),), "kiln step 1"),
        ((step(5000, 60, 1),), "kiln step 1"),
        ((step(150, 60, 1), step(math.nan, 60, 1)), "kiln step 2"),
        ((step(150, math.nan, 1),), "ramp of kiln step 1"),
        ((step(150, 0, 1),), "ramp of kiln step 1"),
        ((step(150, -60, 1),), "ramp of kiln step 1"),
        ((step(150, 60, -1),), "hold of kiln step 1"),
        ((step(150, 60, math.inf),), "hold of kiln step 1"),
        ((step(20, 60, 0),), "length of the kiln curve"),
        ((step(150, 60, 2000),), "length of the kiln curve"),
        ((step(150, 1e-4, 0),), "length of the kiln curve"),
    ],
)
def test_steps_that_are_no_day_are_refused(steps: tuple[KilnStep, ...], what: str) -> None:
    with pytest.raises(InputError) as caught:
        curve(*steps)

    assert caught.value.what == what


def test_step_under_the_room_says_the_room_in_celsius() -> None:
    with pytest.raises(InputError, match="must be 20 °C or more"):
        curve(step(10, 60, 1))


def test_kiln_that_starts_warm_may_cool_to_the_room() -> None:
    made = curve_of((step(30, 60, 1),), start=400.0, fastest=FASTEST, name="as written", room=ROOM)

    assert made.temperature[-1] == pytest.approx(303.15)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_kiln_that_cannot_heat_is_refused(bad: float) -> None:
    with pytest.raises(InputError, match="fastest ramp"):
        curve_of((step(150, None, 1),), start=ROOM, fastest=bad, name="as written")


@pytest.mark.parametrize(
    ("time", "temperature", "what"),
    [
        ([0.0, 60.0, 60.0], [300.0, 301.0, 302.0], "time of the kiln curve"),
        ([0.0, 60.0, 30.0], [300.0, 301.0, 302.0], "time of the kiln curve"),
        ([0.0, math.nan], [300.0, 301.0], "time of a reading"),
        ([0.0, 60.0], [300.0, math.nan], "temperature of the kiln curve"),
        ([0.0, 60.0], [300.0, 5273.15], "temperature of the kiln curve"),
        ([0.0, 60.0], [300.0, 100.0], "temperature of the kiln curve"),
        ([0.0], [300.0], "kiln log"),
        ([], [], "kiln log"),
        ([0.0, 60.0], [300.0], "kiln log"),
        ([0.0, 2 * LONGEST], [300.0, 301.0], "length of the kiln curve"),
    ],
)
def test_log_that_is_no_curve_is_refused(
    time: list[float], temperature: list[float], what: str
) -> None:
    with pytest.raises(InputError) as caught:
        curve_of_log(np.array(time), np.array(temperature))

    assert caught.value.what == what


def test_simplifying_refuses_a_distance_below_0() -> None:
    with pytest.raises(InputError, match="within"):
        simplified(curve(step(150, 65, 1)), -1.0)


def test_written_ramp_is_kept_also_where_it_is_steeper_than_the_kiln() -> None:
    steep = replace(step(420, None, 0), ramp=si.to_si(800.0, "K/h"))

    assert curve(steep).time[-1] == pytest.approx(0.5 * HOUR)
