"""Day alarms: what is still to come of a kiln day, as a calendar file for a phone.

A page on a dark screen cannot ring; the calendar of the phone can.  Times are in
universal time, so any phone shows them right (RFC 5545).
"""

from datetime import UTC, datetime, timedelta

import icalendar

from pourcast import __version__
from pourcast import units as si
from pourcast.app.day_next import NextAct, next_acts
from pourcast.app.day_room import DayNow
from pourcast.page.figures import clean
from pourcast.page.words_day import SHOWN, hours

_LASTS = timedelta(minutes=5)
_BEFORE = timedelta(minutes=2)


def alarms(day: DayNow, now: si.Second) -> bytes:
    """Return the calendar file.

    Parameters
    ----------
    day : DayNow
    now : float [s]
        Since 1970.
    """
    made = icalendar.Calendar()
    made.add("prodid", f"-//pourcast//{__version__}//EN")
    made.add("version", "2.0")
    coming = [act for act in next_acts(day, now) if act.at > now]
    for key, (hour, _) in hours(day.forecast).items():
        if hour.p90 is not None and day.forecast.start + hour.p90 > now:
            at = day.forecast.start + hour.p90
            coming.append(NextAct(at=at, text=f"Look: {SHOWN[key]}?", key="kiln"))
    name = clean(day.plan.piece.name)
    for number, act in enumerate(sorted(coming, key=lambda each: each.at)):
        made.add_component(_event(act, name, f"{day.pour.id}-{number}", now))
    return bytes(made.to_ical())


def _event(act: NextAct, name: str, uid: str, now: si.Second) -> icalendar.Event:
    at = datetime.fromtimestamp(round(act.at), UTC)
    event = icalendar.Event()
    event.add("uid", f"{uid}@pourcast")
    event.add("dtstamp", datetime.fromtimestamp(round(now), UTC))
    event.add("dtstart", at)
    event.add("dtend", at + _LASTS)
    event.add("summary", f"{act.text}: {name}")
    alarm = icalendar.Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", act.text)
    alarm.add("trigger", -_BEFORE)
    event.add_component(alarm)
    return event
