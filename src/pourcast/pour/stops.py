"""Stops: why a front stands still for good.

The rule, a convention, at the moment when the parcel at the front is too solid
to move.  With D the push at the front without any gas ahead of it beyond that
in the pores (pressure of the metal there, less pores, less threshold), where the front was
when its gas was worked out:

- the cup has run dry: no metal left;
- the metal was too solid to move when it was poured: *cold*;
- D is next to nothing (2 % of the head of the cup, or less): the surface held
  it back; *head* if the front lies above the metal, or if the head that the
  cup has lost would have been enough, else *capillary*;
- gas ahead took more than half of D: *gas* (often slowed by gas, then frozen);
- else *cold*.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.columns import (
    AIR_PRESSURE,
    CUP_HEAT,
    DEAD,
    DENSITY,
    FRONT,
    GAS_PRESSURE,
    INLET,
    LENGTH,
    POCKET,
    PUSH,
    RUNNING,
    SHARE,
    STATE,
    STOPPED,
    TAPER,
    TIP_HEAT_STOP,
    Z_END,
    Z_START,
)
from pourcast.pour.gas import pores_squared
from pourcast.pour.links import inlet_of_front
from pourcast.pour.model import CAPILLARY, COLD, GAS, HEAD, NO_METAL
from pourcast.pour.sections import length_share
from pourcast.units import GRAVITY

_GAS_TOOK = 0.5
_CREEPS = 0.02  # of the head of the cup; less push than this only creeps (convention)


@kernel
def cause_of_stop(
    run: int,
    pocket: int,
    fixed: si.Table,
    moving: si.Table,
    pockets: si.Table,
    parameters: si.Table,
    pores: si.Pascal,
    level: si.Metre,
    highest_level: si.Metre,
    dry: bool,
) -> int:
    """Return the code of what stopped a front.

    Parameters
    ----------
    run, pocket : int
        The front and the gas ahead of it.
    fixed, moving, pockets, parameters : array [by column]
    pores : float [Pa]
    level, highest_level : float [m]
        Of the metal in the cup, now and at its highest.
    dry : bool
        True if the cup has run out.
    """
    if dry:
        return NO_METAL
    if parameters[CUP_HEAT] <= parameters[TIP_HEAT_STOP]:
        return COLD  # it was mush before it was poured
    share = length_share(moving[run, FRONT] / fixed[run, LENGTH], fixed[run, TAPER])
    place = fixed[run, Z_START] + (fixed[run, Z_END] - fixed[run, Z_START]) * share
    weight = parameters[DENSITY] * GRAVITY
    around = math.sqrt(pores_squared(fixed[run, SHARE], pores, parameters[AIR_PRESSURE]))
    push = moving[run, INLET] + moving[run, PUSH] - around
    if push <= _CREEPS * weight * highest_level:
        lost = weight * (highest_level - level)
        if place >= (1.0 - _CREEPS) * level or (lost > 0.0 and push + lost > 0.0):
            return HEAD
        return CAPILLARY
    if pockets[pocket, GAS_PRESSURE] - around > _GAS_TOOK * push:
        return GAS
    return COLD


@kernel
def stop_rest(
    step: si.Second,
    counts: si.Integers,
    active: si.Places,
    pores: si.Pascal,
    level: si.Metre,
    highest_level: si.Metre,
    dry: bool,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    pockets: si.Table,
    flows: si.Table,
) -> None:
    """Stop all fronts that still run at the end of a pour, each with its cause.

    Parameters
    ----------
    step : float [s]
        The last one.
    counts, active : array of int
    pores : float [Pa]
    level, highest_level : float [m]
        Of the metal in the cup, now and at its highest.
    dry : bool
        True if the cup has run out.
    parameters, fixed, moving, pockets, flows : array [by column]
    marks : array of int, shape (runs, MARKS)
    """
    for place in range(counts[0]):
        run = active[place]
        if marks[run, STATE] == RUNNING:
            marks[run, STATE] = DEAD
            moving[run, INLET] = inlet_of_front(run, step, marks, flows)
            marks[run, STOPPED] = cause_of_stop(
                run,
                marks[run, POCKET],
                fixed,
                moving,
                pockets,
                parameters,
                pores,
                level,
                highest_level,
                dry,
            )
