"""Push: the flows of one step, found by passes over the wet tree.

The heads lost in a narrow mouth grow with the square of the flow and the gas
ahead stiffens as it is squeezed, so one straight pass can miss by far where
metal runs from a wide passage into a narrow one.  Passes are made until the
flow of the fronts changes by less than a small share.
"""

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.breathe import look_at_gas
from pourcast.pour.columns import FLOW, FLOW_GUESS, RUNNING, STATE
from pourcast.pour.flow import distribute, eliminate

_MOST_PASSES = 8
_NEAR = 0.02  # share of the flow of all fronts


@kernel
def push(
    active: si.Integers,
    count: int,
    time: si.Second,
    step: si.Second,
    cup_pressure: si.Pascal,
    pores: si.Pascal,
    wall: si.Pascal,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Integers,
    pockets: si.Table,
) -> si.CubicMetrePerSecond:
    """Return the flow out of the cup, and fill the flow of every run [m³/s].

    Parameters
    ----------
    active : array of int, shape (runs,)
    count : int
    time, step : float [s]
        At the start of the step, and its length.
    cup_pressure : float [Pa]
        At the floor of the cup.
    pores, wall : float [Pa]
    parameters, fixed, moving, pockets : array [by column]
        FLOW_BEFORE holds the flows at the start of the step.
    marks : array of int, shape (runs, MARKS)

    Returns
    -------
    float [m³/s]
    """
    out = 0.0
    for _ in range(_MOST_PASSES):
        look_at_gas(
            active, count, time, step, pores, wall, parameters, fixed, moving, marks, pockets
        )
        eliminate(active, count, step, parameters, fixed, moving, marks, pockets)
        out = distribute(active, count, cup_pressure, parameters, fixed, moving, marks)
        changed = 0.0
        total = 0.0
        for place in range(count):
            run = active[place]
            if marks[run, STATE] == RUNNING:
                changed += abs(moving[run, FLOW] - moving[run, FLOW_GUESS])
                total += moving[run, FLOW]
        if changed <= _NEAR * total:
            break
    return out
