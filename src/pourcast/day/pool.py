"""Pool: which draws stand for all of them on a kiln day?

Ninety-six draws taken as they come know the tenth and the ninetieth of a hundred to
three in a hundred, and a day keeps the same ones from morning to evening: an interval
that is too narrow stays so.  So `TIMES` as many are followed along the plan, once, and
those go on that stand evenly among them: the pool is sorted by the hour at which it is
clean and cut into `SHARES` runs of one length; each run is sorted by the hour at which
it is dry and cut again, and of each piece one draw is taken, of every place in a piece
as often as of the others.  The middles of the pieces leave out the ends of the pool: dry
had 4 to 6 in 100 less spread.

Each draw stands for as many others, so that all weigh alike.  They are dealt to the
futures of the kiln so that each has early and late ones in both hours, and that neither
hour hangs together with the pace or the heat of the future: by a deal in which it did
(0.40 with the heat), what a hot kiln gains was lost on draws that dry late.

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
_SHIFT = 10  # from one draw of a future to its next: another quarter of the hours of dry
_OF_PIECE, _OF_RUN = 3, 5  # steps within a piece; no divisors of `TIMES`


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
    each, of_run = clean.size // count, count // SHARES
    place = np.arange(count)
    taken = (_OF_PIECE * (place % of_run) + _OF_RUN * (place // of_run)) % each
    found = pieces.reshape(count, each)[place, taken]
    futures = _DEAL * (place % FUTURES + _SHIFT * (place // FUTURES)) % FUTURES
    return np.asarray(found[np.argsort(futures, kind="stable")])
