"""Castings: the tests that a studio has made on purpose, kept with what came of them."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date, datetime
from typing import Any

import sqlalchemy as sa

from pourcast.book import tables
from pourcast.book.store import Book, new_id, retried
from pourcast.errors import InputError

_READ_OFF = ("pull-down", "day")
"""Kinds whose inputs are readings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptTest:
    """A test that was made on purpose.

    Parameters
    ----------
    id, kind : str
    day : date
    created : datetime
    inputs, result : dict
        As `pourcast.learn` took and gave them.
    note : str
    """

    id: str
    kind: str
    day: date
    created: datetime
    inputs: dict[str, Any]
    result: dict[str, Any]
    note: str


@retried
def keep_test(
    book: Book,
    kind: str,
    *,
    day: date,
    at: datetime,
    inputs: Mapping[str, Any],
    result: Mapping[str, Any],
    note: str = "",
) -> KeptTest:
    """Keep a test with what went in and what came of it, and return it.

    What was read off a gauge or a log never comes twice alike: the same readings are the
    same test, which is kept once.  So are the same weighings on one day.  After a reset
    of what was learnt it may be kept anew.

    Returns
    -------
    KeptTest
        The one that was kept before, where it is the same.

    Raises
    ------
    InputError
        If the kind is not known or a number is not finite.
    """
    row = {
        "id": new_id(),
        "kind": kind,
        "day": day,
        "created": at,
        "inputs": as_text(inputs),
        "result": as_text(result),
        "note": note,
    }
    with book.writing() as connection:
        made = _same(connection, row) or row["id"]
        if made == row["id"]:
            connection.execute(tables.tests.insert(), row)
    return next(test for test in castings_of(book) if test.id == made)


def _same(connection: sa.Connection, row: Mapping[str, Any]) -> str | None:
    """Return the id of the same test, if it counts already."""
    table, acts = tables.tests.c, tables.calibrations.c
    reset = connection.execute(
        sa.select(sa.func.max(acts.created)).where(acts.act == "reset")
    ).scalar()
    asked = sa.select(table.id).where(table.kind == row["kind"], table.inputs == row["inputs"])
    if row["kind"] not in _READ_OFF:
        asked = asked.where(table.day == row["day"])
    if reset is not None:
        asked = asked.where(table.created > reset)
    found: str | None = connection.execute(asked.order_by(table.created)).scalars().first()
    return found


def result_of(said: Sequence[str], found: object) -> dict[str, Any]:
    """Return what a test says as it is kept: its sentences, and what is to be learnt from.

    Parameters
    ----------
    said : sequence of str
    found : object
        With ``measured`` where something was measured.
    """
    measured = getattr(found, "measured", None)
    return {"said": list(said), "measured": [] if measured is None else [asdict(measured)]}


def castings_of(book: Book, kind: str | None = None) -> tuple[KeptTest, ...]:
    """Return the tests of a book, the oldest first; of one kind, or all."""
    table = tables.tests
    asked = sa.select(*tables.told(table)).order_by(table.c.created, table.c.id)
    if kind is not None:
        asked = asked.where(table.c.kind == kind)
    with book.reading() as connection:
        return tuple(
            KeptTest(
                **{
                    **row,
                    "inputs": json.loads(row["inputs"]),
                    "result": json.loads(row["result"]),
                }
            )
            for row in connection.execute(asked).mappings()
        )


def as_text(tree: Mapping[str, Any]) -> str:
    """Return a tree as JSON, or raise `InputError` if a number of it is not finite."""
    try:
        return json.dumps(tree, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    except ValueError as fault:
        raise InputError("entry", str(fault), "", "of finite numbers") from None
