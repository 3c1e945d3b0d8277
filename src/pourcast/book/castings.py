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
        connection.execute(tables.tests.insert(), row)
    return next(test for test in castings_of(book) if test.id == row["id"])


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
