"""Kiln logs as text: what is read, what is told, and every fault with its line.

Outside: ISO 8601 for dates and times, RFC 4180 for rows; the calendar is held
against the one of the standard library.
"""

import csv
import io
from datetime import UTC, datetime, timedelta, timezone

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.burnout.curves import curve_of_log
from pourcast.burnout.log import MOST_READINGS, KilnLog, read_log, without_doubles
from pourcast.burnout.log_times import clock_steps, read_moment
from pourcast.errors import InputError, SheetError


def celsius(log: KilnLog) -> list[float]:
    return [round(each - 273.15, 6) for each in log.temperature.tolist()]


def faults(text: str) -> list[str]:
    with pytest.raises(SheetError) as caught:
        read_log(text, "monday.csv")
    lines = str(caught.value).splitlines()
    assert all(line.startswith("monday.csv:") for line in lines)
    return [line.removeprefix("monday.csv:") for line in lines]


@pytest.mark.parametrize(
    ("text", "minutes", "heats", "dial", "start"),
    [
        ("time,temperature_C,dial\n08:40,20,1\n08:55,35,2\n", [0, 15], [20, 35], [1, 2], 31200),
        (
            "time;temperature_C;dial\n08:40;20,5;1\n08:55;35,25;\n",
            [0, 15],
            [20.5, 35.25],
            [1, 1],
            31200,
        ),
        ("time_min\tTemp (°F)\n0\t68\n30\t212\n", [0, 30], [20, 100], None, None),
        (
            "Elapsed [h],Kiln temperature [K]\n0,293.15\n0.5,373.15\n",
            [0, 30],
            [20, 100],
            None,
            None,
        ),
        ("time (h);temp °C\n0;20\n1,5;100\n", [0, 90], [20, 100], None, None),
        ("clock,temperature_C\n8:40 pm,20\n12:10 am,30\n", [0, 210], [20, 30], None, 74400),
        (
            "timestamp,temperature_C\n2026-11-25T23:50,20\n2026-11-26T00:20,30\n",
            [0, 30],
            [20, 30],
            None,
            85800,
        ),
        (
            "date;time;temperature_C\n2026-11-25;23:50;20\n2026-11-26;00:20;30\n",
            [0, 30],
            [20, 30],
            None,
            85800,
        ),
        (
            '"time","temperature_C"\r\n"08:40","20"\r\n"08:55","35"\r\n',
            [0, 15],
            [20, 35],
            None,
            31200,
        ),
        (
            "\ufeff# made up\n\ntime,temperature_C\n08:40,20\n\n08:55,35\n",
            [0, 15],
            [20, 35],
            None,
            31200,
        ),
        (
            "time_s,temperature_C,dial (%)\n0,20,50\n60,21,\n120,22,0\n",
            [0, 1, 2],
            [20, 21, 22],
            [0.5, 0.5, 0],
            None,
        ),
        ("time_s,temperature_C,\n0,20,\n60,21,\n", [0, 1], [20, 21], None, None),
        ("time_h,temperature_C\n0,20\n1 h 30 min,68 F\n", [0, 90], [20, 20], None, None),
    ],
    ids=[
        "plain",
        "decimal comma",
        "tabs and °F",
        "kelvin",
        "comma in the time",
        "pm to am",
        "ISO",
        "date apart",
        "quoted",
        "mark, remark and blanks",
        "per cent",
        "trailing comma",
        "own units",
    ],
)
def test_log_is_read(
    text: str,
    minutes: list[float],
    heats: list[float],
    dial: list[float] | None,
    start: float | None,
) -> None:
    log = read_log(text)

    assert (log.time / 60.0).tolist() == pytest.approx(minutes)
    assert celsius(log) == pytest.approx(heats)
    assert (None if log.dial is None else log.dial.tolist()) == dial
    assert log.start == start


def test_rows_out_of_order_are_put_in_order_and_told() -> None:
    """The dial that stands empty is that of the moment before it, not of the row before."""
    log = read_log("time,temperature_C,dial\n08:40,20,1\n09:10,60,3\n08:55,35,\n09:25,80,\n")

    assert log.time.tolist() == [0, 900, 1800, 2700]
    assert celsius(log) == [20, 35, 60, 80]
    assert log.dial is not None
    assert log.dial.tolist() == [1, 1, 3, 3]
    assert log.line.tolist() == [2, 4, 3, 5]
    assert [(told.line, told.text) for told in log.told] == [
        (4, "stands after a later reading; put in its place")
    ]


def test_doubled_readings_are_kept_and_told_and_can_be_made_one() -> None:
    log = read_log("time,temperature_C,dial\n08:40,20,1\n08:55,30,1\n08:55,40,2\n09:10,60,2\n")

    assert log.time.size == 4
    assert [told.text for told in log.told] == ["has the same time as line 3; both are kept"]
    with pytest.raises(InputError, match="later than the point before it"):
        curve_of_log(log.time, log.temperature)

    single = without_doubles(log)

    assert celsius(single) == [20, 35, 60]
    assert single.dial is not None
    assert single.dial.tolist() == [1, 2, 2]
    assert curve_of_log(single.time, single.temperature).time[-1] == 1800.0


def test_column_that_is_none_of_ours_is_told() -> None:
    log = read_log("time,temperature_C,humidity\n08:40,20,50\n08:55,35,51\n")

    assert [told.text for told in log.told] == ["humidity: not read"]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("", ["1: log: is empty"]),
        ("\n \n", ["1: log: is empty"]),
        ("time,temperature_C\n", ["1: log: no reading"]),
        ("time,temperature\n08:40,20\n", ["1: head: temperature; it must be one with °C or °F"]),
        ("time,heat_C\n08:40,20\n", ["1: head: time, heat_C; it must be one with a column temp"]),
        (
            "when,temperature_C\n08:40,20\n",
            ["1: head: when, temperature_C; it must be one with a column time"],
        ),
        ("time,temperature_C,temp_F\n08:40,20,68\n", ["1: head: temp_F; it must be the only one"]),
        (
            "time,temperature_psi\n08:40,20\n",
            ["1: head: temperature_psi; it must be temperature with one of"],
        ),
        (
            "date,time_h,temperature_C\n2026-11-25,1,20\n",
            ["1: head: time_h; it must be without a unit"],
        ),
        (
            "date_d,time,temperature_C\n2026-11-25,08:40,20\n",
            ["1: head: date_d; it must be date alone"],
        ),
        ("time,temperature_C\n1,20\n2,30\n", ["2: time: 1; ", "3: time: 2; "]),
        ("time_h,temperature_C\n08:40,20\n", ["2: time: 08:40; "]),
        ("time,temperature_C\n25:00,20\n08:61,30\n8.40,40\n", ["2", "3", "4"]),
        ("time,temperature_C\n13:00 pm,20\n", ["2: time: 13:00 pm; it must be 1 to 12"]),
        ("time,temperature_C\n25/11/2026 08:40,20\n", ["2: time: 25/11/2026 08:40"]),
        (
            "time,temperature_C\n2026-02-30 08:40,20\n",
            ["2: time: 2026-02-30 08:40; it must be a day that"],
        ),
        (
            "time,temperature_C\n08:40,20\n2026-11-25 09:00,20\n",
            ["3: time: has a date or lacks it"],
        ),
        (
            "time,temperature_C\n08:40,20\n07:00,20\n07:15,20\n",
            ["3: time: 07:00; it must be up to 12 h"],
        ),
        (
            "time_h,temperature_C\n0,nan\n1,\n2,5000\n3,-200\n-4,20\n",
            ["2", "3", "4", "5", "6: time"],
        ),
        ("time_h;temperature_C\n0;1,234\n", ["2: temperature: 1,234; it must be"]),
        (
            "time_h,temperature_C\n0,20,5\n1\n",
            ["2: row: has 3 columns; the head has 2", "3: row: has 1 columns"],
        ),
        ("time_h,temperature_C,dial\n0,20,\n1,30,2\n", ["2: dial: is not said"]),
        ("time_h,temperature_C,dial\n0,20,high\n1,30,2\n", ["2: dial: high"]),
        ('time_h,temperature_C\n0,"20\n1,30\n', [""]),
    ],
)
def test_every_fault_stands_with_its_line(text: str, found: list[str]) -> None:
    said = faults(text)

    assert len(said) == len(found)
    for line, begins in zip(said, found, strict=True):
        assert line.startswith(begins)


def test_comma_with_three_figures_is_read_where_another_cell_settles_it() -> None:
    """1,234 alone could be 1234; beside 20,5 it is 1.234, as no log has both."""
    log = read_log("time_h;temperature_C\n0;20,5\n1;123,125\n")

    assert celsius(log) == [20.5, 123.125]


def test_many_faults_are_named_up_to_fifty() -> None:
    said = faults("time_h,temperature_C\n" + "0,x\n" * 80)

    assert len(said) == 51
    assert said[-1].endswith("and 30 more faults from here on")


def test_log_that_is_too_long_is_refused_at_once() -> None:
    assert "at most" in faults("time_s,temperature_C\n" + "1,20\n" * MOST_READINGS)[0]


@given(
    moment=st.datetimes(datetime(1971, 1, 1), datetime(2100, 1, 1)),
    offset=st.none() | st.integers(-56, 56).map(lambda each: timedelta(minutes=15 * each)),
)
def test_dates_are_those_of_the_calendar(moment: datetime, offset: timedelta | None) -> None:
    """ISO 8601, against the calendar of the standard library; to the second."""
    moment = moment.replace(microsecond=0)
    zone = UTC if offset is None else timezone(offset)
    text = moment.isoformat() if offset is None else moment.replace(tzinfo=zone).isoformat()

    read = read_moment(text)

    assert read.day is not None
    assert read.day + read.in_day == moment.replace(tzinfo=zone).timestamp()
    assert read.in_day == moment.hour * 3600 + moment.minute * 60 + moment.second


@given(steps=st.lists(st.integers(-59, 720), min_size=1, max_size=40), first=st.integers(0, 1439))
def test_clock_times_run_on_over_midnight(steps: list[int], first: int) -> None:
    """Property: what a clock shows of any day with gaps under 12 h gives the day back."""
    true = first + np.concatenate(([0], np.cumsum(steps)))

    found = clock_steps([60.0 * (minute % 1440) for minute in true.tolist()])

    assert found == pytest.approx((true * 60.0).tolist())


@given(
    rows=st.lists(
        st.tuples(st.integers(0, 2000), st.integers(-50, 14_000), st.integers(0, 9)),
        min_size=1,
        max_size=30,
        unique_by=lambda row: row[0],
    ),
    delimiter=st.sampled_from((",", ";", "\t")),
    quoting=st.sampled_from((csv.QUOTE_ALL, csv.QUOTE_MINIMAL)),
)
def test_log_that_was_written_is_read_back(
    rows: list[tuple[int, int, int]], delimiter: str, quoting: int
) -> None:
    """Against the writer of the standard library, RFC 4180; tenths of a degree."""
    text = io.StringIO()
    writer = csv.writer(text, delimiter=delimiter, quoting=quoting)  # type: ignore[arg-type]
    writer.writerow(["time_min", "temperature_C", "dial"])
    for minute, tenths, dial in rows:
        written = f"{tenths / 10:.1f}".replace(".", "." if delimiter == "," else ",")
        writer.writerow([minute, written, dial])

    log = read_log(text.getvalue())

    kept = sorted(rows)
    assert log.time.tolist() == pytest.approx([60.0 * (row[0] - kept[0][0]) for row in kept])
    assert celsius(log) == pytest.approx([row[1] / 10 for row in kept])
    assert log.dial is not None
    assert log.dial.tolist() == [row[2] for row in kept]


@given(text=st.text(alphabet='time,_C;\t\n"0123456789:.-x°F ', max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    """Fuzz: nothing but a log or a `SheetError` comes out of any text."""
    for head in ("", "time_min,temperature_C,dial\n", "time;temperature_F\n"):
        try:
            log = read_log(head + text)
        except SheetError:
            continue
        assert np.isfinite(log.temperature).all()
        assert (np.diff(log.time) >= 0.0).all()
        assert log.time[0] == 0.0
