"""Log times: when was a reading of a kiln log taken?

Three ways to write it, one for a whole log:

- a number, in the unit that the head of the column names: hours, minutes, seconds;
- a clock time, "08:40", "8:40 pm" or "08:40:30", without a date;
- a date and a time as ISO 8601 has them, "2026-11-25 08:40" or with T, seconds and
  an offset from universal time.

Clock times pass midnight: a step is read as up to `LONGEST_GAP` forward or up to
`MOST_BACK` back, and anything between is asked for with its date.  Left out: the
hour that is put forward or back in spring and autumn; times with an offset have it.
"""

import calendar
import re
from dataclasses import dataclass

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.trade_units import read

DAY = 86_400.0
LONGEST_GAP = 43_200.0
"""s, 12 h: a longer gap between clock times needs the date; estimate."""

MOST_BACK = 3600.0
"""s: how far a clock time may lie before the row above it; estimate."""

_CLOCK = re.compile(
    r"(?P<hour>\d{1,2}):(?P<minute>\d{2})(?::(?P<second>\d{2}(?:[.,]\d+)?))?"
    r"\s*(?P<half>am|pm)?",
    re.IGNORECASE,
)
_ISO = re.compile(
    r"(?P<year>\d{4})-(?P<month>\d{2})-(?P<day>\d{2})[T ]\s*"
    r"(?P<hour>\d{1,2}):(?P<minute>\d{2})(?::(?P<second>\d{2}(?:[.,]\d+)?))?"
    r"\s*(?P<offset>Z|[+-]\d{2}:?\d{2})?",
    re.IGNORECASE,
)
_SUCH_AS = "a clock time such as 08:40, or a date and time such as 2026-11-25 08:40"


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """A clock time as written, with its date or without.

    Parameters
    ----------
    in_day : float [s]
        Since midnight, as the clock on the wall has it.
    day : float or None [s]
        Midnight of its date since that of 1970, less the offset; None: no date.
    """

    in_day: si.Second
    day: si.Second | None


def read_elapsed(text: str, unit: str) -> si.Second:
    """Return a time since the start of a log.

    Parameters
    ----------
    text : str
    unit : str
        Of a plain number: "s", "min" or "h".

    Returns
    -------
    float [s]

    Raises
    ------
    InputError
        If the text is no time.
    """
    return read(text, "time", default_unit=unit)


def read_moment(text: str) -> Moment:
    """Return a clock time, or a date and time.

    Parameters
    ----------
    text : str

    Returns
    -------
    Moment

    Raises
    ------
    InputError
        If the text is neither, or no such moment exists.

    Examples
    --------
    >>> read_moment("8:40 pm")
    Moment(in_day=74400.0, day=None)
    >>> read_moment("1970-01-02T08:40+01:00")
    Moment(in_day=31200.0, day=82800.0)
    """
    written = text.strip()
    dated = _ISO.fullmatch(written)
    if dated is not None:
        in_day = _in_day(written, int(dated["hour"]), dated)
        return Moment(in_day=in_day, day=_midnight(written, dated))
    clock = _CLOCK.fullmatch(written)
    if clock is None:
        raise InputError("time", written or "(empty)", "", _SUCH_AS, _hint(written))
    hour = int(clock["hour"])
    if clock["half"]:
        if not 1 <= hour <= 12:
            raise InputError("time", written, "", "1 to 12 o'clock with am or pm")
        hour = hour % 12 + (12 if clock["half"].lower() == "pm" else 0)
    return Moment(in_day=_in_day(written, hour, clock), day=None)


def clock_steps(since_midnight: list[si.Second]) -> list[si.Second | InputError]:
    """Return clock times as times that run on over midnight.

    Parameters
    ----------
    since_midnight : list of float [s]
        In the order of the log.

    Returns
    -------
    list of float or InputError [s]
        Since the midnight before the first one; an error in place of a time that
        lies neither shortly before nor within `LONGEST_GAP` after the one above.
    """
    found: list[si.Second | InputError] = []
    now = since_midnight[0] if since_midnight else 0.0
    for clock in since_midnight:
        forward = (clock - now) % DAY
        if forward <= LONGEST_GAP:
            now += forward
        elif DAY - forward <= MOST_BACK:
            now -= DAY - forward
        else:
            found.append(
                InputError(
                    "time",
                    as_clock(clock),
                    "",
                    "up to 12 h after the row above it, or up to 1 h before",
                    "Write the date with each time.",
                )
            )
            # What comes after is held against this row, so that one slip is one fault.
            now += forward
            continue
        found.append(now)
    return found


def as_clock(since_midnight: si.Second) -> str:
    """Return a moment as hours and minutes of the day, to the nearest minute.

    Parameters
    ----------
    since_midnight : float [s]
        Of the first day; later days go on counting.

    Returns
    -------
    str

    Examples
    --------
    >>> as_clock(38_400.0), as_clock(90_000.0)
    ('10:40', '01:00')
    """
    minutes = round(since_midnight / 60.0) % 1440
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def _in_day(written: str, hour: int, found: re.Match[str]) -> si.Second:
    minute, second = int(found["minute"]), float((found["second"] or "0").replace(",", "."))
    if hour > 23 or minute > 59 or second >= 60.0:
        raise InputError("time", written, "", "a time of the day, 00:00 to 23:59")
    return 3600.0 * hour + 60.0 * minute + second


def _midnight(written: str, found: re.Match[str]) -> si.Second:
    year, month, day = int(found["year"]), int(found["month"]), int(found["day"])
    if not (year >= 1970 and 1 <= month <= 12 and 1 <= day <= calendar.monthrange(year, month)[1]):
        raise InputError("time", written, "", "a day that is in the calendar, from 1970 on")
    midnight = calendar.timegm((year, month, day, 0, 0, 0))
    return float(midnight) - _offset(found["offset"])


def _offset(written: str | None) -> si.Second:
    if written is None or written in "Zz":
        return 0.0
    sign = -1.0 if written[0] == "-" else 1.0
    return sign * (3600.0 * int(written[1:3]) + 60.0 * int(written[-2:]))


def _hint(written: str) -> str:
    if re.fullmatch(r"[0-9]+([.,][0-9]+)?", written):
        return "For a plain number name the unit in the head: time_h, time_min or time_s."
    if re.search(r"\d[/.]\d+[/.]\d", written):
        return "Which is the month? Write year, month and day as 2026-11-25."
    return ""
