"""How near the stop the advice goes, and what it does where nothing else helps."""

from dataclasses import dataclass

import numpy as np
import pytest

from pourcast import units as si
from pourcast.day.case import DayCase
from pourcast.day.hotter import SURE, hotter_than_told
from pourcast.day.kiln_now import kiln_now, unforeseen
from pourcast.day.kilns import lines_of, plain_kiln
from pourcast.day.model import DayEvent, DayLog, DayReading
from pourcast.day.solve import advice
from pourcast.materials import library
from tests.day.made_up_kilns import hand_turned, highest_known, some_kiln
from tests.day.test_kiln_now import LOOK, one_place
from tests.day.test_kiln_turned_by_hand import HOUR, ROOM, STOP, followed, six_hours
from tests.outside.record import record

TOP = "732 °C, the usual top: common practice, no source"
OVER = "never over 760 °C while char is there: common practice, no source"


def test_the_doubt_is_that_of_the_line_of_the_kiln() -> None:
    """Equation (1) as it stands, x S xᵀ with the whole matrix; between two places as well."""
    now = kiln_now(one_place(), plain_kiln(library().kiln, 5, ROOM))
    place = np.array([0.0, 0.5, 1.0, 2.25, 4.9, 5.0])
    before, after = np.linspace(300.0, 900.0, 6), np.linspace(350.0, 1000.0, 6)

    found = hotter_than_told(now)(before, after, place, LOOK)

    over = 0.5 * (before + after) - now.body.room
    shares = lines_of(now.body, place)
    line = np.column_stack((-LOOK * over, LOOK * shares, np.full(6, -LOOK), np.ones(6)))
    known = np.diag(line @ now.spread @ line.T)
    assert found == pytest.approx(
        SURE * now.scatter * np.sqrt(known + unforeseen(LOOK) ** 2), rel=1e-9
    )


def test_a_place_of_the_dial_that_was_not_used_is_known_worse() -> None:
    now = kiln_now(one_place(), plain_kiln(library().kiln, 5, ROOM))
    air = np.full(6, 950.0)

    used, unused = hotter_than_told(now)(air, air, np.arange(6.0), LOOK)[[2, 4]]

    assert unused > 1.5 * used


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


@dataclass(frozen=True)
class Turned:
    """Made-up days turned by the advice, a row each: °C, and whether the kiln is able."""

    highest: si.Table
    by_six: si.Table
    able: si.Booleans


def turned(case: DayCase, top: float, able: float, seeds: range) -> Turned:
    """Turn kilns of `some_kiln` by the advice for a plan of so many °C in 5.5 h and a hold.

    Looks every 15 min, nine hours; a caster who does what a turn says and nothing else.  A
    kiln is able when one who knows all of it and has a dial without places, and who keeps the
    same ramp, has it at the ``able`` °C within six hours.
    """
    day = six_hours(case, top)
    highest, by_six, is_able = [], [], []
    for seed in seeds:
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
        known = highest_known(kiln, load, si.to_si(max(able, top), "degC"), 6.0)
        is_able.append(known >= si.to_si(able, "degC") - 0.01)
    return Turned(
        highest=np.array(highest), by_six=np.array(by_six), able=np.array(is_able, dtype=bool)
    )


@pytest.mark.long
def test_a_hundred_made_up_kilns_come_to_the_usual_top_in_six_hours_under_the_stop(
    case: DayCase,
) -> None:
    """The check of the kiln day in the two numbers of the trade, on kilns that nobody built.

    Target: 732 °C, 1350 °F, the usual top; stop: 760 °C, never over it while char is there;
    both common practice, no source (`burnout_peak_default`, `burnout_peak_hard_stop`; the
    rate of sulphate with carbon by Strydom et al. 1997 bears the stop out).  Reached: as a
    gauge can tell, 0.75 % of 732 °C or 5.5 K under it, class 2 of a type K thermocouple (IEC
    60584-1, from memory).  Able: 20 K more within six hours, see `turned`.

    Seeds of their own.  Of 150 other kilns, 88 of them able: 98 in 100 of the able came there,
    and none of all passed 760 °C, the hottest 756.5.  Limits: so far from that as chance takes
    as many days in one study of a hundred.
    """
    days = turned(case, 732.0, 752.0, range(20_000, 20_180))

    came = float(np.mean(days.by_six[days.able] >= 732.0 * (1.0 - 0.0075)))
    passed = float(np.mean(days.highest > STOP))
    for claim, source, got, want, tolerance in (
        ("able made-up kilns at 732 °C in six hours, as a gauge can tell", TOP, came, 1.0, 0.07),
        ("made-up kilns on the way to 732 °C that passed 760 °C", OVER, passed, 0.0, 0.02),
    ):
        record("day", claim, source, got, want, "-", tolerance, kind="common practice")
    assert days.able.sum() >= 100
    assert came >= 0.93
    assert passed <= 0.02
    assert days.highest.max() < STOP + 10.0


@pytest.mark.long
def test_of_many_made_up_kilns_few_pass_the_stop_where_it_is_the_target_too(
    case: DayCase,
) -> None:
    """Made up: a plan of 760 °C in six hours, where the stop is 760 °C as well.

    Able: 752 °C within six hours.  Seeds of their own.  Of 150 other kilns 2 in 100 passed
    760 °C, by 4 K at most; of the 88 able ones 88 in 100 were over 740 °C in six hours.  Limits:
    so far from that as chance takes 60 days in one study of a hundred.
    """
    days = turned(case, STOP, 752.0, range(20_000, 20_060))

    passed = float(np.mean(days.highest > STOP))
    claim = "made-up kilns on the way to 760 °C that passed it"
    record("day", claim, OVER, passed, 0.0, "-", 0.10, kind="common practice")
    assert passed <= 0.10
    assert days.highest.max() < STOP + 15.0
    assert np.mean(days.by_six[days.able] >= 740.0) >= 0.75
