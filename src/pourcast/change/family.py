"""Family: is a difference luck, in a table of many rows that were looked at several times?

One row.  Of the draws in which a plan and a change end differently let g be gained and l
lost.  Were the change of no matter, each of them would fall either way like a coin, so

    p = 2 P(X >= max(g, l)),  X binomial of g + l draws and 1/2              (1)

and no more than 1.  It is exact, for any number of draws.

Several looks.  A row may be left behind at a quarter or half of the draws.  With shares
s of the looks that add up to 1, q = p / s of the look that it was left at is under a with
a chance of at most a, whatever made it stop (the sum of the chances of its looks).

Many rows.  A row of n = g + l draws that differ cannot have q under 2^(1 - n) / s.  Let K
be the smallest whole number for which at most K rows can reach 0.05 / K.  Then K q <= 0.05
holds for one row or more by luck alone with a chance of at most 0.05; rows that cannot
reach 0.05 / K are told as luck.

Two rows beside one another are told apart by q of the draws that both have, times the
number of pairs of the table (Bonferroni), because the best of a table is picked by luck
too.

Left out: which rows differ in how many draws is taken as it stands when a row stops.
`tests/change/test_family.py` pours made-up tables of rows of no matter and counts.

Sources: exact test of pairs, McNemar (1947), Psychometrika 12, 153; many discrete rows,
Tarone (1990), Biometrics 46, 515; shares of looks, Lan and DeMets (1983), Biometrika 70,
659 (all from memory).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError

BY_LUCK = 0.05
"""Chance, over a whole table, from which down a difference is no luck; usual."""

LAST_LOOK, EACH_EARLIER = 0.6, 0.2
"""Shares of the look at all draws and of those at half and at a quarter; own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """Draws that end differently.

    Parameters
    ----------
    gained, lost : int
        Whole with the change alone, and without it alone; >= 0.
    share : float [-]
        Of the look; above 0 and up to 1.
    """

    gained: int
    lost: int
    share: si.Ratio

    def __post_init__(self) -> None:
        if self.gained < 0 or self.lost < 0:
            raise InputError("draws that differ", min(self.gained, self.lost), "", "0 or more")
        if not 0.0 < self.share <= 1.0:
            raise InputError("share of a look", self.share, "", "above 0 and up to 1")


def tally(before: si.Booleans, after: si.Booleans, every: int) -> Tally:
    """Return in how many draws two plans end differently, over the draws that both have.

    Parameters
    ----------
    before, after : array of bool, shape (draws,)
        Of the same draws from the first on; one may have more.
    every : int
        Draws of the last look.
    """
    draws = min(before.size, after.size)
    one, other = before[:draws], after[:draws]
    return Tally(
        gained=int((other & ~one).sum()),
        lost=int((one & ~other).sum()),
        share=LAST_LOOK if draws >= every else EACH_EARLIER,
    )


def by_sign(seen: Tally) -> si.Ratio:
    """Return the chance that luck alone parts two plans so far in one look, (1) [-].

    Parameters
    ----------
    seen : Tally
    """
    many = seen.gained + seen.lost
    if not many:
        return 1.0
    logs = np.concatenate([[0.0], np.cumsum(np.log(np.arange(1, many + 1)))])
    at = np.arange(max(seen.gained, seen.lost), many + 1)
    tail = np.exp(logs[many] - logs[at] - logs[many - at] - many * math.log(2.0)).sum()
    return min(1.0, 2.0 * float(tail))


def by_luck(rows: Sequence[Tally]) -> tuple[si.Ratio, ...]:
    """Return K q of each row of a table, no more than 1 [-].

    Parameters
    ----------
    rows : sequence of Tally

    Returns
    -------
    tuple of float [-]
        `BY_LUCK` or less: beyond the noise of the whole table.
    """
    least = [_least(row) for row in rows]
    many = 1
    while sum(each <= BY_LUCK / many for each in least) > many:
        many += 1
    return tuple(
        min(1.0, many * by_sign(row) / row.share) if low <= BY_LUCK / many else 1.0
        for row, low in zip(rows, least, strict=True)
    )


def apart(seen: Tally, times: int) -> bool:
    """Return whether two plans are told apart, where so many pairs might have been.

    Parameters
    ----------
    seen : Tally
        Of the one beside the other.
    times : int
        Pairs of plans that are held against one another.
    """
    return by_sign(seen) / seen.share <= BY_LUCK / max(times, 1)


def pairs_of(rows: int) -> int:
    """Return how many pairs a table of rows has.

    Parameters
    ----------
    rows : int
    """
    return rows * (rows - 1) // 2


def _least(row: Tally) -> si.Ratio:
    return math.ldexp(2.0, -min(row.gained + row.lost, 1000)) / row.share
