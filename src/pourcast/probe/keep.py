"""Keep: what a thermometer said, put into the book of a day, or told.

A reading goes where a typed one goes: it is kept first, and the day then judges whether
it is believed.  One that comes twice with one moment is one; one that comes late takes
its place in time.  What cannot be kept is told with its text: a line that is no
reading, a number outside what the book takes, a moment that is not of this day.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta

from pourcast import units as si
from pourcast.book.days import keep_reading
from pourcast.book.kiln_days import KINDS
from pourcast.book.store import Book
from pourcast.errors import InputError
from pourcast.probe.lines import heard
from pourcast.probe.model import Arrival, Heard

EARLY = timedelta(minutes=10)
"""Before the start, from which on readings are of the day; estimate, as for a log."""

AHEAD = timedelta(days=1)
"""By which a moment may lie ahead of our clock; a clock that far off was never set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What became of an arrival.

    Parameters
    ----------
    kept : Heard or None
    at : datetime or None
        Under which it was kept.
    told : str
        What the caster should know; "" where there is nothing.
    """

    kept: Heard | None
    at: datetime | None
    told: str


def keep_arrival(book: Book, pour_id: str, arrival: Arrival, *, start: datetime) -> Outcome:
    """Keep what arrived, and let go of it at its source.

    Parameters
    ----------
    book : Book
    pour_id : str
    arrival : Arrival
    start : datetime
        Of the day.
    """
    name = arrival.source.name
    if not arrival.text:
        if arrival.done is not None:
            arrival.done()
        empty = arrival.told or "sent nothing"
        return Outcome(kept=None, at=None, told=f"{name}: {empty}")
    try:
        said = heard(arrival.text, arrival.source)
        at = said.at or arrival.arrived
        if arrival.told and said.at is None:
            raise InputError("reading", arrival.text[:60], "", "with its time, for it is old")
        if not start - EARLY <= at <= arrival.arrived + AHEAD:
            raise InputError("time of the reading", at.isoformat(), "", "of this day")
        value = round(si.from_si(said.temperature, "degC"), 4)
        keep_reading(book, pour_id, KINDS[said.place], value, taken=at)
    except InputError as fault:
        told = f"{name}: not kept: {arrival.text[:80]!r}. {fault}"
        found = Outcome(kept=None, at=None, told=told)
    else:
        found = Outcome(kept=said, at=at, told="")
    if arrival.done is not None:
        arrival.done()
    return found
