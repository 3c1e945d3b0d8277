"""Stock: lots of metal, powder and wax, and the ledger of what left and came back.

A line of the ledger is never changed.  A slip is put right by a further line,
"found" or "lost", with its reason.  A balance below nothing means that the book
is wrong somewhere, so it needs a reason as well.
"""

from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.holdings import Lot, Movement
from pourcast.book.settings import load_settings
from pourcast.book.store import Book, find_id, new_id, retried
from pourcast.book.words import MOVES
from pourcast.errors import InputError

NEEDS_REASON = frozenset({"lost", "found"})


@retried
def buy(
    book: Book,
    kind: str,
    material: str,
    *,
    mass_mg: int,
    price: Decimal,
    bought: date,
    at: datetime,
    name: str = "",
    composition: str = "",
    remelts: int = 0,
) -> Lot:
    """Enter a lot that was bought, and return it.

    Parameters
    ----------
    book : Book
    kind : str
        "metal", "powder" or "wax".
    material : str
        Key of the values file, such as "si_bronze_c87300".
    mass_mg : int
        Above 0.
    price : Decimal
        Of all of it; 0 or more, in the currency of the book.
    bought : date
    at : datetime
        Now, with its zone.
    name, composition : str
    remelts : int
        How often this metal has been melted before.

    Raises
    ------
    InputError
        If the book has no currency yet, or a value is outside its limits.
    """
    if mass_mg <= 0:
        raise InputError("mass", mass_mg, "mg", "above 0")
    if not price.is_finite() or price < 0:
        raise InputError("price", price, "", "0 or more")
    if not material.strip():
        raise InputError("material", "empty", "", "the key or name of a material")
    made = new_id()
    with book.writing() as connection:
        if load_settings(connection).currency is None:
            raise InputError(
                "currency", "not chosen", "", "set first: pourcast book set --currency EUR"
            )
        row = {
            "id": made,
            "kind": kind,
            "material": material,
            "name": name or material,
            "composition": composition,
            "remelts": remelts,
            "bought": bought,
            "bought_mg": mass_mg,
            "price": price,
            "created": at,
        }
        connection.execute(tables.lots.insert(), row)
        _add(connection, made, "bought", mass_mg, None, "", at)
        return load_lots(connection, [made])[0]


@retried
def move(
    book: Book,
    lot_id: str,
    act: str,
    mass_mg: int,
    *,
    at: datetime,
    pour_id: str | None = None,
    reason: str = "",
) -> Lot:
    """Enter a movement of a lot, and return the lot as it is then.

    Parameters
    ----------
    book : Book
    lot_id : str
    act : str
        "taken", "returned", "lost" or "found".
    mass_mg : int
        Above 0; the act says which way.
    at : datetime
        Now, with its zone.
    pour_id : str or None
        The pour that it was for.
    reason : str
        Needed for "lost" and "found", and for a balance that falls below 0.

    Raises
    ------
    InputError
        If a value is outside its limits or a reason is missing.
    """
    if act not in MOVES or act == "bought":
        known = ", ".join(word for word in MOVES if word != "bought")
        raise InputError("movement", act, "", f"one of {known}")
    if mass_mg <= 0:
        raise InputError("mass", mass_mg, "mg", "above 0")
    if act in NEEDS_REASON and not reason.strip():
        raise InputError("reason", "empty", "", f"some words on why it was {act}")
    change = MOVES[act] * mass_mg
    with book.writing() as connection:
        lot = find_id(connection, tables.lots, lot_id)
        pour = find_id(connection, tables.pours, pour_id) if pour_id else None
        left = _balances(connection, [lot])[lot] + change
        if left < 0 and change < 0 and not reason.strip():
            raise InputError(
                "what is left of the lot",
                left / 1000,
                "g",
                "0 or more, or else its reason must be noted",
                "Weigh what is there and enter it as found, or say why with --reason.",
            )
        _add(connection, lot, act, change, pour, reason, at)
        return load_lots(connection, [lot])[0]


def lots(book: Book) -> tuple[Lot, ...]:
    """Return all lots with what is left of them, by kind and day."""
    with book.reading() as connection:
        return load_lots(connection)


def movements(book: Book, lot_id: str) -> tuple[Movement, ...]:
    """Return the ledger of a lot, the oldest line first."""
    table = tables.movements
    with book.reading() as connection:
        lot = find_id(connection, tables.lots, lot_id)
        asked = sa.select(*tables.told(table, who=True)).where(table.c.lot_id == lot)
        # The purchase comes first, also where a line was entered in the same moment.
        purchase = sa.case((table.c.move == "bought", 0), else_=1)
        order = (purchase, table.c.created, table.c.id)
        rows = connection.execute(asked.order_by(*order)).mappings()
        return tuple(Movement(**row) for row in rows)


def load_lots(connection: Connection, ids: Sequence[str] | None = None) -> tuple[Lot, ...]:
    """Return lots by whole ids; None: all of them."""
    table = tables.lots
    asked = sa.select(*(column for column in tables.told(table) if column.name != "created"))
    if ids is not None:
        asked = asked.where(table.c.id.in_(ids))
    rows = connection.execute(asked.order_by(table.c.kind, table.c.bought, table.c.id)).mappings()
    found = rows.all()
    left = _balances(connection, ids)
    return tuple(Lot(**row, balance_mg=left.get(row["id"], 0)) for row in found)


def unexplained(connection: Connection) -> tuple[str, ...]:
    """Return the lots whose balance is below 0 though no line of theirs gives a reason."""
    table = tables.movements.c
    reasons = sa.func.max(sa.func.length(table.reason))
    asked = sa.select(table.lot_id).group_by(table.lot_id)
    below = asked.having((sa.func.sum(table.change_mg) < 0) & (reasons == 0))
    return tuple(connection.execute(below.order_by(table.lot_id)).scalars())


def grams(mass_mg: int) -> str:
    """Return a mass in grams, written exactly.

    Examples
    --------
    >>> grams(1_250_000), grams(-1), grams(120_500)
    ('1250', '-0.001', '120.5')
    """
    return f"{(Decimal(mass_mg) / 1000).normalize():f}"


def _balances(connection: Connection, ids: Sequence[str] | None) -> dict[str, int]:
    table = tables.movements.c
    asked = sa.select(table.lot_id, sa.func.sum(table.change_mg).label("left"))
    if ids is not None:
        asked = asked.where(table.lot_id.in_(ids))
    return {row.lot_id: int(row.left) for row in connection.execute(asked.group_by(table.lot_id))}


def _add(
    connection: Connection,
    lot: str,
    act: str,
    change: int,
    pour: str | None,
    reason: str,
    at: datetime,
) -> None:
    row = {
        "id": new_id(),
        "lot_id": lot,
        "pour_id": pour,
        "move": act,
        "change_mg": change,
        "reason": reason,
        "created": at,
    }
    connection.execute(tables.movements.insert(), row)
