"""Day wrong: a kiln day that was begun by mistake, as on the wrong piece.

Its beginning is taken back by a further entry, as an act is, and the piece stands as
before.  What was read and done stays in the book.  Said to be right again, the day
begins anew at its old moment, and all of it counts as before.
"""

from collections.abc import Iterable
from datetime import datetime

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.kiln_days import put_event
from pourcast.book.model import Pour
from pourcast.book.outcomes import load_pour
from pourcast.book.pour_days import load_pours, standing
from pourcast.book.store import Book, find_id, retried
from pourcast.book.words import BEGAN
from pourcast.errors import InputError


@retried
def call_day_wrong(book: Book, pour_id: str, *, at: datetime) -> Pour:
    """Keep that a kiln day was begun by mistake, and return its pour; twice is once.

    Parameters
    ----------
    book : Book
    pour_id : str
    at : datetime
        Now, with its zone.

    Raises
    ------
    InputError
        If it is no kiln day, or if it was poured.
    """
    with book.writing() as connection:
        pour = _kiln_day(connection, pour_id)
        if pour.stage == "poured":
            raise InputError(
                "kiln day",
                f"that of {pour.lit}, which was poured",
                "",
                "one that is not poured yet",
                "If only the pour was entered by mistake, take that act back (undo).",
            )
        if pour.stage == "in kiln":
            for event_id in _standing(connection, pour.id):
                put_event(connection, pour.id, "taken back", at=at, entered=at, takes_back=event_id)
        return load_pour(connection, pour.id)


@retried
def call_day_right(book: Book, pour_id: str, *, at: datetime) -> Pour:
    """Keep that a kiln day was begun rightly after all, and return its pour.

    Parameters
    ----------
    book : Book
    pour_id : str
    at : datetime
        Now, with its zone.

    Raises
    ------
    InputError
        If it is no kiln day.
    """
    with book.writing() as connection:
        pour = _kiln_day(connection, pour_id)
        if pour.stage == "by mistake":
            start = _starts(connection, [pour.id])[pour.id]
            put_event(connection, pour.id, BEGAN, at=start, entered=at)
        return load_pour(connection, pour.id)


def kiln_days_of(book: Book, piece_id: str) -> tuple[tuple[Pour, datetime], ...]:
    """Return all kiln days of a piece and when each began, the latest first.

    Parameters
    ----------
    book : Book
    piece_id : str

    Returns
    -------
    tuple of tuple of Pour and datetime
        With those that were begun by mistake.
    """
    plans = tables.plans.c
    return _kiln_days(book, sa.select(plans.id).where(plans.piece_id == piece_id))


def kiln_days_of_plans(book: Book, plan_ids: Iterable[str]) -> tuple[tuple[Pour, datetime], ...]:
    """Return all kiln days of some plans and when each began, as `kiln_days_of` does.

    Parameters
    ----------
    book : Book
    plan_ids : iterable of str
        Whole.
    """
    return _kiln_days(book, list(plan_ids))


def _kiln_days(
    book: Book, plans: "list[str] | sa.Select[tuple[str]]"
) -> tuple[tuple[Pour, datetime], ...]:
    with book.reading() as connection:
        found = load_pours(connection, tables.pours.c.plan_id.in_(plans))
        pours = [each for each in found if each.lit is not None]
        starts = _starts(connection, [pour.id for pour in pours])
    days = [(pour, starts[pour.id]) for pour in pours]
    return tuple(sorted(days, key=lambda day: day[1], reverse=True))


def _kiln_day(connection: Connection, pour_id: str) -> Pour:
    pour = load_pour(connection, find_id(connection, tables.pours, pour_id))
    if pour.lit is None:
        raise InputError("pour", pour_id, "", "one with a kiln day")
    return pour


def _standing(connection: Connection, pour_id: str) -> list[str]:
    """Return the beginnings of a day that were not taken back."""
    events = tables.events.c
    asked = sa.select(events.id).where(events.pour_id == pour_id, events.act == BEGAN, standing())
    return list(connection.execute(asked).scalars())


def _starts(connection: Connection, pour_ids: list[str]) -> dict[str, datetime]:
    """Return when each of some days began, whether that was taken back or not."""
    events = tables.events.c
    asked = sa.select(events.pour_id, events.at).where(
        events.pour_id.in_(pour_ids), events.act == BEGAN
    )
    # What was entered last of a day stays.
    return {row.pour_id: row.at for row in connection.execute(asked.order_by(events.created))}
