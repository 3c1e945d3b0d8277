"""Records of what the studio holds and spends: lots, their ledger, costs, flasks, settings.

Mass is in whole milligrams and money in exact decimals, so that nothing is lost
by rounding when lines are added up.
"""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Literal

from pourcast.book.who import UNKNOWN
from pourcast.book.words import LotKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """Metal, powder or wax bought together.

    Parameters
    ----------
    id : str
    kind : LotKind
    material : str
        Key of the values file, such as "si_bronze_c87300".
    name : str
        As the caster calls it.
    composition : str
        As the maker or an analysis gives it.
    remelts : int
        How often the metal of this lot has been melted before.
    bought : date
    bought_mg : int
    price : Decimal
        Of all of it.
    balance_mg : int
        What is left by the ledger.
    """

    id: str
    kind: LotKind
    material: str
    name: str
    composition: str
    remelts: int
    bought: date
    bought_mg: int
    price: Decimal
    balance_mg: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """One line of the ledger of a lot; ``change_mg`` is below 0 where mass leaves.

    ``who`` is whose hand entered it.
    """

    id: str
    lot_id: str
    pour_id: str | None
    move: str
    change_mg: int
    reason: str
    created: datetime
    who: str = UNKNOWN


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """Gas, power, hours or another cost of one pour; hours carry the rate of their day."""

    id: str
    pour_id: str
    kind: str
    amount: Decimal | None
    minutes: int | None
    rate_per_hour: Decimal | None
    note: str
    created: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class FlaskOnShelf:
    """A flask that stands on the shelf."""

    id: str
    name: str
    inside_diameter_mm: float
    height_mm: float
    wall: Literal["solid", "perforated"]
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """What holds for the whole book.

    Parameters
    ----------
    currency : str or None
        Three letters of ISO 4217; None: not chosen yet.
    rate_per_hour : Decimal or None
        What an hour of work is worth.
    margin : Decimal
        Of the cost, put on top for a client.
    least_mg : dict of str to int
        By kind of lot: below this the book says that stock runs low.
    """

    currency: str | None
    rate_per_hour: Decimal | None
    margin: Decimal
    least_mg: dict[str, int]
