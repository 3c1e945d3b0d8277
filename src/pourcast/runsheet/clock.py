"""Clock: what does the clock on the wall say at a moment of the job?

A moment is counted in seconds since 1970 in universal time.  The wall clock is so
far ahead of it as the zone says; days and months come from the calendar of numpy,
which has no leap seconds, as no wall clock has.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.runsheet.model import Zone

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_THURSDAY = 3  # 1 January 1970


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """What the wall clock and the calendar say.

    Parameters
    ----------
    day : str
        Such as "Sat 5 Dec".
    year : str
    time : str
        Such as "18:30"; with the letters of the zone where the hour comes twice.
    """

    day: str
    year: str
    time: str


def wall(zone: Zone, moment: si.Second, step: si.Second = 60.0) -> Wall:
    """Return what the wall clock says.

    Parameters
    ----------
    zone : Zone
    moment : float [s]
        Since 1970 in universal time.
    step : float [s]
        To which it is rounded; > 0.

    Examples
    --------
    >>> utc = Zone(name="UTC", since=(0.0,), ahead=(0.0,), letters=("UTC",))
    >>> wall(utc, 1_796_495_400.0)
    Wall(day='Sat 5 Dec', year='2026', time='18:30')
    """
    rounded = step * float(np.floor(moment / step + 0.5))
    place = _place(zone, rounded)
    there = rounded + zone.ahead[place]
    stamp = str(np.datetime64(round(there), "s"))
    date, _, clock = stamp.partition("T")
    year, month, day = date.split("-")
    name = _DAYS[(int(there // 86_400.0) + _THURSDAY) % 7]
    letters = f" {zone.letters[place]}" if _comes_twice(zone, rounded) else ""
    return Wall(
        day=f"{name} {int(day)} {_MONTHS[int(month) - 1]}", year=year, time=clock[:5] + letters
    )


def changes(zone: Zone, first: si.Second, last: si.Second) -> list[tuple[si.Second, si.Second]]:
    """Return when the clocks change between two moments, and by how much.

    Parameters
    ----------
    zone : Zone
    first, last : float [s]
        Since 1970 in universal time.

    Returns
    -------
    list of pair of float [s]
        Moment, and how far the clock goes forward; below 0: back.
    """
    return [
        (since, zone.ahead[k] - zone.ahead[k - 1])
        for k, since in enumerate(zone.since)
        if k and first < since <= last and zone.ahead[k] != zone.ahead[k - 1]
    ]


def changes_told(zone: Zone, first: si.Second, last: si.Second) -> list[str]:
    """Return each change of the clocks between two moments as a sentence.

    Parameters
    ----------
    zone : Zone
    first, last : float [s]
        Since 1970 in universal time.
    """
    told = []
    for moment, forward in changes(zone, first, last):
        before = wall(
            Zone(
                name="", since=(0.0,), ahead=(zone.ahead[_place(zone, moment) - 1],), letters=("",)
            ),
            moment,
        )
        way = "forward" if forward > 0.0 else "back"
        told.append(
            f"The clocks go {way} by {abs(forward) / 60.0:.0f} min on {before.day} at "
            f"{before.time}. Kiln and furnace go on: every hour on this sheet is that of the "
            "clock on the wall, with the change in it."
        )
    return told


def utc_stamp(moment: si.Second) -> str:
    """Return a moment as calendars write it in universal time, to the second.

    Parameters
    ----------
    moment : float [s]
        Since 1970 in universal time.

    Examples
    --------
    >>> utc_stamp(1_796_495_400.0)
    '20261205T183000Z'
    """
    stamp = str(np.datetime64(round(moment), "s"))
    return stamp.replace("-", "").replace(":", "") + "Z"


def ahead_at(zone: Zone, moment: si.Second) -> si.Second:
    """Return by how much the wall clock is ahead of universal time [s].

    Parameters
    ----------
    zone : Zone
    moment : float [s]
        Since 1970 in universal time.
    """
    return zone.ahead[_place(zone, moment)]


def _place(zone: Zone, moment: si.Second) -> int:
    return max(sum(since <= moment for since in zone.since) - 1, 0)


def _comes_twice(zone: Zone, moment: si.Second) -> bool:
    """Return whether the wall clock says the same at another moment."""
    return any(
        forward < 0.0 and since + forward <= moment < since - forward
        for since, forward in changes(zone, zone.since[0], zone.since[-1])
    )
