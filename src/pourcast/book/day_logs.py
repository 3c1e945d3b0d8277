"""Day logs: the rows of a kiln log, put into the book of a day, each once.

A file may be read as often as it grows.  A last row without its end is still being
written and waits for the next time; a row that cannot be read is told with its line
and left; what the book has already is passed over.
"""

import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo

from pourcast import units as si
from pourcast.book.days import keep_reading, readings_of
from pourcast.book.kiln_days import events_of, keep_event
from pourcast.book.store import Book
from pourcast.burnout.log import KilnLog, read_log
from pourcast.burnout.log_times import read_moment
from pourcast.errors import InputError, SheetError

EARLY = timedelta(minutes=10)
"""Before the start, from which on rows of a log count; estimate."""

_STAMP = re.compile(
    r"(\d{4}-\d{2}-\d{2})[T ,;\t\"]+(\d{1,2}:\d{2}(?::\d{2})?)[.,]?\d*\s*(Z|[+-]\d{2}:?\d{2})?"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenIn:
    """What a log has given.

    Parameters
    ----------
    readings, turns : int
        That were not in the book yet.
    moments : tuple of float [s]
        Of the new readings, since 1970.
    early : int
        Rows from before the day, left in the file.
    told : tuple of str
        What the caster should know, with its line.
    """

    readings: int
    turns: int
    moments: tuple[si.Second, ...]
    early: int
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LogRow:
    """One row of a kiln log.

    Parameters
    ----------
    at : datetime
    temperature : float [K]
    setting : float or None [-]
        Of the dial; None: the log has no dial.
    """

    at: datetime
    temperature: si.Kelvin
    setting: si.Ratio | None


@dataclass(frozen=True, slots=True, kw_only=True)
class DayRows:
    """What a kiln log holds of a day; nothing of it is kept yet.

    Parameters
    ----------
    rows : tuple of LogRow
    early : int
        Rows from before the day, left in the file.
    told : tuple of str
        What the caster should know, with its line.
    """

    rows: tuple[LogRow, ...]
    early: int
    told: tuple[str, ...]


def rows_of_day(text: str, name: str, *, start: datetime, zone: tzinfo | None) -> DayRows:
    """Return the rows of a kiln log that are of a day.

    Parameters
    ----------
    text : str
        Of the file.  A last row without its end is still being written, and left.
    name : str
        Of the file.
    start : datetime
        Of the day, with its zone.
    zone : tzinfo or None
        Of the clock times of the file.

    Returns
    -------
    DayRows

    Raises
    ------
    SheetError
        If its head cannot be read.
    """
    log, told = _read(text[: text.rfind("\n") + 1], name)
    if log is None:
        return DayRows(rows=(), early=0, told=told)
    first = _first_moment(log, text, start, zone)
    all_of_them = [
        LogRow(
            at=first + timedelta(seconds=time),
            temperature=kelvin,
            setting=None if log.dial is None else float(log.dial[place]),
        )
        for place, (time, kelvin) in enumerate(
            zip(log.time.tolist(), log.temperature.tolist(), strict=True)
        )
    ]
    rows = tuple(row for row in all_of_them if row.at >= start - EARLY)
    return DayRows(rows=rows, early=len(all_of_them) - len(rows), told=told)


def keep_rows(book: Book, pour_id: str, found: DayRows, *, now: datetime) -> TakenIn:
    """Keep the rows of a day that the book does not have yet.

    Parameters
    ----------
    book : Book
    pour_id : str
    found : DayRows
    now : datetime

    Returns
    -------
    TakenIn
    """
    there = {(each.kind, each.taken) for each in readings_of(book, pour_id, "kiln_C")}
    keys = {event.key for event in events_of(book, pour_id, all_of_them=True)}
    new: list[float] = []
    turns = 0
    before: float | None = None
    for row in found.rows:
        if ("kiln_C", row.at) not in there:
            value = round(si.from_si(row.temperature, "degC"), 4)
            keep_reading(book, pour_id, "kiln_C", value, taken=row.at)
            new.append(row.at.timestamp())
        if row.setting is None or row.setting == before:
            continue
        before = row.setting
        key = f"log {row.at.isoformat()}"
        if key not in keys:
            keep_event(book, pour_id, "turned", at=row.at, entered=now, setting=before, key=key)
            turns += 1
    return TakenIn(
        readings=len(new), turns=turns, moments=tuple(new), early=found.early, told=found.told
    )


def _read(text: str, name: str) -> tuple[KilnLog | None, tuple[str, ...]]:
    """Return a log without the rows that cannot be read, each of which is told."""
    lines = text.split("\n")
    told: list[str] = []
    for _ in range(3):
        try:
            log = read_log("\n".join(lines), name)
        except SheetError as bad:
            if any(fault.key == "head" for fault in bad.faults):
                raise
            rows = {fault.line for fault in bad.faults}
            told += [f"{name}:{fault.line}: {fault.key}: {fault.text}" for fault in bad.faults]
            lines = [line if place not in rows else "" for place, line in enumerate(lines, start=1)]
            if sum(bool(line.strip()) for line in lines) < 2:
                # A head alone: the log has only been begun, or no row of it can be read.
                return None, tuple(told) if rows != {1} else ()
        else:
            told += [f"{name}:{each.line}: {each.text}" for each in log.told]
            return log, tuple(told)
    raise InputError("log", name, "", "rows that can be read; too many cannot")


def _first_moment(log: KilnLog, text: str, start: datetime, zone: tzinfo | None) -> datetime:
    """Return the moment of the earliest row: dated, by the clock, or from the start."""
    if log.start is None:
        return start
    row = text.split("\n")[int(log.line[0]) - 1]
    if dated := _STAMP.search(row):
        written = " ".join(part for part in dated.groups() if part)
        moment = read_moment(written.replace(" Z", "Z").replace(" +", "+").replace(" -", "-"))
        seconds = (moment.day or 0.0) + moment.in_day
        there = datetime.fromtimestamp(seconds, UTC)
        if dated[3]:
            return there
        plain = there.replace(tzinfo=None)
        return (plain.astimezone() if zone is None else plain.replace(tzinfo=zone)).astimezone(UTC)
    day = start.astimezone(zone).replace(hour=0, minute=0, second=0, microsecond=0, tzinfo=None)
    found = []
    for over in (-1, 0, 1):
        wall = day + timedelta(days=over, seconds=log.start)
        found.append(
            (wall.astimezone() if zone is None else wall.replace(tzinfo=zone)).astimezone(UTC)
        )
    return min(found, key=lambda moment: abs((moment - start).total_seconds()))
