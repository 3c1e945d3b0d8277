"""The kiln as one body, held against closed forms and a general solver."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from pourcast import units as si
from pourcast.burnout.kiln import Body, air_of, capacity_of, heating_at, moved
from pourcast.burnout.kiln_march import GLOW_AT
from pourcast.errors import InputError
from tests.burnout.highest_air import highest_air
from tests.outside.record import record
from tests.strategies_kiln import ROOM, bodies

HOUR = 3600.0
PLAIN = Body(
    loss=1.0 / (5.0 * HOUR),
    glow=0.0,
    settings=np.array([0.0, 1.0, 2.0]),
    heating=np.array([0.0, 60.0, 180.0]) / HOUR,
    room=ROOM,
)


def test_after_one_time_constant_63_percent_of_the_way_is_done() -> None:
    """Published: 1 - 1/e, Incropera and DeWitt, ch. 5, lumped capacity.

    Setting 1 heats 60 K/h against 1/5 of the difference each hour: it ends 300 K
    over the room.  Tolerance: rounding.
    """
    air = air_of(PLAIN, np.array([0.0, 5.0 * HOUR]), np.array([1.0, 1.0]), ROOM)
    done = (air[1] - ROOM) / 300.0
    want = 1.0 - math.exp(-1.0)
    record(
        "burnout",
        "share of the way after one time constant",
        "Incropera, ch. 5",
        done,
        want,
        "",
        1e-12,
        kind="closed form",
    )

    assert done == pytest.approx(want, rel=1e-12)


def test_hot_kiln_that_glows_cools_as_the_closed_form_says() -> None:
    """Published: time to cool by radiation alone, Incropera and DeWitt, eq. 5.18.

    t = C/(4 ε σ A Ta³) { ln|(Ta+T)/(Ta-T)| - ln|(Ta+T0)/(Ta-T0)|
        + 2 [atan(T/Ta) - atan(T0/Ta)] }.
    Tolerance 1e-6 of the time: steps of 300 s of the fourth order.
    """
    glow, hot, cool = 1.0 / (3.0 * HOUR), 1200.0, 500.0
    body = replace(PLAIN, loss=0.0, glow=glow)
    shed = glow / (4.0 * GLOW_AT**3)

    def part(air: float) -> float:
        return math.log((air + ROOM) / (air - ROOM)) + 2.0 * math.atan(air / ROOM)

    want = (part(cool) - part(hot)) / (4.0 * shed * ROOM**3)
    time = np.linspace(0.0, 1.2 * want, 4000)
    air = air_of(body, time, np.zeros(time.size), hot)
    found = float(np.interp(-cool, -air, time))
    record(
        "burnout",
        "hours to cool from 1200 to 500 K by radiation",
        "Incropera and DeWitt, eq. 5.18",
        found / HOUR,
        want / HOUR,
        "h",
        1e-6 * want / HOUR,
        kind="closed form",
    )

    assert found == pytest.approx(want, rel=1e-6)


@given(body=bodies(), places=st.lists(st.integers(0, 3), min_size=2, max_size=8))
def test_day_of_turns_agrees_with_a_general_solver(body: Body, places: list[int]) -> None:
    """Against a general-purpose solver (scipy, Radau, 1e-9), span by span.

    Tolerance 0.001 K: the fourth order at 300 s.
    """
    time = np.arange(0.0, 2400.0 * len(places) + 1.0, 2400.0)
    dial = np.array([*places, 0], dtype=float)

    air = air_of(body, time, dial, 350.0)

    here = 350.0
    for begin, place, found in zip(time, places, air[1:], strict=False):
        push = float(body.heating[place])

        def slope(_: float, air: si.Table, push: float = push) -> si.Table:
            glow = body.glow * (air**4 - ROOM**4) / (4.0 * GLOW_AT**3)
            return push - body.loss * (air - ROOM) - glow

        solved = solve_ivp(slope, (begin, begin + 2400.0), [here], method="Radau", rtol=1e-9)
        here = float(solved.y[0, -1])
        assert found == pytest.approx(here, abs=1e-3)


def test_steps_of_a_glowing_kiln_are_of_the_fourth_order() -> None:
    """Measured order over four refinements against the finest, and a bound on the last."""
    body = replace(PLAIN, loss=1.0 / 900.0, glow=1.0 / 900.0, heating=PLAIN.heating * 40.0)

    def end(cuts: int) -> float:
        time = np.linspace(0.0, 3600.0, cuts + 1)
        return float(air_of(body, time, np.full(time.size, 2.0), ROOM)[-1])

    exact = end(4096)
    errors = np.array([abs(end(cuts) - exact) for cuts in (64, 128, 256, 512)])
    order = np.log2(errors[:-1] / errors[1:])

    assert order == pytest.approx(4.0, abs=0.2)
    assert errors[-1] < 1e-9


def test_cutting_a_span_changes_nothing_where_the_form_is_closed() -> None:
    whole = air_of(PLAIN, np.array([0.0, 9000.0]), np.array([2.0, 2.0]), ROOM)[-1]
    time = np.linspace(0.0, 9000.0, 300)
    cut = air_of(PLAIN, time, np.full(300, 2.0), ROOM)[-1]

    assert cut == pytest.approx(whole, rel=1e-12)


@given(body=bodies(), place=st.integers(1, 3))
def test_kiln_stays_where_it_loses_what_is_put_in(body: Body, place: int) -> None:
    """Conservation: at the root of gain less loss, by scipy, the air moves no more."""
    end = highest_air(body, place)

    stays = air_of(body, np.array([0.0, 7200.0]), np.array([place, place], dtype=float), end)

    assert stays[-1] == pytest.approx(end, rel=1e-9)


@given(body=bodies(), place=st.integers(0, 3), start=st.integers(293, 1100))
def test_air_moves_one_way_at_one_setting(body: Body, place: int, start: int) -> None:
    """Property on which the dial plan rests: the ends of a span bound it."""
    time = np.arange(0.0, 3600.0, 60.0)

    air = air_of(body, time, np.full(60, float(place)), float(start))

    moves = np.diff(air)
    assert (moves >= -1e-9).all() or (moves <= 1e-9).all()


def test_load_takes_its_heat() -> None:
    """Exact: a load of what the setting puts in leaves a kiln at room heat."""
    time = np.array([0.0, 3600.0, 7200.0])
    load = np.full(3, 60.0 / HOUR)

    air = air_of(PLAIN, time, np.ones(3), ROOM, load)

    assert air == pytest.approx([ROOM] * 3, abs=1e-9)


@given(body=bodies(), span=st.integers(60, 3600))
def test_many_ways_move_as_one(body: Body, span: int) -> None:
    starts = np.array([300.0, 500.0, 900.0])
    heating = body.heating[1:]

    after = moved(body, starts, heating, float(span))

    for start, place, found in zip(starts, (1, 2, 3), after, strict=True):
        alone = air_of(body, np.array([0.0, float(span)]), np.full(2, float(place)), float(start))
        assert found == pytest.approx(alone[-1], rel=1e-12)
    assert starts.tolist() == [300.0, 500.0, 900.0]


def test_place_between_two_that_are_known_heats_in_between() -> None:
    assert heating_at(PLAIN, np.array([1.5]))[0] * HOUR == pytest.approx(120.0)


def test_capacity_follows_from_the_power_of_one_setting() -> None:
    """Exact: 2 kW that warm a kiln by 180 K/h warm 40 kJ/K."""
    assert capacity_of(PLAIN, 2.0, 2000.0) == pytest.approx(40_000.0)


@pytest.mark.parametrize(
    ("body", "what"),
    [
        (replace(PLAIN, loss=-1e-5), "loss of the kiln"),
        (replace(PLAIN, loss=math.nan), "loss of the kiln"),
        (replace(PLAIN, loss=0.0), "loss of the kiln in all"),
        (replace(PLAIN, glow=-1e-5), "radiation of the kiln"),
        (replace(PLAIN, room=20.0), "room of the kiln"),
        (replace(PLAIN, settings=np.array([0.0, 2.0, 2.0])), "settings of the dial"),
        (replace(PLAIN, settings=np.array([0.0])), "settings of the dial"),
        (replace(PLAIN, heating=np.array([0.0, math.nan, 1.0])), "heating of the kiln"),
    ],
)
def test_body_that_is_no_kiln_is_refused(body: Body, what: str) -> None:
    with pytest.raises(InputError) as caught:
        air_of(body, np.array([0.0, 60.0]), np.ones(2), ROOM)

    assert caught.value.what == what


@pytest.mark.parametrize(
    ("time", "dial"),
    [
        ([0.0, 0.0], [1.0, 1.0]),
        ([0.0, math.nan], [1.0, 1.0]),
        ([0.0, 60.0], [1.0]),
        ([0.0, 60.0], [3.0, 1.0]),
        ([0.0, 60.0], [-1.0, 1.0]),
        ([], []),
    ],
)
def test_turns_that_cannot_be_followed_are_refused(time: list[float], dial: list[float]) -> None:
    with pytest.raises(InputError):
        air_of(PLAIN, np.array(time), np.array(dial), ROOM)


def test_capacity_of_a_setting_that_is_off_is_refused() -> None:
    with pytest.raises(InputError, match="heating of the setting"):
        capacity_of(PLAIN, 0.0, 2000.0)
    with pytest.raises(InputError, match="power"):
        capacity_of(PLAIN, 1.0, 0.0)
