"""Breathe: the gas ahead of the fronts and in the pores, over one step.

Pores.  The pressure where the vacuum is fully felt nears that of the pump as
dp/dt = -(p - p_wall) / t_pore, with the time of `pourcast.pour.gas.relaxation_time`,
and rises with the gas that the pockets lose into the pore space of a cylinder
round the piece.  Before the pour the cavity is open at the cup: air is
drawn through it and the pores near the piece stay above the wall's pressure,
in the proportion of the two resistances.

Left out: how close leaves share the pores between them (errs to the hopeful side
in dense heads).
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.columns import (
    AIR_PRESSURE,
    AREA,
    BLOCK_RADIUS,
    FACES,
    FELT,
    FIXED,
    FLOW,
    FORECAST,
    GAS_PRESSURE,
    GAS_VISCOSITY,
    GAS_VOLUME,
    HELD_GAS,
    INFLOW,
    LANES,
    LEAD_TIME,
    LEAK,
    LEAK_ALL,
    LEAST_VOLUME,
    MARKS,
    MOVING,
    NOT_KNOWN,
    PERMEABILITY,
    PIECE_HEIGHT,
    PIECE_RADIUS,
    POCKET,
    POCKET_COLUMNS,
    PORE_TIME,
    POROSITY,
    PUMP_TIME,
    SPREAD_AT,
    STIFFNESS,
    VACUUM,
    VENT_AIR,
    VENT_PUMP,
    VOLUME_NOW,
    WALL_LENGTH,
    WALL_LOG,
    WALL_SHARE,
    WETTED,
    of_width,
)
from pourcast.pour.elementary import exponential, logarithm, whole_groups
from pourcast.pour.gas import pocket_pressure, pores_squared, spread_depth

# Where the lanes of each number of a pocket begin.
(
    _LENGTH,
    _DRY,
    _LOG,
    _SHARE,
    _FACES,
    _THROUGH,
    _POCKET,
) = range(0, 7 * LANES, LANES)


@kernel
def wall_pressure(parameters: si.Table, time: si.Second) -> si.Pascal:
    """Return the pressure where the pump draws [Pa].

    Parameters
    ----------
    parameters : array [by column]
    time : float [s]
        Since the metal began to run in.
    """
    if parameters[VACUUM] == 0.0:
        air: si.Pascal = parameters[AIR_PRESSURE]
        return air
    drawn = 1.0 - exponential(-(parameters[LEAD_TIME] + time) / parameters[PUMP_TIME])
    wall: si.Pascal = parameters[AIR_PRESSURE] - parameters[VACUUM] * drawn
    return wall


@kernel
def first_pore_pressure(pockets: si.Table, parameters: si.Table) -> si.Pascal:
    """Return the pressure in the pores near the piece when the metal comes [Pa].

    Parameters
    ----------
    pockets, parameters : array [by column]
        The first pocket is the whole cavity, open at the cup.
    """
    air: si.Pascal = parameters[AIR_PRESSURE]
    wall = wall_pressure(parameters, 0.0)
    if air - wall < 1.0:
        return air
    length = pockets[0, WALL_LENGTH]
    mean_radius = exponential(pockets[0, WALL_LOG] / length)
    height = parameters[PIECE_HEIGHT]
    piece = parameters[PIECE_RADIUS]
    # Shape lengths: from the cavity to the cylinder round it, from there to the wall.
    crowding = math.sqrt(max(1.0, length / height))
    cavity = 2.0 * math.pi * length / logarithm(1.0 + 0.5 * piece / mean_radius / crowding)
    around = 2.0 * math.pi * height / logarithm(max(parameters[BLOCK_RADIUS] / piece, 1.05))
    share = cavity / (cavity + around)
    end = math.sqrt(share * air * air + (1.0 - share) * wall * wall)
    drawn = 1.0 - exponential(-parameters[LEAD_TIME] / parameters[PORE_TIME])
    return air + (end - air) * drawn


@kernel
def leak(
    fronts: si.Places,
    count: int,
    ahead: si.Places,
    pocket_count: int,
    time: si.Second,
    step: si.Second,
    pores: si.Pascal,
    wall: si.Pascal,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    pockets: si.Table,
    lanes: si.Table,
) -> None:
    """Fill how each pocket leaks in this step, and the flow into it at its start.

    Depth of spread and length of dry wall are those of the middle of the step,
    by the flows at its start; they are not changed by the passes over the flows.  Where no
    front goes on and the gas has spread as far as it can, what leaks is known from before.

    Parameters
    ----------
    fronts, ahead : array of int, shape (runs,)
        See `pourcast.pour.pace.list_anew`.
    count, pocket_count : int
    time, step : float [s]
        At the start of the step, and its length.
    pores, wall : float [Pa]
    parameters, fixed, moving, pockets : array [by column]
    marks : array of int, shape (runs, MARKS)
    lanes : array [by column], shape (LANE_ROOM,)
        Scratch.
    """
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    of_width(marks, MARKS)
    of_width(pockets, POCKET_COLUMNS)
    air = parameters[AIR_PRESSURE]
    darcy = parameters[PERMEABILITY] / parameters[GAS_VISCOSITY]
    spread = spread_depth(
        parameters[PERMEABILITY],
        parameters[POROSITY],
        parameters[GAS_VISCOSITY],
        air,
        time + 0.5 * step,
        parameters[PIECE_RADIUS],
    )
    for place in range(pocket_count):
        pockets[ahead[place], WETTED] = 0.0
        pockets[ahead[place], INFLOW] = 0.0
    for place in range(count):
        run = fronts[place]
        flow = moving[run, FLOW]
        if flow > 0.0:
            pockets[marks[run, POCKET], WETTED] += flow / fixed[run, AREA]
            pockets[marks[run, POCKET], INFLOW] += flow
    place = 0
    while place < pocket_count:
        some = 0
        while place < pocket_count and some < LANES:
            pocket = ahead[place]
            place += 1
            if pockets[pocket, SPREAD_AT] == spread:
                continue
            length = pockets[pocket, WALL_LENGTH]
            lanes[_POCKET + some] = pocket
            lanes[_LENGTH + some] = length
            lanes[_DRY + some] = length - 0.5 * step * pockets[pocket, WETTED]
            lanes[_LOG + some] = pockets[pocket, WALL_LOG]
            lanes[_SHARE + some] = pockets[pocket, WALL_SHARE]
            lanes[_FACES + some] = pockets[pocket, FACES]
            some += 1
        for lane in range(whole_groups(some)):
            length = lanes[_LENGTH + lane]
            walled = length > 0.0
            often = 1.0 / length if walled else 0.0
            # Not log1p: the miss is 1e-16 over the sum, and it stands beside a 1.
            reach = logarithm(1.0 + spread * exponential(-lanes[_LOG + lane] * often))
            wall_shape = 2.0 * math.pi * max(lanes[_DRY + lane], 0.0) / reach
            lanes[_SHARE + lane] = min(lanes[_SHARE + lane] * often, 1.0) if walled else 1.0
            lanes[_THROUGH + lane] = darcy * (
                lanes[_FACES + lane] + (wall_shape if walled else 0.0)
            )
        for lane in range(some):
            pocket = int(lanes[_POCKET + lane])
            pockets[pocket, LEAK] = lanes[_THROUGH + lane]
            pockets[pocket, FELT] = lanes[_SHARE + lane]
            # It holds on where no front goes on and the gas has spread as far as it can.
            pockets[pocket, SPREAD_AT] = spread if pockets[pocket, WETTED] == 0.0 else NOT_KNOWN
    for place in range(pocket_count):
        pocket = ahead[place]
        vents = pockets[pocket, VENT_AIR] + pockets[pocket, VENT_PUMP]
        outside = pockets[pocket, LEAK] * pores_squared(pockets[pocket, FELT], pores, air)
        outside += pockets[pocket, VENT_AIR] * air * air + pockets[pocket, VENT_PUMP] * wall * wall
        volume = max(pockets[pocket, GAS_VOLUME], pockets[pocket, LEAST_VOLUME])
        pockets[pocket, LEAK_ALL] = pockets[pocket, LEAK] + vents
        pockets[pocket, VOLUME_NOW] = volume
        pockets[pocket, HELD_GAS] = pockets[pocket, GAS_PRESSURE] * volume + 0.5 * step * outside


@kernel
def squeeze(ahead: si.Places, pocket_count: int, step: si.Second, pockets: si.Table) -> None:
    """Fill the pressure that each pocket comes to if the flows stay, and its stiffness.

    Parameters
    ----------
    ahead : array of int, shape (runs,)
        The first ``pocket_count`` are the pockets with a front.
    pocket_count : int
    step : float [s]
    pockets : array [by column]
        INFLOW is set to 0 for `pourcast.pour.flow.distribute` to sum it anew.
    """
    of_width(pockets, POCKET_COLUMNS)
    for place in range(pocket_count):
        pocket = ahead[place]
        least = pockets[pocket, LEAST_VOLUME]
        after = max(pockets[pocket, VOLUME_NOW] - step * pockets[pocket, INFLOW], least)
        # As `pocket_pressure`, whose root is that of the stiffness too; one division for both.
        held = 2.0 * pockets[pocket, HELD_GAS]
        root = math.sqrt(after * after + held * step * pockets[pocket, LEAK_ALL])
        pressed = held / ((after + root) * root)
        pockets[pocket, FORECAST] = pressed * root
        pockets[pocket, STIFFNESS] = pressed * step
        pockets[pocket, INFLOW] = 0.0


@kernel
def settle_gas(
    ahead: si.Places, pocket_count: int, step: si.Second, pores: si.Pascal, pockets: si.Table
) -> si.Watt:
    """Return the gas lost to the pores, pressure times volume per second [W].

    Parameters
    ----------
    ahead : array of int, shape (runs,)
        The first ``pocket_count`` are the pockets with a front.
    pocket_count : int
    step : float [s]
    pores : float [Pa]
    pockets : array [by column]
        INFLOW is that of the flows as they came out.

    Returns
    -------
    float [W]
    """
    of_width(pockets, POCKET_COLUMNS)
    lost = 0.0
    for place in range(pocket_count):
        pocket = ahead[place]
        least = pockets[pocket, LEAST_VOLUME]
        after = max(pockets[pocket, VOLUME_NOW] - step * pockets[pocket, INFLOW], least)
        pressure = pocket_pressure(
            pockets[pocket, HELD_GAS], after, pockets[pocket, LEAK_ALL], step
        )
        pockets[pocket, GAS_PRESSURE] = pressure
        lost += 0.5 * pockets[pocket, LEAK] * (pressure * pressure - pores * pores)
    return lost
