"""Split: where along a stick does one part end and the next begin?

The widths along a stick are held against a chain of the shapes of
`pourcast.photo.fit`, as few as will do: each shape has a fixed price beside
what it misses.  The cheapest chain is found by dynamic programming over cells,

    cost(j) = min over i < j of cost(i) + fit(i, j) + price                    (1)

and its cuts are then moved, pixel by pixel, to where the fit is best.

Source: (1) is Bellman (1961), Communications of the ACM 4, 284, on fitting
curves by segments (from memory).
"""

import math
from itertools import pairwise

import numpy as np

from pourcast.photo.fit import fit, lump_fit, taper_costs, taper_fit, weight_of
from pourcast.photo.model import Pixel, Pixels, Section, Stick
from pourcast.photo.tidy import sections

_CELLS = 44
_PRICE = 14.0  # in squares of the spread; estimate
_STEP = 1.0  # of its width: a stretch that is shorter may be a step; estimate
_EDGE = 8.0  # pixels beside a stretch that something stands before


def split(stick: Stick) -> tuple[Section, ...]:
    """Return the parts along a stick, from its base.

    Parameters
    ----------
    stick : Stick

    Returns
    -------
    tuple of Section
        At least one, unless no width could be read.
    """
    start, end = stick.hidden, float(stick.along[-1])
    seen = np.isfinite(stick.width) & (stick.along >= start)
    # The last pixel or two belong to the blurred end.
    seen &= stick.along <= end - 1.5
    if seen.sum() < 3 or end - start < 4.0:
        return ()
    along, width = stick.along[seen], stick.width[seen].copy()
    edges = np.linspace(start, end, _cells(end - start) + 1)
    cuts = _best(along, width, edges)
    cell = float(edges[1] - edges[0])
    cuts = _bridged(along, width, _moved(along, width, cuts, cell))
    cuts = _needed(along, width, _stepped(along, width, cuts))
    return sections(along, width, cuts, child=stick.parent >= 0)


def _cells(length: Pixel) -> int:
    return int(np.clip(length / 4.0, 2, _CELLS))


def _best(along: Pixels, width: Pixels, edges: Pixels) -> list[Pixel]:
    """Return the cheapest cuts, equation (1)."""
    n = len(edges) - 1
    tapers = taper_costs(along, width, edges)
    cost = [0.0] + [math.inf] * n
    came = [0] * (n + 1)
    first = np.searchsorted(along, edges)
    for j in range(1, n + 1):
        for i in range(j):
            count = first[j] - first[i]
            if cost[i] == math.inf or (j - i < 2 and n > 2) or (count == 0 and i > 0):
                continue
            miss = float(tapers[i, j])
            if count >= 6 and miss > _PRICE / 4:
                use = slice(first[i], first[j])
                s = (along[use] - edges[i]) / (edges[j] - edges[i])
                miss = min(miss, lump_fit(s, width[use], float(edges[j] - edges[i])).cost)
            total = cost[i] + miss + _PRICE
            if total < cost[j]:
                cost[j], came[j] = total, i
    cuts = [n]
    while cuts[-1] > 0:
        cuts.append(came[cuts[-1]])
    return [float(edges[k]) for k in reversed(cuts)]


def _moved(along: Pixels, width: Pixels, cuts: list[Pixel], cell: Pixel) -> list[Pixel]:
    """Move each inner cut to the pixel where both sides fit best."""
    cuts = list(cuts)
    for _ in range(2):
        for k in range(1, len(cuts) - 1):
            low, high = cuts[k - 1] + 2.0, cuts[k + 1] - 2.0
            tries = np.arange(max(low, cuts[k] - 1.5 * cell), min(high, cuts[k] + 1.5 * cell), 1.0)
            if not tries.size:
                continue
            costs = [
                fit(along, width, cuts[k - 1], float(t)).cost
                + fit(along, width, float(t), cuts[k + 1]).cost
                for t in tries
            ]
            cuts[k] = float(tries[int(np.argmin(costs))])
    return cuts


def _bridged(along: Pixels, width: Pixels, cuts: list[Pixel]) -> list[Pixel]:
    """Take out a stretch that is wider only because something stands before it."""
    cuts = list(cuts)
    k = 1
    while k < len(cuts) - 2:
        start, a, b, end = cuts[k - 1 : k + 3]
        before, after = fit(along, width, start, a), fit(along, width, b, end)
        between = (along >= a - _EDGE) & (along < b + _EDGE)
        outside = (along >= start) & (along < end) & ~between
        if before.lump or after.lump or b - a > 0.35 * (end - start) or outside.sum() < 6:
            k += 1
            continue
        s = (along - start) / (end - start)
        one = taper_fit(s[outside], width[outside], weight_of(width[outside]))
        over = width[between] - one.first - (one.last - one.first) * s[between]
        if one.cost < before.cost + after.cost + 3 * _PRICE and np.median(over) > 0.0:
            width[between] = np.nan
            del cuts[k : k + 2]
            k = 1
        else:
            k += 1
    return cuts


def _stepped(along: Pixels, width: Pixels, cuts: list[Pixel]) -> list[Pixel]:
    """Make one cut of a stretch that is too short for a part: it is only a step of the width.

    A cell may straddle the step; and where the line meets the base of a blade at a slant, the two
    edges step at two places.
    """
    cuts = list(cuts)
    k = 1
    while k < len(cuts) - 2:
        start, a, b, end = cuts[k - 1 : k + 3]
        before, step, after = (fit(along, width, *span) for span in pairwise((start, a, b, end)))
        short = b - a < _STEP * max(step.first, step.last)
        if before.lump or after.lump or not short:
            k += 1
            continue
        tries = np.arange(a, b + 0.5, 1.0)
        costs = [fit(along, width, start, t).cost + fit(along, width, t, end).cost for t in tries]
        slant = before.last < step.first < max(after.first, after.last)
        worth = before.cost + step.cost + after.cost + _PRICE
        if slant or min(costs) < worth:
            cuts[k : k + 2] = [float(tries[int(np.argmin(costs))])]
        else:
            k += 1
    return cuts


def _needed(along: Pixels, width: Pixels, cuts: list[Pixel]) -> list[Pixel]:
    """Take out the cuts between tapers that are not worth their price, once they were moved."""
    cuts = list(cuts)
    while len(cuts) > 2:
        apart = [fit(along, width, *span) for span in pairwise(cuts)]
        gains = []
        for k, (one, two) in enumerate(pairwise(apart)):
            whole = fit(along, width, cuts[k], cuts[k + 2])
            lump = one.lump or two.lump or whole.lump
            gains.append(-1.0 if lump else one.cost + two.cost + _PRICE - whole.cost)
        best = int(np.argmax(gains))
        if gains[best] <= 0.0:
            break
        del cuts[best + 1]
    return cuts
