"""Listing: the pieces of the book, the one last planned first, a page at a time."""

from collections.abc import Sequence
from datetime import date

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.model import PieceLine
from pourcast.book.outcomes import came, load_outcomes
from pourcast.book.store import Book
from pourcast.errors import InputError

PAGE = 50
"""Lines of a page; own choice."""


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
            poured=ends.get(row["piece_id"], (None, None))[0],
            came=ends.get(row["piece_id"], (None, None))[1],
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


def _ends(connection: Connection, ids: Sequence[str]) -> dict[str, tuple[date, str | None]]:
    """Return day and outcome of the latest pour of each piece that was poured."""
    pours, plans = tables.pours.c, tables.plans.c
    asked = (
        sa.select(plans.piece_id, pours.id, pours.day)
        .join(tables.plans, plans.id == pours.plan_id)
        .where(plans.piece_id.in_(ids))
        .order_by(plans.piece_id, pours.day, pours.created, pours.id)
    )
    latest = {piece: (pour, day) for piece, pour, day in connection.execute(asked)}
    outcomes = load_outcomes(connection, [pour for pour, _ in latest.values()])
    return {
        piece: (day, came(outcomes[pour][-1].parts) if pour in outcomes else None)
        for piece, (pour, day) in latest.items()
    }
