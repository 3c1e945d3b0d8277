"""What a kiln day says; the sentences are our own, and the hours are set by hand."""

from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest

from pourcast.burnout.dial import Turn
from pourcast.burnout.model import Curve
from pourcast.day.flask_out import FlaskOut
from pourcast.day.metal import MeltClock
from pourcast.day.model import DayEvent, DayForecast, DayReading, Judged
from pourcast.day.pouring import PourAct, Queued
from pourcast.forecast.model import Hour, Spread
from pourcast.page import words_day as words
from pourcast.page import words_pour_day as pour_words
from pourcast.page.svg_day import day_so_far
from pourcast.runsheet.model import Zone
from pourcast.runsheet.usual import USUAL

UTC = Zone(name="UTC", since=(0.0,), ahead=(0.0,), letters=("UTC",))
HOUR = 3600.0
START = 5.0 * HOUR  # 05:00 on the first day of 1970
CURVE = Curve(
    name="logged", time=np.array([0.0, 10.0, 12.0]) * HOUR, temperature=np.array([293.0, 973, 873])
)


def reading(hours: float, kelvin: float) -> DayReading:
    return DayReading(place="kiln", at=START + hours * HOUR, temperature=kelvin)


SAID = DayForecast(
    start=START,
    readings=(
        Judged(reading=reading(0.0, 293.15)),
        Judged(reading=reading(4.0, 573.15)),
        Judged(reading=reading(4.1, 300.0), doubt="cold probe", expected=573.15),
    ),
    known_until=4.0 * HOUR,
    curve=CURVE,
    planned=CURVE,
    dry_at=Hour(p10=6.0 * HOUR, p50=6.5 * HOUR, p90=6.0 * HOUR + 2400.0),
    clean_at=Hour(p10=9.0 * HOUR, p50=9.0 * HOUR, p90=None),
    ready_at=Hour(p10=None, p50=None, p90=None),
    planned_dry=6.5 * HOUR + 2100.0,
    planned_clean=9.0 * HOUR,
    planned_ready=11.0 * HOUR,
    pour_at=12.0 * HOUR,
    chance_clean=0.72,
    chance_at_heat=0.9,
    core=Spread(p10=370.0, p50=380.0, p90=400.0),
    water=Spread(p10=0.2, p50=0.3, p90=0.5),
    char=Spread(p10=0.0, p50=0.0, p90=1e-6),
    turns=(Turn(time=4.25 * HOUR, clock="09:15", setting=3.0),),
    turns_reason="",
    ended=None,
    out_since=None,
    alone=96.0,
    particles=96,
    renewed=False,
    findings=(),
)


def test_dry_is_told_by_its_late_end_and_beside_the_plan() -> None:
    """By the wording that the work was asked for: "dry by 11:40, 35 min ahead"."""
    assert words.when(SAID, "dry", UTC) == "dry by 11:40, perhaps from 11:00, 35 min ahead"
    sure = replace(SAID, dry_at=Hour(p10=6.6 * HOUR, p50=6.5 * HOUR, p90=6.0 * HOUR + 2400.0))
    assert words.when(sure, "dry", UTC) == "dry by 11:40, 35 min ahead"


def test_what_is_past_and_what_never_comes_are_told_so() -> None:
    past = replace(SAID, known_until=8.0 * HOUR)

    assert words.when(past, "dry", UTC) == "dry since 11:40, 35 min ahead"
    assert words.when(SAID, "clean", UTC).startswith("clean about ")
    assert words.when(SAID, "clean", UTC).endswith("in one draw of ten or more not in this day")
    late = replace(SAID, known_until=20.0 * HOUR)
    assert words.when(late, "clean", UTC).startswith("clean since about ")
    assert words.when(SAID, "ready", UTC) == "at casting heat: not in this day, as it looks now"


def test_a_day_behind_is_told_in_hours_where_it_is_long() -> None:
    assert words.beside_plan(3.0 * HOUR, HOUR) == "2 h 00 behind"
    assert words.beside_plan(HOUR + 200.0, HOUR) == "on time"
    assert words.beside_plan(HOUR, None) == "which the plan does not come to"


def test_a_last_reading_that_does_not_count_says_so() -> None:
    believed = replace(SAID, readings=SAID.readings[:-1])

    assert "questioned and does not count" in words.age_told(SAID, START + 4.2 * HOUR)
    assert "questioned" not in words.age_told(believed, START + 4.2 * HOUR)


def test_turns_carry_their_caution_and_an_old_reading_its_own() -> None:
    assert words.turn_told(SAID, UTC).startswith("Turn: 09:15 to 3. Read the gauge")
    assert "alone" in words.turn_told(SAID, UTC)
    old = words.age_told(SAID, START + 6.0 * HOUR)
    assert old.startswith("Last reading 1 h 54 ago: kiln 27")
    assert "read again" in old
    assert "read again" not in words.age_told(SAID, START + 4.2 * HOUR)
    assert words.event_told(DayEvent(act="turned", at=0.0, setting=3.0)) == "turned the dial to 3"


def test_a_turn_whose_time_is_past_is_due_now() -> None:
    """No act of the past can be done: at 09:40 a turn of 09:15 is due, and those before it gone."""
    turns = tuple(
        Turn(time=hours * HOUR, clock="", setting=place)
        for hours, place in ((4.0, 4.0), (4.25, 3.0), (5.0, 2.0), (5.5, 1.0), (6.0, 0.0))
    )
    day = replace(SAID, turns=turns)

    at = START + 4.0 * HOUR + 2400.0
    said = words.turn_told(day, UTC, at)
    assert said.startswith("Turn: now to 3, due at 09:15, 10:00 to 2, 10:30 to 1. Read")
    assert words.turn_told(day, UTC, START + 4.0 * HOUR) == words.turn_told(day, UTC)
    assert words.turn_told(day, UTC).startswith("Turn: 09:00 to 4, 09:15 to 3, 10:00 to 2. Read")
    soon = words.turn_told(day, UTC, START + 6.5 * HOUR)
    assert soon.startswith("Turn: now to 0, due at 11:00. Read")
    late = words.turn_told(day, UTC, START + 9.0 * HOUR)
    assert late.startswith("Read the gauge before you turn")
    assert "alone" in late
    assert "due" not in late


def test_a_gauge_in_fahrenheit_is_told_as_it_was_read() -> None:
    """Exact: 212 °F is 100 °C."""
    read = DayReading(place="kiln", at=0.0, temperature=373.15)

    assert words.reading_told(read, "F") == "kiln 212\u00a0°F, 100\u00a0°C"
    assert words.reading_told(read) == words.reading_told(read, "degC") == "kiln 100\u00a0°C"


def test_the_pour_and_the_block_are_told() -> None:
    assert "If poured at 17:00 as planned: clean in 72 of 100" in words.pour_told(SAID, UTC)
    out = replace(SAID, ended=11.5 * HOUR)
    assert words.pour_told(out, UTC).startswith("Left the kiln for the pour at 16:30: clean in 72")
    assert "20 to 50 % of the free water" in words.now_told(SAID)
    act = PourAct(step="light", opens=10.0 * HOUR, shuts=10.5 * HOUR)
    assert pour_words.act_told(act, START, UTC) == "15:00 to 15:30 light the furnace"
    queued = Queued(lit=HOUR, molten=2.0 * HOUR, out=3.0 * HOUR, flask_waits=1800.0)
    assert "after 30 min of waiting" in pour_words.queue_told("Twig", queued, START, UTC)
    assert "3 to 9 min (worked out)" in pour_words.quench_told((180.0, 540.0), USUAL.quench)
    assert "common practice" in pour_words.quench_told(None, USUAL.quench)


def test_a_crucible_that_does_not_hold_the_charge_is_told() -> None:
    melt = MeltClock(
        mass=0.5, heat=3e5, time=1500.0, low=1200.0, high=2700.0, by_log=False, share=1.2,
        in_pot=1400.0, lost=20.0, longest_wait=40.0,
    )  # fmt: skip

    assert "does not hold the charge" in " ".join(pour_words.melt_told(melt))
    assert "spills" in " ".join(pour_words.melt_told(replace(melt, share=0.9)))
    assert "(estimate)" in pour_words.melt_told(melt)[0]
    flask = FlaskOut(
        start=873.0, least=843.0, on_bench=400.0, on_plate=None, face_after=690.0,
        inside_after=873.0, drawn=0.0, source="",
    )  # fmt: skip
    assert "6.7 min on the bench, more than 60 min on the plate" in pour_words.flask_told(flask)


@pytest.mark.parametrize("turned", [True, False])
def test_picture_is_whole_and_says_what_the_words_say(turned: bool) -> None:
    said = SAID if turned else replace(SAID, readings=(), turns=())

    drawn = ElementTree.fromstring(str(day_so_far(said, UTC, stop=1033.15)))

    label = drawn.attrib["aria-label"]
    assert "Dry by 11:40" in label
    circles = [each for each in drawn.iter() if each.tag.endswith("circle")]
    assert len(circles) == len(said.readings)
    for each in circles:
        assert 0.0 <= float(each.attrib["cx"]) <= 400.0


def test_a_flask_that_nobody_said_is_back_is_asked_for() -> None:
    """House rule: it counts as back after five minutes, and then the caster is asked."""
    out = replace(SAID, out_since=11.0 * HOUR)

    assert pour_words.out_asked(SAID, UTC, START + 12.0 * HOUR) == ""
    assert pour_words.out_asked(out, UTC, START + 11.0 * HOUR + 290.0) == ""
    assert pour_words.out_asked(out, UTC, START + 11.5 * HOUR) == (
        "The flask went out at 16:00, 30 min ago, and counts as back since 16:05. "
        "Is it back? Say in, or poured, and how long ago."
    )
