"""A studio with some of each: pieces, a plan in the book, outcome, lot, flask and own value."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import NamedTuple

from pourcast.app.pieces import PieceText
from pourcast.app.studio import Studio
from pourcast.book.holdings import Lot
from pourcast.book.model import PartOutcome
from pourcast.book.outcomes import keep_first_outcome
from pourcast.book.settings import change_settings, put_flask
from pourcast.book.stock import buy
from tests.app.client import example

DRAFT = {
    "name": "Beech twig",
    "looked-over": "yes",
    "part.0.name": "twig",
    "part.0.shape": "rod",
    "part.0.length_mm": "twenty",
    "vent.0.on": "twig",
    "kiln.step.0.to_C": "700",
    "metal.alloy": "si_bronze_c87300",
}
"""A sheet half filled in, with a wrong number."""


class Furnished(NamedTuple):
    """What stands in the studio: a piece that waits, one that was poured, and a lot of metal."""

    waiting: PieceText
    poured: PieceText
    lot: Lot


def furnish(studio: Studio) -> Furnished:
    """Put some of each into an empty studio."""
    waiting, poured = studio.add(example()), studio.add(example("larch_twig"))
    for piece in (waiting, poured):
        studio.chance(piece)
    now = datetime.now(UTC)
    kept = studio.keep_in_book(poured.id)
    day = (now + timedelta(days=1)).date()
    short = PartOutcome(part=kept.parts[-1].name, state="short", members_short=1)
    keep_first_outcome(
        studio.book, kept.id, [short], poured=day, seen=day, at=now + timedelta(days=2)
    )
    change_settings(studio.book, currency="EUR", least_mg={"metal": 10})
    lot = buy(
        studio.book,
        "metal",
        "si_bronze_c87300",
        mass_mg=2_500_000,
        price=Decimal("84.50"),
        bought=date(2026, 3, 1),
        at=now,
        name="Ingots",
    )
    put_flask(studio.book, "Small", inside_diameter_mm=76.0, height_mm=100.0)
    studio.own.put("pour.film_factor", value=1.5, low=1.2, high=1.9, note="strips of March")
    return Furnished(waiting, poured, lot)
