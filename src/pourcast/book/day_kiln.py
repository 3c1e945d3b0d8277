"""Day kiln: what an earlier day of this studio says of its kiln.

The latest other day that was turned by hand, and whose log can tell, is fitted whole.
"""

from datetime import datetime

import sqlalchemy as sa

from pourcast.book import tables
from pourcast.book.kiln_days import day_log
from pourcast.book.store import Book
from pourcast.burnout.kiln_fit import KilnFit
from pourcast.day.judge import judged
from pourcast.day.kilns import kiln_of_day
from pourcast.day.so_far import so_far

MOST_LOOKED_AT = 5
"""Days that are tried, the newest first; our own choice."""


def kiln_before(book: Book, start: datetime, plain: KilnFit) -> tuple[KilnFit, str] | None:
    """Return the kiln of the latest earlier day that tells, and the id of its pour.

    Parameters
    ----------
    book : Book
    start : datetime
        Of the day that it is wanted for.
    plain : KilnFit
        A kiln of the records, for what that day does not tell.

    Returns
    -------
    tuple of KilnFit and str, or None
    """
    events = tables.events.c
    turned = sa.select(events.pour_id).where(events.act == "turned").distinct()
    asked = (
        sa.select(events.pour_id)
        .where(events.act == "began", events.at < start, events.pour_id.in_(turned))
        .order_by(events.at.desc())
        .limit(MOST_LOOKED_AT)
    )
    with book.reading() as connection:
        found = list(connection.execute(asked).scalars())
    for pour_id in found:
        log = day_log(book, pour_id)
        day = so_far(log, judged(log), plain.body.room)
        fit = kiln_of_day(day, plain)
        if fit is not None:
            return fit, pour_id
    return None
