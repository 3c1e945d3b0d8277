"""The wall clock: days, hours and the nights in which it is put forward or back."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.cli.runsheet import read_zone
from pourcast.page.zones import zone_record
from pourcast.runsheet.clock import changes, changes_told, utc_stamp, wall
from pourcast.runsheet.model import Zone
from tests.runsheet.sample import UTC_ZONE, moment

ZONES = ("Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "Asia/Kathmandu")
YEAR = 366 * 86_400


def zone_of(name: str, at: float) -> Zone:
    begins = datetime.fromtimestamp(at, UTC)
    return zone_record(name, read_zone(name), begins, begins)


@given(
    name=st.sampled_from(ZONES),
    start=st.integers(1_700_000_000, 1_700_000_000 + 20 * YEAR),
    later=st.integers(0, 50 * 86_400),
)
def test_wall_clock_agrees_with_the_time_zone_database(name: str, start: int, later: int) -> None:
    """Outside: the zone database of the standard library (IANA), to the minute."""
    said = wall(zone_of(name, start), float(start + later))

    seconds = 60 * ((start + later + 30) // 60)
    there = datetime.fromtimestamp(seconds, ZoneInfo(name))
    assert said.time[:5] == f"{there:%H:%M}"
    assert said.day == f"{there:%a} {there.day} {there:%b}"
    assert said.year == f"{there:%Y}"


def test_clocks_of_the_union_go_back_on_the_last_sunday_of_october() -> None:
    """Published: Directive 2000/84/EC, article 3: 01:00 in universal time."""
    berlin = zone_of("Europe/Berlin", moment("2026-10-24 12:00"))

    found = changes(berlin, berlin.since[0], moment("2026-11-30 00:00"))

    assert found == [(moment("2026-10-25 01:00"), -3600.0)]


def test_clocks_of_the_union_go_forward_on_the_last_sunday_of_march() -> None:
    """Published: Directive 2000/84/EC, article 2: 01:00 in universal time."""
    berlin = zone_of("Europe/Berlin", moment("2027-03-27 12:00"))

    found = changes(berlin, berlin.since[0], moment("2027-04-30 00:00"))

    assert found == [(moment("2027-03-28 01:00"), 3600.0)]


def test_hour_that_comes_twice_carries_the_letters_of_its_zone() -> None:
    berlin = zone_of("Europe/Berlin", moment("2026-10-24 12:00"))

    told = [
        wall(berlin, moment(f"2026-10-{text}")).time
        for text in ("24 23:59", "25 00:00", "25 00:30", "25 01:30", "25 02:00")
    ]

    assert told == ["01:59", "02:00 CEST", "02:30 CEST", "02:30 CET", "03:00"]


def test_hour_that_is_skipped_is_never_told() -> None:
    berlin = zone_of("Europe/Berlin", moment("2027-03-27 12:00"))
    first = moment("2027-03-28 00:00")

    told = [wall(berlin, first + 60.0 * k).time for k in range(180)]

    assert not any(time.startswith("02:") for time in told)
    assert told[59:61] == ["01:59", "03:00"]


def test_change_is_told_with_its_day_and_its_hour() -> None:
    berlin = zone_of("Europe/Berlin", moment("2026-10-24 12:00"))

    told = changes_told(berlin, moment("2026-10-24 18:00"), moment("2026-10-25 18:00"))

    assert len(told) == 1
    assert told[0].startswith("The clocks go back by 60 min on Sun 25 Oct at 03:00.")
    assert changes_told(berlin, moment("2026-10-26 18:00"), moment("2026-10-28 18:00")) == []


@pytest.mark.parametrize(
    ("at", "said"),
    [
        ("2026-12-31 23:59:29", ("Thu 31 Dec", "2026", "23:59")),
        ("2026-12-31 23:59:30", ("Fri 1 Jan", "2027", "00:00")),
        ("2028-02-29 12:00:00", ("Tue 29 Feb", "2028", "12:00")),
    ],
)
def test_rounding_takes_day_and_year_along(at: str, said: tuple[str, str, str]) -> None:
    """By hand, with a printed calendar of the years."""
    found = wall(UTC_ZONE, moment(at))

    assert (found.day, found.year, found.time) == said


@given(st.integers(0, 4_000_000_000))
def test_stamp_agrees_with_the_standard_library(at: int) -> None:
    assert utc_stamp(float(at)) == f"{datetime.fromtimestamp(at, UTC):%Y%m%dT%H%M%SZ}"
