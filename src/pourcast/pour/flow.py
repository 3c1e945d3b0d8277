"""Flow: pressures and flows in the wet part of the network over one step.

Model.  The wet part is a tree that hangs on the cup.  For a run of length L
and area A with flow Q, from its inlet to its outlet or front,

    ρL/A dQ/dt = p_in - p_out + ρg (z_in - z_out) - R Q - c Q²           (1)

with R of slow flow and c of turbulent flow and of the heads lost at its start.
At a front p_out is the gas ahead plus the threshold pressure, and the velocity
head is lost once.  At a node the flows add up.  Each step takes (1) implicitly,
with c Q² and the spring of the gas made straight about the last guess of the
flow; then every run is a line Q = gain · p_in + offset, and one pass from the
tips to the cup and one back solves all of them.  Where that moves the flow by
more than a small share it is done again about the new flow (Newton's method).

A front whose flow would turn back is held for the step: metal does not run
back out of a passage that it has wetted.

Left out: the sound of the metal (rigid column), backflow.

Source: method of lines for pipe networks, any hydraulics text; the pass over a
tree is Gaussian elimination.
"""

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.columns import (
    CALM_FLOW,
    DENSITY,
    FLOW,
    FLOW_BEFORE,
    FLOW_GUESS,
    FLOW_SUM,
    FORECAST,
    GAIN,
    GAIN_SUM,
    INERTIA,
    INLET,
    OFFSET,
    OFFSET_SUM,
    OPEN,
    PARENT,
    POCKET,
    PUSH,
    REYNOLDS,
    ROUGH,
    RUNNING,
    SQUARE,
    STATE,
    STIFFNESS,
    SWIRL,
    WET,
    WET_DRAG,
    Z_END,
    Z_START,
)
from pourcast.pour.friction import turbulent_factor, turbulent_share
from pourcast.units import GRAVITY

# Keeps a run without drag and inertia solvable, Pa·s/m³: far below any passage.
_LEAST_DRAG = 1e-3


@kernel
def eliminate(
    active: si.Integers,
    count: int,
    step: si.Second,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Integers,
    pockets: si.Table,
) -> None:
    """Fill gain and offset of every active run, from the tips to the cup.

    Parameters
    ----------
    active : array of int, shape (runs,)
        The first ``count`` are the runs in play, each after its parent.
    count : int
    step : float [s]
    fixed, moving, pockets : array [by column]
        `pourcast.pour.resist` has filled what the runs oppose to their flow.
    marks : array of int, shape (runs, MARKS)
    """
    often = 1.0 / step
    for place in range(count - 1, -1, -1):
        run = active[place]
        state = marks[run, STATE]
        flow = moving[run, FLOW]
        push = moving[run, PUSH]
        spring = 0.0
        if state == RUNNING:
            pocket = marks[run, POCKET]
            gas = pockets[pocket, FORECAST]
            if marks[run, OPEN] == 0 and moving[run, INLET] + push > gas:
                marks[run, OPEN] = 1
            passable = marks[run, OPEN] == 1
            spring = pockets[pocket, STIFFNESS]
            push += spring * flow - gas
        else:
            passable = state == WET and moving[run, GAIN_SUM] > 0.0
        if not passable:
            moving[run, GAIN] = 0.0
            moving[run, OFFSET] = 0.0
            continue
        square = moving[run, SQUARE]
        drag = moving[run, WET_DRAG]
        if flow > moving[run, CALM_FLOW]:
            reynolds = fixed[run, REYNOLDS] * flow
            turbulent = turbulent_share(reynolds)
            factor = turbulent_factor(reynolds, fixed[run, ROUGH])
            square += turbulent * factor * moving[run, SWIRL]
            drag *= 1.0 - turbulent
        inertia = moving[run, INERTIA] * often
        stiff = inertia + drag + 2.0 * square * flow + spring + _LEAST_DRAG
        push += inertia * moving[run, FLOW_BEFORE] + square * flow * flow
        if state == RUNNING:
            gain = 1.0 / stiff
            offset = push * gain
        else:
            # At its end (flow - offset sum) / gain sum: multiplied out to divide once.
            after = moving[run, GAIN_SUM]
            bend = 1.0 / (stiff * after + 1.0)
            gain = after * bend
            offset = (push * after + moving[run, OFFSET_SUM]) * bend
        moving[run, GAIN] = gain
        moving[run, OFFSET] = offset
        parent = marks[run, PARENT]
        if parent >= 0:
            moving[parent, GAIN_SUM] += gain
            moving[parent, OFFSET_SUM] += offset


@kernel
def distribute(
    active: si.Integers,
    count: int,
    cup_pressure: si.Pascal,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Integers,
) -> tuple[si.CubicMetrePerSecond, si.CubicMetrePerSecond, si.CubicMetrePerSecond]:
    """Return the flows out of the cup, of all fronts, and by how much they changed [m³/s].

    Fills inlet pressure and flow of each run.

    Parameters
    ----------
    active : array of int, shape (runs,)
    count : int
    cup_pressure : float [Pa]
        At the floor of the cup.
    parameters, fixed, moving : array [by column]
    marks : array of int, shape (runs, MARKS)

    Returns
    -------
    tuple of float [m³/s]
    """
    weight = parameters[DENSITY] * GRAVITY
    for place in range(count):
        run = active[place]
        parent = marks[run, PARENT]
        if parent < 0:
            inlet = cup_pressure
        elif moving[parent, GAIN_SUM] > 0.0:
            inlet = (moving[parent, FLOW] - moving[parent, OFFSET_SUM]) / moving[parent, GAIN_SUM]
        else:
            # Nothing moves beyond the parent: the metal stands, its weight presses.
            fall = fixed[parent, Z_START] - fixed[parent, Z_END]
            inlet = moving[parent, INLET] + weight * fall
        moving[run, INLET] = inlet
        moving[run, FLOW_GUESS] = moving[run, FLOW]
        moving[run, FLOW] = moving[run, GAIN] * inlet + moving[run, OFFSET]
        moving[run, FLOW_SUM] = 0.0
    out = 0.0
    total = 0.0
    changed = 0.0
    for place in range(count - 1, -1, -1):
        run = active[place]
        moving[run, GAIN_SUM] = 0.0
        moving[run, OFFSET_SUM] = 0.0
        flow = 0.0
        if marks[run, STATE] == RUNNING:
            flow = moving[run, FLOW]
            if flow <= 0.0:
                flow = 0.0
                marks[run, OPEN] = 0
            total += flow
            changed += abs(flow - moving[run, FLOW_GUESS])
        elif marks[run, STATE] == WET:
            flow = moving[run, FLOW_SUM]
        moving[run, FLOW] = flow
        parent = marks[run, PARENT]
        if parent >= 0:
            moving[parent, FLOW_SUM] += flow
        else:
            out += flow
    return out, total, changed
