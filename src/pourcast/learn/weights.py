"""Weights: how much is a set of unequal draws worth, and what are its percentiles?

A draw i has the weight w_i, all of them adding up to 1.  As many equal draws as

    n = 1 / Σ w_i²                                                             (1)

would give means of the same spread, as long as what is averaged does not hang on
the weights.  Percentiles are those of the step function that rises by w_i at each
draw, straight between the middles of the steps.

Source: Kish, Survey Sampling (1965), 11.7, for (1).
"""

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, SolveError
from pourcast.materials.draws import ArrayInSI


def normalised(logarithm: si.Ratios) -> si.Ratios:
    """Return weights that add up to 1 [-].

    Parameters
    ----------
    logarithm : array [-], shape (draws,)
        Natural logarithm of what each draw weighs, up to a constant.

    Raises
    ------
    SolveError
        If no draw weighs anything.
    """
    most = float(np.max(logarithm))
    if not np.isfinite(most):
        raise SolveError("weights of the draws", 0, most)
    weight = np.exp(logarithm - most)
    return np.asarray(weight / weight.sum())


def effective(weight: si.Ratios) -> si.Ratio:
    """Return how many equal draws weighted ones are worth, by (1) [-].

    Parameters
    ----------
    weight : array [-], shape (draws,)
        Adding up to 1.

    Examples
    --------
    >>> effective(np.array([0.5, 0.5, 0.0, 0.0]))
    2.0
    """
    return float(1.0 / (weight @ weight))


def percentile(values: ArrayInSI, weight: si.Ratios, share: si.Ratios) -> ArrayInSI:
    """Return the values below which shares of the weight lie [SI].

    Parameters
    ----------
    values : array [SI], shape (draws,)
    weight : array [-], shape (draws,)
    share : array [-], any shape; 0 to 1

    Raises
    ------
    InputError
        If there are no draws.
    """
    if values.size == 0:
        raise InputError("draws", 0, "", "1 or more")
    order = np.argsort(values, kind="stable")
    heavy = weight[order]
    middle = np.cumsum(heavy) - 0.5 * heavy
    return np.asarray(np.interp(share, middle / heavy.sum(), values[order]))
