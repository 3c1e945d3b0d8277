"""Advance: heat and fronts of one step, once its flows are known.

Where a front stops or arrives within the step, the place and time are found by
proportion, and the metal that would have gone too far goes on into the next
passages or back to the cup: no metal is lost and none is made.  The parcel at the
front cools for the part of the step before it arrives, and beyond for the rest.
"""

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.arrive import arrive
from pourcast.pour.columns import (
    AREA,
    DEAD,
    FIXED,
    FLOW,
    FULL_AT,
    HEAT,
    INLET,
    LANES,
    LINK_COLUMNS,
    LINK_MARKS,
    MARKS,
    MOVING,
    POCKET,
    POCKET_COLUMNS,
    RUNNING,
    STATE,
    STOPPED,
    TIP_AGE,
    TIP_AT,
    TIP_HEAT,
    TIP_HEAT_STOP,
    of_width,
)
from pourcast.pour.links import inlet_of_front
from pourcast.pour.meet import meet, meets
from pourcast.pour.pockets import move_front
from pourcast.pour.stops import cause_of_stop
from pourcast.pour.tips import (
    TIP_AFTER,
    TIP_AGE_AFTER,
    TIP_DISTANCE,
    TIP_ROOM,
    TIP_RUN,
    TIP_SPEED,
    TIP_TIME,
    cool_tips,
)


@kernel
def advance(
    time: si.Second,
    step: si.Second,
    pores: si.Pascal,
    level: si.Metre,
    highest_level: si.Metre,
    dry: bool,
    every: bool,
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
    flows: si.Table,
    links: si.Places,
    beyond: si.Table,
    lanes: si.Table,
) -> si.CubicMetre:
    """Return the metal that goes back to the cup, after one step of heat and fronts [m³].

    Parameters
    ----------
    time : float [s]
        At the end of the step.
    step : float [s]
    pores : float [Pa]
    level, highest_level : float [m]
        Of the metal in the cup.
    dry : bool
        True if the cup has run out.
    every : bool
        False: fronts that stand are cooled in a later step.
    ways, way_of, ends : array of int
    wet_node : array of bool, shape (nodes,)
    vents, parameters, fixed, moving, pockets : array [by column]
    marks : array of int, shape (runs, MARKS)
    counts, active, fronts, ahead, seen, queue, stack : array of int
    over : array [m³], shape (runs,)
    flows : array [by column]
    links : array of int, shape (runs, LINK_MARKS)
    beyond : array [by column], shape (runs, BEYOND_COLUMNS)
        These as `pourcast.pour.arrive.arrive` takes them.
    lanes : array [by column], shape (LANE_ROOM,)
        Scratch.

    Returns
    -------
    float [m³]
    """
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    of_width(marks, MARKS)
    of_width(pockets, POCKET_COLUMNS)
    of_width(flows, LINK_COLUMNS)
    of_width(links, LINK_MARKS)
    segments = seen.size
    looped = fixed.shape[0] > segments
    back = 0.0
    # Where fronts can meet, one may end the way of the next in the list: one at a time.
    beside = 1 if looped else LANES
    last = counts[3]
    place = 0
    while place < last:
        count, place = cool_tips(
            place,
            last,
            beside,
            every,
            time - step,
            step,
            fronts,
            parameters,
            fixed,
            moving,
            marks,
            segments,
            lanes,
        )
        for lane in range(count):
            run = int(lanes[TIP_RUN + lane])
            if marks[run, STATE] != RUNNING:
                # A front from the other end has met it in this step.
                continue
            speed = lanes[TIP_SPEED + lane]
            room = lanes[TIP_ROOM + lane]
            running = lanes[TIP_TIME + lane]
            distance = lanes[TIP_DISTANCE + lane]
            before = moving[run, TIP_HEAT]
            after = lanes[TIP_AFTER + lane]
            moving[run, TIP_HEAT] = after
            moving[run, TIP_AGE] = lanes[TIP_AGE_AFTER + lane]
            moving[run, TIP_AT] = time
            # The metal behind is never colder than the parcel that went before it.
            moving[run, HEAT] = max(moving[run, HEAT], after)
            share = 1.0
            stops = dry
            if after <= parameters[TIP_HEAT_STOP]:
                stops = True
                fall = before - after
                share = (before - parameters[TIP_HEAT_STOP]) / fall if fall > 0.0 else 1.0
                share = min(max(share, 0.0), 1.0)
            if distance * share >= room:
                move_front(run, room, fixed, moving, marks, pockets)
                extra = speed * (step - running) * fixed[run, AREA]
                moving[run, FULL_AT] = time - (step - running)
                if looped and meets(run, segments, marks):
                    meet(run, segments, moving[run, FULL_AT], moving, marks, counts)
                    back += extra
                else:
                    back += arrive(
                        run,
                        extra,
                        time,
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
                        fronts,
                        ahead,
                        flows,
                        links,
                        beyond,
                    )
                continue
            move_front(run, distance * share, fixed, moving, marks, pockets)
            if stops:
                back += (speed * step - distance * share) * fixed[run, AREA]
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
                marks[run, STATE] = DEAD
                moving[run, FLOW] = 0.0
                counts[2] -= 1
    return back
