"""Passes: a step that is longer than one pass through the mould can carry.

A pass A carries everything over a time η that the mould allows, with all that goes between
metal, mould, stacks, wall and room.  A longer step goes in s passes (RKL1 once more, now
round the whole),

    Y_j = μ_j A(Y_{j-1}) + (1 - μ_j) Y_{j-2},  μ_j = (2j - 1)/j                  (1)

and s passes carry η (s² + s)/2.  Y is what is held: heat of metal, mould, stacks and steel,
and what was lost up to now.  The weights add up to one, and A keeps the sum of all heat; so
(1) keeps it too, to rounding.  Where nothing changes with temperature A is symmetric over the
heat capacities, since metal and mould take the same weighted sum of temperatures: its factors
are real.  They lie between -1 and 1, and there the Legendre polynomial of (1) does too.  Every
Y_j is itself an answer, at the time η (j² + j)/2.

Source: Meyer, Balsara and Aslam (2014), J. Comput. Phys. 257, 594: RKL1.  A stabilised step
round an averaged force: Abdulle, Grote and Rosilho de Souza (2022), Math. Comput. 91, from
memory.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.freeze.voxel_types import Heats, HeatsSingle
from pourcast.kernels import kernel


def passes_for(step: si.Second, longest: si.Second) -> int:
    """Return how many passes carry a step.

    Parameters
    ----------
    step : float [s]
    longest : float [s]
        That one pass may carry.

    Returns
    -------
    int
    """
    return max(1, math.ceil((math.sqrt(1.0 + 8.0 * step / longest) - 1.0) / 2.0 - 1e-9))


def best_step(most: si.Second, longest: si.Second) -> si.Second:
    """Return the step that goes farthest for its passes.

    Parameters
    ----------
    most : float [s]
        That the step may be.
    longest : float [s]
        That one pass may carry.

    Returns
    -------
    float [s]
        Just over what s passes carry, s + 1 passes bring less each.
    """
    passes = passes_for(most, longest)
    fewer = longest * passes * (passes - 1) / 2
    return fewer if fewer * passes > most * (passes - 1) else most


@kernel
def carry_back(mu: si.Ratio, held: Heats, before: Heats, change: HeatsSingle | Heats) -> None:
    """Turn the change of a plain step into that of a pass of weight μ.

    Parameters
    ----------
    mu : float [-]
    held, before : array [J/m³], shape (metal,)
        Heat now, and one pass earlier; ``before`` is filled with ``held``.
    change : array [J/m³], shape (metal,)
        Filled.
    """
    back = 1.0 - mu
    for cell in range(np.uint64(held.size)):
        now = held[cell]
        change[cell] = mu * change[cell] + back * (before[cell] - now)
        before[cell] = now
