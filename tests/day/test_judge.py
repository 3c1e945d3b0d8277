"""Which readings are believed: each kind of slip is made, kept, and told.

The kinds of slip are common practice, no source; the limits are estimates of ours.
"""

from hypothesis import given

from pourcast import units as si
from pourcast.day.clocks import skew
from pourcast.day.judge import believed, judged
from pourcast.day.model import DayEvent, DayLog, DayReading, Place
from tests.strategies_day import day_logs


def kiln(minute: float, celsius: float, place: Place = "kiln") -> DayReading:
    return DayReading(place=place, at=60.0 * minute, temperature=si.to_si(celsius, "degC"))


def doubts(*readings: DayReading, events: tuple[DayEvent, ...] = ()) -> list[str | None]:
    return [each.doubt for each in judged(DayLog(start=0.0, readings=readings, events=events))]


def test_a_steady_ramp_is_believed() -> None:
    assert doubts(kiln(0, 20), kiln(15, 60), kiln(30, 100)) == [None, None, None]


def test_fahrenheit_typed_as_celsius_is_questioned() -> None:
    """600 °C is 1112 °F: a kiln at 590 °C does not come to 1112 °C in a quarter of an hour."""
    assert doubts(kiln(0, 590), kiln(15, 1112), kiln(30, 605)) == [None, "unit", None]


def test_celsius_typed_as_fahrenheit_is_questioned() -> None:
    """600 °F is 316 °C."""
    assert doubts(kiln(0, 590), kiln(15, 316), kiln(30, 605)) == [None, "unit", None]


def test_a_unit_is_not_believed_because_it_is_wrong_twice() -> None:
    assert doubts(kiln(0, 590), kiln(15, 1112), kiln(30, 1121)) == [None, "unit", "unit"]


def test_a_probe_that_hangs_in_the_room_is_questioned_each_time() -> None:
    found = doubts(kiln(0, 400), kiln(15, 22), kiln(30, 23), kiln(45, 430))

    assert found == [None, "cold probe", "cold probe", None]


def test_a_jump_is_questioned_and_believed_when_the_next_bears_it_out() -> None:
    assert doubts(kiln(0, 400), kiln(5, 560)) == [None, "jump"]
    assert doubts(kiln(0, 400), kiln(5, 560), kiln(10, 565)) == [None, None, None]
    assert doubts(kiln(0, 400), kiln(5, 560), kiln(10, 405)) == [None, "jump", None]


def test_a_fall_is_no_surprise_when_the_door_was_open() -> None:
    opened = DayEvent(act="out", at=240.0)

    assert doubts(kiln(0, 690), kiln(5, 480), events=(opened,)) == [None, None]
    assert doubts(kiln(0, 690), kiln(5, 480)) == [None, "jump"]


def test_what_the_caster_says_goes_before() -> None:
    right = DayEvent(act="right", at=900.0, place="kiln")
    wrong = DayEvent(act="wrong", at=1800.0, place="kiln")

    assert doubts(kiln(0, 400), kiln(15, 22), events=(right,)) == [None, None]
    assert doubts(kiln(0, 400), kiln(30, 410), events=(wrong,)) == [None, "said wrong"]


def test_of_two_words_on_one_reading_the_last_counts() -> None:
    """The sentence beside a reading that was said to be wrong: if it is right, say right."""
    said = [DayEvent(act=act, at=1800.0, place="kiln") for act in ("wrong", "right", "wrong")]

    assert doubts(kiln(0, 400), kiln(30, 410), events=tuple(said[:2])) == [None, None]
    assert doubts(kiln(0, 400), kiln(30, 410), events=tuple(said)) == [None, "said wrong"]


def test_metal_does_what_no_kiln_does() -> None:
    assert doubts(kiln(0, 1150, "metal"), kiln(2, 700, "metal")) == [None, None]


@given(log=day_logs())
def test_nothing_is_dropped_and_order_does_not_matter(log: DayLog) -> None:
    """House rule: what is doubled counts once, what is questioned stays."""
    found = judged(log)

    assert {each.reading for each in found} == set(log.readings)
    words = tuple(each for each in log.events if each.act in ("right", "wrong"))
    acts = tuple(each for each in log.events if each not in words)
    events = (*acts[::-1], *words)
    again = DayLog(start=log.start, readings=log.readings[::-1] * 2, events=events)
    assert judged(again) == found
    times = [each.reading.at for each in found]
    assert times == sorted(times)
    assert len(believed(found, "kiln")) <= len(found)


def test_a_clock_ahead_and_a_clock_behind_are_told() -> None:
    assert skew([1000.0], [1010.0]) is None
    assert skew([5000.0], [1000.0]) == 4000.0
    assert skew([0.0, 900.0, 1800.0], [3605.0, 4503.0, 5404.0]) == -3604.0
    assert skew([0.0, 900.0, 1800.0], [3605.0, 4503.0, 1804.0]) is None
    assert skew([], []) is None
