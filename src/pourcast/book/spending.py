"""Spending: enter what a pour cost beside its metal, and add up an attempt."""

from collections import defaultdict
from datetime import datetime
from decimal import Decimal
from typing import Any

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.costs import AttemptCost, work
from pourcast.book.holdings import Cost
from pourcast.book.ledger import line_costs
from pourcast.book.settings import load_settings
from pourcast.book.store import Book, find_id, new_id, retried
from pourcast.errors import InputError

NOTHING = Decimal(0)


@retried
def spend(
    book: Book,
    pour_id: str,
    kind: str,
    *,
    at: datetime,
    amount: Decimal | None = None,
    minutes: int | None = None,
    note: str = "",
) -> Cost:
    """Enter a cost of a pour, and return it.

    Parameters
    ----------
    book : Book
    pour_id : str
    kind : str
        "gas", "power", "other" with an amount, or "hours" with minutes.
    at : datetime
        Now, with its zone.
    amount : Decimal or None
        In the currency of the book; below 0 for a credit.
    minutes : int or None
        Of work; they are kept with the rate that holds now.
    note : str

    Raises
    ------
    InputError
        If amount or minutes do not fit the kind, or if the book has no currency
        or no rate yet.
    """
    if (kind == "hours") != (minutes is not None) or (kind == "hours") != (amount is None):
        raise InputError("cost", kind, "", "hours with minutes, or another kind with an amount")
    with book.writing() as connection:
        settings = load_settings(connection)
        if settings.currency is None:
            raise InputError(
                "currency", "not chosen", "", "set first: pourcast book set --currency EUR"
            )
        if kind == "hours" and settings.rate_per_hour is None:
            raise InputError("rate", "not set", "", "set first: pourcast book set --rate 30")
        row = {
            "id": new_id(),
            "pour_id": find_id(connection, tables.pours, pour_id),
            "kind": kind,
            "amount": amount,
            "minutes": minutes,
            "rate_per_hour": settings.rate_per_hour if kind == "hours" else None,
            "note": note,
            "created": at,
        }
        connection.execute(tables.costs.insert(), row)
    return Cost(**row)  # type: ignore[arg-type]


def costs_of(book: Book, pour_id: str) -> tuple[Cost, ...]:
    """Return the costs that were entered for a pour, the oldest first."""
    with book.reading() as connection:
        return _load_costs(connection, find_id(connection, tables.pours, pour_id))


def attempt_cost(book: Book, pour_id: str) -> AttemptCost:
    """Return what a pour cost, exact to a ten-thousandth of the currency.

    Parameters
    ----------
    book : Book
    pour_id : str

    Returns
    -------
    AttemptCost
        Masses at the price of the lot they came from, or went back to.
    """
    with book.reading() as connection:
        pour = find_id(connection, tables.pours, pour_id)
        by_kind: dict[str, Decimal] = defaultdict(lambda: NOTHING)
        for kind, act, cost in _lines_of(connection, pour):
            name = f"metal_{act}" if kind == "metal" else kind
            by_kind[name] += cost
        for entry in _load_costs(connection, pour):
            if entry.minutes is not None and entry.rate_per_hour is not None:
                by_kind["hours"] += work(entry.minutes, entry.rate_per_hour)
            else:
                by_kind[entry.kind] += entry.amount or NOTHING
    return AttemptCost(
        metal_taken=by_kind["metal_taken"] + by_kind["metal_lost"],
        metal_returned=-(by_kind["metal_returned"] + by_kind["metal_found"]),
        powder=by_kind["powder"],
        wax=by_kind["wax"],
        energy=by_kind["gas"] + by_kind["power"],
        hours=by_kind["hours"],
        other=by_kind["other"],
    )


def _lines_of(connection: Connection, pour: str) -> list[tuple[str, str, Decimal]]:
    """Return kind of lot, movement and cost of each ledger line of a pour."""
    table, lots = tables.movements.c, tables.lots.c
    mine = sa.select(table.lot_id).where(table.pour_id == pour)
    asked = (
        sa.select(
            lots.id, lots.kind, lots.price, lots.bought_mg, table.pour_id, table.move,
            table.change_mg,
        )
        .join(tables.lots, lots.id == table.lot_id)
        .where(table.lot_id.in_(mine), table.move != "bought")
        .order_by(lots.id, table.created, table.id)
    )  # fmt: skip
    ledgers: dict[str, list[Any]] = defaultdict(list)
    for row in connection.execute(asked):
        ledgers[row.id].append(row)
    made = []
    for rows in ledgers.values():
        first = rows[0]
        changes = [row.change_mg for row in rows]
        costs = line_costs(first.price, first.bought_mg, changes)
        made += [
            (row.kind, row.move, cost)
            for row, cost in zip(rows, costs, strict=True)
            if row.pour_id == pour
        ]
    return made


def _load_costs(connection: Connection, pour: str) -> tuple[Cost, ...]:
    table = tables.costs
    asked = sa.select(*tables.told(table)).where(table.c.pour_id == pour)
    rows = connection.execute(asked.order_by(table.c.created, table.c.id)).mappings()
    return tuple(Cost(**row) for row in rows)
