"""Steps: where a row of values along a strand has a step.

A row is taken as one straight line, or as two with a step between them.  Two lines
always fit better than one; a real step takes half of the misfit away or more (estimate).
"""

import numpy as np

from pourcast import units as si

LEAST = 2
"""Pieces on each side of a cut; estimate."""


def smoothed(values: si.Ratios) -> si.Ratios:
    """Return the median of each value and its two neighbours.

    Parameters
    ----------
    values : array [-], shape (pieces,)

    Returns
    -------
    array [-], shape (pieces,)
    """
    if len(values) < 3:
        return values
    inner = np.median(np.stack([values[:-2], values[1:-1], values[2:]]), axis=0)
    return np.concatenate([inner[:1], inner, inner[-1:]])


def filled(values: si.Metres, instead: si.Metres) -> si.Metres:
    """Return lengths of which a logarithm can be taken, others where there are none.

    Parameters
    ----------
    values, instead : array [m], shape (pieces,)

    Returns
    -------
    array [m], shape (pieces,)
    """
    return np.maximum(np.where(np.isfinite(values), values, instead), 1e-6)


def step_of(values: si.Ratios) -> tuple[int, si.Ratio] | None:
    """Return the best place for a step, and its height; None: one line does as well.

    Parameters
    ----------
    values : array [-], shape (pieces,)

    Returns
    -------
    (int, float) or None
        First piece behind the step, and how far the second line lies above the first there.
    """
    many = len(values)
    at = np.arange(many, dtype=float)
    best: tuple[float, int, float] | None = None
    for place in range(LEAST, many - LEAST + 1):
        left, right = _line(at[:place], values[:place]), _line(at[place:], values[place:])
        miss = left[2] + right[2]
        middle = place - 0.5
        step = (right[0] + right[1] * middle) - (left[0] + left[1] * middle)
        if best is None or miss < best[0] - 1e-12:
            best = (miss, place, step)
    if best is None:
        return None
    whole = _line(at, values)[2]
    # Two lines always fit better than one; a real step takes most of the misfit away.
    if best[0] > 0.5 * whole:
        return None
    return best[1], best[2]


def _line(at: si.Ratios, values: si.Ratios) -> tuple[si.Ratio, si.Ratio, si.Ratio]:
    """Return value at 0, slope and squared misfit of the straight line; level if short."""
    if len(at) < 4:
        mean = float(values.mean())
        return mean, 0.0, float(((values - mean) ** 2).sum())
    x, y = at - at.mean(), values - values.mean()
    slope = float(x @ y / (x @ x))
    return (
        float(values.mean() - slope * at.mean()),
        slope,
        float(((y - slope * x) ** 2).sum()),
    )
