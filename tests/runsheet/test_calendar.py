"""The calendar file, read back by the library that others read it with."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from icalendar import Calendar

from pourcast.runsheet.calendar import calendar_file
from pourcast.runsheet.model import RunSheet
from tests.runsheet.sample import (
    HOUR,
    LATE_SUMMER,
    TOTAL,
    burnout,
    dial,
    forecast,
    named,
    sheet,
)

NOW = 1_790_000_000.0


def events(made: RunSheet, stamp: float = NOW) -> dict[str, Any]:
    read = Calendar.from_ical(calendar_file(made, stamp=stamp))
    return {
        str(event["uid"]).removeprefix(f"{made.identity}-").removesuffix("@pourcast"): event
        for event in read.walk("VEVENT")
    }


def begins(event: Any) -> datetime:
    found = event["dtstart"].dt
    assert isinstance(found, datetime)
    return found


def test_each_act_that_calls_is_an_event_with_an_alarm() -> None:
    made = sheet()
    found = events(made)

    assert set(found) == {act.key for act in made.acts if act.alarm is not None}
    for event in found.values():
        alarms = event.walk("VALARM")
        assert len(alarms) == 1
        assert alarms[0]["trigger"].dt <= timedelta(0)


def test_times_are_universal_and_agree_with_the_wall_clock() -> None:
    """By hand: 18:30 in Berlin in December is 17:30 in universal time."""
    found = events(sheet(kiln_in="2026-12-06 05:00"))

    assert begins(found["weigh"]) == datetime(2026, 12, 5, 17, 30, tzinfo=UTC)
    assert begins(found["kiln_in"]) == datetime(2026, 12, 6, 4, 0, tzinfo=UTC)
    content = calendar_file(sheet(), stamp=NOW).decode()
    assert "VTIMEZONE" not in content
    assert "DTSTART:20261205T173000Z" in content


@pytest.mark.parametrize(
    ("start", "kiln_in", "begun", "out"),
    [
        # Summer time ends: 22:00 is 20:00 in universal time, 18:13 is 17:13.
        (LATE_SUMMER, "2026-10-24 22:00", (2026, 10, 24, 20, 0), (2026, 10, 25, 17, 13)),
        # Summer time begins: 22:00 is 21:00 in universal time, 20:13 is 18:13.
        (
            "2027-03-27 18:30",
            "2027-03-27 22:00",
            (2027, 3, 27, 21, 0),
            (2027, 3, 28, 18, 13),
        ),
    ],
)
def test_kiln_lasts_as_long_over_a_change_of_the_clocks(
    start: str, kiln_in: str, begun: tuple[int, ...], out: tuple[int, ...]
) -> None:
    """By hand: the curve lasts 21 h 13 min whatever the wall clock does.

    Source of the change: Directive 2000/84/EC, last Sundays of March and October.
    """
    found = events(sheet(start=start, kiln_in=kiln_in))

    first, last = begins(found["kiln_in"]), begins(found["out"])
    assert first == datetime(*begun, tzinfo=UTC)  # type: ignore[arg-type, misc]
    assert abs(last - datetime(*out, tzinfo=UTC)) <= timedelta(minutes=1)  # type: ignore[arg-type, misc]
    assert (last - first).total_seconds() == pytest.approx(TOTAL, abs=1.0)


def test_new_file_of_a_plan_takes_the_place_of_the_old() -> None:
    """Published: RFC 5545, 3.8.4.7 and 3.8.7.4: one UID, and the higher sequence counts."""
    old, new = events(sheet()), events(sheet(start="2027-01-09 17:00"), NOW + HOUR)

    assert set(old) == set(new)
    for key, event in old.items():
        assert event["uid"] == new[key]["uid"]
        assert event["sequence"] < new[key]["sequence"]
        assert event["dtstamp"].dt < new[key]["dtstamp"].dt
    other = events(sheet(forecast(assist="gravity", worked_out=burnout())))
    assert not {event["uid"] for event in old.values()} & {event["uid"] for event in other.values()}


def test_sequence_is_one_that_a_calendar_can_hold() -> None:
    """Published: RFC 5545, 3.3.8: an integer of at most 2 147 483 647."""
    far = events(sheet(), stamp=4.0e9)

    assert all(0 <= int(event["sequence"]) < 2**31 for event in far.values())


def test_lines_are_ended_and_folded_as_the_standard_asks() -> None:
    """Published: RFC 5545, 3.1: CRLF, and at most 75 octets in a line."""
    content = calendar_file(sheet(named("Zweig mit Zapfen, größer 蝶 " * 6)), stamp=NOW)
    rows = content.split(b"\r\n")

    assert content.endswith(b"\r\n")
    assert not any(b"\n" in row or b"\r" in row for row in rows)
    assert max(map(len, rows)) <= 75


@pytest.mark.parametrize(
    "name",
    [
        "fern; BEGIN:VEVENT, \\n END:VCALENDAR",
        "fern\r\nBEGIN:VEVENT\r\nUID:evil\r\nEND:VEVENT",
        "שרך 蝶 🦋",
        "x" * 300,
    ],
)
def test_name_that_means_harm_stays_a_name(name: str) -> None:
    made = sheet(named(name))
    found = events(made)

    assert len(found) == sum(act.alarm is not None for act in made.acts)
    assert str(found["weigh"]["summary"]) == f"{made.name}: {made.acts[0].what}"


def test_description_carries_why_what_to_write_down_and_cautions() -> None:
    told = str(events(sheet())["light"]["description"])

    assert "Metal waits badly" in told
    assert "Take care. Water under or inside molten metal" in told
    assert "Local codes and the maker’s data sheet come first." in told
    assert "Invented demo." in told


def test_turns_of_the_dial_are_called_by_the_calendar() -> None:
    found = events(sheet(dial=dial(), kiln_in="2026-12-06 05:00"))

    assert sum(key.startswith("turn") for key in found) == 30


def test_long_hold_is_no_busy_hour() -> None:
    """An event of a step ends when the hand is off the dial, not when the hold ends."""
    found = events(sheet())

    assert found["step_3"]["dtend"].dt - begins(found["step_3"]) == timedelta(minutes=5)
    assert found["quench"]["dtend"].dt - begins(found["quench"]) == timedelta(minutes=15)


def test_same_sheet_and_stamp_give_the_same_file() -> None:
    assert calendar_file(sheet(), stamp=NOW) == calendar_file(sheet(), stamp=NOW)
