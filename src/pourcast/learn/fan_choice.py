"""Fan choice: which candidates of a fan, taken together, tell most?

Of each candidate the chance of each class of run is a smooth function of the unknowns
(`pourcast.learn.emulate`).  They are taken one after another, each time the one with
which the set tells most (`pourcast.learn.information`); all strips of one pour share
its day.

Left out: taking one at a time may miss the best set by a little.
"""

import numpy as np

from pourcast import units as si
from pourcast.learn.bank import Bank
from pourcast.learn.emulate import Emulator, emulate
from pourcast.learn.information import expected_information
from pourcast.learn.logistic import chance

QUARTERS = (0.25, 0.5, 0.75)
_STUDIOS, _DAYS = 200, 12
_LEAST = 1e-6


def classes_of_run(bank: Bank, part: int) -> si.Ratios:
    """Return the chance of each class of run at some studios on some days [-].

    Parameters
    ----------
    bank : Bank
    part : int

    Returns
    -------
    array [-], shape (studios, days, classes)
    """
    draws = bank.full.shape[0]
    studios = np.unique(np.linspace(0, draws - 1, min(_STUDIOS, draws)).astype(np.int64))
    days = np.unique(np.linspace(0, draws - 1, _DAYS).astype(np.int64))
    day = np.concatenate((bank.sections[:, part], bank.day), axis=1)
    places = {key: column[studios] for key, column in bank.studio.items()}
    at_least = [np.ones((studios.size, days.size))]
    ends = [bank.share[:, part] >= least for least in QUARTERS] + [bank.full[:, part]]
    for came in ends:
        fitted: Emulator = emulate(came, bank.studio, day, days)
        p = chance(fitted.at(places, studios.size)[:, None] + fitted.day[None, :])
        at_least.append(np.minimum(p, at_least[-1]))
    at_least.append(np.zeros_like(at_least[0]))
    made = np.maximum(-np.diff(np.stack(at_least, axis=2), axis=2), _LEAST)
    return np.asarray(made / made.sum(axis=2, keepdims=True))


def choose(
    tables: list[si.Ratios], wanted: int, rng: np.random.Generator
) -> tuple[list[int], list[si.Ratio]]:
    """Return the candidates taken, and what the set told more with each [-].

    Parameters
    ----------
    tables : list of array [-]
        Of `classes_of_run`, one for each candidate.
    wanted : int
    rng : numpy.random.Generator

    Returns
    -------
    taken : list of int
        The one that tells most first.
    gains : list of float [-]
        In natural units.
    """
    studios, days, _ = tables[0].shape
    day: si.Integers = rng.integers(days, size=(studios,))
    seen = [_drawn(table, day, rng) for table in tables]
    joint = np.ones((studios, studios, days))
    taken: list[int] = []
    gains: list[si.Ratio] = []
    told = 0.0
    while len(taken) < wanted:
        worth = {}
        for number, table in enumerate(tables):
            if number not in taken:
                both = joint * _of_seen(table, seen[number])
                worth[number] = expected_information(np.log(both.mean(axis=2)))
        best = max(worth, key=worth.__getitem__)
        taken.append(best)
        gains.append(worth[best] - told)
        told = worth[best]
        joint = joint * _of_seen(tables[best], seen[best])
    return taken, gains


def _drawn(table: si.Ratios, day: si.Integers, rng: np.random.Generator) -> si.Integers:
    own = np.cumsum(table[np.arange(day.size), day], axis=1)
    return np.asarray((own < rng.random(day.size)[:, None]).sum(axis=1).clip(0, 4))


def _of_seen(table: si.Ratios, seen: si.Integers) -> si.Ratios:
    """Return the chance of outcome i at studio j on each day, shape (studios, studios, days)."""
    return np.moveaxis(table, 2, 0)[seen]
