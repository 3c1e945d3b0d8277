"""Emulate: the chance of an ending as a smooth function of the unknowns.

A pour of a bank ends one way or the other.  The chance that it ends so at studio s
and day d is taken as

    p = 1 / (1 + exp(-(a(s) + b(d))))                                          (1)

a: the places of unknowns, their squares and products of two; b: straight.

Terms are taken round by round, each time those that tell most of what is left over
(`pourcast.learn.logistic`), so that a weak unknown is not hidden by the scatter that
strong ones make.  Squares and products are asked for among the unknowns that are in.
What goes with a column that was just taken waits for the next round.  Of each ending
there must be some pours for each term.  An unknown that is not taken has no part in
p, so that nothing is learnt of it.

Left out: that studio and day work on each other, and edges that are sharper than
(1).  Both flatten p, so that less is learnt than could be.

Source: Hosmer and Lemeshow, Applied Logistic Regression (1989), ch. 2 and 4.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.learn.logistic import logistic, worth

LEAST = 2.5
"""Spreads from which on a term is taken: of a few that were tried, the best told pours that
it was not fitted to."""

POURS_A_TERM = 5
"""Pours of the rarer ending for each term; estimate, half of what is common."""

MOST_TERMS = 40
"""Our choice."""

_MOST_ROUNDS = 6
_ALIKE = 0.5  # correlation from which on two columns go together

Term: TypeAlias = tuple[int, ...]
"""Numbers of the columns that are multiplied: (i,), (i, i) or (i, j)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Emulator:
    """Chance of an ending, by (1).

    Parameters
    ----------
    keys : tuple of str
        Unknowns of the studio that it hangs on, in the order in which they were taken.
    terms : tuple of Term
        By number of the key.
    studio : array [-], shape (1 + terms,)
        Coefficients: the constant, then those of the terms.
    day : array [-], shape (rows,)
        b at days of the bank.
    """

    keys: tuple[str, ...]
    terms: tuple[Term, ...]
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
        own = [places[key] for key in self.keys]
        logit = np.full(draws, self.studio[0])
        for term, coefficient in zip(self.terms, self.studio[1:], strict=True):
            logit += coefficient * _column(own, term)
        return logit


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
    names = list(studio)
    columns = [*studio.values(), *day.T]
    terms, fitted = _chosen(came.astype(float), columns, len(names))
    of_studio = [term[0] < len(names) for term in terms]
    own = [term for term, mine in zip(terms, of_studio, strict=True) if mine]
    used = [term[0] for term in own if len(term) == 1]
    by_day = np.zeros(days.size)
    for term, mine, coefficient in zip(terms, of_studio, fitted[1:], strict=True):
        if not mine:
            by_day += coefficient * columns[term[0]][days]
    return Emulator(
        keys=tuple(names[number] for number in used),
        terms=tuple(tuple(used.index(number) for number in term) for term in own),
        studio=fitted[np.array([True, *of_studio])],
        day=by_day,
    )


def _chosen(
    ending: si.Ratios, columns: Sequence[si.Ratios], unknowns: int
) -> tuple[list[Term], si.Ratios]:
    """Return the terms that are worth a place, and the coefficients of a constant and them."""
    room = min(int(min(ending.sum(), (1.0 - ending).sum())) // POURS_A_TERM, MOST_TERMS)
    terms: list[Term] = []
    matrix = np.ones((ending.size, 1))
    fitted = logistic(matrix, ending)
    for _ in range(_MOST_ROUNDS):
        further = list(_further(len(columns), unknowns, terms))
        if not further or len(terms) >= room:
            break
        asked = np.stack([_column(columns, term) for term in further], axis=1)
        z = worth(asked, matrix, fitted, ending)
        taken: list[int] = []
        for number in np.argsort(-z, kind="stable").tolist():
            if z[number] < LEAST or len(terms) + len(taken) >= room:
                break
            if all(abs(_tie(asked[:, number], asked[:, one])) <= _ALIKE for one in taken):
                taken.append(number)
        if not taken:
            break
        terms += [further[number] for number in taken]
        matrix = np.concatenate((matrix, asked[:, taken]), axis=1)
        fitted = logistic(matrix, ending)
    return terms, fitted


def _further(columns: int, unknowns: int, terms: list[Term]) -> Iterator[Term]:
    """Yield the terms that may be taken next: new columns, and products of unknowns that are in."""
    yield from ((number,) for number in range(columns) if (number,) not in terms)
    inside = [term[0] for term in terms if len(term) == 1 and term[0] < unknowns]
    for place, first in enumerate(inside):
        for second in inside[place:]:
            if (first, second) not in terms:
                yield first, second


def _column(columns: Sequence[si.Ratios], term: Term) -> si.Ratios:
    column = columns[term[0]]
    return column if len(term) == 1 else column * columns[term[1]]


def _tie(column: si.Ratios, ending: si.Ratios) -> si.Ratio:
    off, apart = column - column.mean(), ending - ending.mean()
    size = float(np.sqrt((off @ off) * (apart @ apart)))
    return float(off @ apart) / size if size > 0.0 else 0.0
