"""Sample: draws of the studio's unknowns that are worth much after what was seen.

Each axis is carried as a normal number z of mean 0 and spread 1 by the book of
values, u = Φ(z).  The first draws come from there and weigh L(z).  Where they are
worth too little, new ones are drawn from

    q(z) = PRIOR_SHARE · N(0, 1) + (1 - PRIOR_SHARE) · N(m, WIDER · C)         (1)

with m and C the weighted mean and covariance of the draws before, and weigh
L(z) N(z; 0, 1) / q(z).  The first part of q keeps every weight finite.  Only axes
that something was seen of are moved; on the others a new draw is as good as an old.

Source: Oh and Berger (1992), J. Stat. Comput. Simul. 41, 143, for moving the draws by
rounds; Hesterberg (1995), Technometrics 37, 185, for the mixture.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.learn.weights import effective, normalised

ENOUGH = 0.25
"""Share of the draws that they must be worth; below it they are drawn anew; our choice."""

MOST_ROUNDS = 6
PRIOR_SHARE = 0.1
WIDER = 1.3
"""Our choice; any values give the same answer, and these few rounds."""

_SOFT = 3.0  # draws for each axis that a covariance is made from, at least


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """Weighted draws.

    Parameters
    ----------
    share : array [-], shape (draws, axes)
        u of each axis, 0 to 1.
    weight : array [-], shape (draws,)
        Adding up to 1.
    effective, first_effective : float [-]
        What these draws, and those of the first round, are worth.
    rounds : int
        0: the first draws were enough.
    """

    share: si.Ratios
    weight: si.Ratios
    effective: si.Ratio
    first_effective: si.Ratio
    rounds: int


def sample(
    log_likelihood: Callable[[si.Ratios], si.Floats],
    axes: int,
    moved: si.Integers,
    draws: int,
    rng: np.random.Generator,
) -> Sample:
    """Return draws that carry what was seen.

    Parameters
    ----------
    log_likelihood : callable
        Gives ln L, shape (draws,), for u, shape (draws, axes).
    axes : int
    moved : array of int
        Axes that something was seen of.
    draws : int
        10 or more.
    rng : numpy.random.Generator

    Returns
    -------
    Sample

    Raises
    ------
    InputError
        If there are too few draws.
    SolveError
        If nothing explains what was seen.
    """
    if draws < 10:
        raise InputError("draws", draws, "", "10 or more")
    z = rng.standard_normal((draws, axes))
    found = log_likelihood(normal_share(z))
    logarithm = found
    weight = normalised(logarithm)
    first = best = effective(weight)
    kept = (z, weight)
    rounds = 0
    while best < ENOUGH * draws and rounds < MOST_ROUNDS and moved.size:
        rounds += 1
        soft = _softened(logarithm, _SOFT * moved.size)
        mean, root = _centre(z[:, moved], soft)
        z = rng.standard_normal((draws, axes))
        shifted = mean + z[:, moved] @ root.T
        plain = rng.random(draws) < PRIOR_SHARE
        z[:, moved] = np.where(plain[:, None], z[:, moved], shifted)
        logarithm = log_likelihood(normal_share(z)) - _log_ratio(z[:, moved], mean, root)
        weight = normalised(logarithm)
        worth = effective(weight)
        if worth > best:
            best, kept = worth, (z, weight)
    return Sample(
        share=normal_share(kept[0]),
        weight=kept[1],
        effective=best,
        first_effective=first,
        rounds=rounds,
    )


def normal_share(z: si.Ratios) -> si.Ratios:
    """Return the share of a normal distribution below each number [-].

    Parameters
    ----------
    z : array [-], any shape
    """
    return np.asarray(0.5 * (1.0 + _erf(z / math.sqrt(2.0))))


def _erf(x: si.Ratios) -> si.Ratios:
    flat = [math.erf(each) for each in x.ravel().tolist()]
    return np.array(flat).reshape(x.shape)


def _softened(logarithm: si.Floats, least: si.Ratio) -> si.Ratios:
    """Return weights raised to the power, at most 1, at which they are worth enough."""
    weight = normalised(logarithm)
    if effective(weight) >= least:
        return weight
    low, high = 0.0, 1.0
    for _ in range(40):
        power = 0.5 * (low + high)
        if effective(normalised(power * logarithm)) >= least:
            low = power
        else:
            high = power
    return normalised(low * logarithm)


def _centre(z: si.Ratios, weight: si.Ratios) -> tuple[si.Ratios, si.Ratios]:
    """Return mean, and a root of the widened covariance, of weighted draws."""
    mean = weight @ z
    off = z - mean
    covariance = (off * weight[:, None]).T @ off
    worth = effective(weight)
    # Few draws make ties between axes that are not there.
    held = z.shape[1] / (z.shape[1] + worth)
    spread = np.diag(np.diag(covariance))
    covariance = WIDER * ((1.0 - held) * covariance + held * spread)
    return mean, np.linalg.cholesky(covariance + 1e-9 * np.eye(z.shape[1]))


def _log_ratio(z: si.Ratios, mean: si.Ratios, root: si.Ratios) -> si.Floats:
    """Return ln q(z) / N(z; 0, 1), by (1)."""
    off = np.linalg.solve(root, (z - mean).T)
    size = float(np.log(np.diag(root)).sum())
    above = 0.5 * (z**2).sum(axis=1) - 0.5 * (off**2).sum(axis=0) - size
    return np.asarray(np.logaddexp(math.log(PRIOR_SHARE), math.log1p(-PRIOR_SHARE) + above))
