"""Sketch: percentiles of numbers that come block by block and are not kept.

Each number of 0 or more is counted under its first 12 binary digits after the leading
one.  A percentile is read from the counts as from sorted numbers, with the middle of
its step in the place of the number:

    |read - true| <= 2^-13 true = 0.012 %                                   (1)

Counts are whole numbers, so the order and the size of the blocks do not matter.  The
room needed grows with how far the numbers are apart, not with how many there are: 4096
counts at most for each doubling.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.forecast.model import Spread
from pourcast.materials.draws import ArrayInSI

_DROPPED = 40  # of the 52 binary digits of a number
_SHARES = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """Counts of numbers by their first digits.

    Parameters
    ----------
    step : array of int, shape (steps,)
        First digits, rising.
    count : array of int, shape (steps,)
    low, high : float [-]
        Least and greatest of the numbers; infinite where there is none.
    """

    step: si.Integers
    count: si.Integers
    low: si.Ratio
    high: si.Ratio


def sketch(values: ArrayInSI) -> Sketch:
    """Return the sketch of some numbers.

    Parameters
    ----------
    values : array [SI], shape (any,); 0 or more

    Returns
    -------
    Sketch

    Raises
    ------
    InputError
        If a number is negative or not a number.
    """
    numbers = np.ascontiguousarray(values, dtype=float) + 0.0  # of -0 makes 0
    if not (numbers >= 0.0).all():
        raise InputError("numbers of a sketch", float(numbers.min()), "", "0 or more")
    step, count = np.unique(numbers.view(np.int64) >> _DROPPED, return_counts=True)
    low, high = (numbers.min(), numbers.max()) if numbers.size else (np.inf, -np.inf)
    return Sketch(step=step, count=count, low=float(low), high=float(high))


def merged(one: Sketch, other: Sketch) -> Sketch:
    """Return the sketch of the numbers of both.

    Parameters
    ----------
    one, other : Sketch
    """
    step, place = np.unique(np.concatenate([one.step, other.step]), return_inverse=True)
    count = np.zeros(step.size, dtype=np.int64)
    np.add.at(count, place.reshape(-1), np.concatenate([one.count, other.count]))
    return Sketch(
        step=step, count=count, low=min(one.low, other.low), high=max(one.high, other.high)
    )


def spread_of(counted: Sketch) -> Spread | None:
    """Return the 10th, 50th and 90th percentile; None where there are no numbers.

    Parameters
    ----------
    counted : Sketch
    """
    total = int(counted.count.sum())
    if total == 0:
        return None
    low, middle, high = (_percentile(counted, total, share) for share in _SHARES)
    return Spread(p10=low, p50=middle, p90=high)


def _percentile(counted: Sketch, total: int, share: float) -> float:
    place = share * (total - 1)
    below = int(np.floor(place))
    upto = np.cumsum(counted.count)
    ends = [
        _number(counted, int(np.searchsorted(upto, min(each, total - 1), side="right")))
        for each in (below, below + 1)
    ]
    return ends[0] + (place - below) * (ends[1] - ends[0])


def _number(counted: Sketch, place: int) -> float:
    step = counted.step[place]
    if step == 0:
        return min(max(0.0, counted.low), counted.high)
    middle = np.array([(step << _DROPPED) | (1 << (_DROPPED - 1))]).view(np.float64)
    return float(np.clip(middle[0], counted.low, counted.high))
