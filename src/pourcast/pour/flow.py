"""Flow: pressures and flows in the wet part of the network over one step.

Model.  The wet part is a tree that hangs on the cup.  For a run of length L
and area A with flow Q, from its inlet to its outlet or front,

    ρL/A dQ/dt = p_in - p_out + ρg (z_in - z_out) - R Q - c Q²           (1)

with R of slow flow and c of turbulent flow and of the heads lost at its start.
At a front p_out is the gas ahead plus the threshold pressure, and the velocity
head is lost once.  At a node the flows add up.  Each step takes (1) implicitly,
with c Q² and the spring of the gas made straight about the last guess of the
flow; then every link of runs without a fork between them, `pourcast.pour.links`,
is a line Q = gain · p_in + offset, and one pass from the tips to the cup and one
back solves all of them (Newton's method).  Where a pass moves a flow by ΔQ, the straight
lines of c Q² and of a gas at pressure p with spring s miss

    gain · (c + s²/p) · ΔQ²                                              (2)

of it; where the friction is turbulent, all of ΔQ is taken as missed.

A front whose flow would turn back is held for the step: metal does not run
back out of a passage that it has wetted.

Left out: the sound of the metal (rigid column), backflow.

Source: method of lines for pipe networks, any hydraulics text; the pass over a
tree is Gaussian elimination.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.columns import (
    CALM_FLOW,
    FIXED,
    FLOW,
    FLOW_GUESS,
    FLOW_SUM,
    FORECAST,
    GAIN,
    GAIN_SUM,
    INERTIA,
    INFLOW,
    LINK_BEFORE,
    LINK_CALM,
    LINK_COLUMNS,
    LINK_DRAG,
    LINK_FLOW,
    LINK_FLOW_AT,
    LINK_INERTIA,
    LINK_INLET,
    LINK_MARKS,
    LINK_OUTLET,
    LINK_PUSH,
    LINK_SQUARE,
    LINK_STIFF,
    LINK_WEIGHT,
    MARKS,
    MOVING,
    NONE,
    OFFSET,
    OFFSET_SUM,
    OPEN,
    POCKET,
    POCKET_COLUMNS,
    PUSH,
    REYNOLDS,
    ROUGH,
    RUNNING,
    SQUARE,
    STATE,
    STIFFNESS,
    SWIRL,
    TAIL,
    UPSTREAM,
    WET_DRAG,
    of_width,
)
from pourcast.pour.friction import turbulent_factor, turbulent_share
from pourcast.pour.links import MOVED, rub

# Keeps a run without drag and inertia solvable, Pa·s/m³: far below any passage.
_LEAST_DRAG = 1e-3


@kernel
def eliminate(
    count: int,
    step: si.Second,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    pockets: si.Table,
    flows: si.Table,
    links: si.Places,
) -> None:
    """Fill gain and offset of every link, from the tips to the cup.

    Parameters
    ----------
    count : int
        Of links.
    step : float [s]
    fixed, moving, pockets, flows : array [by column]
        `pourcast.pour.resist` has filled what the runs oppose to their flow.
    marks : array of int, shape (runs, MARKS)
    links : array of int, shape (runs, LINK_MARKS)
    """
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    of_width(marks, MARKS)
    of_width(pockets, POCKET_COLUMNS)
    of_width(flows, LINK_COLUMNS)
    of_width(links, LINK_MARKS)
    often = 1.0 / step
    for link in range(count - 1, -1, -1):
        run = links[link, TAIL]
        flow = flows[link, LINK_FLOW]
        push = flows[link, LINK_WEIGHT]
        front = marks[run, STATE] == RUNNING
        if front:
            pocket = marks[run, POCKET]
            gas = pockets[pocket, FORECAST]
            push += moving[run, PUSH]
            if marks[run, OPEN] == 0 and flows[link, LINK_INLET] + push > gas:
                marks[run, OPEN] = 1
            passable = marks[run, OPEN] == 1
        else:
            passable = flows[link, GAIN_SUM] > 0.0
        if not passable:
            # Nothing moves beyond: the metal stands, its weight presses.
            flows[link, GAIN] = 0.0
            flows[link, OFFSET] = 0.0
            flows[link, LINK_PUSH] = flows[link, LINK_WEIGHT]
            flows[link, LINK_STIFF] = 0.0
            continue
        at = flows[link, LINK_FLOW_AT]
        calm = flows[link, LINK_CALM]
        # The test spares a call: most flows are calm or hardly move.
        if at < 0.0 or (max(flow, at) > calm and abs(flow - at) > MOVED * at):
            rub(link, flow, fixed, moving, marks, flows, links)
        square = flows[link, LINK_SQUARE]
        stiff = flows[link, LINK_DRAG] + _LEAST_DRAG
        inertia = flows[link, LINK_INERTIA]
        if front:
            spring = pockets[pocket, STIFFNESS]
            push += spring * flow - gas
            square += moving[run, SQUARE]
            drag = moving[run, WET_DRAG]
            if flow > fixed[run, CALM_FLOW]:
                reynolds = fixed[run, REYNOLDS] * flow
                turbulent = turbulent_share(reynolds)
                factor = turbulent_factor(reynolds, fixed[run, ROUGH])
                square += turbulent * factor * moving[run, SWIRL]
                drag *= 1.0 - turbulent
            stiff += drag + spring
            inertia += moving[run, INERTIA]
        inertia *= often
        stiff += inertia + 2.0 * square * flow
        push += inertia * flows[link, LINK_BEFORE] + square * flow * flow
        if front:
            gain = 1.0 / stiff
            offset = push * gain
        else:
            # At its end (flow - offset sum) / gain sum: multiplied out to divide once.
            after = flows[link, GAIN_SUM]
            bend = 1.0 / (stiff * after + 1.0)
            gain = after * bend
            offset = (push * after + flows[link, OFFSET_SUM]) * bend
        flows[link, GAIN] = gain
        flows[link, OFFSET] = offset
        flows[link, LINK_PUSH] = push
        flows[link, LINK_STIFF] = stiff
        parent = links[link, UPSTREAM]
        if parent != NONE:
            flows[parent, GAIN_SUM] += gain
            flows[parent, OFFSET_SUM] += offset


@kernel
def distribute(
    count: int,
    cup_pressure: si.Pascal,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    pockets: si.Table,
    flows: si.Table,
    links: si.Places,
) -> tuple[si.CubicMetrePerSecond, si.CubicMetrePerSecond, si.CubicMetrePerSecond]:
    """Return the flows out of the cup, of all fronts, and what this pass may miss [m³/s].

    Fills inlet pressure and flow of each link, the flow of the run of each front, and what
    flows into each pocket.

    Parameters
    ----------
    count : int
        Of links.
    cup_pressure : float [Pa]
        At the floor of the cup.
    fixed, moving, pockets, flows : array [by column]
        INFLOW of the pockets with a front is 0.
    marks : array of int, shape (runs, MARKS)
    links : array of int, shape (runs, LINK_MARKS)

    Returns
    -------
    tuple of float [m³/s]
        The last without end where the pressure has risen so that a held front would move:
        a wave that comes when another front stops is gone by the next step.
    """
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    of_width(marks, MARKS)
    of_width(pockets, POCKET_COLUMNS)
    of_width(flows, LINK_COLUMNS)
    of_width(links, LINK_MARKS)
    for link in range(count):
        parent = links[link, UPSTREAM]
        inlet = cup_pressure if parent == NONE else flows[parent, LINK_OUTLET]
        flow = flows[link, GAIN] * inlet + flows[link, OFFSET]
        flows[link, LINK_INLET] = inlet
        # What equation 1 leaves of the pressure: no division that the links beyond wait for.
        flows[link, LINK_OUTLET] = inlet + flows[link, LINK_PUSH] - flows[link, LINK_STIFF] * flow
        flows[link, FLOW_GUESS] = flows[link, LINK_FLOW]
        flows[link, LINK_FLOW] = flow
        flows[link, FLOW_SUM] = 0.0
    out = 0.0
    total = 0.0
    missed = 0.0
    for link in range(count - 1, -1, -1):
        flows[link, GAIN_SUM] = 0.0
        flows[link, OFFSET_SUM] = 0.0
        run = links[link, TAIL]
        if marks[run, STATE] == RUNNING:
            flow = flows[link, LINK_FLOW]
            pocket = marks[run, POCKET]
            gas = pockets[pocket, FORECAST]
            change = flow - flows[link, FLOW_GUESS]
            if flow > 0.0:
                spring = pockets[pocket, STIFFNESS]
                bent = flows[link, LINK_SQUARE] + moving[run, SQUARE] + spring * spring / gas
                missed += flows[link, GAIN] * bent * change * change
                if flow > min(fixed[run, CALM_FLOW], flows[link, LINK_CALM]):
                    missed += abs(change)
            else:
                if marks[run, OPEN] == 1:
                    missed -= change
                elif flows[link, LINK_OUTLET] + moving[run, PUSH] > gas:
                    missed = math.inf
                flow = 0.0
                marks[run, OPEN] = 0
            moving[run, FLOW] = flow
            pockets[pocket, INFLOW] += flow
            total += flow
        else:
            flow = flows[link, FLOW_SUM]
            change = flow - flows[link, FLOW_GUESS]
            missed += flows[link, GAIN] * flows[link, LINK_SQUARE] * change * change
        flows[link, LINK_FLOW] = flow
        parent = links[link, UPSTREAM]
        if parent != NONE:
            flows[parent, FLOW_SUM] += flow
        else:
            out += flow
    return out, total, missed
