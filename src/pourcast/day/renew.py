"""Renew: new particles about those that fit the readings.

Particles are chosen again in proportion to their weights (systematic resampling), and
each value of block and thermometer is moved a little, so that none are alike:

    θ' = a θ + (1 - a) m + h s z,   a² = 1 - h²                              (1)

m and s are the weighted mean and standard deviation, z is normal.  (1) keeps both.
Values that are above 0 are moved in their logarithm, and none leaves the span that
the draws had.

Left out: what does not touch wall and core.  Matter and burning go along unmoved.

Source: (1) Liu and West (2001), in Sequential Monte Carlo Methods in Practice, ch. 10.
"""

from dataclasses import fields, replace
from typing import Any

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import BlockCase
from pourcast.day.particles import standing, weights_of

WIDTH = 0.3
"""h of (1); estimate."""


def chosen(weights: si.Ratios, count: int) -> si.Integers:
    """Return which particles go on, each as often as its weight says.

    Parameters
    ----------
    weights : array [-], shape (particles,)
        Add up to 1.
    count : int

    Returns
    -------
    array of int, shape (count,)
    """
    edges = (np.arange(count) + 0.5) / count
    return np.minimum(np.searchsorted(np.cumsum(weights), edges), weights.size - 1)


def softening(logarithms: si.Ratios, least: si.Ratio) -> si.Ratio:
    """Return the power of the weights at which so many particles still stand [-].

    Parameters
    ----------
    logarithms : array [-], shape (particles,)
        Of the weights.
    least : float [-]
        Particles of like weight, as `pourcast.day.particles.standing` counts them.

    Returns
    -------
    float [-]
        0 to 1; 1 where that many stand anyway.
    """
    if standing(weights_of(logarithms)) >= least:
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(40):
        power = 0.5 * (low + high)
        enough = standing(weights_of(power * logarithms)) >= least
        low, high = (power, high) if enough else (low, power)
    return low


def across(count: int, hands: int) -> si.Integers:
    """Return the particles in the order first of each hand, second of each hand, and so on.

    Chosen and `dealt` in this order, a particle that goes on once keeps its hand, so that
    each hand keeps early and late ones.

    Parameters
    ----------
    count : int
        A multiple of ``hands``.
    hands : int

    Returns
    -------
    array of int, shape (count,)
    """
    return np.asarray(np.arange(count).reshape(hands, -1).T.ravel())


def dealt(rows: si.Integers, hands: int) -> si.Integers:
    """Return rows so that copies of one particle come into different hands.

    Parameters
    ----------
    rows : array of int, shape (count,)
        A multiple of ``hands``.
    hands : int

    Returns
    -------
    array of int, shape (count,)
        Each hand is a run of its own.
    """
    return np.asarray(rows.reshape(-1, hands).T.ravel())


def moved(block: BlockCase, weights: si.Ratios, rows: si.Integers, seed: int) -> BlockCase:
    """Return the block of the particles that go on, each moved a little, equation (1).

    Parameters
    ----------
    block : BlockCase
        Before they were chosen.
    weights : array [-], shape (particles,)
    rows : array of int, shape (count,)
        From `chosen`.
    seed : int

    Returns
    -------
    BlockCase
    """
    rng = np.random.Generator(np.random.PCG64(np.random.SeedSequence([seed, 17])))
    arrays: dict[str, Any] = {}
    for field in fields(block):
        value = getattr(block, field.name)
        if not isinstance(value, np.ndarray) or field.name.endswith("_at"):
            continue
        if value.ndim > 1:
            # One factor for a whole row keeps its shape over temperature.
            level = value.mean(axis=1)
            factor = _moved(level, weights, rows, rng) / level[rows]
            arrays[field.name] = value[rows] * factor[:, None]
        else:
            arrays[field.name] = _moved(value, weights, rows, rng)
    return replace(block, **arrays)


def _moved(
    value: si.Table, weights: si.Ratios, rows: si.Integers, rng: np.random.Generator
) -> si.Table:
    chance = rng.standard_normal(rows.size)
    low, high = float(value.min()), float(value.max())
    if low == high:
        return value[rows]
    here = np.log(value) if low > 0.0 else value
    mean = float(weights @ here)
    spread = float(np.sqrt(weights @ (here - mean) ** 2))
    kept = np.sqrt(1.0 - WIDTH**2)
    after = kept * here[rows] + (1.0 - kept) * mean + WIDTH * spread * chance
    return np.asarray(np.clip(np.exp(after) if low > 0.0 else after, low, high))
