"""Stock and money: the commands of the book that mind lots, the ledger and costs."""

from datetime import UTC, date, datetime
from decimal import Decimal
from typing import TYPE_CHECKING, Annotated

import typer

from pourcast.cli.outcome import Data, find_piece, read_day
from pourcast.cli.stages import AsJson

if TYPE_CHECKING:
    from pourcast.book.store import Book

Mass = Annotated[str, typer.Argument(metavar="MASS", help="In grams, or such as 2.5 kg.")]


def stock(
    for_: Annotated[
        str | None, typer.Option("--for", metavar="PIECE", help="Is there enough for its pour?")
    ] = None,
    json: AsJson = False,
    data: Data = None,
) -> None:
    """Show what is left of each lot, the flasks, and what runs low."""
    from pourcast.book.checks import findings
    from pourcast.book.plans import latest_plan
    from pourcast.book.settings import flasks, read_settings
    from pourcast.book.stock import lots
    from pourcast.book.store import open_book
    from pourcast.cli.show_book import as_json, stock_lines

    with open_book(data) as book:
        plan = latest_plan(book, find_piece(book, for_)) if for_ else None
        held, settings, shelf = lots(book), read_settings(book), flasks(book)
    found = findings(held, settings, plan)
    if json:
        tree = {"lots": held, "flasks": shelf, "settings": settings, "findings": found}
        _write([as_json(tree).rstrip("\n")])
    else:
        _write(stock_lines(held, shelf, settings, found))


def buy(
    kind: Annotated[str, typer.Argument(metavar="KIND", help="metal, powder or wax.")],
    material: Annotated[
        str, typer.Argument(metavar="MATERIAL", help="Key such as si_bronze_c87300; see values.")
    ],
    mass: Mass,
    price: Annotated[str, typer.Argument(metavar="PRICE", help="Of all of it, such as 84.50.")],
    name: Annotated[str, typer.Option(help="What you call it.")] = "",
    composition: Annotated[str, typer.Option(help="As the maker gives it.")] = "",
    remelts: Annotated[int, typer.Option(min=0, help="How often melted before.")] = 0,
    on: Annotated[str | None, typer.Option(metavar="DAY", help="Left out: today.")] = None,
    data: Data = None,
) -> None:
    """Enter a lot that was bought."""
    from pourcast.book import stock as store_of_lots
    from pourcast.book.kinds import amount
    from pourcast.book.store import open_book

    with open_book(data) as book:
        lot = store_of_lots.buy(
            book,
            kind,
            material,
            mass_mg=read_mass(mass),
            price=amount(price, "price"),
            bought=read_day(on, "day", date.today()),
            at=datetime.now(UTC),
            name=name,
            composition=composition,
            remelts=remelts,
        )
    _write_lot(lot.id, lot.balance_mg)
    if not _is_known(kind, material):
        _write(
            [
                f"There are no values of {material}, so no plan can ask for it and it is held "
                f"against no pour. What there is: pourcast values {_GROUPS.get(kind, kind)}"
            ]
        )


_GROUPS = {"metal": "alloys", "powder": "investment", "wax": "waxes"}


def _is_known(kind: str, material: str) -> bool:
    from pourcast.materials import library

    known = library()
    return material in {"metal": known.alloys, "powder": known.powders}.get(kind, known.waxes)


def move(
    lot: Annotated[str, typer.Argument(metavar="LOT", help="Id of a lot.")],
    act: Annotated[str, typer.Argument(metavar="ACT", help="taken, returned, lost or found.")],
    mass: Mass,
    pour: Annotated[
        str | None, typer.Option(metavar="POUR", help="Id of the pour, or its piece.")
    ] = None,
    reason: Annotated[str, typer.Option(help="Needed for lost, found and below 0.")] = "",
    data: Data = None,
) -> None:
    """Enter what was taken from a lot, or came back to it."""
    from pourcast.book import stock as store_of_lots
    from pourcast.book.store import open_book

    with open_book(data) as book:
        left = store_of_lots.move(
            book,
            lot,
            act,
            read_mass(mass),
            pour_id=find_pour(book, pour) if pour else None,
            reason=reason,
            at=datetime.now(UTC),
        )
    _write_lot(left.id, left.balance_mg)


def spend(
    pour: Annotated[str, typer.Argument(metavar="POUR", help="Id of the pour, or its piece.")],
    kind: Annotated[str, typer.Argument(metavar="KIND", help="gas, power, hours or other.")],
    what: Annotated[
        str, typer.Argument(metavar="AMOUNT", help="Such as 4.20, or a time such as 2 h 30 min.")
    ],
    note: Annotated[str, typer.Option(help="In your words.")] = "",
    data: Data = None,
) -> None:
    """Enter a cost of a pour; hours count at the rate of the book."""
    from pourcast.book import spending
    from pourcast.book.kinds import amount
    from pourcast.book.settings import read_settings
    from pourcast.book.store import open_book
    from pourcast.cli.show_money import spent_line
    from pourcast.trade_units import read

    minutes = None
    money = None
    if kind == "hours":
        minutes = round(read(what, "time", default_unit="h") / 60.0)
    else:
        money = amount(what, "amount")
    with open_book(data) as book:
        found = find_pour(book, pour)
        spending.spend(
            book,
            found,
            kind,
            amount=money,
            minutes=minutes,
            note=note,
            at=datetime.now(UTC),
        )
        made, settings = spending.attempt_cost(book, found), read_settings(book)
    _write([spent_line(kind, money, minutes, made, settings.currency or "")])


def cost(
    pour: Annotated[str, typer.Argument(metavar="POUR", help="Id of the pour, or its piece.")],
    original: Annotated[
        str | None,
        typer.Option(metavar="AMOUNT", help="Worth of an original that exists once."),
    ] = None,
    margin: Annotated[
        str | None, typer.Option(metavar="SHARE", help="Such as 0.3; left out: the book's.")
    ] = None,
    json: AsJson = False,
    data: Data = None,
) -> None:
    """Say what an attempt cost, what a whole piece costs and what to ask for it."""
    from pourcast.book.costs import weigh
    from pourcast.book.kinds import amount
    from pourcast.book.outcomes import read_pour
    from pourcast.book.plans import read_plan
    from pourcast.book.settings import read_settings
    from pourcast.book.spending import attempt_cost, costs_of
    from pourcast.book.store import open_book
    from pourcast.cli.show_book import as_json
    from pourcast.cli.show_money import cost_lines
    from pourcast.errors import InputError

    with open_book(data) as book:
        settings = read_settings(book)
        if settings.currency is None:
            hint = "pourcast book set --currency EUR"
            raise InputError("currency", "not chosen", "", f"set first: {hint}")
        found = find_pour(book, pour)
        made, entered = attempt_cost(book, found), costs_of(book, found)
        plan = read_plan(book, read_pour(book, found).plan_id)
    weighed = None
    if plan.chance_whole > 0.0:
        weighed = weigh(
            made.total,
            plan.chance_whole,
            currency=settings.currency,
            margin=settings.margin if margin is None else amount(margin, "margin"),
            original=None if original is None else amount(original, "original"),
        )
    if json:
        tree = {"currency": settings.currency, "attempt": made, "entered": entered}
        _write([as_json({**tree, "weighed": weighed}).rstrip("\n")])
    else:
        _write(cost_lines(made, weighed, settings.currency, entered))


def set_(
    currency: Annotated[
        str | None, typer.Option(metavar="CODE", help="Three letters of ISO 4217.")
    ] = None,
    rate: Annotated[str | None, typer.Option(metavar="AMOUNT", help="Of an hour.")] = None,
    margin: Annotated[str | None, typer.Option(metavar="SHARE", help="Such as 0.3.")] = None,
    least: Annotated[
        list[str] | None, typer.Option(metavar="KIND=MASS", help='Such as "metal=2 kg".')
    ] = None,
    data: Data = None,
) -> None:
    """Set the currency, the rate of an hour, the margin, and when stock is low."""
    from pourcast.book.kinds import amount
    from pourcast.book.settings import change_settings
    from pourcast.book.store import open_book
    from pourcast.cli.show_money import settings_lines

    asked = [each.partition("=") for each in least or []]
    with open_book(data) as book:
        kept = change_settings(
            book,
            currency=currency,
            rate_per_hour=None if rate is None else amount(rate, "rate"),
            margin=None if margin is None else amount(margin, "margin"),
            least_mg={kind: read_mass(mass) for kind, _, mass in asked},
        )
    _write(settings_lines(kept))


def flask(
    name: Annotated[str, typer.Argument(metavar="NAME", help="What you call it.")],
    diameter: Annotated[str, typer.Option(metavar="LENGTH", help="Inside, in mm or a unit.")],
    height: Annotated[str, typer.Option(metavar="LENGTH", help="In mm or a unit.")],
    wall: Annotated[str, typer.Option(help="solid or perforated.")] = "solid",
    count: Annotated[int, typer.Option(min=0, help="How many stand on the shelf.")] = 1,
    data: Data = None,
) -> None:
    """Note flasks on the shelf; a name that is there is counted anew."""
    from pourcast.book.settings import put_flask
    from pourcast.book.store import open_book
    from pourcast.trade_units import read
    from pourcast.units import from_si

    sizes = [from_si(read(text, "length", default_unit="mm"), "mm") for text in (diameter, height)]
    with open_book(data) as book:
        put_flask(
            book,
            name,
            inside_diameter_mm=round(sizes[0], 6),
            height_mm=round(sizes[1], 6),
            wall=wall,
            count=count,
        )


def find_pour(book: "Book", asked: str) -> str:
    """Return the id of a pour by its id, or the latest pour of a piece."""
    from pourcast.book.outcomes import latest_pour
    from pourcast.book.plans import latest_plan
    from pourcast.book.store import find_id
    from pourcast.book.tables import pours
    from pourcast.errors import InputError

    try:
        with book.reading() as connection:
            return find_id(connection, pours, asked)
    except InputError:
        plan = latest_plan(book, find_piece(book, asked))
    latest = latest_pour(book, plan.id)
    if latest is None:
        raise InputError("pour", asked, "", f"noted first: pourcast book pour {asked}")
    return latest.id


def read_mass(written: str) -> int:
    """Return a mass in milligrams; a plain number is in grams."""
    from pourcast.trade_units import read

    # Six figures after the comma of a kilogram; the scales of a studio tell no more.
    return int((Decimal(repr(read(written, "mass", default_unit="g"))) * 10**6).to_integral_value())


def _write_lot(lot: str, balance_mg: int) -> None:
    from pourcast.book.stock import grams
    from pourcast.cli.show_book import SHORT_ID

    _write([f"Lot {lot[:SHORT_ID]}: {grams(balance_mg)} g left"])


def _write(lines: list[str]) -> None:
    from pourcast.cli.signs import write_out

    write_out("\n".join(lines) + "\n")
