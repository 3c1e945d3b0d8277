"""Kiln days: a pour from the moment its block goes into the kiln, read and acted on.

A day is a pour with an event "began".  Readings stand in their own table
(`pourcast.book.days`), acts in ``events``.  Both are only ever added to: an act that
was entered by mistake is taken back by another entry, and the first one stays.

An entry may carry a key of its sender.  What comes twice with one key, as from a
telephone that was out of reach and sends again, is one entry.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast import units as si
from pourcast.book import tables
from pourcast.book.days import count_readings, readings_of
from pourcast.book.model import KeptEvent, Pour, Reading
from pourcast.book.outcomes import load_pour, put_pour
from pourcast.book.pour_days import standing
from pourcast.book.store import Book, find_id, new_id, retried
from pourcast.book.words import BEGAN, DAY_ACTS
from pourcast.day.model import ACTS, Act, DayEvent, DayLog, DayReading, Place
from pourcast.errors import InputError

PLACES: dict[str, Place] = {
    "kiln_C": "kiln",
    "wall_C": "wall",
    "core_C": "core",
    "metal_C": "metal",
}
"""Kind of a kept reading, and where its thermometer stands."""

KINDS: dict[Place, str] = {place: kind for kind, place in PLACES.items()}

_KEY_LENGTH = 100


@retried
def begin_day(book: Book, plan_id: str, *, start: datetime, at: datetime) -> Pour:
    """Begin a kiln day of a kept plan, and return its pour.

    Parameters
    ----------
    book : Book
    plan_id : str
    start : datetime
        When the block goes into the kiln, with its zone.
    at : datetime
        Now.
    """
    with book.writing() as connection:
        pour = put_pour(connection, plan_id, start.date(), at)
        put_event(connection, pour.id, BEGAN, at=start, entered=at, key=BEGAN)
        return load_pour(connection, pour.id)


def day_begun(book: Book, plan_id: str, start: datetime) -> Pour | None:
    """Return the day of a plan that began at a moment; None: there is none."""
    events, pours = tables.events.c, tables.pours.c
    asked = (
        sa.select(pours.id)
        .join(tables.events, events.pour_id == pours.id)
        .where(pours.plan_id == plan_id, events.act == BEGAN, events.at == start, standing())
        .order_by(pours.created)
    )
    with book.reading() as connection:
        found = connection.execute(asked).scalars().first()
        return None if found is None else load_pour(connection, found)


@retried
def keep_event(
    book: Book,
    pour_id: str,
    act: str,
    *,
    at: datetime,
    entered: datetime,
    setting: float | None = None,
    reading: str | None = None,
    takes_back: str | None = None,
    note: str = "",
    key: str | None = None,
) -> KeptEvent:
    """Keep an act and return it; one with a key that is there already is that one.

    Parameters
    ----------
    book : Book
    pour_id : str
    act : str
        One of `pourcast.book.words.DAY_ACTS`.
    at : datetime
        When it was done, with its zone; of "right" and "wrong" when the reading was taken.
    entered : datetime
        Now.
    setting : float or None
        Of the dial; needed where it was turned.
    reading : str or None
        Kind of the reading, for "right" and "wrong".
    takes_back : str or None
        Id of the event, for "taken back".
    note : str
    key : str or None
        Of the sender; None: an entry of its own.

    Raises
    ------
    InputError
        If the act is not known or lacks what it needs.
    """
    if act not in DAY_ACTS:
        raise InputError("act", act, "", "one of " + ", ".join(DAY_ACTS))
    if (act == "turned") != (setting is not None):
        raise InputError("setting of the dial", setting, "", "there where it was turned")
    if (act == "taken back") != (takes_back is not None):
        raise InputError("event taken back", takes_back, "", "named where one is taken back")
    if key is not None and not 1 <= len(key) <= _KEY_LENGTH:
        raise InputError("key of the entry", key[:40], "", f"1 to {_KEY_LENGTH} signs")
    with book.writing() as connection:
        pour = load_pour(connection, find_id(connection, tables.pours, pour_id))
        if takes_back is not None:
            _require_of(connection, pour.id, takes_back)
        return put_event(
            connection,
            pour.id,
            act,
            at=at,
            entered=entered,
            key=key,
            setting=setting,
            reading=reading,
            takes_back=takes_back,
            note=note,
        )


def put_event(
    connection: Connection,
    pour_id: str,
    act: str,
    *,
    at: datetime,
    entered: datetime,
    key: str | None = None,
    setting: float | None = None,
    reading: str | None = None,
    takes_back: str | None = None,
    note: str = "",
) -> KeptEvent:
    """Keep an act as part of a change; its parameters are those of `keep_event`."""
    events, made = tables.events, new_id()
    named = key or made
    there = sa.select(*tables.told(events)).where(
        events.c.pour_id == pour_id, events.c.key == named
    )
    before = connection.execute(there).mappings().first()
    if before is not None:
        return KeptEvent(**before)
    row = {
        "id": made,
        "pour_id": pour_id,
        "key": named,
        "act": act,
        "at": at,
        "setting": setting,
        "reading": reading,
        "takes_back": takes_back,
        "note": note,
        "created": entered,
    }
    connection.execute(events.insert(), row)
    return KeptEvent(**connection.execute(there).mappings().one())


def events_of(book: Book, pour_id: str, *, all_of_them: bool = False) -> tuple[KeptEvent, ...]:
    """Return the acts of a day by their time; those taken back only where all are asked for."""
    table = tables.events
    asked = sa.select(*tables.told(table)).where(table.c.pour_id == pour_id)
    with book.reading() as connection:
        rows = connection.execute(asked.order_by(table.c.at, table.c.created, table.c.id))
        found = tuple(KeptEvent(**row) for row in rows.mappings())
    if all_of_them:
        return found
    back = {event.takes_back for event in found}
    return tuple(event for event in found if event.takes_back is None and event.id not in back)


def start_of(events: Sequence[KeptEvent], pour_id: str) -> datetime:
    """Return when the block of a day went into the kiln.

    Raises
    ------
    InputError
        If the pour has no beginning in the kiln.
    """
    began = [event.at for event in events if event.act == BEGAN]
    if not began:
        raise InputError("day", pour_id, "", "begun: say when the block went into the kiln")
    return began[-1]


def day_log(book: Book, pour_id: str) -> DayLog:
    """Return all that is known of a day, as its forecast takes it.

    Raises
    ------
    InputError
        If the pour has no beginning in the kiln.
    """
    return read_on(book, pour_id, None).log


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadLog:
    """A log, and how far the book was read for it.

    Parameters
    ----------
    log : DayLog
    rows : int
        Of the readings of the day, with those that were superseded.
    last : datetime or None
        Moment of the latest of them.
    """

    log: DayLog
    rows: int
    last: datetime | None


def read_on(book: Book, pour_id: str, before: ReadLog | None) -> ReadLog:
    """Return all that is known of a day; readings that were read before are not read again.

    Where all new rows are later than those that were read, they alone are read.  A row
    that came late, or supersedes another, has all of them read anew, so that the log is
    that of the book in either case.

    Parameters
    ----------
    book : Book
    pour_id : str
    before : ReadLog or None
        Of the same day; None: all is read.

    Raises
    ------
    InputError
        If the pour has no beginning in the kiln.
    """
    events = events_of(book, pour_id)
    start = start_of(events, pour_id)
    rows = count_readings(book, pour_id)
    old: tuple[DayReading, ...] = ()
    new: tuple[Reading, ...] = ()
    if before is not None and before.last is not None and rows >= before.rows:
        old = before.log.readings
        if rows > before.rows:
            new = readings_of(book, pour_id, after=before.last)
    if before is None or before.last is None or before.rows + len(new) != rows:
        old, new = (), readings_of(book, pour_id)
    names: Mapping[str, Act] = {act: act for act in ACTS}
    log = DayLog(
        start=start.timestamp(),
        readings=old + tuple(as_read(each) for each in new if each.kind in PLACES),
        events=tuple(
            DayEvent(
                act=names[each.act],
                at=each.at.timestamp(),
                setting=each.setting,
                place=PLACES.get(each.reading or ""),
            )
            for each in events
            if each.act in names
        ),
    )
    last = max((each.taken for each in new), default=None if before is None else before.last)
    return ReadLog(log=log, rows=rows, last=last)


def as_read(kept: Reading) -> DayReading:
    """Return a reading of the book, of a kind in `PLACES`, as the forecast of the day takes it."""
    return DayReading(
        place=PLACES[kept.kind],
        at=kept.taken.timestamp(),
        temperature=si.to_si(kept.value, "degC"),
    )


def _require_of(connection: Connection, pour_id: str, event_id: str) -> None:
    events = tables.events.c
    asked = sa.select(events.id).where(events.id == event_id, events.pour_id == pour_id)
    if connection.execute(asked).first() is None:
        raise InputError("event taken back", event_id, "", "one of this day")
