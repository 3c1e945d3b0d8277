"""Pool: which draws stand for all of them on a kiln day?

Ninety-six draws taken as they come know the tenth and the ninetieth of a hundred to
three in a hundred, and a day keeps the same ones from morning to evening: an interval
that is too narrow stays so.  So `TIMES` as many are followed along the plan, once, and
those go on that stand evenly among them: the pool is sorted by the hour at which it is
clean and cut into `SHARES` runs of one length; each run is sorted by the hour at which
it is dry, cut again, and the middle of each piece is taken.

Each draw stands for as many others, so that all weigh alike.  They are dealt to the
futures of the kiln so that each future has early and late ones.

Source: stratified and systematic sampling, Cochran (1977), Sampling Techniques, ch. 5
and 8.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.day.futures import FUTURES
from pourcast.errors import InputError

TIMES = 8
"""Draws of the pool for each that goes on; our own choice: 768 take a second, once."""

SHARES = 12
"""Runs by the hour of clean; our own choice."""

_DEAL = 11  # no divisor of FUTURES: neighbours in the hour of clean get futures that are far apart


def standing_for_all(clean: si.Seconds, dry: si.Seconds, count: int) -> si.Integers:
    """Return which draws of a pool stand evenly for all of it.

    Parameters
    ----------
    clean, dry : array [s], shape (draws,)
        Not a number where it does not come within the plan.
    count : int
        Wanted; a multiple of `FUTURES`, and a divisor of the draws.

    Returns
    -------
    array of int, shape (count,)
        Those of the first future first.

    Raises
    ------
    InputError
        If the count does not divide the pool.
    """
    if count % FUTURES or clean.size % count or count % SHARES:
        raise InputError("particles", count, "", f"a multiple of {FUTURES}")
    clean, dry = (np.nan_to_num(each, nan=math.inf) for each in (clean, dry))
    runs = np.lexsort((dry, clean)).reshape(SHARES, -1)
    pieces = np.stack([run[np.lexsort((clean[run], dry[run]))] for run in runs])
    each = clean.size // count
    found = pieces.reshape(count, each)[:, each // 2]
    futures = _DEAL * np.arange(count) % FUTURES
    return np.asarray(found[np.argsort(futures, kind="stable")])
