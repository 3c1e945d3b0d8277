"""Match: which stick of the second photograph is which of the first?

Both cameras stand level, so a fork and a tip have the same height in both.
Sticks are paired so that the differences of height, and of the logarithm of
their width, are least in all; a pair that is farther apart than a limit is
none.  Several rays that leave and end at the same heights cannot be told apart
by them.  They are taken for a whorl, all as far from the stem: the one that goes
farthest aside in one picture is then the one that goes least aside in the other.
What is left over is paired by its tip, and by whether it bears a lump, for its fork may be hidden.
"""

import math
from collections.abc import Mapping

import numpy as np
from scipy.optimize import linear_sum_assignment

from pourcast import units as si
from pourcast.photo.bench import middle_of
from pourcast.photo.model import Pixel, Stick, View
from pourcast.photo.space import flat_places

_UNLIKE = 2.0e-3  # m that an e-fold of width counts; estimate
_MOST = 3.0e-3  # m, and a share of the height of the tip
_SHARE = 0.05
_FORK = 0.2  # what the height of a fork counts over that of a tip, where it may be hidden; estimate
_MOST_BY_TIP = 4.5e-3  # m, tuned on twigs of the seeds 0 to 41
_ALIKE = 2.0e-3  # m: nearer in height than this two sticks are not told apart


def matched(
    first: View, second: View, *, camera: si.Metre | None = None, swapped: bool = False
) -> tuple[Mapping[int, int], frozenset[int]]:
    """Return the stick of the second view for each of the first, and those that are a guess.

    Parameters
    ----------
    first, second : View
    camera : float or None [m]
    swapped : bool
        True if ``first`` is the photograph that was taken second.

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
    apart = _apart(first, second, camera, swapped)
    cost = apart[1:, 1:].sum(axis=2)
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
    pairs |= _by_tips(first, second, apart, pairs)
    return pairs, frozenset(guess)


def _by_tips(
    first: View, second: View, apart: si.Metres, pairs: Mapping[int, int]
) -> dict[int, int]:
    """Pair what is left over by its tip, for its fork may be hidden or seem to lie on another."""
    rows = [i for i in range(1, len(first.sticks)) if i not in pairs]
    columns = [j for j in range(1, len(second.sticks)) if j not in pairs.values()]
    if not rows or not columns:
        return {}
    left = apart[np.ix_(rows, columns)]
    cost = left[..., 1] + _FORK * left[..., 0]
    for k, i in enumerate(rows):
        for n, j in enumerate(columns):
            cost[k, n] += _unlike(first, first.sticks[i], second, second.sticks[j])
    row, column = linear_sum_assignment(np.minimum(cost, 1.0))
    return {
        rows[k]: columns[n] for k, n in zip(row, column, strict=True) if cost[k, n] <= _MOST_BY_TIP
    }


def _unlike(first: View, stick: Stick, second: View, other: Stick) -> si.Metre:
    """Return what two ends cost that are not alike: 1 m where one bears a lump and one does not."""
    if not stick.sections or not other.sections:
        return 1.0
    one, two = stick.sections[-1], other.sections[-1]
    if (one.shape == "lump") != (two.shape == "lump"):
        return 1.0
    wide = max(one.width) * first.scale.size, max(two.width) * second.scale.size
    return _UNLIKE * abs(math.log(wide[0] / wide[1]))


def _apart(first: View, second: View, camera: si.Metre | None, swapped: bool) -> si.Metres:
    """Return how far forks and tips lie apart in height, shape (sticks, sticks of the other, 2).

    What is nearer to the lens stands farther from the middle of its picture; how near it is, the
    other picture shows.
    """
    one, two = (
        np.stack([flat_places(v, s, s.along[[0, -1]]) for s in v.sticks]) for v in (first, second)
    )
    right, high = one[:, None, :, 0], one[:, None, :, 1]
    beside, also = two[None, :, :, 0], two[None, :, :, 1]
    if camera is None:
        return np.asarray(np.abs(high - also))
    sign = -1.0 if swapped else 1.0
    middle, other = middle_of(first)[1], middle_of(second)[1]
    high = middle + (high - middle) * (1.0 + sign * beside / camera)
    also = other + (also - other) * (1.0 - sign * right / camera)
    return np.asarray(np.abs(high - also))


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
