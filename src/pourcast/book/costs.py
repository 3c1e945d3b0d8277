"""Costs: what an attempt costs, what a good piece costs, and what to ask for it.

An attempt takes metal, of which some comes back, powder, wax, gas or power, and
hours at a rate.  It comes out whole with the chance p.

An original that can be made again is poured until one pour is whole.  The number
of pours is geometric, with mean

    n = 1 / p                                                                  (1)

An original that exists once burns in the attempt, whether metal takes its place
or not: what it is worth, v, is part of what the attempt takes, and

    expected loss = (1 - p) · v                                                (2)

goes with it.  In the long run one of n attempts can be sold, and carries the
others.  With a for the attempt, and v = 0 where the original can be made again,

    expected = (a + v) / p,    price = expected · (1 + margin)                 (3)

Left out: that a second pour is better planned than the first, which makes (1) too
high; time on the market, tax and the cost of the workshop itself.

Source: mean of the geometric distribution, any text on probability.  That a price
is cost over chance with a margin on top is common practice, no source.
"""

import math
from dataclasses import dataclass
from decimal import Context, Decimal
from fractions import Fraction

from pourcast.errors import InputError

MINUTES_PER_HOUR = 60

_WIDE = Context(prec=80)

_NO_CENTS = frozenset(
    (
        "BIF",
        "CLP",
        "DJF",
        "GNF",
        "ISK",
        "JPY",
        "KMF",
        "KRW",
        "PYG",
        "RWF",
        "UGX",
        "UYI",
        "VND",
        "VUV",
        "XAF",
        "XOF",
        "XPF",
    )
)
_THOUSANDTHS = frozenset(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"))
"""Currencies without hundredths; ISO 4217, from memory.  All others have two places."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AttemptCost:
    """What one attempt costs, in the currency of the book.

    Parameters
    ----------
    metal_taken, metal_returned : Decimal
        At the price of the lot; what came back is a credit, 0 or more.
    powder, wax : Decimal
    energy : Decimal
        Gas and power.
    hours : Decimal
        Work, at the rate of its day.
    other : Decimal
    """

    metal_taken: Decimal
    metal_returned: Decimal
    powder: Decimal
    wax: Decimal
    energy: Decimal
    hours: Decimal
    other: Decimal

    @property
    def metal(self) -> Decimal:
        """Metal that did not come back: in the piece, lost or spilt."""
        return self.metal_taken - self.metal_returned

    @property
    def total(self) -> Decimal:
        """All of it."""
        rest = self.powder + self.wax + self.energy + self.hours + self.other
        return self.metal + rest


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """A cost weighed with its chance.

    Parameters
    ----------
    chance : float
        That an attempt comes out whole, 0 to 1.
    attempt : Decimal
    attempts : Decimal
        Mean number of attempts for a whole piece, two places.
    expected : Decimal
        Mean cost of a whole piece.
    chance_lost : float or None
        That the original is lost; None: it can be made again.
    expected_loss : Decimal or None
        Mean worth of the original that is lost in the attempt.
    price : Decimal
        With the margin on top.
    """

    chance: float
    attempt: Decimal
    attempts: Decimal
    expected: Decimal
    chance_lost: float | None
    expected_loss: Decimal | None
    price: Decimal


def places(currency: str) -> int:
    """Return how many decimal places a currency has.

    Raises
    ------
    InputError
        If the code is not three capital letters.

    Examples
    --------
    >>> places("EUR"), places("JPY"), places("KWD")
    (2, 0, 3)
    """
    if len(currency) != 3 or not (currency.isascii() and currency.isalpha() and currency.isupper()):
        raise InputError("currency", currency[:20], "", "three capital letters of ISO 4217")
    if currency in _NO_CENTS:
        return 0
    return 3 if currency in _THOUSANDTHS else 2


def work(minutes: int, rate_per_hour: Decimal) -> Decimal:
    """Return what some minutes of work cost, exact to a ten-thousandth.

    Examples
    --------
    >>> work(90, Decimal("24"))
    Decimal('36.0000')
    """
    return _quantized(Fraction(rate_per_hour) * minutes / MINUTES_PER_HOUR, 4)


def weigh(
    attempt: Decimal,
    chance: float,
    *,
    currency: str,
    margin: Decimal,
    original: Decimal | None = None,
) -> Weighed:
    """Return what a whole piece costs and what to ask for it, by (1) to (3).

    Parameters
    ----------
    attempt : Decimal
        Cost of one attempt; 0 or more.
    chance : float
        That an attempt comes out whole; above 0, up to 1.
    currency : str
        ISO 4217.
    margin : Decimal
        Of the cost; 0 or more.
    original : Decimal or None
        What an original that exists once is worth; None: it can be made again.

    Returns
    -------
    Weighed
        Amounts are rounded to the cent, the price upwards.

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    if not 0.0 < chance <= 1.0:
        raise InputError(
            "chance", chance, "", "above 0 and up to 1", "No price carries a pour that never ends."
        )
    if margin < 0:
        raise InputError("margin", margin, "", "0 or more")
    if original is not None and original < 0:
        raise InputError("worth of the original", original, currency, "0 or more")
    cents = places(currency)
    # The decimal that the chance is written as: 0.8 is four fifths and not a sum of halves.
    share = Fraction(str(chance))
    each = Fraction(attempt) + Fraction(original or 0)
    lost = None if original is None else _quantized((1 - share) * Fraction(original), cents)
    asked = each / share * (1 + Fraction(margin))
    return Weighed(
        chance=chance,
        attempt=_quantized(Fraction(attempt), cents),
        attempts=_quantized(1 / share, 2),
        expected=_quantized(each / share, cents),
        chance_lost=None if original is None else float(1 - share),
        expected_loss=lost,
        price=_quantized(asked, cents, upwards=True),
    )


def rounded(value: Decimal, currency: str) -> Decimal:
    """Return an amount in whole cents of its currency, halves to the even one."""
    return _quantized(Fraction(value), places(currency))


def _quantized(value: Fraction, decimals: int, *, upwards: bool = False) -> Decimal:
    scaled = value * 10**decimals
    # Exact: a fraction rounds to a whole number, halves to the even one.
    whole = math.ceil(scaled) if upwards else round(scaled)
    return Decimal(whole).scaleb(-decimals, _WIDE)
