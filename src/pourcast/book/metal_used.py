"""Metal used: what the store says of the metal that went into a pour and came back."""

from dataclasses import dataclass

import sqlalchemy as sa

from pourcast.book import tables
from pourcast.book.store import Book, find_id


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalUsed:
    """Metal of one pour by the ledgers of its lots.

    Parameters
    ----------
    taken_mg, returned_mg : int
        Returned: button, sprues and what was left over; 0 where none was entered.
    most_meltings : int
        Of any lot taken, this pour counted.
    """

    taken_mg: int
    returned_mg: int
    most_meltings: int


def metal_used(book: Book, pour_id: str) -> MetalUsed | None:
    """Return the metal of a pour; None where none was taken from the store for it.

    Parameters
    ----------
    book : Book
    pour_id : str

    Raises
    ------
    InputError
        If there is no such pour.
    """
    lots, moved = tables.lots.c, tables.movements.c
    with book.reading() as connection:
        pour = find_id(connection, tables.pours, pour_id)
        asked = (
            sa.select(moved.move, moved.change_mg, lots.remelts)
            .join(tables.lots, lots.id == moved.lot_id)
            .where(moved.pour_id == pour, lots.kind == "metal")
        )
        rows = connection.execute(asked).all()
    taken = [row for row in rows if row.move == "taken"]
    if not taken:
        return None
    return MetalUsed(
        taken_mg=-sum(row.change_mg for row in taken),
        returned_mg=sum(row.change_mg for row in rows if row.move == "returned"),
        most_meltings=1 + max(row.remelts for row in taken),
    )
