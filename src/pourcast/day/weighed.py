"""Weighed: which burnouts of the block fit what was read, and how do they go on?

Wall and core tell by heat alone which particles fit, so heat is followed first and
weighed; what becomes of wax and original is worked out for those that the answer
rests on.  Where too few fit, they are drawn anew and their heat followed once more:
the fates of those that were left behind are never asked for.

Left out: heat followed no further than the last reading before it is weighed.  By
the seventh of twenty hours three quarters of the work is done, so that it would cost
more where the particles stay than it saves where they are drawn anew.
"""

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.burnout.days import heat_days
from pourcast.burnout.model import (
    BlockCase,
    Burning,
    BurnoutCase,
    BurnoutResult,
    Curve,
    HeatDays,
    Matter,
)
from pourcast.burnout.solve import ended
from pourcast.day.model import Judged
from pourcast.day.particles import log_weights, rows_of, standing, weights_of
from pourcast.day.renew import across, chosen, dealt, moved, softening

FEW = 1.0 / 4.0
"""Share of the particles under which they are drawn anew; estimate."""

Drawn: TypeAlias = tuple[BlockCase, Matter, Burning]
"""What a particle is made of."""


def weighed(
    drawn: Drawn,
    curves: Sequence[Curve],
    readings: tuple[Judged, ...],
    start: si.Second,
    *,
    seed: int,
    threads: int,
) -> tuple[list[BurnoutResult], si.Ratios, bool]:
    """Return the burnouts of all particles, how they weigh, and whether they were drawn anew.

    Parameters
    ----------
    drawn : tuple of BlockCase, Matter and Burning
        Of all particles, those of the first future first.
    curves : sequence of Curve
        Air at the block, one for each future of the kiln.
    readings : tuple of Judged
    start : float [s]
        Of the day, since 1970.
    seed : int
        Of what is drawn anew.
    threads : int
        The answer is the same for any number.

    Returns
    -------
    results : list of BurnoutResult
        One for each future, each with its own particles.
    weights : array [-], shape (particles,)
        They add up to 1.
    renewed : bool
    """
    block, matter, burning = drawn
    with ThreadPoolExecutor(threads) as pool:

        def heated(of: BlockCase) -> list[HeatDays]:
            shares = _shares(of, len(curves))
            return list(pool.map(heat_days, [rows_of(of, mine) for mine in shares], curves))

        heats = heated(block)
        logarithms = log_weights(heats, readings, start)
        weights = weights_of(logarithms)
        renewed = standing(weights) < FEW * weights.size
        if renewed:
            power = softening(logarithms, FEW * weights.size)
            soft = weights_of(power * logarithms)
            order = across(soft.size, len(curves))
            rows = dealt(order[chosen(soft[order], soft.size)], len(curves))
            block = moved(block, soft, rows, seed)
            matter, burning = rows_of(matter, rows), rows_of(burning, rows)
            heats = heated(block)
            # The choice has weighed them by a part of the power already.
            weights = weights_of((1.0 - power) * log_weights(heats, readings, start))
        cases = [
            BurnoutCase(
                block=rows_of(block, mine),
                matter=rows_of(matter, mine),
                burning=rows_of(burning, mine),
                curve=curve,
            )
            for mine, curve in zip(_shares(block, len(curves)), curves, strict=True)
        ]
        return list(pool.map(ended, cases, heats)), weights, renewed


def _shares(block: BlockCase, futures: int) -> list[si.Integers]:
    """Return which particles go with each future."""
    rows = np.arange(block.free_water.size)
    return [np.asarray(mine) for mine in rows.reshape(futures, -1)]
