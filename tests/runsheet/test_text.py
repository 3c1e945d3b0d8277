"""The run sheet on a terminal: its width, its letters, and names that mean harm."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.runsheet.figures import clean, span
from pourcast.runsheet.model import LAST_WORD, MARKS_TOLD, TITLES
from pourcast.runsheet.text import MOST_PARTS, lines
from tests.runsheet.sample import LATE_SUMMER, burnout, dial, forecast, named, sheet


def places(line: str) -> int:
    """Places of a line on a terminal, counted by another library."""
    from rich.cells import cell_len

    return cell_len(line)


@pytest.mark.parametrize("name", ["Teasel", "蝶" * 60, "x" * 300, "a " * 90, "é" * 120])
def test_no_line_is_wider_than_80_places(name: str) -> None:
    told = lines(sheet(named(name)))

    assert max(map(places, told)) <= 80


def test_each_stage_stands_once_and_in_order() -> None:
    told = lines(sheet())
    heads = [line for line in told if line in {title.upper() for title in TITLES.values()}]

    assert heads == ["BENCH", "KILN", "MELT AND POUR", "BREAK-OUT"]


def test_every_act_has_a_box_and_its_hour() -> None:
    made = sheet()
    rows = [line for line in lines(made) if re.match(r"\d\d:\d\d.{5}\[ \] ", line)]

    assert len(rows) == len(made.acts)
    assert rows[0].startswith("18:30     [ ] Weigh powder")


def test_hours_that_nobody_chose_carry_their_letter() -> None:
    told = "\n".join(lines(sheet(kiln_in="2026-12-06 05:00")))

    assert "17:00 (w) [ ] Clean by now." in told
    assert "[15:00 to 20:00]" in told
    assert "05:00     [ ] Turn up for 150 °C" in told
    assert " ".join(MARKS_TOLD.split()) in " ".join(told.split())


def test_midnight_names_the_next_day() -> None:
    told = lines(sheet(start="2026-12-31 22:00"))

    assert "Thu 31 Dec" in told
    assert "Fri 1 Jan" in told


def test_hour_that_comes_twice_is_told_apart() -> None:
    told = "\n".join(lines(sheet(start=LATE_SUMMER, kiln_in="2026-10-24 22:00")))

    assert "02:10 CEST" in told


def test_demo_is_called_invented_and_the_law_comes_last() -> None:
    told = "\n".join(lines(sheet()))

    assert told.startswith("Sea-holly head, no. 14  (invented demo)\n")
    assert LAST_WORD in told
    assert "seed 14" in told


def test_stops_stand_before_the_scales() -> None:
    told = lines(sheet())

    assert told.index("Settle first") < told.index("Weigh")


def test_many_parts_are_counted_and_not_lost() -> None:
    told = "\n".join(lines(sheet(forecast(parts=60, worked_out=burnout()))))

    assert told.count("Side shoot") == MOST_PARTS
    assert f"and {60 - MOST_PARTS} more" in told


def test_turns_are_told_with_what_the_gauge_should_show() -> None:
    told = "\n".join(lines(sheet(dial=dial(4), kiln_in="2026-12-06 05:00")))

    assert "05:40 (w) [ ] Dial to 5.21, near 60 °C." in told


@given(st.text(max_size=120))
def test_no_name_brings_an_escape_or_a_turn_of_direction(name: str) -> None:
    """Property: control signs and marks of direction never reach the terminal."""
    told = clean(name)

    assert not re.search("[\x00-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]", told)
    assert clean(told) == told


@given(st.integers(0, 1_000_000))
def test_span_is_read_back_within_half_of_its_last_unit(seconds: int) -> None:
    """Property: hours, minutes and seconds add up to what went in."""
    told = span(float(seconds)).split("\u00a0")
    factors = {"h": 3600, "min": 60, "s": 1}
    back = sum(
        int(count) * factors[unit] for count, unit in zip(told[::2], told[1::2], strict=True)
    )

    assert abs(back - seconds) <= (0 if seconds < 600 else 30)
