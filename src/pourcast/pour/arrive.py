"""Arrive: what happens when a front reaches the end of its segment.

The node is wetted and a front starts in every segment that leads on from it.
What the front had gone too far in its step is shared out among them by area; a
passage that it fills at once is passed in turn.  Metal that finds no way on is
given back to the cup.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.beyond import open_pocket
from pourcast.pour.columns import (
    AREA,
    ENTERS,
    FACES,
    FED,
    FIXED,
    FLOW,
    FRONT,
    FULL_AT,
    GAS_PRESSURE,
    GAS_VOLUME,
    LEAST_VOLUME,
    LENGTH,
    LINK,
    LINK_COLUMNS,
    LINK_FED,
    LINK_FLOW,
    MARKS,
    MOVING,
    NONE,
    NOT_KNOWN,
    PLACE,
    POCKET,
    POCKET_COLUMNS,
    RADIUS,
    RUNNING,
    SPREAD_AT,
    STATE,
    STOPPED,
    TAIL,
    TIP_AT,
    WALL_LENGTH,
    WET,
    of_width,
)
from pourcast.pour.cool import cool_front
from pourcast.pour.fork import begin_link
from pourcast.pour.links import add_full
from pourcast.pour.meet import meet, meets, room_ahead
from pourcast.pour.model import FULL
from pourcast.pour.mouth import flow_beyond
from pourcast.pour.pockets import gather_pocket, move_front
from pourcast.pour.resist import entry_pressure, resist_full
from pourcast.pour.start import start_front


@kernel
def arrive(
    first: int,
    first_over: si.CubicMetre,
    time: si.Second,
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
    stack: si.Places,
    over: si.CubicMetres,
    fronts: si.Places,
    ahead: si.Places,
    flows: si.Table,
    links: si.Places,
    beyond: si.Table,
) -> si.CubicMetre:
    """Return the metal that found no way on, after a front has come to a node [m³].

    Parameters
    ----------
    first : int
        Run that is full.
    first_over : float [m³]
        Metal that came after it was full, within the step.
    time : float [s]
        At the end of the step; FULL_AT of ``first`` is when it came to the node.
    ways, way_of, ends : array of int
    wet_node : array of bool, shape (nodes,)
    vents, parameters, fixed, moving, pockets : array [by column]
    marks : array of int, shape (runs, MARKS)
    seen, queue : array of int
        These as `pourcast.pour.pockets.gather_pocket` takes them.
    counts : array of int, shape (7,)
        Active runs, pockets, fronts that run, and whether links must be made anew
        (entry 5); brought up to date.
    active : array of int, shape (runs,)
    stack : array of int, shape (runs,)
        Scratch.
    over : array [m³], shape (runs,)
        Scratch.
    fronts, ahead : array of int, shape (runs,)
    flows : array [by column]
    links : array of int, shape (runs, LINK_MARKS)
        These as `pourcast.pour.pace.list_anew` fills them; a link that goes on is kept.
    beyond : array [by column], shape (runs, BEYOND_COLUMNS)
        Where there are no loops: the dry cavity that hangs on each run.

    Returns
    -------
    float [m³]
    """
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    of_width(marks, MARKS)
    of_width(pockets, POCKET_COLUMNS)
    of_width(flows, LINK_COLUMNS)
    segments = seen.size
    tree = fixed.shape[0] == segments
    left = 0.0
    stack[0] = first
    over[0] = first_over
    height = 1
    while height > 0:
        height -= 1
        run = stack[height]
        rest = over[height]
        marks[run, STATE] = WET
        marks[run, STOPPED] = FULL
        when = moving[run, FULL_AT]
        moving[run, FRONT] = fixed[run, LENGTH]
        resist_full(run, parameters, fixed, moving)
        link = marks[run, LINK]
        counts[2] -= 1
        node = ends[run]
        wet_node[node] = True
        # Neither the segment that the metal came through nor, in a tree, one against its way.
        here = run if run < segments else run - segments
        last = segments if tree else 2 * segments
        old_pocket = marks[run, POCKET]
        pressure = pockets[old_pocket, GAS_PRESSURE]
        # A chain goes on with its pocket; at a fork or a vent the pocket is gathered anew.
        onward = 0
        for place in range(ways[node], ways[node + 1]):
            way = way_of[place]
            if way < last and way != here and way - segments != here:
                onward += 1
        if onward == 0:
            # What rounding leaves of an empty pocket is no wall.
            pockets[old_pocket, WALL_LENGTH] = 0.0
        anew = onward > 1 or vents[node, 0] + vents[node, 1] > 0.0
        forks = tree and onward > 1 and link != NONE
        if link == NONE or (anew and not forks):
            counts[5] = 1
        open_area = 0.0
        easiest = NONE
        least_entry = 0.0
        first_way = True
        if forks:
            add_full(link, run, fixed, moving, flows)
        for place in range(ways[node], ways[node + 1]):
            way = way_of[place]
            if way >= last or way == here or way - segments == here:
                continue
            pocket = NONE if anew else old_pocket
            enters = start_front(way, run, pocket, when, fixed, moving, marks, parameters)
            moving[way, ENTERS] = 1.0 if enters else 0.0
            active[counts[0]] = way
            counts[0] += 1
            counts[2] += 1
            if link != NONE and not anew:
                # The link goes on in the next run, with its place among the fronts.
                add_full(link, run, fixed, moving, flows)
                marks[way, LINK] = link
                moving[way, FED] = -flows[link, LINK_FED]
                links[link, TAIL] = way
                fronts[links[link, PLACE]] = way
                wider = fixed[way, RADIUS] - fixed[run, RADIUS]
                pockets[pocket, FACES] += 2.0 * math.pi * wider
                pockets[pocket, SPREAD_AT] = NOT_KNOWN
            if forks:
                open_pocket(counts[1], way, pressure, beyond, marks, pockets)
                counts[1] += 1
                begin_link(
                    way,
                    run,
                    first_way,
                    old_pocket,
                    fixed,
                    moving,
                    marks,
                    pockets,
                    counts,
                    fronts,
                    ahead,
                    flows,
                    links,
                )
                first_way = False
            if enters:
                open_area += fixed[way, AREA]
            entry = entry_pressure(fixed, way, 0.0)
            if easiest == NONE or entry < least_entry:
                easiest = way
                least_entry = entry
        kept = 1.0
        if open_area == 0.0:
            least = pockets[old_pocket, LEAST_VOLUME]
            volume = pockets[old_pocket, GAS_VOLUME]
            squeezed = max(volume - rest, least)
            going = 0.0
            if rest > 0.0 and easiest != NONE and link != NONE:
                flow = flow_beyond(
                    run,
                    easiest,
                    link,
                    time - when,
                    pressure,
                    squeezed,
                    parameters,
                    fixed,
                    moving,
                    flows,
                )
                moving[run, FLOW] = flow
                flows[link, LINK_FLOW] = flow
                if flow > 0.0:
                    going = min(flow * (time - when), rest)
                    moving[easiest, ENTERS] = 1.0
                    open_area = fixed[easiest, AREA]
            # The gas was squeezed as if all had gone on: it is given its room back.
            left += rest - going
            rest = going
            kept = squeezed / max(volume - rest, least)
        for place in range(ways[node], ways[node + 1]):
            way = way_of[place]
            if way >= last or way == here or way - segments == here:
                continue
            if marks[way, POCKET] == NONE:
                gather_pocket(
                    counts[1],
                    way,
                    pressure,
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
        for place in range(ways[node], ways[node + 1]):
            way = way_of[place]
            if way >= last or way == here or way - segments == here:
                continue
            pockets[marks[way, POCKET], GAS_PRESSURE] = pressure * kept
            moving[way, TIP_AT] = time
            if moving[way, ENTERS] == 0.0:
                cool_front(0.0, time - when, way, parameters, fixed, moving, marks)
                continue
            share = fixed[way, AREA] / open_area
            moving[way, FLOW] = moving[run, FLOW] * share
            if forks:
                flows[marks[way, LINK], LINK_FLOW] = moving[way, FLOW]
            room = fixed[way, LENGTH]
            if not tree:
                room = max(room_ahead(way, segments, fixed, moving, marks), 0.0)
            distance = min(rest * share / fixed[way, AREA], room)
            speed = moving[way, FLOW] / fixed[way, AREA]
            running = min(distance / speed, time - when) if speed > 0.0 else time - when
            cool_front(speed, running, way, parameters, fixed, moving, marks)
            move_front(way, distance, fixed, moving, marks, pockets)
            if distance < room or marks[way, STATE] != RUNNING:
                continue
            moving[way, FULL_AT] = when + running
            extra = rest * share - distance * fixed[way, AREA]
            if not tree and meets(way, segments, marks):
                left += extra
                meet(way, segments, when + running, moving, marks, counts)
            else:
                stack[height] = way
                over[height] = extra
                height += 1
    return left
