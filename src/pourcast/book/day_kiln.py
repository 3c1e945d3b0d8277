"""Day kiln: what an earlier day of this studio says of its kiln.

The latest other day that was turned by hand, and whose log can tell, is fitted whole.
A forecast takes it from a day that has ended, so that it does not change with every
reading of the one that is going on.
"""

from collections.abc import Sequence
from datetime import datetime

import sqlalchemy as sa

from pourcast import units as si
from pourcast.book import tables
from pourcast.book.kiln_days import day_log
from pourcast.book.pour_days import standing
from pourcast.book.store import Book
from pourcast.book.words import BEGAN
from pourcast.burnout.kiln_fit import KilnFit
from pourcast.day.case import DIAL_TOP
from pourcast.day.judge import judged
from pourcast.day.kilns import fastest, kiln_of_day, plain_kiln
from pourcast.day.so_far import so_far
from pourcast.forecast.burnout_case import ROOM
from pourcast.forecast.model import Calibration, Override
from pourcast.forecast.own_kiln import OF_THE_KILN
from pourcast.materials import library

MOST_LOOKED_AT = 5
"""Days that are tried, the newest first; our own choice."""

_ENDS = ("sealed", "poured")


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
        .where(events.act == BEGAN, standing(), events.at < start, events.pour_id.in_(turned))
        .order_by(events.at.desc())
        .limit(MOST_LOOKED_AT)
    )
    with book.reading() as connection:
        found = list(connection.execute(asked).scalars())
    return _first_that_tells(book, found, plain)


def days_ended(book: Book, before: datetime | None = None) -> tuple[tuple[str, int, int], ...]:
    """Return the latest days that were turned by hand and have ended, the newest first.

    Parameters
    ----------
    book : Book
    before : datetime or None
        Days that began from then on are left out.

    Returns
    -------
    tuple of tuple of str, int and int
        Id of the pour, how many readings and how many acts: while these stay, what the
        days say of the kiln stays.
    """
    events, readings = tables.events.c, tables.readings.c
    ended = sa.select(events.pour_id).where(events.act.in_(_ENDS), standing())
    turned = sa.select(events.pour_id).where(events.act == "turned", standing())
    began = events.act == BEGAN if before is None else _began_before(before)
    asked = (
        sa.select(events.pour_id)
        .where(began, standing(), events.pour_id.in_(ended), events.pour_id.in_(turned))
        .order_by(events.at.desc())
        .limit(MOST_LOOKED_AT)
    )
    with book.reading() as connection:
        return tuple(
            (
                pour_id,
                int(_count(connection, readings.pour_id, pour_id)),
                int(_count(connection, events.pour_id, pour_id)),
            )
            for pour_id in connection.execute(asked).scalars().all()
        )


def kiln_learnt(book: Book, before: datetime | None = None) -> Calibration | None:
    """Return what the latest day that has ended says of the kiln; None: none tells.

    Parameters
    ----------
    book : Book
    before : datetime or None
        As `days_ended` takes it.

    Returns
    -------
    Calibration or None
    """
    found = kiln_of_last_day(book, before)
    if found is None:
        return None
    fit, pour_id = found
    name = f"kiln of the day of pour {pour_id[:8]}"
    overrides = tuple(
        Override(
            key=key,
            value=si.from_si(middle, "K/h"),
            low=si.from_si(low, "K/h"),
            high=si.from_si(high, "K/h"),
            source=name,
        )
        for key, (middle, low, high) in zip(OF_THE_KILN, fastest(fit), strict=True)
        if middle > 0.0
    )
    return Calibration(name=name, overrides=overrides)


def kiln_of_last_day(book: Book, before: datetime | None = None) -> tuple[KilnFit, str] | None:
    """Return the kiln of the latest day that has ended and tells, and the id of its pour.

    Parameters
    ----------
    book : Book
    before : datetime or None
        As `days_ended` takes it.

    Returns
    -------
    tuple of KilnFit and str, or None
    """
    plain = plain_kiln(library().kiln, DIAL_TOP, ROOM)
    return _first_that_tells(book, [pour_id for pour_id, _, _ in days_ended(book, before)], plain)


def joined(learnt: Calibration | None, kiln: Calibration | None) -> Calibration | None:
    """Return two calibrations as one; what stands in both is taken from the first.

    Parameters
    ----------
    learnt, kiln : Calibration or None

    Returns
    -------
    Calibration or None
    """
    if learnt is None or kiln is None:
        return learnt or kiln
    said = {each.key for each in learnt.overrides}
    rest = tuple(each for each in kiln.overrides if each.key not in said)
    return Calibration(name=f"{learnt.name}; {kiln.name}", overrides=(*learnt.overrides, *rest))


def _first_that_tells(
    book: Book, pours: Sequence[str], plain: KilnFit
) -> tuple[KilnFit, str] | None:
    for pour_id in pours:
        log = day_log(book, pour_id)
        day = so_far(log, judged(log), plain.body.room)
        fit = kiln_of_day(day, plain)
        if fit is not None:
            return fit, pour_id
    return None


def _began_before(moment: datetime) -> "sa.ColumnElement[bool]":
    events = tables.events.c
    return (events.act == BEGAN) & (events.at < moment)


def _count(connection: sa.Connection, column: "sa.ColumnElement[str]", pour_id: str) -> int:
    asked = sa.select(sa.func.count()).where(column == pour_id)
    return int(connection.execute(asked).scalar_one())
