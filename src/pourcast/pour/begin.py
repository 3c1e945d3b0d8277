"""Begin: the metal stands at the gate, and all of the cavity is one pocket of gas."""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.beyond import add_up_beyond, add_up_next
from pourcast.pour.columns import (
    AIR_PRESSURE,
    COUNTED,
    CUP_HEAT,
    DRY,
    FEEDER,
    FULL_AT,
    HEAT,
    LINK,
    MOUTH,
    NONE,
    OPEN,
    PARENT,
    POCKET,
    RUNNING,
    STATE,
    STOPPED,
    TIP_HEAT,
)
from pourcast.pour.model import FULL
from pourcast.pour.pockets import gather_pocket


@kernel
def begin(
    ways: si.Integers,
    way_of: si.Integers,
    ends: si.Integers,
    wet_node: si.Booleans,
    vents: si.Table,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    pockets: si.Table,
    counts: si.Integers,
    active: si.Places,
    seen: si.Integers,
    queue: si.Places,
    beyond: si.Table,
) -> None:
    """Start a front at the gate in every segment that leads from it.

    Parameters
    ----------
    ways, way_of, ends : array of int
    wet_node : array of bool, shape (nodes,)
    vents, parameters, fixed, moving, pockets : array [by column]
        NEXT of ``fixed`` is filled.
    marks : array of int, shape (runs, MARKS)
    seen, queue : array of int
        These as `pourcast.pour.pockets.gather_pocket` takes them.
    counts : array of int, shape (7,)
        Active runs, pockets, and fronts that run.
    active : array of int, shape (runs,)
    beyond : array [by column], shape (runs, BEYOND_COLUMNS)
        Filled, where there are no loops.
    """
    moving[:, :] = 0.0
    marks[:, STATE] = DRY
    marks[:, PARENT] = NONE
    marks[:, POCKET] = NONE
    marks[:, COUNTED] = 0
    marks[:, OPEN] = 1
    marks[:, STOPPED] = FULL
    marks[:, LINK] = NONE
    moving[:, FULL_AT] = math.nan
    wet_node[:] = False
    wet_node[0] = True
    seen[:] = -1
    counts[:] = 0
    add_up_next(seen.size, ways, way_of, ends, fixed)
    for place in range(ways[0], ways[1]):
        run = way_of[place]
        marks[run, STATE] = RUNNING
        marks[run, MOUTH] = 1
        marks[run, FEEDER] = NONE
        moving[run, TIP_HEAT] = parameters[CUP_HEAT]
        moving[run, HEAT] = parameters[CUP_HEAT]
        active[counts[0]] = run
        counts[0] += 1
        counts[2] += 1
    for place in range(ways[0], ways[1]):
        run = way_of[place]
        if marks[run, POCKET] == NONE:
            count = gather_pocket(
                counts[1],
                run,
                parameters[AIR_PRESSURE],
                ways,
                way_of,
                ends,
                wet_node,
                vents,
                fixed,
                moving,
                marks,
                pockets,
                seen,
                queue,
            )
            counts[1] += 1
            if fixed.shape[0] == seen.size:
                add_up_beyond(count, queue, ways, way_of, ends, vents, fixed, beyond)
