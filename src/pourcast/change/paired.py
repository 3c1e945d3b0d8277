"""Paired: is one plan better than another, or was it luck?

Both plans are poured with the same draws.  With the outcomes wᵢ of the plan and vᵢ of
the changed plan, each 0 or 1, in draw i of n

    gain = mean(vᵢ - wᵢ)                                                    (1)
    standard error = sd(vᵢ - wᵢ) / √n                                       (2)

The variance of the difference is Var v + Var w - 2 Cov(v, w): what both owe to the
same draws falls out, and (2) is smaller than that of independent draws,
√(Var v + Var w) / √n, wherever the two go together.

Where no draw ends otherwise, (2) is 0 and says too much: of n draws without a case up
to 3/n may still turn (rule of three); such a change counts as within the noise.

Source: pairing in McNemar (1947), Psychometrika 12, 153; common random numbers in any
text on simulation; the rule of three in Hanley and Lippman-Hand (1983), JAMA 249, 1743
(from memory).
"""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.change.model import PartMove
from pourcast.forecast.whole import Ends
from pourcast.pour.model import CAUSES, Cause


def paired_gain(before: si.Booleans, after: si.Booleans) -> tuple[si.Ratio, si.Ratio]:
    """Return the gain and its standard error from the same draws [-].

    Parameters
    ----------
    before, after : array of bool, shape (draws,)

    Returns
    -------
    gain, standard_error : float [-]
    """
    difference = after.astype(float) - before.astype(float)
    draws = difference.size
    spread = float(difference.std(ddof=1)) if draws > 1 else 0.0
    return float(difference.mean()), spread / math.sqrt(draws)


def part_moves(before: Ends, after: Ends) -> tuple[PartMove, ...]:
    """Return how the parts that stand in both move, the greatest move first.

    Parameters
    ----------
    before, after : Ends
        Of the same draws.

    Returns
    -------
    tuple of PartMove
        Those that do not move are left out.
    """
    moves = [move for move in every_part(before, after) if move.before != move.after]
    return tuple(sorted(moves, key=lambda move: -abs(move.after - move.before)))


def every_part(before: Ends, after: Ends) -> tuple[PartMove, ...]:
    """Return how each part that stands in both moves, in the order of the first.

    Parameters
    ----------
    before, after : Ends

    Returns
    -------
    tuple of PartMove
    """
    moves = []
    for name in before.part_names:
        if name not in after.part_names:
            continue
        was, now = before.part(name), after.part(name)
        _, error = paired_gain(was, now)
        moves.append(
            PartMove(
                name=name,
                before=float(was.mean()),
                after=float(now.mean()),
                standard_error=error,
            )
        )
    return tuple(moves)


def from_all_draws(moves: Sequence[PartMove], stands: Ends) -> tuple[PartMove, ...]:
    """Return moves of some draws, told from how the parts end at all draws of the plan.

    Parameters
    ----------
    moves : sequence of PartMove
    stands : Ends
        Of the plan as it stands, at all its draws.

    Returns
    -------
    tuple of PartMove
    """
    told = []
    for move in moves:
        before = float(stands.part(move.name).mean())
        after = moved_by(before, move.after - move.before)
        told.append(replace(move, before=before, after=after))
    return tuple(told)


def moved_by(chance: si.Ratio, gain: si.Ratio) -> si.Ratio:
    """Return a chance moved by a gain of other draws, which may reach past 0 or 1 [-].

    Parameters
    ----------
    chance, gain : float [-]
    """
    return min(max(chance + gain, 0.0), 1.0)


def cause_shares(ends: Ends) -> dict[Cause, si.Ratio]:
    """Return the share of the pours in which a member is short for each cause [-].

    Parameters
    ----------
    ends : Ends

    Returns
    -------
    dict of str to float [-]
        Causes that never stop a member are left out; a pour may count for several.
    """
    short = np.where(ends.full, 0, ends.cause)
    shares = {
        cause: float((short == code).any(axis=1).mean())
        for code, cause in enumerate(CAUSES, start=1)
    }
    return {cause: share for cause, share in shares.items() if share > 0.0}
