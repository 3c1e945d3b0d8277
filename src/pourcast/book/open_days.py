"""Open days: which flasks wait for the furnace now?

Whether a pour is in the kiln is said in one place, `pourcast.book.pour_days`: until something
says that it was poured.  Here a day is only not waited for any more after `OPEN_FOR`.
"""

from datetime import datetime, timedelta

import sqlalchemy as sa

from pourcast.book import tables
from pourcast.book.pour_days import load_pours, standing
from pourcast.book.store import Book
from pourcast.book.words import BEGAN

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
    since = now - timedelta(seconds=OPEN_FOR)
    # Most were poured and say so: of a large book few are left to be looked at whole.
    poured = sa.select(events.pour_id).where(events.act == "poured", standing())
    asked = (
        sa.select(events.pour_id)
        .where(
            events.act == BEGAN,
            events.at >= since,
            standing(),
            events.pour_id.not_in(poured),
        )
        .order_by(events.at, events.pour_id)
    )
    with book.reading() as connection:
        begun = list(dict.fromkeys(connection.execute(asked).scalars()))
        pours = load_pours(connection, tables.pours.c.id.in_(begun))
    waiting = {pour.id for pour in pours if pour.stage == "in kiln"}
    return tuple(pour_id for pour_id in begun if pour_id in waiting)
