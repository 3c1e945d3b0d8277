"""Day entries: a typed line, put into the book of a day.

Whatever comes is kept before anything else is done with it.  What is typed is
acknowledged by what this returns, after it is on the disk.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo

from pourcast import units as si
from pourcast.book.day_wrong import call_day_right, call_day_wrong
from pourcast.book.days import keep_reading
from pourcast.book.kiln_days import KINDS, day_log, events_of, keep_event, start_of
from pourcast.book.model import KeptEvent
from pourcast.book.store import Book
from pourcast.book.words import BEGAN, GAUGE
from pourcast.day.judge import judged, questioned
from pourcast.day.model import DayEvent, DayReading
from pourcast.day.typed import Typed, typed
from pourcast.errors import InputError

LATE = timedelta(minutes=5)
"""By which a clock time may lie ahead of now, or before the block went in; estimate."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entered:
    """What one typed line has become, once it is kept.

    Parameters
    ----------
    reading : DayReading or None
    event : DayEvent or None
    vacuum : float or None [Pa]
        That the gauge of the pump shows.  All three None: an entry was taken back, or something
        was said of the whole day.
    taken_back : str
        Act that was taken back; "" where none was.
    unit : str
        Of the reading, for the next line.
    at : datetime
        When it was.
    day : str
        "wrong" or "right", where that was said of the whole day; else "".
    """

    reading: DayReading | None
    event: DayEvent | None
    taken_back: str
    unit: str
    at: datetime
    day: str = ""
    vacuum: si.Pascal | None = None


def enter(
    book: Book,
    pour_id: str,
    line: str,
    *,
    now: datetime,
    zone: tzinfo | None,
    unit: str,
    key: str | None = None,
) -> Entered:
    """Keep what a line says, and return it.

    Parameters
    ----------
    book : Book
    pour_id : str
    line : str
        As `pourcast.day.typed.typed` reads it.
    now : datetime
        With its zone.
    zone : tzinfo or None
        Of the clock on the wall; None: that of the machine.
    unit : str
        Of a number alone.
    key : str or None
        Of the sender, so that a line sent twice is one.

    Raises
    ------
    InputError
        If the line says nothing, there is nothing that it could be about, it was before the
        block went into the kiln, or the day was begun by mistake.
    """
    said = typed(line, unit=unit)
    at = moment_of(said, now, zone)
    if said.act in ("wrong day", "right day"):
        word = said.act.partition(" ")[0]
        (call_day_wrong if word == "wrong" else call_day_right)(book, pour_id, at=now)
        return Entered(reading=None, event=None, taken_back="", unit=unit, at=at, day=word)
    events = _that_count(book, pour_id)
    if said.act == "undo":
        return _undone(book, pour_id, events, now, unit, key)
    if said.act in ("right", "wrong"):
        return _weighed(book, pour_id, said, now, unit, key)
    _require_in_the_kiln(start_of(events, pour_id), said, at, zone)
    if said.act is not None:
        kept = keep_event(
            book, pour_id, said.act, at=at, entered=now, setting=said.setting, key=key
        )
        event = DayEvent(act=said.act, at=kept.at.timestamp(), setting=kept.setting)  # type: ignore[arg-type]
        return Entered(reading=None, event=event, taken_back="", unit=unit, at=kept.at)
    if said.vacuum is not None:
        keep_reading(book, pour_id, GAUGE, si.from_si(said.vacuum, "kPa"), taken=at)
        return Entered(
            reading=None, event=None, taken_back="", unit=unit, at=at, vacuum=said.vacuum
        )
    assert said.place is not None
    assert said.temperature is not None
    value = si.from_si(said.temperature, "degC")
    keep_reading(book, pour_id, KINDS[said.place], value, taken=at)
    reading = DayReading(place=said.place, at=at.timestamp(), temperature=said.temperature)
    return Entered(reading=reading, event=None, taken_back="", unit=said.unit, at=at)


def moment_of(said: Typed, now: datetime, zone: tzinfo | None) -> datetime:
    """Return when something was: now, some minutes ago, or the last time that a clock said so.

    Parameters
    ----------
    said : Typed
    now : datetime
        With its zone.
    zone : tzinfo or None

    Raises
    ------
    InputError
        If the clock has not said so within a day: it went forward over it.
    """
    whole = now.astimezone(UTC).replace(microsecond=0)
    if said.clock is None:
        return whole - timedelta(seconds=said.ago)
    there = whole.astimezone(zone)
    minutes = int(said.clock // 60.0)
    found = []
    for back in (0, 1):
        day = there.date() - timedelta(days=back)
        for fold in (0, 1):
            wall = datetime(
                day.year, day.month, day.day, minutes // 60, minutes % 60, tzinfo=None, fold=fold
            )
            moment = (wall.astimezone() if zone is None else wall.replace(tzinfo=zone)).astimezone(
                UTC
            )
            # A time that the clock skips comes back as another.
            if moment.astimezone(zone).replace(tzinfo=None, fold=0) == wall.replace(fold=0):
                found.append(moment)
    past = [moment for moment in found if moment <= whole + LATE]
    if not past:
        shown = f"{minutes // 60:02d}:{minutes % 60:02d}"
        raise InputError("time", shown, "", "a time that the clock on the wall has shown")
    return max(past)


def _that_count(book: Book, pour_id: str) -> tuple[KeptEvent, ...]:
    """Return the acts of a day; one that was begun by mistake is refused."""
    events, every = (events_of(book, pour_id, all_of_them=more) for more in (False, True))
    if _begins(every) and not _begins(events):
        hint = "Begin the right one, or say right day if this one was right."
        raise InputError("this day", "begun by mistake", "", "one that counts", hint)
    return events


def _begins(events: tuple[KeptEvent, ...]) -> bool:
    return any(event.act == BEGAN for event in events)


def _require_in_the_kiln(start: datetime, said: Typed, at: datetime, zone: tzinfo | None) -> None:
    """Refuse what was before the block went in; the dial alone may have been turned by then."""
    if said.act != "turned" and at < start - LATE:
        shown = f"{at.astimezone(zone):%H:%M on %d %b}"
        went_in = f"{start.astimezone(zone):%H:%M on %d %b}"
        raise InputError("time", shown, "", f"after the block went in, {went_in}")


def _undone(
    book: Book,
    pour_id: str,
    events: tuple[KeptEvent, ...],
    now: datetime,
    unit: str,
    key: str | None,
) -> Entered:
    done = [event for event in events if event.act != BEGAN]
    if not done:
        raise InputError("undo", "nothing", "", "an act of this day to take back")
    last = max(done, key=lambda event: (event.created, event.id))
    keep_event(book, pour_id, "taken back", at=now, entered=now, takes_back=last.id, key=key)
    return Entered(reading=None, event=None, taken_back=last.act, unit=unit, at=last.at)


def _weighed(
    book: Book, pour_id: str, said: Typed, now: datetime, unit: str, key: str | None
) -> Entered:
    """Keep that a reading is right or wrong: the last one that is questioned.

    Where none is, right is said of the last one that was called wrong, and either of the last.
    """
    readings = judged(day_log(book, pour_id))
    asked = list(questioned(readings))
    if not asked and said.act == "right":
        asked = [each.reading for each in readings if each.doubt == "said wrong"]
    asked = asked or [each.reading for each in readings]
    if not asked:
        raise InputError(str(said.act), "no reading", "", "a reading that it is said of")
    reading = asked[-1]
    kept = keep_event(
        book,
        pour_id,
        str(said.act),
        at=datetime.fromtimestamp(reading.at, UTC),
        entered=now,
        reading=KINDS[reading.place],
        key=key,
    )
    event = DayEvent(
        act="right" if said.act == "right" else "wrong",
        at=kept.at.timestamp(),
        place=reading.place,
    )
    return Entered(reading=None, event=event, taken_back="", unit=unit, at=kept.at)
