"""March: one pour of one draw, step by step, until every front stands still.

Each step: the gas ahead of the fronts, the flows, the cup, the fronts with their heat,
the gas of char, the pores; every few steps the heat behind and the fronts that stand.  The
fastest front crosses at most a share of a segment in a step; late in a pour steps may be
longer.  What the crucible still holds when the piece takes no more goes into the cup.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.advance import advance
from pourcast.pour.begin import begin
from pourcast.pour.behind import cool_behind
from pourcast.pour.breathe import first_pore_pressure, settle_gas, wall_pressure
from pourcast.pour.columns import (
    AIR_PRESSURE,
    CUP_HEIGHT,
    CUP_TOP_RADIUS,
    DENSITY,
    GATE_RADIUS,
    METAL_VOLUME,
    PIECE_HEIGHT,
    PIECE_RADIUS,
    PORE_TIME,
    POROSITY,
    POUR_RATE,
    START_HEAD,
)
from pourcast.pour.cup import level_of, volume_at
from pourcast.pour.give_off import give_off
from pourcast.pour.links import (
    bring_back_flows,
    feed,
    keep_flows,
    scale_flows,
)
from pourcast.pour.pace import list_anew, longest_step
from pourcast.pour.push import push
from pourcast.pour.stops import stop_rest
from pourcast.units import GRAVITY

_LONGEST_POUR = 60.0  # s; a front that still runs then is given a cause as it stands
_STILL_FOR = 2.0  # s without any flow after the last metal: nothing but cooling is left
_LEAST_STEP = 1e-6  # s
_FIRST_STEP = 1e-5  # s
_TOO_LONG = 0.6  # of a step: what the flows at its end would allow
_MOST_TRIES = 8
_STEPS_OF_HEAT = 2.0  # longest steps between two looks at the heat behind the fronts


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
    marks: si.Places,
    pockets: si.Table,
    counts: si.Integers,
    active: si.Places,
    fronts: si.Places,
    ahead: si.Places,
    seen: si.Integers,
    queue: si.Places,
    stack: si.Places,
    over: si.CubicMetres,
    limits: si.Table,
    draw: int,
    char: si.Joules,
    covered: si.Table,
    flows: si.Table,
    links: si.Places,
    beyond: si.Table,
    lanes: si.Table,
    end: si.Table,
) -> None:
    """Pour one draw to its end; the tables hold how it ended.

    Parameters
    ----------
    ways, way_of, ends, counts, active, fronts, ahead, seen, queue, stack : array of int
    wet_node : array of bool, shape (nodes,)
    vents, parameters, fixed, moving, pockets : array [by column]
    marks : array of int, shape (runs, MARKS)
    over : array [m³], shape (runs,)
        As `begin`, `pourcast.pour.pace.list_anew` and `pourcast.pour.arrive.arrive` take them.
    limits : array [by column], shape (5,)
        See `pourcast.pour.pace.longest_step`.
    draw : int
    char : array [J], shape (draws, segments), or no rows where all is clean
    covered : array [by column], shape (runs, CHAR_COLUMNS)
    flows : array [by column]
    links : array of int, shape (runs, LINK_MARKS)
    beyond : array [by column], shape (runs, BEYOND_COLUMNS)
    lanes : array [by column], shape (LANE_ROOM,)
        Room to work in.
    end : array [by column], shape (5,)
        Filled: time in s, steps, metal left to the cup in m³, pore pressure in Pa, gas of
        char in J.
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
        beyond,
    )
    list_anew(
        0.0, counts, active, fronts, ahead, parameters, fixed, moving, marks, pockets, flows, links
    )
    gate = parameters[GATE_RADIUS]
    rim = parameters[CUP_TOP_RADIUS]
    height = parameters[CUP_HEIGHT]
    total = parameters[METAL_VOLUME]
    cup = min(volume_at(parameters[START_HEAD], gate, rim, height), total)
    poured, highest = cup, 0.0
    pores = first_pore_pressure(pockets, parameters)
    room = parameters[POROSITY] * math.pi * parameters[PIECE_RADIUS] ** 2 * parameters[PIECE_HEIGHT]
    dirty = char.shape[0] > 0
    from_char = 0.0
    time, step, steps = 0.0, _FIRST_STEP, 0
    still = 0.0
    heated = 0.0
    while counts[2] > 0 and time < _LONGEST_POUR and still < _STILL_FOR:
        steps += 1
        if time - heated >= _STEPS_OF_HEAT * (limits[1] + limits[4] * time):
            cool_behind(
                time, time - heated, active, counts, parameters, fixed, moving, marks, flows, lanes
            )
            heated = time
            if counts[2] != counts[3]:
                list_anew(
                    time,
                    counts,
                    active,
                    fronts,
                    ahead,
                    parameters,
                    fixed,
                    moving,
                    marks,
                    pockets,
                    flows,
                    links,
                )
                if counts[2] == 0:
                    break
        level = level_of(cup, gate, rim, height)
        highest = max(highest, level)
        before = keep_flows(counts, fronts, moving, flows, links)
        out = 0.0
        wall = 0.0
        for _ in range(_MOST_TRIES):
            wall = wall_pressure(parameters, time + step)
            # The head is that of the middle of the step, by the flow at its start.
            middle = cup + 0.5 * (min(parameters[POUR_RATE] * step, total - poured) - before * step)
            head = level_of(max(middle, 0.0), gate, rim, height)
            pressure = parameters[AIR_PRESSURE] + parameters[DENSITY] * GRAVITY * head
            out = push(
                counts,
                fronts,
                ahead,
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
                flows,
                links,
                lanes,
            )
            allowed = longest_step(fronts, counts[3], fixed, moving, limits, time, poured < total)
            if allowed > _TOO_LONG * step or step <= _LEAST_STEP:
                break
            # A front would go too far: take the step again, shorter.
            step = max(allowed, _LEAST_STEP)
            bring_back_flows(counts, fronts, moving, flows)
        added = min(parameters[POUR_RATE] * step, total - poured)
        ready = cup + added
        if out * step > ready:
            scale = ready / (out * step)
            scale_flows(scale, counts, fronts, ahead, moving, pockets, flows)
            out *= scale
        poured += added
        feed(step, counts, flows)
        still = still + step if out <= 0.0 and poured >= total else 0.0
        cup = max(ready - out * step, 0.0)
        dry = poured >= total and cup <= 1e-9 * total
        lost = settle_gas(ahead, counts[4], step, pores, pockets)
        begun = time
        time += step
        counts[5] = 0
        cup += advance(
            time,
            step,
            pores,
            level,
            highest,
            dry,
            dry or heated == begun,
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
            fronts,
            ahead,
            seen,
            queue,
            stack,
            over,
            flows,
            links,
            beyond,
            lanes,
        )
        # A front has come to a fork or there is one less: else links and lists hold.
        if counts[5] == 1 or counts[2] != counts[3]:
            list_anew(
                time,
                counts,
                active,
                fronts,
                ahead,
                parameters,
                fixed,
                moving,
                marks,
                pockets,
                flows,
                links,
            )
        if dirty:
            from_char += give_off(
                time,
                step,
                active,
                counts[0],
                draw,
                char,
                covered,
                parameters,
                fixed,
                moving,
                marks,
                pockets,
            )
        near = step / parameters[PORE_TIME]
        pores = (pores + lost * step / room + near * wall) / (1.0 + near)
        allowed = longest_step(fronts, counts[3], fixed, moving, limits, time, poured < total)
        step = max(min(allowed, limits[2] * step), _LEAST_STEP)
    level = level_of(cup, gate, rim, height)
    stop_rest(
        step,
        counts,
        active,
        pores,
        level,
        highest,
        cup <= 1e-9 * total,
        parameters,
        fixed,
        moving,
        marks,
        pockets,
        flows,
    )
    end[0] = time
    end[1] = steps
    end[2] = cup + (total - poured)
    end[3] = pores
    end[4] = from_char
