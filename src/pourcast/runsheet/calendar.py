"""The run sheet as a calendar file (iCalendar, RFC 5545).

Each act that calls for the caster is an event.  Times are universal time, so that
every phone shows them right on both sides of a change of the clocks.  The identity
of an event is made of the plan and the act: the events of a new run sheet of the
same plan take the place of the old ones, since a calendar keeps the one with the
later stamp.  An act that the new sheet no longer has stays until it is deleted by
hand.
"""

from typing import TYPE_CHECKING

from pourcast import units as si
from pourcast.runsheet.clock import utc_stamp
from pourcast.runsheet.figures import JOIN
from pourcast.runsheet.model import LAST_WORD, TITLES, Act, RunSheet
from pourcast.runsheet.text import origin, reading_told, when_told

if TYPE_CHECKING:
    from icalendar import Event

SHORTEST = 300.0
"""s that an event takes at least, so that it can be seen; our own choice."""

PRODUCT = "-//pourcast//run sheet//EN"


def calendar_file(sheet: RunSheet, *, stamp: si.Second) -> bytes:
    """Return the calendar file.

    Parameters
    ----------
    sheet : RunSheet
    stamp : float [s]
        Now, since 1970 in universal time; of two files the later counts.

    Returns
    -------
    bytes
        UTF-8, lines ended as RFC 5545 asks.
    """
    from icalendar import Calendar

    made = Calendar()
    made.add("prodid", PRODUCT)
    made.add("version", "2.0")
    for act in sheet.acts:
        if act.alarm is not None:
            made.add_component(_event(sheet, act, stamp))
    return bytes(made.to_ical())


def _event(sheet: RunSheet, act: Act, stamp: si.Second) -> "Event":
    from icalendar import Alarm, Event, vDatetime, vDuration

    def moment(at: si.Second) -> object:
        # Its own reader makes the moment: no clock or calendar of the system comes in here.
        return vDatetime.from_ical(utc_stamp(at))  # type: ignore[no-untyped-call]

    begins = sheet.start + act.at
    # The end of a long hold is no busy hour of the caster.
    ends = sheet.start + act.until if act.key in _SPANS and act.until is not None else begins
    event = Event()
    event.add("uid", f"{sheet.identity}-{act.key}@pourcast")
    event.add("dtstamp", moment(stamp))
    event.add("sequence", int(stamp // 60.0))
    event.add("dtstart", moment(begins))
    event.add("dtend", moment(max(ends, begins + SHORTEST)))
    event.add("summary", _plain(f"{sheet.name}: {act.what}"))
    event.add("description", _plain("\n".join(filter(None, _told(sheet, act)))))
    event.add("categories", [TITLES[act.stage]])
    lead = f"-PT{round(act.alarm or 0.0)}S"
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", _plain(act.what))
    alarm.add("trigger", vDuration.from_ical(lead))  # type: ignore[no-untyped-call]
    event.add_component(alarm)
    return event


_SPANS = ("weigh", "mix", "quench")
"""Acts that take the caster from their beginning to their end."""


def _told(sheet: RunSheet, act: Act) -> list[str]:
    spread = when_told(sheet, act)
    care = {fact.key: fact.text for block in sheet.blocks for fact in block.care}
    return [
        "Invented demo." if sheet.invented else "",
        act.why,
        f"Spread: {spread}." if spread else "",
        *(f"Write down: {reading_told(reading)}" for reading in act.readings),
        *(f"Take care. {care[key]}" for key in act.cautions),
        LAST_WORD,
        origin(sheet),
    ]


def _plain(text: str) -> str:
    return text.replace(JOIN, " ")
