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
from pourcast.kernels import kernel, small_kernel
from pourcast.pour.columns import (
    AREA,
    BORE,
    CHOKE,
    DENSITY,
    DRAG,
    ENTRY,
    FLOW,
    FLOW_BEFORE,
    FLOW_GUESS,
    FLOW_SUM,
    FORECAST,
    FRONT,
    GAIN,
    GAIN_SUM,
    GIRTH_AREA_END,
    GIRTH_AREA_START,
    HALF_SOLID,
    HEAT,
    INLET,
    LATENT_HEAT,
    LENGTH,
    LIQUIDUS,
    LIVE,
    LOSS,
    OFFSET,
    OFFSET_SUM,
    OPEN,
    PARENT,
    POCKET,
    ROUGH,
    RUNNING,
    SOLIDUS,
    SPECIFIC_HEAT,
    STATE,
    STIFFNESS,
    VISCOSITY,
    WET,
    Z_END,
    Z_START,
)
from pourcast.pour.friction import crystal_factor, turbulent_factor, turbulent_share
from pourcast.pour.heat import solid_fraction_of
from pourcast.units import GRAVITY

# A new front has no wet length yet; it is given this share of its bore.
LEAST_WET = 0.2
# Keeps a run without drag and inertia solvable, Pa·s/m³: far below any passage.
_LEAST_DRAG = 1e-3


@small_kernel
def entry_pressure(fixed: si.Table, run: int, front: si.Metre) -> si.Pascal:
    """Return the threshold pressure where the front of a run stands [Pa].

    Parameters
    ----------
    fixed : array [by column], shape (runs, FIXED)
    run : int
    front : float [m]

    Returns
    -------
    float [Pa]
    """
    share = front / fixed[run, LENGTH]
    return fixed[run, ENTRY] * (
        fixed[run, GIRTH_AREA_START]
        + (fixed[run, GIRTH_AREA_END] - fixed[run, GIRTH_AREA_START]) * share
    )


@kernel
def eliminate(
    active: si.Integers,
    count: int,
    step: si.Second,
    parameters: si.Table,
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
    parameters, fixed, moving, pockets : array [by column]
    marks : array of int, shape (runs, MARKS)
    """
    density = parameters[DENSITY]
    for place in range(count):
        run = active[place]
        moving[run, GAIN_SUM] = 0.0
        moving[run, OFFSET_SUM] = 0.0
        marks[run, LIVE] = 0
    for place in range(count - 1, -1, -1):
        run = active[place]
        state = marks[run, STATE]
        moving[run, GAIN] = 0.0
        moving[run, OFFSET] = 0.0
        parent = marks[run, PARENT]
        if state == RUNNING:
            marks[run, LIVE] = 1
            wet = max(moving[run, FRONT], LEAST_WET * fixed[run, BORE])
            share = moving[run, FRONT] / fixed[run, LENGTH]
            back = entry_pressure(fixed, run, moving[run, FRONT])
            pocket = marks[run, POCKET]
            gas = pockets[pocket, FORECAST]
            spring = pockets[pocket, STIFFNESS]
            lift = density * GRAVITY * (fixed[run, Z_START] - fixed[run, Z_END]) * share
            if marks[run, OPEN] == 0 and moving[run, INLET] + lift > back + gas:
                marks[run, OPEN] = 1
            # The velocity head is lost where the front ends the run.
            square = (
                0.5 * density * (1.0 + fixed[run, LOSS]) / (fixed[run, AREA] * fixed[run, AREA])
            )
            push = lift - back - gas + spring * moving[run, FLOW]
            softness = spring
            passable = marks[run, OPEN] == 1
        elif state == WET:
            wet = fixed[run, LENGTH]
            square = 0.5 * density * fixed[run, LOSS] / (fixed[run, AREA] * fixed[run, AREA])
            passable = moving[run, GAIN_SUM] > 0.0
            if passable:
                push = density * GRAVITY * (fixed[run, Z_START] - fixed[run, Z_END])
                push += moving[run, OFFSET_SUM] / moving[run, GAIN_SUM]
                softness = 1.0 / moving[run, GAIN_SUM]
            else:
                push = 0.0
                softness = 0.0
        else:
            continue
        if parent >= 0 and marks[run, LIVE] == 1:
            marks[parent, LIVE] = 1
        if not passable:
            continue
        flow = moving[run, FLOW]
        drag = fixed[run, DRAG] * wet
        if moving[run, HEAT] < 0.0:
            solid = solid_fraction_of(
                moving[run, HEAT],
                parameters[LIQUIDUS],
                parameters[HALF_SOLID],
                parameters[SOLIDUS],
                parameters[SPECIFIC_HEAT],
                parameters[LATENT_HEAT],
            )
            drag *= crystal_factor(solid, parameters[CHOKE])
        reynolds = density * flow / fixed[run, AREA] * fixed[run, BORE] / parameters[VISCOSITY]
        turbulent = turbulent_share(reynolds)
        if turbulent > 0.0:
            factor = turbulent_factor(reynolds, fixed[run, ROUGH])
            square += (
                turbulent
                * factor
                * wet
                / fixed[run, BORE]
                * 0.5
                * density
                / (fixed[run, AREA] * fixed[run, AREA])
            )
            drag *= 1.0 - turbulent
        inertia = density * wet / fixed[run, AREA] / step
        stiff = inertia + drag + 2.0 * square * flow + softness + _LEAST_DRAG
        moving[run, GAIN] = 1.0 / stiff
        moving[run, OFFSET] = (
            inertia * moving[run, FLOW_BEFORE] + square * flow * flow + push
        ) / stiff
        if parent >= 0:
            moving[parent, GAIN_SUM] += moving[run, GAIN]
            moving[parent, OFFSET_SUM] += moving[run, OFFSET]


@kernel
def distribute(
    active: si.Integers,
    count: int,
    cup_pressure: si.Pascal,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Integers,
) -> si.CubicMetrePerSecond:
    """Return the flow out of the cup, and fill inlet pressure and flow of each run [m³/s].

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
    float [m³/s]
    """
    for place in range(count):
        run = active[place]
        parent = marks[run, PARENT]
        if parent < 0:
            moving[run, INLET] = cup_pressure
        elif moving[parent, GAIN_SUM] > 0.0:
            moving[run, INLET] = (moving[parent, FLOW] - moving[parent, OFFSET_SUM]) / moving[
                parent, GAIN_SUM
            ]
        else:
            # Nothing moves beyond the parent: the metal stands, its weight presses.
            fall = fixed[parent, Z_START] - fixed[parent, Z_END]
            moving[run, INLET] = moving[parent, INLET] + parameters[DENSITY] * GRAVITY * fall
        moving[run, FLOW_GUESS] = moving[run, FLOW]
        moving[run, FLOW] = moving[run, GAIN] * moving[run, INLET] + moving[run, OFFSET]
    for place in range(count):
        moving[active[place], FLOW_SUM] = 0.0
    out = 0.0
    for place in range(count - 1, -1, -1):
        run = active[place]
        if marks[run, STATE] == RUNNING:
            if moving[run, FLOW] <= 0.0:
                moving[run, FLOW] = 0.0
                marks[run, OPEN] = 0
        elif marks[run, STATE] == WET:
            moving[run, FLOW] = moving[run, FLOW_SUM]
        else:
            moving[run, FLOW] = 0.0
        parent = marks[run, PARENT]
        if parent >= 0:
            moving[parent, FLOW_SUM] += moving[run, FLOW]
        else:
            out += moving[run, FLOW]
    return out
