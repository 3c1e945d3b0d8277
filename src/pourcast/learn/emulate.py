"""Emulate: the chance of an ending as a smooth function of the unknowns.

A pour of a bank ends one way or the other.  The chance that it ends so at studio s
and day d is taken as

    p = 1 / (1 + exp(-(a(s) + b(d))))                                          (1)

a: straight in the places of the unknowns that matter, with squares and products of
the strongest; b: straight.  The coefficients c make

    Σ log p(what came) - ½ R Σ c²                                              (2)

greatest (logistic regression with a ridge, by Newton's method).  The unknowns that
matter are those whose rank goes with the ending; the rest has no part in it, so
that nothing is learnt of it.

Left out: that studio and day work on each other, and edges that are sharper than
(1).  Both flatten p, so that less is learnt than could be.

Source: Hosmer and Lemeshow, Applied Logistic Regression (1989), ch. 2, for (1);
Hoerl and Kennard (1970), Technometrics 12, 55, for the ridge.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from pourcast import units as si

RIDGE = 0.3  # R of (2); estimate
MOST_STUDIO, MOST_CURVED, MOST_PAIRED, MOST_DAY = 10, 6, 4, 8
"""Unknowns that are taken: in all, with squares, with products, of the day; our choice."""

_LEAST_TIE = 2.5  # of the spread of a correlation that is not there, 1/√n
_MOST_TURNS = 60
_SETTLED = 1e-8
_STEEPEST = 30.0  # of a logit; beyond it a chance is 0 or 1 to rounding


@dataclass(frozen=True, slots=True, kw_only=True)
class Emulator:
    """Chance of an ending, by (1).

    Parameters
    ----------
    keys : tuple of str
        Unknowns of the studio that it hangs on, the strongest first.
    studio : array [-], shape (terms,)
        Coefficients: the constant, straight terms, squares, products.
    day : array [-], shape (rows,)
        b at days of the bank.
    """

    keys: tuple[str, ...]
    studio: si.Ratios
    day: si.Ratios

    def at(self, places: Mapping[str, si.Ratios], draws: int) -> si.Ratios:
        """Return a at some studios [-].

        Parameters
        ----------
        places : mapping of str to array [-], shape (draws,)
        draws : int

        Returns
        -------
        array [-], shape (draws,)
        """
        if not self.keys:
            return np.full(draws, self.studio[0])
        return np.asarray(_terms(np.stack([places[key] for key in self.keys], 1)) @ self.studio)


def emulate(
    came: si.Booleans, studio: Mapping[str, si.Ratios], day: si.Ratios, days: si.Integers
) -> Emulator:
    """Return the emulator of an ending.

    Parameters
    ----------
    came : array of bool, shape (draws,)
    studio : mapping of str to array [-], shape (draws,)
    day : array [-], shape (draws, columns)
    days : array of int, shape (rows,)
        Draws whose day is kept to average over.

    Returns
    -------
    Emulator
    """
    ending = came.astype(float)
    least = _LEAST_TIE / np.sqrt(came.size)
    ties = {key: abs(_tie(column, ending)) for key, column in studio.items()}
    strong = sorted((key for key, tie in ties.items() if tie >= least), key=lambda k: -ties[k])
    keys = tuple(strong[:MOST_STUDIO])
    of_day = np.array([abs(_tie(column, ending)) for column in day.T])
    own = np.argsort(-of_day, kind="stable")[:MOST_DAY]
    own = own[of_day[own] >= least]
    terms = np.ones((came.size, 1))
    if keys:
        terms = _terms(np.stack([studio[key] for key in keys], axis=1))
    fitted = _logistic(np.concatenate((terms, day[:, own]), axis=1), ending)
    split = terms.shape[1]
    return Emulator(keys=keys, studio=fitted[:split], day=day[np.ix_(days, own)] @ fitted[split:])


def chance(logit: si.Ratios) -> si.Ratios:
    """Return the chance that belongs to a + b, by (1) [-].

    Parameters
    ----------
    logit : array [-], any shape
    """
    return np.asarray(1.0 / (1.0 + np.exp(-np.clip(logit, -_STEEPEST, _STEEPEST))))


def _terms(places: si.Ratios) -> si.Ratios:
    curved, paired = places[:, :MOST_CURVED], places[:, :MOST_PAIRED]
    first, second = np.triu_indices(paired.shape[1], k=1)
    ones = np.ones((places.shape[0], 1))
    return np.concatenate((ones, places, curved**2, paired[:, first] * paired[:, second]), axis=1)


def _tie(column: si.Ratios, ending: si.Ratios) -> si.Ratio:
    off, apart = column - column.mean(), ending - ending.mean()
    size = float(np.sqrt((off @ off) * (apart @ apart)))
    return float(off @ apart) / size if size > 0.0 else 0.0


def _logistic(terms: si.Ratios, ending: si.Ratios) -> si.Ratios:
    """Return the coefficients of (2); the constant is held by the ridge a little only."""
    pull = np.full(terms.shape[1], RIDGE)
    pull[0] = 0.01 * RIDGE
    found = np.zeros(terms.shape[1])
    worth = _worth(terms, ending, found, pull)
    for _ in range(_MOST_TURNS):
        p = chance(terms @ found)
        slope = terms.T @ (ending - p) - pull * found
        curve = (terms * (p * (1.0 - p))[:, None]).T @ terms + np.diag(pull)
        step = np.linalg.solve(curve, slope)
        while (after := _worth(terms, ending, found + step, pull)) < worth:
            step = 0.5 * step
            if float(np.abs(step).max()) < _SETTLED:
                return found
        found, worth = found + step, after
        if float(np.abs(step).max()) < _SETTLED:
            break
    return found


def _worth(terms: si.Ratios, ending: si.Ratios, found: si.Ratios, pull: si.Ratios) -> si.Ratio:
    p = np.clip(chance(terms @ found), 1e-15, 1.0 - 1e-15)
    came = ending * np.log(p) + (1.0 - ending) * np.log(1.0 - p)
    return float(came.sum() - 0.5 * (pull * found) @ found)
