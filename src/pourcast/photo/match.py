"""Match: which stick of the second photograph is which of the first?

Both cameras stand level, so a fork and a tip have the same height in both.
Sticks are paired so that the differences of height, and of the logarithm of
their width, are least in all; a pair that is farther apart than a limit is
none.  Several rays that leave and end at the same heights cannot be told apart
by them.  They are taken for a whorl, all as far from the stem: the one that goes
farthest aside in one picture is then the one that goes least aside in the other.
"""

import math
from collections.abc import Mapping

import numpy as np
from scipy.optimize import linear_sum_assignment

from pourcast import units as si
from pourcast.photo.model import Pixel, Stick, View

_UNLIKE = 2.0e-3  # m that an e-fold of width counts; estimate
_MOST = 3.0e-3  # m, and a share of the height of the tip
_SHARE = 0.05
_ALIKE = 2.0e-3  # m: nearer in height than this two sticks are not told apart


def matched(first: View, second: View) -> tuple[Mapping[int, int], frozenset[int]]:
    """Return the stick of the second view for each of the first, and those that are a guess.

    Parameters
    ----------
    first, second : View

    Returns
    -------
    dict of int to int
    frozenset of int
    """
    pairs = {0: 0}
    one, two = _marks(first), _marks(second)
    if len(one) < 2 or len(two) < 2:
        return pairs, frozenset()
    a, b = one[1:], two[1:]
    cost = np.abs(a[:, None, :2] - b[None, :, :2]).sum(axis=2)
    cost += _UNLIKE * np.abs(a[:, None, 2] - b[None, :, 2])
    aside = a[:, None, 3] ** 2 * b[None, :, 3] ** 2
    cost += _ALIKE * aside / max(float(aside.max()), 1e-12)
    most = _MOST + _SHARE * np.maximum(a[:, None, 1], b[None, :, 1])
    row, column = linear_sum_assignment(np.where(cost > most, 1.0, cost))
    guess = set()
    for i, j in zip(row, column, strict=True):
        if cost[i, j] <= most[i, j]:
            pairs[int(i) + 1] = int(j) + 1
            near = np.abs(a[i, :2] - a[:, :2]).max(axis=1) < _ALIKE
            if near.sum() > 1:
                guess.add(int(i) + 1)
    return pairs, frozenset(guess)


def _marks(view: View) -> si.Ratios:
    """Height of fork and tip [m], logarithm of the width, and reach of the tip [m], by stick."""
    rows = []
    for stick in view.sticks:
        heights = [(view.foot[1] - stick.line[k, 1]) * view.scale.size for k in (0, -1)]
        aside = abs(float(stick.line[-1, 0]) - view.foot[0]) * view.scale.size
        rows.append([*heights, math.log(_width(stick)), aside])
    return np.array(rows)


def _width(stick: Stick) -> Pixel:
    return max(0.5, stick.sections[0].width[0]) if stick.sections else 1.0
