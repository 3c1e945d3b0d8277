"""The burnout in words and in its picture: hours, clock times, and what is not reached."""

import math
import re

import pytest

from pourcast.forecast.burnout_forecast import burnout_forecast, hour
from pourcast.forecast.model import BurnoutForecast
from pourcast.page import words_burn as words
from pourcast.page.svg_burn import heat_over_the_day
from tests.burnout.hand import DRAWS, HOUR, result


def made(**faults: int) -> BurnoutForecast:
    return burnout_forecast(result(**faults))  # type: ignore[arg-type]


def plain(said: str) -> str:
    return said.replace("\u00a0", " ")


def test_answer_tells_dry_and_clean_with_the_late_end() -> None:
    """By hand: dry from 4 to 5 h, clean from 10 to 11 h, evenly."""
    assert plain(words.answer(made())) == (
        "Dry after 4 h 30 min. Clean after 10 h 30 min, perhaps as late as 10 h 55 min."
    )


def test_answer_tells_clock_times_where_the_start_is_known() -> None:
    assert plain(words.answer(made(), 5.0 * HOUR)) == (
        "Dry by 09:30. Clean by 15:30, perhaps as late as 15:55."
    )


@pytest.mark.parametrize(
    ("dirty", "said"),
    [
        (4, "but not in every draw within this curve"),
        (15, "Not clean within this curve"),
    ],
)
def test_what_does_not_come_within_the_curve_has_no_hour(dirty: int, said: str) -> None:
    assert said in plain(words.answer(made(dirty=dirty)))


def test_no_hour_is_made_between_one_that_is_known_and_one_that_is_not() -> None:
    times = hour(result(dirty=DRAWS // 2 + 1).fate.clean_at)

    assert times.p10 is not None
    assert times.p50 is None
    assert times.p90 is None


def test_chance_is_never_written_as_certain() -> None:
    assert "In over 99 of 100" in words.chance(made())


def test_the_next_day_is_named() -> None:
    assert words.clock(20 * HOUR + 10 * HOUR) == "06:00 the next day"
    assert words.clock(20 * HOUR + 50 * HOUR) == "22:00 2 days later"


@pytest.mark.parametrize("faults", [{}, {"wet": DRAWS, "dirty": DRAWS}, {"dirty": 4}])
@pytest.mark.parametrize("start", [None, 5.5 * HOUR])
def test_picture_stays_within_its_frame(faults: dict[str, int], start: float | None) -> None:
    drawn = heat_over_the_day(made(**faults), top=1003.15, stop=1033.15, start=start)

    points = re.findall(r"(-?[0-9.]+),(-?[0-9.]+)", str(drawn).split("<g", 1)[0])
    assert len(points) > 100
    for x, y in points:
        assert -1.0 <= float(x) <= 401.0
        assert -1.0 <= float(y) <= 340.0


def test_picture_draws_the_limits_where_its_scale_has_them() -> None:
    """The scale runs from 0 at the foot; 760 °C stands where the numbers say."""
    drawn = str(heat_over_the_day(made(), top=1003.15, stop=1033.15))
    marks = {
        int(text.split(">")[1].split("<")[0]): float(text.split('y="')[1].split('"')[0]) - 4.0
        for text in drawn.split("<text")
        if 'text-anchor="end">' in text and text.split(">")[1].split("<")[0].isdigit()
    }
    per_degree = (marks[200] - marks[600]) / 400.0
    hard = float(drawn.split('class="limit hard" d="M46.0,')[1].split("H")[0])

    assert hard == pytest.approx(marks[200] - 560.0 * per_degree, abs=0.2)
    assert math.isfinite(per_degree)
