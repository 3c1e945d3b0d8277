"""Packing: how small a circle holds several circles?

Circles of the radii r at c lie in a circle of the radius R if

    |cᵢ - cⱼ| >= rᵢ + rⱼ,   |cᵢ| + rᵢ <= R                                  (1)

What each of these is short of is squared and summed with (wR)², and the sum is made
small by the damped steps of Levenberg and Marquardt, with a w that falls from 0.3 to
10⁻⁶.  At last the middles are spread until no two circles overlap, so (1) holds to
rounding whatever the search has found.  Starts: circles in a ring, a ring about the
largest, and eight from a spiral with other turns; the smallest answer counts.

Left out: proof that there is no smaller circle.  For 2 to 7 equal circles the answer is
held against the best that is known (`tests/gating/test_packing.py`).

Source: Levenberg (1944), Q. Appl. Math. 2, 164; Marquardt (1963), J. SIAM 11, 431; from
memory.
"""

import math
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_positive

MOST_CIRCLES = 12
"""Pieces in one flask; more would need another search (our own choice)."""

_WEIGHTS = (0.3, 0.1, 0.03, 0.01, 1e-3, 1e-4, 1e-5, 1e-6)
_STEPS = 30
_GOLDEN = math.pi * (3.0 - math.sqrt(5.0))  # rad, turn of a spiral that fills a disc evenly


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """Circles packed into the smallest circle that was found for them.

    Parameters
    ----------
    radius : float [m]
        Of the circle round them all.
    x, y : array [m], shape (circles,)
        Of their middles, from its middle.
    """

    radius: si.Metre
    x: si.Metres
    y: si.Metres


def packed(radius: si.Metres) -> Packed:
    """Return circles packed into the smallest circle that was found.

    Parameters
    ----------
    radius : array [m], shape (circles,)
        1 to 12 of them; > 0.

    Returns
    -------
    Packed
        The circles in the order they came in.

    Raises
    ------
    InputError
        If there is none, or there are too many.
    """
    if radius.ndim != 1 or not 1 <= radius.size <= MOST_CIRCLES:
        raise InputError("pieces in one flask", radius.size, "", f"1 to {MOST_CIRCLES}")
    require_positive("radius", radius, "m")
    if radius.size == 1:
        return Packed(radius=float(radius[0]), x=np.zeros(1), y=np.zeros(1))
    size = float(radius.max())
    own = radius / size  # of the largest, so that the weights have a meaning
    best: tuple[float, si.Ratios] | None = None
    for start in _starts(own):
        middle = _spread(_settled(start, own), own)
        outer = float((np.hypot(middle[:, 0], middle[:, 1]) + own).max())
        if best is None or outer < best[0]:
            best = outer, middle
    assert best is not None  # there are always starts
    outer, middle = best
    return Packed(radius=outer * size, x=middle[:, 0] * size, y=middle[:, 1] * size)


def _starts(own: si.Ratios) -> list[si.Ratios]:
    count = own.size
    starts = []
    for inner in (0, 1):
        ring = np.arange(count - inner) * 2.0 * math.pi / max(count - inner, 1)
        far = 1.0 + 1.0 / max(math.sin(math.pi / max(count - inner, 2)), 0.2)
        places = np.zeros((count, 2))
        order = np.argsort(-own, kind="stable")
        places[order[inner:]] = far * np.column_stack([np.cos(ring), np.sin(ring)])
        starts.append(places)
    index = np.arange(count)
    for turned in range(8):
        # Each start deals the places of the spiral to the circles in another order.
        place = (index * (2 * turned + 1) + turned) % count
        angle = _GOLDEN * (place + 0.37 * turned)
        far = 1.4 * np.sqrt(place + 0.5)
        starts.append(np.column_stack([far * np.cos(angle), far * np.sin(angle)]))
    return starts


def _settled(start: si.Ratios, own: si.Ratios) -> si.Ratios:
    """Return middles after all damped steps."""
    count = own.size
    outer = float((np.hypot(start[:, 0], start[:, 1]) + own).max())
    state = np.append(start.ravel(), outer)
    for weight in _WEIGHTS:
        damping = 1e-3
        lack, slope = _lacks(state, own, weight)
        for _ in range(_STEPS):
            square = slope.T @ slope
            square[np.diag_indices_from(square)] += damping
            step = np.linalg.solve(square, -slope.T @ lack)
            other, its_slope = _lacks(state + step, own, weight)
            if other @ other < lack @ lack:
                state, lack, slope = state + step, other, its_slope
                damping = max(0.2 * damping, 1e-15)
            else:
                damping *= 8.0
                if damping > 1e8:
                    break
    return np.asarray(state[:-1].reshape(count, 2))


def _lacks(state: si.Ratios, own: si.Ratios, weight: si.Ratio) -> tuple[si.Ratios, si.Ratios]:
    """Return what (1) is short of, the weighted radius last, and the slope of each."""
    count = own.size
    middle, outer = state[:-1].reshape(count, 2), state[-1]
    one, other = np.triu_indices(count, 1)
    apart = middle[one] - middle[other]
    far = np.maximum(np.hypot(apart[:, 0], apart[:, 1]), 1e-12)
    from_axis = np.maximum(np.hypot(middle[:, 0], middle[:, 1]), 1e-12)
    overlap = np.maximum(own[one] + own[other] - far, 0.0)
    past = np.maximum(from_axis + own - outer, 0.0)
    pairs = one.size
    slope = np.zeros((pairs + count + 1, state.size))
    hit = np.flatnonzero(overlap > 0.0)
    way = apart[hit] / far[hit, None]
    for k in range(2):
        slope[hit, 2 * one[hit] + k] = -way[:, k]
        slope[hit, 2 * other[hit] + k] = way[:, k]
    out = np.flatnonzero(past > 0.0)
    for k in range(2):
        slope[pairs + out, 2 * out + k] = middle[out, k] / from_axis[out]
    slope[pairs + out, -1] = -1.0
    slope[-1, -1] = weight
    return np.concatenate([overlap, past, [weight * outer]]), slope


def _spread(middle: si.Ratios, own: si.Ratios) -> si.Ratios:
    """Return middles moved out from their own middle until no two circles overlap."""
    one, other = np.triu_indices(own.size, 1)
    apart = middle[one] - middle[other]
    far = np.maximum(np.hypot(apart[:, 0], apart[:, 1]), 1e-12)
    return np.asarray(middle * max(float(((own[one] + own[other]) / far).max()), 1e-12))
