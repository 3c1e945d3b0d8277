"""Ledger: what each movement of a lot is worth, so that no part of its price is lost.

A lot is bought for a price P and a mass M.  While b of it is left by the book it
is worth

    w(b) = P · b / M, rounded to a ten-thousandth of the currency              (1)

and a movement from b to b + c costs

    w(b) - w(b + c)                                                            (2)

Since each line begins where the one before ended, the costs of all lines and the
worth of what is left add up to P exactly, however the rounding falls.  Metal that
comes back is credited at the price of the lot it goes to.

Left out: that metal loses worth with each remelt (``remelts`` of a lot counts
them), and that prices change between two lots; each lot keeps its own.
"""

from collections.abc import Iterable
from decimal import ROUND_HALF_EVEN, Decimal, localcontext

QUANTUM = Decimal("0.0001")
"""Smallest step of a cost inside the book; sums are shown in whole cents."""

_DIGITS = 60  # a price of 17 figures times a mass of 16, and room to spare


def worth(price: Decimal, bought_mg: int, balance_mg: int) -> Decimal:
    """Return what is left of a lot is worth, by (1).

    Examples
    --------
    >>> worth(Decimal("30"), 1000, 250)
    Decimal('7.5000')
    """
    with localcontext() as context:
        context.prec = _DIGITS
        exact = price * balance_mg / bought_mg
        return exact.quantize(QUANTUM, rounding=ROUND_HALF_EVEN)


def line_costs(price: Decimal, bought_mg: int, changes_mg: Iterable[int]) -> tuple[Decimal, ...]:
    """Return what each movement after the purchase costs, by (2); a credit is below 0.

    Parameters
    ----------
    price : Decimal
        Of the whole lot.
    bought_mg : int
        Mass of the whole lot; above 0.
    changes_mg : iterable of int
        In the order of the ledger, the purchase left out.

    Examples
    --------
    >>> line_costs(Decimal("10"), 3, [-1, -1, -1])
    (Decimal('3.3333'), Decimal('3.3334'), Decimal('3.3333'))
    """
    balance = bought_mg
    before = worth(price, bought_mg, balance)
    made = []
    for change in changes_mg:
        balance += change
        after = worth(price, bought_mg, balance)
        made.append(before - after)
        before = after
    return tuple(made)
