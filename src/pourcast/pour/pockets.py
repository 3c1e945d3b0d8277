"""Pockets: which dry passages hang together, and how their gas can leave.

A pocket is all cavity that gas can cross without passing metal.  When a front
comes to a fork the pocket ahead of it falls apart into one pocket for each way
on, unless those ways meet again.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.columns import (
    AREA,
    BORE,
    ENDS,
    FIXED,
    FRONT,
    GAS_PRESSURE,
    GAS_VOLUME,
    INFLOW,
    LEAST_VOLUME,
    LENGTH,
    LOG_RADIUS,
    MARKS,
    MOVING,
    NOT_KNOWN,
    POCKET,
    POCKET_COLUMNS,
    RADIUS,
    RUNNING,
    SHARE,
    SPREAD_AT,
    STATE,
    VENT_AIR,
    VENT_PUMP,
    WALL_LENGTH,
    WALL_LOG,
    WALL_SHARE,
    of_width,
)

# A pocket is taken as gone below this share of the area times bore of its last passage.
LEAST_SHARE = 0.01


@kernel
def gather_pocket(
    pocket: int,
    first_run: int,
    pressure: si.Pascal,
    ways: si.Integers,
    way_of: si.Integers,
    ends: si.Integers,
    wet_node: si.Booleans,
    vents: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    pockets: si.Table,
    seen: si.Integers,
    queue: si.Places,
) -> int:
    """Fill the row of a pocket, all dry cavity that ``first_run`` opens on; return its segments.

    Parameters
    ----------
    pocket : int
        Row to fill; fronts that border on the pocket are given this number.
    first_run : int
        A run whose dry rest belongs to the pocket.
    pressure : float [Pa]
    ways : array of int, shape (nodes + 1,)
        Runs that start at node n are ``way_of[ways[n]:ways[n + 1]]``.
    way_of : array of int, shape (2 segments,)
    ends : array of int, shape (2 segments,)
        Node at which a run ends.
    wet_node : array of bool, shape (nodes,)
    vents : array [by column], shape (nodes, 2)
        Conductance of vents to air and to the pump, m³/(Pa·s).
    fixed, moving : array [by column], shape (runs, columns)
    marks : array of int, shape (runs, MARKS)
    pockets : array [by column], shape (pockets, POCKET_COLUMNS)
    seen : array of int, shape (segments,)
        Scratch: the last pocket that took a segment in.
    queue : array of int, shape (segments,)
        Filled: the segments, each after one that leads to it.
    """
    segments = seen.size
    runs = fixed.shape[0]
    pockets[pocket, :] = 0.0
    pockets[pocket, GAS_PRESSURE] = pressure
    least = 1e300
    first = first_run if first_run < segments else first_run - segments
    queue[0] = first
    seen[first] = pocket
    head = 0
    tail = 1
    while head < tail:
        segment = queue[head]
        head += 1
        dry = fixed[segment, LENGTH] - moving[segment, FRONT]
        if marks[segment, STATE] == RUNNING:
            marks[segment, POCKET] = pocket
        if runs > segments:
            dry -= moving[segments + segment, FRONT]
            if marks[segments + segment, STATE] == RUNNING:
                marks[segments + segment, POCKET] = pocket
        dry = max(dry, 0.0)
        pockets[pocket, GAS_VOLUME] += dry * fixed[segment, AREA]
        pockets[pocket, WALL_LENGTH] += dry
        pockets[pocket, WALL_LOG] += dry * fixed[segment, LOG_RADIUS]
        pockets[pocket, WALL_SHARE] += dry * fixed[segment, SHARE]
        least = min(least, fixed[segment, AREA] * fixed[segment, BORE])
        for side in range(2):
            node = ends[segment + side * segments]
            if wet_node[node]:
                continue
            pockets[pocket, VENT_AIR] += vents[node, 0]
            pockets[pocket, VENT_PUMP] += vents[node, 1]
            # A node is met once for each dry segment at it: share its vents.
            count = ways[node + 1] - ways[node]
            if count > 1:
                pockets[pocket, VENT_AIR] -= vents[node, 0] * (1.0 - 1.0 / count)
                pockets[pocket, VENT_PUMP] -= vents[node, 1] * (1.0 - 1.0 / count)
            if count == 1:
                pockets[pocket, ENDS] += 2.0 * math.pi * fixed[segment, RADIUS]
            for place in range(ways[node], ways[node + 1]):
                other = way_of[place]
                if other >= segments:
                    other -= segments
                if seen[other] != pocket:
                    seen[other] = pocket
                    queue[tail] = other
                    tail += 1
    pockets[pocket, LEAST_VOLUME] = LEAST_SHARE * least
    pockets[pocket, INFLOW] = 0.0
    return tail


@kernel
def move_front(
    run: int,
    distance: si.Metre,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    pockets: si.Table,
) -> None:
    """Move a front and take what it wets from the pocket ahead of it.

    Parameters
    ----------
    run : int
    distance : float [m]
    fixed, moving, pockets : array [by column]
    marks : array of int, shape (runs, MARKS)
    """
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    of_width(marks, MARKS)
    of_width(pockets, POCKET_COLUMNS)
    pocket = marks[run, POCKET]
    moving[run, FRONT] += distance
    pockets[pocket, GAS_VOLUME] -= distance * fixed[run, AREA]
    pockets[pocket, WALL_LENGTH] -= distance
    pockets[pocket, WALL_LOG] -= distance * fixed[run, LOG_RADIUS]
    pockets[pocket, WALL_SHARE] -= distance * fixed[run, SHARE]
    if distance > 0.0:
        pockets[pocket, SPREAD_AT] = NOT_KNOWN
