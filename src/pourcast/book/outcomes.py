"""Outcomes: keep what came out of the mould, part by part; nothing is erased.

A later entry of the same pour supersedes the one before, which stays.  A part
that is not named in an entry counts as filled, since most are.
"""

from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime
from typing import Any

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.model import Outcome, PartOutcome, Pour
from pourcast.book.outcome_parts import complete, insert_parts, load_parts
from pourcast.book.plans import load_plan
from pourcast.book.pour_days import enter_day, load_pours, put_day, require_day
from pourcast.book.store import Book, find_id, new_id, retried
from pourcast.errors import InputError


@retried
def begin_pour(book: Book, plan_id: str, *, day: date, at: datetime) -> Pour:
    """Put a pour of a plan down under a day, which may be to come, and return it."""
    with book.writing() as connection:
        return put_pour(connection, plan_id, day, at)


@retried
def note_pour(book: Book, plan_id: str, *, day: date, at: datetime) -> Pour:
    """Note that a plan was poured: the block of it that is in the kiln, or a pour of its own.

    Parameters
    ----------
    book : Book
    plan_id : str
    day : date
        On which it was poured.
    at : datetime
        Now, with its zone.

    Raises
    ------
    InputError
        If the day is to come, or before the kiln was lit.
    """
    with book.writing() as connection:
        plan = find_id(connection, tables.plans, plan_id)
        for pour in _pours(connection, plan):
            if pour.stage == "in kiln":
                enter_day(connection, pour, day, at=at)
                return load_pour(connection, pour.id)
        require_day(day, at=at)
        return put_pour(connection, plan, day, at)


@retried
def correct_day(book: Book, pour_id: str, day: date, *, at: datetime) -> Pour:
    """Enter on which day a pour was poured, and return it; what was entered before is kept.

    Parameters and errors are those of `pourcast.book.pour_days.enter_day`.
    """
    with book.writing() as connection:
        pour = load_pour(connection, find_id(connection, tables.pours, pour_id))
        if day != pour.day or pour.stage == "in kiln":
            enter_day(connection, pour, day, at=at)
        return load_pour(connection, pour.id)


def pours_of(book: Book, plan_id: str, *, all_of_them: bool = False) -> tuple[Pour, ...]:
    """Return the pours of a plan, the latest first.

    Parameters
    ----------
    book : Book
    plan_id : str
    all_of_them : bool
        True: also kiln days that were begun by mistake.
    """
    with book.reading() as connection:
        found = _pours(connection, plan_id)
        return tuple(each for each in found if all_of_them or each.stage != "by mistake")


def latest_pour(book: Book, plan_id: str) -> Pour | None:
    """Return the pour of a plan with the latest day; None where it was not poured yet."""
    return next(iter(pours_of(book, plan_id)), None)


def read_pour(book: Book, asked: str) -> Pour:
    """Return a pour by its id, or by the first signs of it."""
    with book.reading() as connection:
        return load_pour(connection, find_id(connection, tables.pours, asked))


def load_pour(connection: Connection, pour_id: str) -> Pour:
    """Return a pour by its whole id."""
    (pour,) = load_pours(connection, tables.pours.c.id == pour_id)
    return pour


def _pours(connection: Connection, plan_id: str) -> tuple[Pour, ...]:
    return load_pours(connection, tables.pours.c.plan_id == plan_id)[::-1]


def keep_outcome(
    book: Book,
    pour_id: str,
    parts: Iterable[PartOutcome],
    *,
    seen: date,
    at: datetime,
    sure: str = "sure",
    button: str | None = None,
    note: str = "",
    poured: date | None = None,
) -> Outcome:
    """Keep what was seen of a pour, and return it with every part of the piece.

    Parameters
    ----------
    book : Book
    pour_id : str
    parts : iterable of PartOutcome
        Those that are left out count as filled.
    seen : date
        Day of the break-out; not before the pour.
    at : datetime
        Now, with its zone.
    sure, button : str
        Words of `pourcast.book.words`.
    note : str
    poured : date or None
        Day of the pour; None: as the book has it.

    Raises
    ------
    InputError
        If a part is not one of the plan, is told twice or cannot have come out
        so, if it was seen before it was poured, or if nothing can have been
        poured on that day.
    """

    def of_the_book(connection: Connection) -> Pour:
        return load_pour(connection, find_id(connection, tables.pours, pour_id))

    return _kept(
        book, of_the_book, parts, poured, seen=seen, at=at, sure=sure, button=button, note=note
    )


def keep_first_outcome(
    book: Book,
    plan_id: str,
    parts: Iterable[PartOutcome],
    *,
    poured: date,
    seen: date,
    at: datetime,
    sure: str = "sure",
    button: str | None = None,
    note: str = "",
) -> Outcome:
    """Keep a pour that was not noted before and what was seen of it, both or neither.

    Parameters and errors are those of `note_pour` and `keep_outcome`.
    """

    def new(connection: Connection) -> Pour:
        require_day(poured, at=at)
        return put_pour(connection, plan_id, poured, at)

    return _kept(book, new, parts, None, seen=seen, at=at, sure=sure, button=button, note=note)


def revisions(book: Book, pour_id: str) -> tuple[Outcome, ...]:
    """Return all that was entered of a pour, the oldest first; the last one counts."""
    with book.reading() as connection:
        return tuple(load_outcomes(connection, [pour_id]).get(pour_id, []))


def load_outcomes(connection: Connection, pour_ids: Sequence[str]) -> dict[str, list[Outcome]]:
    """Return all revisions of each of some pours, the oldest first."""
    outcomes = tables.outcomes
    held = tables.told(outcomes, who=True)
    asked = sa.select(*held).where(outcomes.c.pour_id.in_(pour_ids))
    rows = connection.execute(asked.order_by(outcomes.c.pour_id, outcomes.c.revision)).mappings()
    heads = rows.all()
    parts = load_parts(connection, [row["id"] for row in heads])
    made: dict[str, list[Outcome]] = {}
    for row in heads:
        before = made.setdefault(row["pour_id"], [])
        first = before[0].created if before else row["created"]
        before.append(Outcome(**row, first_created=first, parts=parts.get(row["id"], ())))
    return made


def came(parts: Iterable[PartOutcome]) -> str:
    """Return in one word how the whole piece came out.

    Returns
    -------
    str
        "missing" if a part is missing, else "short" if one is short, else "not
        seen" if one was not looked at, else "whole".

    Examples
    --------
    >>> came([PartOutcome(part="stem"), PartOutcome(part="leaf", state="short")])
    'short'
    """
    states = {part.state for part in parts}
    for state in ("missing", "short", "not seen"):
        if state in states:
            return state
    return "whole"


def put_pour(connection: Connection, plan_id: str, day: date, at: datetime) -> Pour:
    """Put a pour of a plan down as part of a change, and return it."""
    plan = find_id(connection, tables.plans, plan_id)
    made = new_id()
    row = {"id": made, "plan_id": plan, "day": day, "created": at}
    connection.execute(tables.pours.insert(), row)
    return load_pour(connection, made)


def _kept(
    book: Book,
    pour_of: Callable[[Connection], Pour],
    parts: Iterable[PartOutcome],
    poured: date | None,
    *,
    seen: date,
    at: datetime,
    sure: str,
    button: str | None,
    note: str,
) -> Outcome:
    """Keep what was seen of a pour in one change."""
    row = {"seen": seen, "created": at, "sure": sure, "button": button, "note": note}
    told = list(parts)  # a change that is tried again reads it again

    @retried
    def keep() -> Outcome:
        with book.writing() as connection:
            return _keep(connection, pour_of(connection), told, row, poured)

    return keep()


def _keep(
    connection: Connection,
    pour: Pour,
    parts: list[PartOutcome],
    row: dict[str, Any],
    poured: date | None,
) -> Outcome:
    day = poured or pour.day
    if day != pour.day:
        require_day(day, at=row["created"], lit=pour.lit)
    if row["seen"] < day:
        must = f"{day} or later, the day of the pour"
        raise InputError("day of the break-out", row["seen"], "", must)
    told = complete(load_plan(connection, pour.plan_id), parts)
    table = tables.outcomes
    asked = sa.select(sa.func.max(table.c.revision)).where(table.c.pour_id == pour.id)
    latest = connection.execute(asked).scalar()
    made = new_id()
    filled = {**row, "id": made, "pour_id": pour.id, "revision": (latest or 0) + 1}
    connection.execute(table.insert(), filled)
    insert_parts(connection, made, told)
    if day != pour.day:
        put_day(connection, pour, day, at=row["created"])
    return load_outcomes(connection, [pour.id])[pour.id][-1]
