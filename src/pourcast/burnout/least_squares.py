"""Least squares: which unknowns make the squares of what is left over least?

With what is left over r(θ) and its slopes J = -∂r/∂θ by central differences,

    θ ← θ + (JᵀJ)⁻¹ Jᵀ r                                                     (1)

halving a step that makes the squares larger, until it moves nothing (Gauss and
Newton).  It finds the lowest place near where it begins, and no other.

Source: Bard, Nonlinear Parameter Estimation (1974), ch. 5.
"""

from collections.abc import Callable

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, SolveError, require_finite

_MOST_TURNS, _MOST_HALVINGS = 80, 30
_SETTLED = 1e-9  # share of an unknown by which the last step moves it
_NO_BETTER = 1e-13  # share of the squares that the last step takes off
_SLOPE = 1e-4  # share of an unknown by which it is moved to find a slope
_CANNOT_TELL = 1e-9  # least over largest singular value of the scaled slopes


def settle(
    left_over: Callable[[si.Table], si.Table], first: si.Table, floor: si.Table
) -> tuple[si.Table, si.Table, si.Table]:
    """Return the unknowns with the least squares, the slopes there, and what is left.

    Parameters
    ----------
    left_over : callable
        Gives r [by column], shape (rows,), for unknowns; rows in one unit each.
    first : array [by column], shape (unknowns,)
        Where to begin.
    floor : array [by column], shape (unknowns,)
        Least size that an unknown is taken to have; > 0.

    Returns
    -------
    tuple of array [by column]
        Unknowns, slopes J of shape (rows, unknowns), what is left over.

    Raises
    ------
    InputError
        If the rows cannot tell two unknowns apart.
    SolveError
        If the unknowns do not settle.
    """
    theta = first.astype(float)
    left = left_over(theta)
    squares = float(left @ left)
    for _turn in range(_MOST_TURNS):
        slopes = _slopes(left_over, theta, floor)
        step = _solved(slopes, left)
        size = np.maximum(np.abs(theta), floor)
        for _ in range(_MOST_HALVINGS):
            tried = left_over(theta + step)
            better = float(tried @ tried) if np.all(np.isfinite(tried)) else np.inf
            if better <= squares:
                break
            step = 0.5 * step
        else:
            # No way down is left that double precision can see.
            return theta, slopes, left
        theta = theta + step
        gained = squares - better
        left, squares = tried, better
        if np.all(np.abs(step) <= _SETTLED * size) or gained <= _NO_BETTER * squares:
            return theta, _slopes(left_over, theta, floor), left
    raise SolveError("fit of the kiln", _MOST_TURNS, squares**0.5)


def _slopes(
    left_over: Callable[[si.Table], si.Table], theta: si.Table, floor: si.Table
) -> si.Table:
    columns = []
    for place in range(theta.size):
        move = np.zeros(theta.size)
        move[place] = _SLOPE * max(abs(float(theta[place])), float(floor[place]))
        above, below = left_over(theta + move), left_over(theta - move)
        columns.append((below - above) / (2.0 * move[place]))
    slopes = np.stack(columns, axis=1)
    require_finite("slopes of the fit", slopes, "")
    return slopes


def _solved(slopes: si.Table, left: si.Table) -> si.Table:
    length = np.sqrt((slopes**2).sum(axis=0))
    if np.any(length == 0.0):
        raise _cannot_tell()
    out, strength, back = np.linalg.svd(slopes / length, full_matrices=False)
    if strength[-1] < _CANNOT_TELL * strength[0]:
        raise _cannot_tell()
    return np.asarray(back.T @ ((out.T @ left) / strength) / length)


def _cannot_tell() -> InputError:
    return InputError(
        "kiln log",
        "the same whatever some setting or loss is",
        "",
        "one that tells them apart",
        "Log a longer day, with each setting left for an hour or more.",
    )
