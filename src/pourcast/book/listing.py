"""Listing: the pieces of the book, the one last planned first, a page at a time."""

from collections.abc import Sequence
from datetime import date
from typing import TypedDict

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.model import PieceLine
from pourcast.book.outcomes import came, load_outcomes
from pourcast.book.pour_days import load_pours
from pourcast.book.store import Book
from pourcast.errors import InputError

PAGE = 50
"""Lines of a page; own choice."""


class _End(TypedDict):
    """What came of a piece; see `PieceLine`."""

    poured: date | None
    begun: date | None
    came: str | None


_NOTHING = _End(poured=None, begun=None, came=None)


def count_pieces(book: Book) -> int:
    """Return how many pieces stand in the book."""
    with book.reading() as connection:
        asked = sa.select(sa.func.count()).select_from(tables.pieces)
        return int(connection.execute(asked).scalar_one())


def list_pieces(book: Book, *, page: int = 1, lines: int = PAGE) -> tuple[PieceLine, ...]:
    """Return one page of the pieces, each with its latest chance and outcome.

    Parameters
    ----------
    book : Book
    page : int
        From 1.
    lines : int
        Of a page; 1 to 1000.

    Raises
    ------
    InputError
        If page or lines are outside their limits.
    """
    if page < 1 or page > 10_000_000:
        raise InputError("page", page, "", "1 or more")
    if not 1 <= lines <= 1000:
        raise InputError("lines", lines, "", "1 to 1000")
    plans = tables.plans.c
    latest = sa.func.max(plans.created)
    # Read from the index alone: the long texts of the plans are not touched.
    asked = (
        sa.select(plans.piece_id, latest.label("kept"), sa.func.count().label("plans"))
        .group_by(plans.piece_id)
        .order_by(latest.desc(), plans.piece_id)
        .limit(lines)
        .offset((page - 1) * lines)
    )
    with book.reading() as connection:
        rows = connection.execute(asked).mappings().all()
        ids = [row["piece_id"] for row in rows]
        names = _names(connection, ids)
        chances = _chances(connection, ids)
        ends = _ends(connection, ids)
    return tuple(
        PieceLine(
            id=row["piece_id"],
            name=names[row["piece_id"]],
            kept=row["kept"],
            plans=row["plans"],
            chance_whole=chances[row["piece_id"]],
            **ends.get(row["piece_id"], _NOTHING),
        )
        for row in rows
    )


def _names(connection: Connection, ids: Sequence[str]) -> dict[str, str]:
    pieces = tables.pieces.c
    asked = sa.select(pieces.id, pieces.name).where(pieces.id.in_(ids))
    return {row.id: row.name for row in connection.execute(asked)}


def _chances(connection: Connection, ids: Sequence[str]) -> dict[str, float]:
    plans = tables.plans.c
    asked = sa.select(plans.piece_id, plans.chance_whole).where(plans.piece_id.in_(ids))
    # The last of a piece stays.
    rows = connection.execute(asked.order_by(plans.piece_id, plans.created, plans.id))
    return {row.piece_id: row.chance_whole for row in rows}


def _ends(connection: Connection, ids: Sequence[str]) -> dict[str, _End]:
    """Return what came of each piece that was poured or went into the kiln."""
    plans = tables.plans.c
    asked = sa.select(plans.id, plans.piece_id).where(plans.piece_id.in_(ids))
    piece_of = {row.id: row.piece_id for row in connection.execute(asked)}
    # Asked of these pours alone: a large book has acts by the ten thousand.
    of_them = tables.pours.c.plan_id.in_(sa.select(plans.id).where(plans.piece_id.in_(ids)))
    pours = [each for each in load_pours(connection, of_them) if each.stage != "by mistake"]
    last = {piece_of[pour.plan_id]: pour for pour in pours}
    poured = {piece_of[pour.plan_id]: pour for pour in pours if pour.stage == "poured"}
    outcomes = load_outcomes(connection, [pour.id for pour in poured.values()])
    ends: dict[str, _End] = {}
    for piece, latest in last.items():
        done = poured.get(piece)
        found = outcomes.get(done.id) if done else None
        ends[piece] = {
            "poured": done.day if done else None,
            "begun": latest.day if latest.stage == "in kiln" else None,
            "came": came(found[-1].parts) if found else None,
        }
    return ends
