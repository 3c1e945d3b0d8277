"""Likelihood: how well does each set of unknowns explain what was seen of a pour?

With p_j the chance of what was seen of part j, at studio s and day d, and c how
sure the caster is,

    p'_j = c p_j + (1 - c)/2                                                   (1)

All parts of a pour share its day.  They are multiplied day by day and then averaged,
so that parts which fail together for one cold ladle count about as one:

    L(s) = mean over d of Π p'_j(s, d)                                         (2)

A day on which something happened that no model holds (a pump that failed, a slip of
the pen) tells nothing of the studio.  One day in `ODD` is taken to be so:

    L'(s) = (1 - ODD) L(s) + ODD · mean of L over the book of values           (3)

so that no single pour can rule out what the others want.

Source: (3) is the usual mixture with an outlier, Box and Tiao (1968), Biometrika 55,
119; the shares are estimates.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.learn.bank import Bank
from pourcast.learn.emulate import Emulator, emulate
from pourcast.learn.logistic import chance
from pourcast.learn.model import Against, Measured, PartSeen, PourSeen
from pourcast.materials.draws import ArrayInSI

ODD = 0.05
"""Share of days that tell nothing; estimate."""

RARE = 0.05
"""Chance by the book of values under which an ending of a part is plainly against it; estimate."""

DAYS = 48
"""Days that each studio is averaged over; our choice."""

_LEAST = 1e-4  # an ending between two others is never less likely than this


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What was seen of a part, ready to be weighed: what came, less what came more.

    Parameters
    ----------
    least : Emulator or None
        Chance of that much or more; None: certain.
    more : Emulator or None
        Chance of more than was seen; None: there is no more.
    """

    least: Emulator | None
    more: Emulator | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PourTold:
    """A pour, ready to be weighed.

    Parameters
    ----------
    name : str
    parts : tuple of Told
    sure : float [-]
    """

    name: str
    parts: tuple[Told, ...]
    sure: si.Ratio

    @property
    def keys(self) -> frozenset[str]:
        """Unknowns of the studio that it says something of."""
        both = [each for part in self.parts for each in (part.least, part.more) if each]
        return frozenset(key for each in both for key in each.keys)


class Emulators:
    """Emulators of a bank; each is made when it is first asked for."""

    def __init__(self, bank: Bank) -> None:
        self._bank = bank
        self._made: dict[tuple[int, str, float], Emulator] = {}
        draws = bank.full.shape[0]
        self._days = np.unique(np.linspace(0, draws - 1, min(DAYS, draws)).astype(np.int64))

    def told(self, seen: PourSeen) -> PourTold:
        """Return a pour, ready to be weighed.

        Parameters
        ----------
        seen : PourSeen

        Raises
        ------
        InputError
            If a part is not one of the plan, or how sure it is lies outside its limits.
        """
        if not 0.5 < seen.sure <= 1.0:
            raise InputError("sure", seen.sure, "", "above 0.5 and up to 1")
        parts = tuple(self._part(each) for each in seen.parts)
        return PourTold(name=seen.name, parts=parts, sure=seen.sure)

    def against(self, seen: PourSeen, pour: str) -> tuple[Against, ...]:
        """Return the parts of a pour that ended as hardly any pour of the bank does.

        Parameters
        ----------
        seen : PourSeen
        pour : str
            Name under which it is told.
        """
        chances = dict(zip(self._bank.parts, self._bank.full.mean(axis=0).tolist(), strict=True))
        return tuple(
            Against(pour=pour, part=part.name, full=part.full, chance_full=chances[part.name])
            for part in seen.parts
            if abs(float(part.full) - chances[part.name]) >= 1.0 - RARE
        )

    def _part(self, seen: PartSeen) -> Told:
        if seen.name not in self._bank.parts:
            raise InputError("part", seen.name, "", "one of " + ", ".join(self._bank.parts))
        number = self._bank.parts.index(seen.name)
        if seen.full:
            return Told(least=self._of(number, "full", 1.0), more=None)
        if seen.half_of_members is not None:
            half = self._of(number, "whole", 0.5)
            if seen.half_of_members:
                return Told(least=half, more=self._of(number, "full", 1.0))
            return Told(least=None, more=half)
        least = self._of(number, "share", seen.low) if seen.low > 0.0 else None
        what = ("share", seen.high) if seen.high < 1.0 else ("full", 1.0)
        return Told(least=least, more=self._of(number, *what))

    def _of(self, part: int, what: str, least: si.Ratio) -> Emulator:
        key = (part, what, least)
        if key not in self._made:
            bank = self._bank
            came = {
                "full": bank.full[:, part],
                "whole": bank.whole[:, part] >= least,
                "share": bank.share[:, part] >= least,
            }[what]
            day = np.concatenate((bank.sections[:, part], bank.day), axis=1)
            self._made[key] = emulate(came, bank.studio, day, self._days)
        return self._made[key]


def pour_likelihood(told: PourTold, places: Mapping[str, si.Ratios], draws: int) -> si.Ratios:
    """Return L of each studio, by (1) and (2) [-].

    Parameters
    ----------
    told : PourTold
    places : mapping of str to array [-], shape (draws,)
        Of the studio's unknowns, by key.
    draws : int

    Returns
    -------
    array [-], shape (draws,)
    """
    product: si.Ratios = np.ones((1, 1))
    for part in told.parts:
        p = np.ones((draws, 1))
        if part.least is not None:
            p = _chances(part.least, places, draws)
        if part.more is not None:
            p = np.maximum(p - _chances(part.more, places, draws), _LEAST)
        product = product * (told.sure * p + 0.5 * (1.0 - told.sure))
    return np.asarray(np.broadcast_to(product, (draws, product.shape[1])).mean(axis=1))


def measured_likelihood(measured: Measured, drawn: ArrayInSI) -> si.Ratios:
    """Return how well values explain a measurement, 1 where they agree [-].

    Parameters
    ----------
    measured : Measured
    drawn : array [SI], shape (draws,)
    """
    off = np.log(drawn / measured.value) if measured.relative else drawn - measured.value
    return np.asarray(np.exp(-0.5 * (off / measured.error) ** 2))


def with_odd_days(likelihood: si.Ratios, by_the_book: si.Ratio) -> si.Ratios:
    """Return L' of each studio, by (3) [-].

    Parameters
    ----------
    likelihood : array [-], shape (draws,)
    by_the_book : float [-]
        Mean over draws from the book of values.
    """
    return np.asarray((1.0 - ODD) * likelihood + ODD * by_the_book)


def _chances(emulator: Emulator, places: Mapping[str, si.Ratios], draws: int) -> si.Ratios:
    return chance(emulator.at(places, draws)[:, None] + emulator.day[None, :])
