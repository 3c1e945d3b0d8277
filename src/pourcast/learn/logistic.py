"""Logistic: a logistic regression held by a ridge, and which further column is worth a place.

With the chance p = 1 / (1 + exp(-Xc)), the coefficients c make

    Σ log p(what came) - ½ R Σ c²                                              (1)

greatest, by Newton's method.  With X the columns so far, W = p(1 - p) and r = what
came less p, a further column x is worth

    z = xᵀr / √(xᵀWx - xᵀWX (XᵀWX)⁻¹ XᵀWx)                                     (2)

spreads of one that has no part in it (score test).

Source: Hosmer and Lemeshow, Applied Logistic Regression (1989), ch. 2; Hoerl and
Kennard (1970), Technometrics 12, 55, for the ridge; Rao (1948), Proc. Camb. Phil.
Soc. 44, 50, for (2).
"""

import numpy as np

from pourcast import units as si

RIDGE = 0.1
"""R of (1): of a few that were tried, the best told pours that it was not fitted to."""

_MOST_TURNS = 60
_SETTLED = 1e-8
_STEEPEST = 30.0  # of a logit; beyond it a chance is 0 or 1 to rounding


def logistic(terms: si.Ratios, ending: si.Ratios) -> si.Ratios:
    """Return the coefficients c, by (1) [-].

    Parameters
    ----------
    terms : array [-], shape (draws, columns)
        X; the first column is the constant, which the ridge holds a little only.
    ending : array [-], shape (draws,)
        1 or 0.

    Returns
    -------
    array [-], shape (columns,)
    """
    pull = np.full(terms.shape[1], RIDGE)
    pull[0] = 0.01 * RIDGE
    found = np.zeros(terms.shape[1])
    best = _sum(terms, ending, found, pull)
    for _ in range(_MOST_TURNS):
        p = chance(terms @ found)
        slope = terms.T @ (ending - p) - pull * found
        curve = (terms * (p * (1.0 - p))[:, None]).T @ terms + np.diag(pull)
        step = np.linalg.solve(curve, slope)
        while (after := _sum(terms, ending, found + step, pull)) < best:
            step = 0.5 * step
            if float(np.abs(step).max()) < _SETTLED:
                return found
        found, best = found + step, after
        if float(np.abs(step).max()) < _SETTLED:
            break
    return found


def worth(asked: si.Ratios, matrix: si.Ratios, fitted: si.Ratios, ending: si.Ratios) -> si.Ratios:
    """Return the size of z of each further column, by (2) [-].

    Parameters
    ----------
    asked : array [-], shape (draws, further columns)
    matrix : array [-], shape (draws, columns)
    fitted : array [-], shape (columns,)
        From `logistic`.
    ending : array [-], shape (draws,)
        1 or 0.

    Returns
    -------
    array [-], shape (further columns,)
        0 for a column that is flat, or is made of those that are in.
    """
    p = chance(matrix @ fitted)
    heavy = asked * (p * (1.0 - p))[:, None]
    inside = (matrix * (p * (1.0 - p))[:, None]).T @ matrix
    across = matrix.T @ heavy
    whole = (asked * heavy).sum(axis=0)
    held = inside + 1e-9 * np.trace(inside) * np.eye(inside.shape[0])
    left = whole - (across * np.linalg.solve(held, across)).sum(axis=0)
    new = left > 1e-6 * np.maximum(whole, 1e-300)
    slope = np.abs(asked.T @ (ending - p))
    return np.asarray(np.where(new, slope / np.sqrt(np.where(new, left, 1.0)), 0.0))


def chance(logit: si.Ratios) -> si.Ratios:
    """Return the chance that belongs to a + b, by (1) [-].

    Parameters
    ----------
    logit : array [-], any shape
    """
    return np.asarray(1.0 / (1.0 + np.exp(-np.clip(logit, -_STEEPEST, _STEEPEST))))


def _sum(terms: si.Ratios, ending: si.Ratios, found: si.Ratios, pull: si.Ratios) -> si.Ratio:
    p = np.clip(chance(terms @ found), 1e-15, 1.0 - 1e-15)
    came = ending * np.log(p) + (1.0 - ending) * np.log(1.0 - p)
    return float(came.sum() - 0.5 * (pull * found) @ found)
