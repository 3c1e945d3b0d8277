"""March: one pour of one draw, step by step, until every front stands still.

Each step: the gas ahead of the fronts, the flows, the cup, the heat and the
fronts, the pores.  The step is so short that the fastest front crosses at most
a share of a segment.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.advance import advance
from pourcast.pour.breathe import first_pore_pressure, settle_gas, wall_pressure
from pourcast.pour.columns import (
    AIR_PRESSURE,
    AREA,
    CUP_HEAT,
    CUP_HEIGHT,
    CUP_TOP_RADIUS,
    DEAD,
    DENSITY,
    DRY,
    FLOW,
    FLOW_BEFORE,
    FULL_AT,
    GATE_RADIUS,
    HEAT,
    LENGTH,
    LIVE,
    METAL_VOLUME,
    MOUTH,
    OPEN,
    PARENT,
    PIECE_HEIGHT,
    PIECE_RADIUS,
    POCKET,
    PORE_TIME,
    POROSITY,
    POUR_RATE,
    RUNNING,
    START_HEAD,
    STATE,
    STOPPED,
    TIP_HEAT,
)
from pourcast.pour.cup import level_of, volume_at
from pourcast.pour.pockets import gather_pocket
from pourcast.pour.push import push
from pourcast.pour.stops import cause_of_stop
from pourcast.units import GRAVITY

_LONGEST_POUR = 60.0  # s; a front that still runs then is given a cause as it stands
_STILL_FOR = 2.0  # s without any flow after the last metal: nothing but cooling is left
_LEAST_STEP = 1e-6  # s
_FIRST_STEP = 1e-5  # s
_TOO_LONG = 0.6  # of a step: what the flows at its end would allow
_MOST_TRIES = 8
_STANDING = 5.0  # steps while nothing flows may be longer by this


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
    marks: si.Integers,
    pockets: si.Table,
    counts: si.Integers,
    active: si.Integers,
    seen: si.Integers,
    queue: si.Integers,
) -> None:
    """Start a front at the gate in every segment that leads from it.

    Parameters
    ----------
    ways, way_of, ends, wet_node, vents, fixed, moving, marks, pockets, seen, queue
        See `pourcast.pour.pockets.gather_pocket`.
    parameters : array [by column]
    counts : array of int, shape (3,)
        Active runs, pockets, and fronts that run.
    active : array of int, shape (runs,)
    """
    moving[:, :] = 0.0
    marks[:, STATE] = DRY
    marks[:, PARENT] = -1
    marks[:, POCKET] = -1
    marks[:, LIVE] = 0
    marks[:, OPEN] = 1
    marks[:, STOPPED] = -1
    moving[:, FULL_AT] = math.nan
    wet_node[:] = False
    wet_node[0] = True
    seen[:] = -1
    counts[:] = 0
    for place in range(ways[0], ways[1]):
        run = way_of[place]
        marks[run, STATE] = RUNNING
        marks[run, MOUTH] = 1
        marks[run, LIVE] = 1
        moving[run, TIP_HEAT] = parameters[CUP_HEAT]
        moving[run, HEAT] = parameters[CUP_HEAT]
        active[counts[0]] = run
        counts[0] += 1
        counts[2] += 1
    for place in range(ways[0], ways[1]):
        run = way_of[place]
        if marks[run, POCKET] < 0:
            gather_pocket(
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


@kernel
def keep_live(count: int, active: si.Integers, marks: si.Integers) -> int:
    """Return how many runs are still in play, and close up the list of them.

    Parameters
    ----------
    count : int
    active : array of int, shape (runs,)
    marks : array of int, shape (runs, MARKS)
    """
    for place in range(count):
        marks[active[place], LIVE] = 0
    for place in range(count - 1, -1, -1):
        run = active[place]
        if marks[run, STATE] == RUNNING:
            marks[run, LIVE] = 1
        if marks[run, LIVE] == 1 and marks[run, PARENT] >= 0:
            marks[marks[run, PARENT], LIVE] = 1
    kept = 0
    for place in range(count):
        run = active[place]
        if marks[run, LIVE] == 1:
            active[kept] = run
            kept += 1
    return kept


@kernel
def longest_step(
    count: int,
    active: si.Integers,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Integers,
    limits: si.Table,
) -> si.Second:
    """Return how long a step may be at the present flows [s].

    Parameters
    ----------
    count : int
    active : array of int, shape (runs,)
    fixed, moving : array [by column]
    marks : array of int, shape (runs, MARKS)
    limits : array [by column], shape (4,)
        Share of a segment, longest step in s, growth, least length in m.
    """
    speed = 0.0
    wanted = limits[1]
    for place in range(count):
        run = active[place]
        if marks[run, STATE] == RUNNING and moving[run, FLOW] > 0.0:
            speed = moving[run, FLOW] / fixed[run, AREA]
            wanted = min(wanted, limits[0] * max(fixed[run, LENGTH], limits[3]) / speed)
    if speed == 0.0:
        return _STANDING * limits[1]
    return wanted


@kernel
def march(
    ways: si.Integers,
    way_of: si.Integers,
    ends: si.Integers,
    wet_node: si.Booleans,
    vents: si.Table,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Integers,
    pockets: si.Table,
    counts: si.Integers,
    active: si.Integers,
    seen: si.Integers,
    queue: si.Integers,
    stack: si.Integers,
    over: si.CubicMetres,
    limits: si.Table,
    end: si.Table,
) -> None:
    """Pour one draw to its end; the tables hold how it ended.

    Parameters
    ----------
    ways, way_of, ends, wet_node, vents, fixed, moving, marks, pockets, seen, queue
        See `pourcast.pour.pockets.gather_pocket`.
    parameters : array [by column]
    counts, active, stack, over
        See `pourcast.pour.arrive.arrive`.
    limits : array [by column], shape (4,)
        See `longest_step`.
    end : array [by column], shape (4,)
        Filled: time in s, steps, metal left in the cup in m³, pore pressure in Pa.
    """
    begin(
        ways,
        way_of,
        ends,
        wet_node,
        vents,
        parameters,
        fixed,
        moving,
        marks,
        pockets,
        counts,
        active,
        seen,
        queue,
    )
    gate = parameters[GATE_RADIUS]
    rim = parameters[CUP_TOP_RADIUS]
    height = parameters[CUP_HEIGHT]
    total = parameters[METAL_VOLUME]
    cup = min(volume_at(parameters[START_HEAD], gate, rim, height), total)
    poured = cup
    highest = 0.0
    pores = first_pore_pressure(pockets, parameters)
    room = parameters[POROSITY] * math.pi * parameters[PIECE_RADIUS] ** 2 * parameters[PIECE_HEIGHT]
    time = 0.0
    step = _FIRST_STEP
    steps = 0
    still = 0.0
    while counts[2] > 0 and time < _LONGEST_POUR and still < _STILL_FOR:
        steps += 1
        level = level_of(cup, gate, rim, height)
        highest = max(highest, level)
        pressure = parameters[AIR_PRESSURE] + parameters[DENSITY] * GRAVITY * level
        for place in range(counts[0]):
            moving[active[place], FLOW_BEFORE] = moving[active[place], FLOW]
        out = 0.0
        wall = 0.0
        for _ in range(_MOST_TRIES):
            wall = wall_pressure(parameters, time + step)
            out = push(
                active,
                counts[0],
                time,
                step,
                pressure,
                pores,
                wall,
                parameters,
                fixed,
                moving,
                marks,
                pockets,
            )
            allowed = longest_step(counts[0], active, fixed, moving, marks, limits)
            if allowed > _TOO_LONG * step or step <= _LEAST_STEP:
                break
            # A front would go too far: take the step again, shorter.
            step = max(allowed, _LEAST_STEP)
            for place in range(counts[0]):
                moving[active[place], FLOW] = moving[active[place], FLOW_BEFORE]
        added = min(parameters[POUR_RATE] * step, total - poured)
        ready = cup + added
        if out * step > ready:
            scale = ready / (out * step)
            for place in range(counts[0]):
                moving[active[place], FLOW] *= scale
            out *= scale
        poured += added
        still = still + step if out <= 0.0 and poured >= total else 0.0
        cup = max(ready - out * step, 0.0)
        dry = poured >= total and cup <= 1e-9 * total
        lost = settle_gas(active, counts[0], step, pores, parameters, moving, marks, pockets)
        time += step
        cup += advance(
            time,
            step,
            pores,
            wall,
            level,
            highest,
            dry,
            ways,
            way_of,
            ends,
            wet_node,
            vents,
            parameters,
            fixed,
            moving,
            marks,
            pockets,
            counts,
            active,
            seen,
            queue,
            stack,
            over,
        )
        counts[0] = keep_live(counts[0], active, marks)
        near = step / parameters[PORE_TIME]
        pores = (pores + lost * step / room + near * wall) / (1.0 + near)
        allowed = longest_step(counts[0], active, fixed, moving, marks, limits)
        step = max(min(allowed, limits[2] * step), _LEAST_STEP)
    wall = wall_pressure(parameters, time)
    for place in range(counts[0]):
        run = active[place]
        if marks[run, STATE] == RUNNING:
            marks[run, STATE] = DEAD
            marks[run, STOPPED] = cause_of_stop(
                run,
                marks[run, POCKET],
                fixed,
                moving,
                pockets,
                parameters,
                pores,
                wall,
                level_of(cup, gate, rim, height),
                highest,
                cup <= 1e-9 * total,
            )
    end[0] = time
    end[1] = steps
    end[2] = cup
    end[3] = pores
