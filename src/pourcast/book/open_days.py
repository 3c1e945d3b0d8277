"""Open days: which flasks are in the kiln now?"""

from datetime import datetime, timedelta

import sqlalchemy as sa

from pourcast.book import tables
from pourcast.book.store import Book

_BEGAN = "began"

OPEN_FOR = 2.0 * 86_400.0
"""s, after which a day that was never poured is not waited for any more; our own choice."""


def open_days(book: Book, now: datetime) -> tuple[str, ...]:
    """Return the pours whose day has begun and that are not poured yet, the earliest first.

    Parameters
    ----------
    book : Book
    now : datetime
        With its zone.
    """
    events = tables.events.c
    back = sa.select(events.takes_back).where(events.takes_back.is_not(None))
    poured = sa.select(events.pour_id).where(events.act == "poured", events.id.not_in(back))
    asked = (
        sa.select(events.pour_id)
        .where(
            events.act == _BEGAN,
            events.at >= now - timedelta(seconds=OPEN_FOR),
            events.pour_id.not_in(poured),
        )
        .order_by(events.at, events.pour_id)
    )
    with book.reading() as connection:
        return tuple(connection.execute(asked).scalars())
