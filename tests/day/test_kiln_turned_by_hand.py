"""A made-up kiln turned by the advice, and what is read from it.

The kilns are made up and solved by steps of their own; no logged kiln was found.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from pourcast import units as si
from pourcast.burnout.kiln import air_of
from pourcast.burnout.model import KilnStep
from pourcast.day.case import DayCase, day_case
from pourcast.day.judge import judged
from pourcast.day.kilns import fastest, kiln_of_day, kiln_today, plain_kiln
from pourcast.day.model import DayEvent, DayLog, DayReading
from pourcast.day.simulated import SimulatedKiln, made_up_kiln, moved_on
from pourcast.day.so_far import so_far
from pourcast.day.solve import advice
from pourcast.day.turns import OVER
from pourcast.materials import library
from pourcast.sheet import read_plan
from tests.day.conftest import EXAMPLE
from tests.day.made_up_kilns import hand_turned
from tests.outside.record import record
from tests.strategies_day import simulated_kilns

HOUR, ROOM = 3600.0, 293.15
STOP = 760.0
"""°C, common practice, no source: over it char takes the sulphate apart."""


def test_without_bricks_and_load_it_is_one_exponential() -> None:
    """Published: first-order body, Incropera and DeWitt, ch. 5.

    Tolerance 1e-6 K: steps of the fourth order.  Found: 1e-9 K.
    """
    kiln = replace(made_up_kiln(), exchange=0.0)
    end = ROOM + float(kiln.body.heating[3]) / kiln.body.loss

    air, _ = moved_on(kiln, ROOM, ROOM, 3.0, 2.0 * HOUR)

    want = end + (ROOM - end) * np.exp(-kiln.body.loss * 2.0 * HOUR)
    record(
        "day",
        "made-up kiln without bricks, 2 h at one setting",
        "Incropera and DeWitt, ch. 5",
        air,
        float(want),
        "K",
        1e-6,
        kind="closed form",
    )
    assert air == pytest.approx(want, abs=1e-6)


@settings(max_examples=20)
@given(kiln=simulated_kilns())
def test_bricks_take_what_the_air_loses(kiln: SimulatedKiln) -> None:
    """Exact: with no loss and no heating the two bodies keep their heat together."""
    shut = replace(kiln, body=replace(kiln.body, loss=1e-12))

    air, bricks = moved_on(shut, 900.0, 400.0, 0.0, HOUR)

    kept = 0.0 if kiln.exchange == 0.0 else (400.0 - bricks) / kiln.share
    assert 900.0 - air == pytest.approx(-kept, abs=1e-4)


def test_constants_of_a_kiln_of_one_body_are_read_back() -> None:
    """Made up: loss and heating within 10 % after a day at five settings, without noise.

    Tolerance: the rule of the trapezium over a quarter of an hour, and a prior that is
    30 % off.  Found: loss 2 %, heating 1 to 3 %.
    """
    kiln = replace(made_up_kiln(), exchange=0.0)
    time = np.arange(0.0, 20.0 * HOUR, 900.0)
    dial = (1.0 + np.arange(time.size) // 16 % 5).astype(np.float64)
    air = air_of(kiln.body, time, dial, ROOM)
    log = DayLog(
        start=0.0,
        readings=tuple(
            DayReading(place="kiln", at=t, temperature=a)
            for t, a in zip(time.tolist(), air.tolist(), strict=True)
        ),
        events=tuple(
            DayEvent(act="turned", at=float(time[k]), setting=float(dial[k]))
            for k in range(0, time.size, 16)
        ),
    )
    plain = plain_kiln(library().kiln, 5, ROOM)

    found = kiln_of_day(so_far(log, judged(log), ROOM), plain)

    assert found is not None
    assert found.body.loss == pytest.approx(kiln.body.loss, rel=0.10)
    assert found.body.heating[1:] == pytest.approx(kiln.body.heating[1:], rel=0.10)


def test_a_kiln_without_readings_is_the_one_that_was_known() -> None:
    plain = plain_kiln(library().kiln, 5, ROOM)
    log = DayLog(start=0.0)

    assert kiln_today(so_far(log, (), ROOM), plain) is plain
    assert kiln_of_day(so_far(log, (), ROOM), plain) is None


def six_hours(case: DayCase, top: float = 732.0) -> DayCase:
    """Return a case whose plan is so many °C in six hours, turned by hand."""
    heat = si.to_si(top, "degC")
    step = KilnStep(temperature=heat, ramp=(heat - ROOM) / 5.5 / HOUR, hold=6.0 * HOUR)
    plan = replace(case.plan, kiln=replace(case.plan.kiln, control="hand", steps=(step,)))
    return day_case(plan, particles=24, threads=1)


@pytest.fixture(scope="module")
def quick_plan(case: DayCase) -> DayCase:
    """Return the six-hour case, once for all kilns."""
    return six_hours(case)


def followed(case: DayCase) -> Callable[[DayLog], float]:
    """Return a caster who does what the advice says, and nothing else."""

    def advise(log: DayLog) -> float:
        turned = [event.setting or 0.0 for event in log.events]
        off = DayEvent(act="turned", at=log.start, setting=0.0)
        seen = log if log.events else replace(log, events=(off,))
        turns, _ = advice(case, seen)
        due = turns and turns[0].time <= seen.readings[-1].at - seen.start + 60.0
        return turns[0].setting if due else (turned[-1] if turned else 0.0)

    return advise


@pytest.mark.parametrize("bricks", [False, True])
@pytest.mark.parametrize("wet", [False, True])
def test_turned_by_the_advice_it_is_at_its_top_in_six_hours_and_never_over_the_stop(
    quick_plan: DayCase, bricks: bool, wet: bool
) -> None:
    """Common practice, no source: by hand to the usual 732 °C in 6 h, and never over 760.

    Reached as a gauge can tell, 5.5 K under it: 0.75 % of the reading, class 2 of a type K
    thermocouple (IEC 60584-1, from memory).  A look every 15 min, 1 K of noise, a kiln that
    nobody has logged, a block that takes 55 K/h for four hours or none.  A hundred other
    kilns, and a plan of 760 °C: the studies of tests/day/test_hotter.py.
    """
    kiln = made_up_kiln() if bricks else replace(made_up_kiln(), exchange=0.0)

    advise = followed(quick_plan)

    def pull(time: float) -> float:
        return 55.0 / HOUR if wet and HOUR < time < 5.0 * HOUR else 0.0

    log, air = hand_turned(
        kiln,
        advise,
        start=0.0,
        length=8.0 * HOUR,
        every=900.0,
        rng=np.random.default_rng(1),
        load=pull,
    )

    celsius = air - 273.15
    told = 732.0 * (1.0 - 0.0075)
    reached = int(np.argmax(celsius >= told)) / 60.0
    assert celsius.max() >= told
    assert reached <= 6.0
    assert celsius.max() < STOP
    assert len(log.events) < 25


def test_a_kiln_that_nears_the_stop_is_turned_down_or_off_at_once(quick_plan: DayCase) -> None:
    """Common practice, no source: turn it off when the gauge nears the top."""
    heat = [20.0, 250.0, 500.0, 700.0, 740.0, 757.0]
    log = DayLog(
        start=0.0,
        readings=tuple(
            DayReading(place="kiln", at=1800.0 * place, temperature=si.to_si(celsius, "degC"))
            for place, celsius in enumerate(heat)
        ),
        events=(DayEvent(act="turned", at=0.0, setting=5.0),),
    )

    turns, reason = advice(quick_plan, log)

    if turns:
        assert turns[0].time == 9000.0
        assert turns[0].setting < 3.0
    else:
        assert "Turn it off now" in reason


def test_half_places_are_advised_where_the_dial_has_them_and_nowhere_else(
    quick_plan: DayCase,
) -> None:
    """Made up: the kiln of the practice by whole and by half places; over the stop by neither."""
    finer = replace(quick_plan.plan, kiln=replace(quick_plan.plan.kiln, dial_step=0.5))
    places: list[set[float]] = []
    for day in (quick_plan, replace(quick_plan, plan=finer)):
        log, air = hand_turned(
            made_up_kiln(),
            followed(day),
            start=0.0,
            length=7.0 * HOUR,
            every=900.0,
            rng=np.random.default_rng(1),
        )
        places.append({event.setting or 0.0 for event in log.events})
        assert air.max() - 273.15 < STOP
        assert air.max() - 273.15 >= 732.0 - 15.0

    whole, half = places
    assert all(place % 1.0 == 0.0 for place in whole)
    assert any(place % 1.0 == 0.5 for place in half)
    assert all(place % 0.5 == 0.0 for place in half)


@pytest.mark.parametrize("bricks", [False, True])
def test_slow_ramps_are_kept_and_not_put_off_from_look_to_look(bricks: bool) -> None:
    """Made up: a sheet of 50 and 90 K/h, turned by the advice, ends within an hour of its plan.

    An hour: four looks.  Found: 0.05 h with one body, 0.3 h with bricks.  Where a turn was
    worth 15 K it was put off at each look, and the day ended more than four hours late.
    No hour is steeper than the ramp that may catch up, 1.25 of what is written, and what
    one place of the dial does in a quarter of an hour: 92 K/h on the first ramp.
    """
    file = EXAMPLE.with_name("larch_twig.toml")
    slow = day_case(read_plan(file.read_text(encoding="utf-8"), file=file.name), particles=24)
    kiln = made_up_kiln() if bricks else replace(made_up_kiln(), exchange=0.0)
    length = float(slow.planned.time[-1])
    over: list[float] = []

    def advise(log: DayLog) -> float:
        turned = [event.setting or 0.0 for event in log.events]
        off = DayEvent(act="turned", at=log.start, setting=0.0)
        seen = log if log.events else replace(log, events=(off,))
        turns, reason = advice(slow, seen)
        if reason == OVER:
            over.append(seen.readings[-1].at)
        due = turns and turns[0].time <= seen.readings[-1].at - seen.start + 60.0
        return turns[0].setting if due else (turned[-1] if turned else 0.0)

    log, air = hand_turned(
        kiln,
        advise,
        start=0.0,
        length=length + 2.0 * HOUR,
        every=900.0,
        rng=np.random.default_rng(5),
    )

    assert over
    assert over[0] <= length + HOUR
    celsius = air - 273.15
    hourly = celsius[60:] - celsius[:-60]
    assert hourly[celsius[60:] < 145.0].max() <= 92.0
    assert celsius.max() < STOP
    assert len(log.events) < 70


def test_fastest_ramp_and_cooling_of_a_kiln_of_the_records_are_those_of_the_records() -> None:
    """Exact: the way back from the records of the kiln; the ends hold 8 of 10."""
    record_of = library().kiln

    (ramp, low, high), (cooling, coldest, warmest) = fastest(plain_kiln(record_of, 5, ROOM))

    assert ramp == pytest.approx(record_of["fastest_ramp"].si)
    assert cooling == pytest.approx(record_of["fastest_cooling"].si)
    assert 0.0 < low < ramp < high
    assert cooling - coldest == pytest.approx(1.2816 * 0.4 * cooling, rel=1e-6)
    assert warmest - cooling == pytest.approx(1.2816 * 0.4 * cooling, rel=1e-6)
