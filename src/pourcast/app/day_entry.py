"""Day entry: what was typed or pressed on kiln day, put into the book.

An entry carries the moment at which it was made and a key of its sender, so that a
phone that was out of reach may send it again and it still counts once.
"""

import math
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta

from pourcast.book.day_entries import enter
from pourcast.book.store import Book
from pourcast.errors import InputError

OLDEST = 2.0 * 86_400.0
"""s, that an entry may lie back: a phone that was a day out of reach; own choice."""

EARLIEST = 300.0
"""s, that an entry may lie ahead of our clock; estimate."""

_WORDS = {"kiln": "kiln", "wall": "flask", "core": "core", "metal": "metal"}


def line_of(fields: Mapping[str, str]) -> str:
    """Return what the fields of the page say, as one would type it.

    Parameters
    ----------
    fields : mapping of str to str
        ``line`` alone, or ``act`` with ``setting``, or ``number``, ``unit`` and ``place``.
    """
    act = fields.get("act", "").strip()
    if act == "turned":
        return f"turned to {fields.get('setting', '').strip() or '?'}"
    if act:
        return act
    number = fields.get("number", "").strip()
    if number:
        place = _WORDS.get(fields.get("place", "kiln"), "kiln")
        return f"{place} {number} {fields.get('unit', '').strip()}".strip()
    return fields.get("line", "").strip()


def put_down(
    book: Book,
    pour_id: str,
    fields: Mapping[str, str],
    *,
    unit: str,
    now: datetime,
) -> str:
    """Keep one entry, and return the unit of its reading, or the one before.

    Parameters
    ----------
    book : Book
    pour_id : str
    fields : mapping of str to str
        See `line_of`; ``at`` in seconds since 1970 and ``key`` where the sender gives
        them, ``ago`` in minutes.
    unit : str
        Of a number alone.
    now : datetime

    Raises
    ------
    InputError
        If it is neither a reading nor an act, or lies too far off.
    """
    line, key = line_of(fields), fields.get("key", "").strip() or None
    made = _moment(fields, now)
    return enter(book, pour_id, line, now=made, zone=None, unit=unit, key=key).unit


def _moment(fields: Mapping[str, str], now: datetime) -> datetime:
    """Return when an entry was made: now, as its sender says, or some minutes ago."""
    made = now
    written = fields.get("at", "").strip()
    if written:
        try:
            seconds = float(written)
        except ValueError:
            seconds = math.nan
        if not now.timestamp() - OLDEST <= seconds <= now.timestamp() + EARLIEST:
            raise InputError("time of the entry", written[:40], "s", "of these two days")
        made = datetime.fromtimestamp(seconds, UTC)
    ago = fields.get("ago", "").strip()
    if ago:
        try:
            minutes = float(ago)
        except ValueError:
            minutes = math.nan
        if not 0.0 <= minutes <= 1440.0:
            raise InputError("minutes ago", ago[:40], "min", "0 to 1440")
        made -= timedelta(minutes=minutes)
    return made
