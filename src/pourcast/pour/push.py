"""Push: the flows of one step, found by passes over the wet tree.

The heads lost in a narrow mouth grow with the square of the flow and the gas
ahead stiffens as it is squeezed, so one straight pass can miss by far where
metal runs from a wide passage into a narrow one.  Passes are made until the last
one misses less than a small share of the flow of the fronts.

Where the fronts stand, the dry wall ahead and the depth that gas has spread to
are those of the middle of the step, and so is the head in the cup: taken at
its start or its end, each of them makes an error of first order in the step.
"""

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.breathe import leak, squeeze
from pourcast.pour.flow import distribute, eliminate
from pourcast.pour.resist import resist_fronts

_MOST_PASSES = 8
_NEAR = 0.015  # share of the flow of all fronts


@kernel
def push(
    counts: si.Integers,
    fronts: si.Places,
    ahead: si.Places,
    time: si.Second,
    step: si.Second,
    cup_pressure: si.Pascal,
    pores: si.Pascal,
    wall: si.Pascal,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    pockets: si.Table,
    flows: si.Table,
    links: si.Places,
    lanes: si.Table,
) -> si.CubicMetrePerSecond:
    """Return the flow out of the cup, and fill the flow of every link [m³/s].

    Parameters
    ----------
    counts, fronts, ahead : array of int
        As `pourcast.pour.pace.list_anew` takes them.
    time, step : float [s]
        At the start of the step, and its length.
    cup_pressure : float [Pa]
        At the floor of the cup.
    pores, wall : float [Pa]
    parameters, fixed, moving, pockets, flows : array [by column]
        LINK_BEFORE holds the flows at the start of the step.
    marks : array of int, shape (runs, MARKS)
    links : array of int, shape (runs, LINK_MARKS)
    lanes : array [by column], shape (LANE_ROOM,)
        Scratch.

    Returns
    -------
    float [m³/s]
    """
    resist_fronts(fronts, counts[3], step, parameters, fixed, moving)
    leak(
        fronts,
        counts[3],
        ahead,
        counts[4],
        time,
        step,
        pores,
        wall,
        parameters,
        fixed,
        moving,
        marks,
        pockets,
        lanes,
    )
    out = 0.0
    for _ in range(_MOST_PASSES):
        squeeze(ahead, counts[4], step, pockets)
        eliminate(counts[6], step, fixed, moving, marks, pockets, flows, links)
        out, total, missed = distribute(
            counts[6], cup_pressure, fixed, moving, marks, pockets, flows, links
        )
        if missed <= _NEAR * total:
            break
    return out
