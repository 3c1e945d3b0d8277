"""Settings: the currency, what an hour is worth, when stock is low, the flasks on the shelf."""

from decimal import Decimal

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.costs import places
from pourcast.book.holdings import FlaskOnShelf, Settings
from pourcast.book.kinds import amount
from pourcast.book.store import Book, new_id, retried
from pourcast.book.words import LOT_KINDS
from pourcast.errors import InputError

MARGIN = Decimal("0.3")
"""Of the cost, where none is set; an estimate."""


def read_settings(book: Book) -> Settings:
    """Return what holds for the whole book."""
    with book.reading() as connection:
        return load_settings(connection)


def load_settings(connection: Connection) -> Settings:
    """Return the settings that a connection sees."""
    table = tables.settings.c
    kept = {row.key: row.value for row in connection.execute(sa.select(table.key, table.value))}
    rate = kept.get("rate_per_hour")
    return Settings(
        currency=kept.get("currency"),
        rate_per_hour=None if rate is None else amount(rate, "rate_per_hour"),
        margin=amount(kept["margin"], "margin") if "margin" in kept else MARGIN,
        least_mg={
            kind: int(kept[f"least_{kind}_mg"]) for kind in LOT_KINDS if f"least_{kind}_mg" in kept
        },
    )


@retried
def change_settings(
    book: Book,
    *,
    currency: str | None = None,
    rate_per_hour: Decimal | None = None,
    margin: Decimal | None = None,
    least_mg: dict[str, int] | None = None,
) -> Settings:
    """Change the settings that are named, and return all of them.

    Raises
    ------
    InputError
        If a value is outside its limits, or if the currency is changed after
        money was entered: an amount without its currency is worth nothing.
    """
    asked: dict[str, str] = {}
    if currency is not None:
        places(currency)
        asked["currency"] = currency
    for name, value in (("rate_per_hour", rate_per_hour), ("margin", margin)):
        if value is not None:
            if not value.is_finite() or value < 0:
                raise InputError(name, value, "", "0 or more")
            asked[name] = str(amount(f"{value:f}", name))
    for kind, mass in (least_mg or {}).items():
        if kind not in LOT_KINDS:
            raise InputError("kind of lot", kind, "", "one of " + ", ".join(LOT_KINDS))
        if mass < 0:
            raise InputError(f"least {kind}", mass, "mg", "0 or more")
        asked[f"least_{kind}_mg"] = str(mass)
    with book.writing() as connection:
        before = load_settings(connection)
        if currency is not None and before.currency not in (None, currency):
            _refuse_if_money(connection, str(before.currency))
        for key, value_text in asked.items():
            _put(connection, key, value_text)
        return load_settings(connection)


@retried
def put_flask(
    book: Book,
    name: str,
    *,
    inside_diameter_mm: float,
    height_mm: float,
    wall: str = "solid",
    count: int = 1,
) -> FlaskOnShelf:
    """Note how many flasks of a kind stand on the shelf, and return the line.

    A flask of the same name is counted anew.
    """
    table = tables.flasks
    if not name.strip():
        raise InputError("name of the flask", "empty", "", "a name")
    with book.writing() as connection:
        found = connection.execute(sa.select(table.c.id).where(table.c.name == name)).scalar()
        row = {
            "id": found or new_id(),
            "name": name,
            "inside_diameter_mm": inside_diameter_mm,
            "height_mm": height_mm,
            "wall": wall,
            "count": count,
        }
        if found:
            connection.execute(table.delete().where(table.c.id == found))
        connection.execute(table.insert(), row)
    return FlaskOnShelf(**row)  # type: ignore[arg-type]


def flasks(book: Book) -> tuple[FlaskOnShelf, ...]:
    """Return the flasks on the shelf, by width and height."""
    table = tables.flasks
    order = (table.c.inside_diameter_mm, table.c.height_mm, table.c.name)
    with book.reading() as connection:
        rows = connection.execute(sa.select(*tables.told(table)).order_by(*order)).mappings()
        return tuple(FlaskOnShelf(**row) for row in rows)


def _put(connection: Connection, key: str, value: str) -> None:
    table = tables.settings
    connection.execute(table.delete().where(table.c.key == key))
    connection.execute(table.insert(), {"key": key, "value": value})


def _refuse_if_money(connection: Connection, currency: str) -> None:
    for table in (tables.lots, tables.costs):
        if connection.execute(sa.select(table.c.id).limit(1)).first():
            raise InputError(
                "currency", currency, "", "kept, since amounts stand in the book already"
            )
