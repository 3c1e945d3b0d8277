"""Listing: the pieces of the book, the one last planned first, a page at a time."""

from collections.abc import Sequence
from datetime import date
from typing import TypedDict

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.model import PieceLine
from pourcast.book.outcomes import came, load_outcomes
from pourcast.book.store import Book
from pourcast.errors import InputError

PAGE = 50
"""Lines of a page; own choice."""

_POURED = ("poured", "quenched")


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
    pours, plans = tables.pours.c, tables.plans.c
    asked = (
        sa.select(plans.piece_id, pours.id, pours.day)
        .join(tables.plans, plans.id == pours.plan_id)
        .where(plans.piece_id.in_(ids))
        .order_by(plans.piece_id, pours.day, pours.created, pours.id)
    )
    rows = [(piece, pour, day) for piece, pour, day in connection.execute(asked)]
    burning = _burning(connection, [pour for _, pour, _ in rows])
    latest = {piece: (pour, day) for piece, pour, day in rows if pour not in burning}
    last = {piece: (pour, day) for piece, pour, day in rows}
    outcomes = load_outcomes(connection, [pour for pour, _ in latest.values()])
    ends: dict[str, _End] = {}
    for piece, (pour, day) in last.items():
        poured = latest.get(piece)
        found = outcomes.get(poured[0]) if poured else None
        ends[piece] = {
            "poured": poured[1] if poured else None,
            "begun": day if pour in burning else None,
            "came": came(found[-1].parts) if found else None,
        }
    return ends


def _burning(connection: Connection, pours: Sequence[str]) -> set[str]:
    """Return which pours have begun in the kiln without a word of the pour or what came."""
    events, outcomes = tables.events.c, tables.outcomes.c
    other = tables.events.alias().c
    # Asked of these pours alone: a large book has acts by the ten thousand.
    back = sa.select(other.takes_back).where(
        other.takes_back.is_not(None), other.pour_id.in_(pours)
    )
    said = sa.select(events.pour_id, events.act).where(
        events.pour_id.in_(pours),
        events.act.in_(("began", *_POURED)),
        events.id.not_in(back),
    )
    acts = [(pour, act) for pour, act in connection.execute(said)]
    seen = sa.select(outcomes.pour_id).where(outcomes.pour_id.in_(pours))
    done = set(connection.execute(seen).scalars())
    done |= {pour for pour, act in acts if act in _POURED}
    return {pour for pour, act in acts if act == "began"} - done
