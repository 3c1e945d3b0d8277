"""Beyond: the dry cavity that hangs on each run of a piece without loops.

Where no ways meet again, the pocket ahead of a front that has just come to a fork is all
that hangs on its run.  So the sums over it are made once for each draw, from the tips to
the gate, and a new pocket is a row of them; where there are loops it is gathered,
`pourcast.pour.pockets`.  What the runs just beyond the end of a run hold is added up of
every piece.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.columns import (
    AREA,
    BODY,
    BORE,
    ENDS,
    GAS_PRESSURE,
    GAS_VOLUME,
    LEAST_VOLUME,
    LENGTH,
    LOG_RADIUS,
    NEXT,
    POCKET,
    RADIUS,
    SHARE,
    VENT_AIR,
    VENT_PUMP,
    WALL_LENGTH,
    WALL_LOG,
    WALL_SHARE,
)
from pourcast.pour.pockets import LEAST_SHARE

BEYOND_COLUMNS = LEAST_VOLUME + 1
"""The columns of a pocket up to its least volume."""


@kernel
def add_up_beyond(
    count: int,
    queue: si.Places,
    ways: si.Integers,
    way_of: si.Integers,
    ends: si.Integers,
    vents: si.Table,
    fixed: si.Table,
    beyond: si.Table,
) -> None:
    """Fill what hangs on each run that a way from the gate leads to, the run itself with it.

    Parameters
    ----------
    count : int
    queue : array of int, shape (segments,)
        The first ``count`` are the runs, each after the one that leads to it.
    ways, way_of, ends : array of int
    vents : array [by column], shape (nodes, 2)
        These as `pourcast.pour.pockets.gather_pocket` takes them.
    fixed : array [by column], shape (segments, FIXED)
    beyond : array [by column], shape (segments, BEYOND_COLUMNS)
        Rows of those runs are filled.
    """
    segments = fixed.shape[0]
    for place in range(count):
        run = queue[place]
        node = ends[run]
        length = fixed[run, LENGTH]
        alone = ways[node + 1] - ways[node] == 1
        beyond[run, GAS_VOLUME] = fixed[run, BODY]
        beyond[run, WALL_LENGTH] = length
        beyond[run, WALL_LOG] = length * fixed[run, LOG_RADIUS]
        beyond[run, WALL_SHARE] = length * fixed[run, SHARE]
        beyond[run, ENDS] = 2.0 * math.pi * fixed[run, RADIUS] if alone else 0.0
        beyond[run, VENT_AIR] = vents[node, 0]
        beyond[run, VENT_PUMP] = vents[node, 1]
        beyond[run, LEAST_VOLUME] = LEAST_SHARE * fixed[run, AREA] * fixed[run, BORE]
    for place in range(count - 1, 0, -1):
        run = queue[place]
        parent = _run_to(ends[run + segments], segments, ways, way_of)
        for column in (GAS_VOLUME, WALL_LENGTH, WALL_LOG, WALL_SHARE, ENDS, VENT_AIR, VENT_PUMP):
            beyond[parent, column] += beyond[run, column]
        beyond[parent, LEAST_VOLUME] = min(beyond[parent, LEAST_VOLUME], beyond[run, LEAST_VOLUME])


@kernel
def add_up_next(
    segments: int, ways: si.Integers, way_of: si.Integers, ends: si.Integers, fixed: si.Table
) -> None:
    """Fill what the runs hold that lead on from the end of each run.

    Parameters
    ----------
    segments : int
    ways, way_of, ends : array of int
    fixed : array [by column]
        Reads BODY, fills NEXT.
    """
    runs = fixed.shape[0]
    for run in range(runs):
        node = ends[run]
        here = run if run < segments else run - segments
        onward = 0.0
        for place in range(ways[node], ways[node + 1]):
            way = way_of[place]
            if way < runs and way != here and way - segments != here:
                onward += fixed[way, BODY]
        fixed[run, NEXT] = onward if onward > 0.0 else math.inf


@kernel
def _run_to(node: int, segments: int, ways: si.Integers, way_of: si.Integers) -> int:
    """Return the run that leads to a node, of a piece without loops; -1: the gate.

    Parameters
    ----------
    node, segments : int
    ways, way_of : array of int
    """
    for place in range(ways[node], ways[node + 1]):
        if way_of[place] >= segments:
            return int(way_of[place]) - segments
    return -1


@kernel
def open_pocket(
    pocket: int,
    run: int,
    pressure: si.Pascal,
    beyond: si.Table,
    marks: si.Places,
    pockets: si.Table,
) -> None:
    """Fill the row of the pocket ahead of a front that begins a run of a piece without loops.

    Parameters
    ----------
    pocket : int
    run : int
        Is given this pocket.
    pressure : float [Pa]
    beyond, pockets : array [by column]
    marks : array of int, shape (runs, MARKS)
    """
    pockets[pocket, :] = 0.0
    for column in range(BEYOND_COLUMNS):
        pockets[pocket, column] = beyond[run, column]
    pockets[pocket, GAS_PRESSURE] = pressure
    marks[run, POCKET] = pocket
