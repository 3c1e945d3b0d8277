"""How near the stop the advice goes, and what it does where nothing else helps."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast import units as si
from pourcast.day.case import DayCase
from pourcast.day.hotter import SURE, hotter_than_told, scatter_of
from pourcast.day.judge import judged
from pourcast.day.kilns import DRIFT, READ, kiln_today, lines_of, plain_kiln
from pourcast.day.model import DayEvent, DayLog, DayReading
from pourcast.day.simulated import hand_turned
from pourcast.day.so_far import SoFar, so_far
from pourcast.day.solve import advice
from pourcast.materials import library
from tests.day.made_up_kilns import highest_known, some_kiln
from tests.day.test_kiln_turned_by_hand import HOUR, ROOM, STOP, followed, six_hours

LOOK = 900.0


def one_place() -> tuple[SoFar, DayLog]:
    """Return a day that was turned to 2 and stayed there."""
    heat = 20.0 + 600.0 * (1.0 - np.exp(-np.arange(17) / 10.0))
    log = DayLog(
        start=0.0,
        readings=tuple(
            DayReading(place="kiln", at=LOOK * look, temperature=si.to_si(each, "degC"))
            for look, each in enumerate(heat.tolist())
        ),
        events=(DayEvent(act="turned", at=0.0, setting=2.0),),
    )
    return so_far(log, judged(log), ROOM), log


def test_without_doubt_of_the_kiln_it_is_reading_and_drift_alone() -> None:
    """Exact: independent errors add up by their squares."""
    plain = plain_kiln(library().kiln, 5, ROOM)
    day = so_far(DayLog(start=0.0), (), ROOM)
    doubt = hotter_than_told(replace(plain, covariance=np.zeros((6, 6))), day)

    found = doubt(np.full(2, 900.0), np.full(2, 950.0), np.array([0.0, 5.0]), LOOK)

    assert found == pytest.approx(SURE * np.hypot(READ, DRIFT * LOOK))


def test_the_doubt_is_that_of_the_line_of_the_kiln() -> None:
    """Equation (1) as it stands, x S xᵀ with the whole matrix; between two places as well."""
    day, _ = one_place()
    kiln = kiln_today(day, plain_kiln(library().kiln, 5, ROOM))
    place = np.array([0.0, 0.5, 1.0, 2.25, 4.9, 5.0])
    before, after = np.linspace(300.0, 900.0, 6), np.linspace(350.0, 1000.0, 6)

    found = hotter_than_told(kiln, day)(before, after, place, LOOK)

    over = 0.5 * (before + after) - kiln.body.room
    line = LOOK * np.column_stack((-over, lines_of(kiln.body, place)))
    known = np.diag(line @ kiln.covariance @ line.T)
    plain = scatter_of(kiln, day) ** 2 * (READ**2 + (DRIFT * LOOK) ** 2)
    assert found == pytest.approx(SURE * np.sqrt(plain + known), rel=1e-9)


def test_a_place_of_the_dial_that_was_not_used_is_known_worse() -> None:
    day, _ = one_place()
    kiln = kiln_today(day, plain_kiln(library().kiln, 5, ROOM))
    air = np.full(6, 950.0)

    used, unused = hotter_than_told(kiln, day)(air, air, np.arange(6.0), LOOK)[[2, 4]]

    assert unused > 1.5 * used


def test_readings_far_from_the_line_widen_the_doubt_and_near_ones_narrow_it() -> None:
    day, _ = one_place()
    plain = plain_kiln(library().kiln, 5, ROOM)
    rough = replace(
        day, temperature=day.temperature + 20.0 * (-1.0) ** np.arange(day.temperature.size)
    )

    assert scatter_of(kiln_today(day, plain), day) < 1.0
    assert scatter_of(kiln_today(rough, plain), rough) > 1.5


@pytest.mark.parametrize("read", [761.0, 775.0, 900.0])
def test_a_kiln_over_the_stop_is_turned_off_now(case: DayCase, read: float) -> None:
    """Common practice, no source: turn it off.

    A made-up kiln whose caster does only what a turn says went to 1500 °C, where the advice
    said in words alone that no setting keeps it under the stop.
    """
    day = six_hours(case)
    heat = [20.0, 300.0, 560.0, 740.0, read]
    log = DayLog(
        start=0.0,
        readings=tuple(
            DayReading(place="kiln", at=0.5 * HOUR * place, temperature=si.to_si(each, "degC"))
            for place, each in enumerate(heat)
        ),
        events=(DayEvent(act="turned", at=0.0, setting=5.0),),
    )

    turns, _ = advice(day, log)

    assert turns[0].setting == 0.0
    assert turns[0].time == 2.0 * HOUR


@pytest.mark.long
def test_of_many_made_up_kilns_few_pass_the_stop_and_none_by_much(case: DayCase) -> None:
    """Made up: a plan of 760 °C in six hours, looks every 15 min, kilns of `some_kiln`.

    Seeds of their own, not those on which `SURE` was chosen.  240 days of other new seeds:
    1.7 in 100 passed 760 °C, by 7 K at most; of the kilns that could be at 752 °C for one
    who knows all, 69 in 100 were over 740 °C in six hours.  Limits: so far from that as
    chance takes 60 days in one study of a hundred.
    """
    day = six_hours(case, STOP)
    highest, by_six, able = [], [], []
    for seed in range(20_000, 20_060):
        rng = np.random.default_rng(seed)
        kiln = some_kiln(rng)
        load = float(rng.choice([0.0, 30.0, 55.0])) / HOUR

        def pull(time: float, most: float = load) -> float:
            return most if HOUR < time < 5.0 * HOUR else 0.0

        _, air = hand_turned(
            kiln, followed(day), start=0.0, length=9.0 * HOUR, every=LOOK, rng=rng, load=pull
        )
        highest.append(float(air.max()) - 273.15)
        by_six.append(float(air[:361].max()) - 273.15)
        known = highest_known(kiln, load, si.to_si(STOP, "degC"), 6.0)
        able.append(known >= si.to_si(752.0, "degC"))

    assert np.mean(np.array(highest) > STOP) <= 0.067
    assert max(highest) < STOP + 20.0
    assert np.mean(np.array(by_six)[able] >= 740.0) >= 0.50
