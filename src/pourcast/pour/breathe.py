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
    BLOCK_RADIUS,
    ENDS,
    FLOW,
    FORECAST,
    GAS_PRESSURE,
    GAS_VISCOSITY,
    GAS_VOLUME,
    INFLOW,
    LEAD_TIME,
    LEAK,
    LEAK_ALL,
    LEAST_VOLUME,
    OUTSIDE_SQUARED,
    PERMEABILITY,
    PIECE_HEIGHT,
    PIECE_RADIUS,
    POCKET,
    PORE_TIME,
    POROSITY,
    PUMP_TIME,
    RADIUS,
    RUNNING,
    STATE,
    STIFFNESS,
    VACUUM,
    VENT_AIR,
    VENT_PUMP,
    WALL_LENGTH,
    WALL_LOG,
    WALL_SHARE,
)
from pourcast.pour.gas import pocket_pressure, spread_depth


@kernel
def wall_pressure(parameters: si.Table, time: si.Second) -> si.Pascal:
    """Return the pressure where the pump draws [Pa].

    Parameters
    ----------
    parameters : array [by column]
    time : float [s]
        Since the metal began to run in.
    """
    drawn = 1.0 - math.exp(-(parameters[LEAD_TIME] + time) / parameters[PUMP_TIME])
    return parameters[AIR_PRESSURE] - parameters[VACUUM] * drawn


@kernel
def first_pore_pressure(pockets: si.Table, parameters: si.Table) -> si.Pascal:
    """Return the pressure in the pores near the piece when the metal comes [Pa].

    Parameters
    ----------
    pockets, parameters : array [by column]
        The first pocket is the whole cavity, open at the cup.
    """
    air = parameters[AIR_PRESSURE]
    wall = wall_pressure(parameters, 0.0)
    if air - wall < 1.0:
        return air
    length = pockets[0, WALL_LENGTH]
    mean_radius = math.exp(pockets[0, WALL_LOG] / length)
    height = parameters[PIECE_HEIGHT]
    piece = parameters[PIECE_RADIUS]
    # Shape lengths: from the cavity to the cylinder round it, from there to the wall.
    crowding = math.sqrt(max(1.0, length / height))
    cavity = 2.0 * math.pi * length / math.log(1.0 + 0.5 * piece / mean_radius / crowding)
    around = 2.0 * math.pi * height / math.log(max(parameters[BLOCK_RADIUS] / piece, 1.05))
    share = cavity / (cavity + around)
    end = math.sqrt(share * air * air + (1.0 - share) * wall * wall)
    drawn = 1.0 - math.exp(-parameters[LEAD_TIME] / parameters[PORE_TIME])
    return air + (end - air) * drawn


@kernel
def look_at_gas(
    active: si.Integers,
    count: int,
    time: si.Second,
    step: si.Second,
    pores: si.Pascal,
    wall: si.Pascal,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Integers,
    pockets: si.Table,
) -> None:
    """Fill what each pocket will do in this step if its flow stays.

    Parameters
    ----------
    active : array of int, shape (runs,)
    count : int
    time, step : float [s]
    pores, wall : float [Pa]
    parameters, fixed, moving, pockets : array [by column]
    marks : array of int, shape (runs, MARKS)
    """
    air = parameters[AIR_PRESSURE]
    darcy = parameters[PERMEABILITY] / parameters[GAS_VISCOSITY]
    spread = spread_depth(
        parameters[PERMEABILITY],
        parameters[POROSITY],
        parameters[GAS_VISCOSITY],
        air,
        time + step,
        parameters[PIECE_RADIUS],
    )
    for place in range(count):
        run = active[place]
        if marks[run, STATE] == RUNNING:
            pocket = marks[run, POCKET]
            pockets[pocket, INFLOW] = 0.0
            pockets[pocket, LEAK] = pockets[pocket, ENDS]
    for place in range(count):
        run = active[place]
        if marks[run, STATE] == RUNNING:
            pocket = marks[run, POCKET]
            pockets[pocket, INFLOW] += moving[run, FLOW]
            pockets[pocket, LEAK] += 2.0 * math.pi * fixed[run, RADIUS]
    for place in range(count):
        run = active[place]
        if marks[run, STATE] != RUNNING:
            continue
        pocket = marks[run, POCKET]
        if pockets[pocket, LEAK] < 0.0:
            continue  # done for another front of the same pocket
        share = 1.0
        shape = pockets[pocket, LEAK]
        if pockets[pocket, WALL_LENGTH] > 0.0:
            mean_radius = math.exp(pockets[pocket, WALL_LOG] / pockets[pocket, WALL_LENGTH])
            shape += 2.0 * math.pi * pockets[pocket, WALL_LENGTH] / math.log1p(spread / mean_radius)
            share = min(pockets[pocket, WALL_SHARE] / pockets[pocket, WALL_LENGTH], 1.0)
        leak = darcy * shape
        around = pores * pores + (1.0 - share) * (air * air - wall * wall)
        pockets[pocket, LEAK_ALL] = leak + pockets[pocket, VENT_AIR] + pockets[pocket, VENT_PUMP]
        pockets[pocket, OUTSIDE_SQUARED] = (
            leak * around
            + pockets[pocket, VENT_AIR] * air * air
            + pockets[pocket, VENT_PUMP] * wall * wall
        ) / pockets[pocket, LEAK_ALL]
        volume = max(pockets[pocket, GAS_VOLUME], pockets[pocket, LEAST_VOLUME])
        after = max(volume - step * pockets[pocket, INFLOW], pockets[pocket, LEAST_VOLUME])
        pressure = pocket_pressure(
            pockets[pocket, GAS_PRESSURE],
            volume,
            after,
            pockets[pocket, LEAK_ALL],
            pockets[pocket, OUTSIDE_SQUARED],
            step,
        )
        half = 0.5 * step * pockets[pocket, LEAK_ALL]
        held = pockets[pocket, GAS_PRESSURE] * volume + half * pockets[pocket, OUTSIDE_SQUARED]
        pockets[pocket, FORECAST] = pressure
        pockets[pocket, STIFFNESS] = pressure * step / math.sqrt(after * after + 4.0 * half * held)
        pockets[pocket, LEAK] = -leak
    for place in range(count):
        run = active[place]
        if marks[run, STATE] == RUNNING:
            pocket = marks[run, POCKET]
            pockets[pocket, LEAK] = abs(pockets[pocket, LEAK])


@kernel
def settle_gas(
    active: si.Integers,
    count: int,
    step: si.Second,
    pores: si.Pascal,
    parameters: si.Table,
    moving: si.Table,
    marks: si.Integers,
    pockets: si.Table,
) -> si.Watt:
    """Return the gas lost to the pores, pressure times volume per second [W].

    Parameters
    ----------
    active : array of int, shape (runs,)
    count : int
    step : float [s]
    pores : float [Pa]
    parameters, moving, pockets : array [by column]
    marks : array of int, shape (runs, MARKS)
    """
    for place in range(count):
        run = active[place]
        if marks[run, STATE] == RUNNING:
            pockets[marks[run, POCKET], INFLOW] = 0.0
    for place in range(count):
        run = active[place]
        if marks[run, STATE] == RUNNING:
            pockets[marks[run, POCKET], INFLOW] += moving[run, FLOW]
    lost = 0.0
    for place in range(count):
        run = active[place]
        if marks[run, STATE] != RUNNING:
            continue
        pocket = marks[run, POCKET]
        if pockets[pocket, INFLOW] < 0.0:
            continue  # done
        volume = max(pockets[pocket, GAS_VOLUME], pockets[pocket, LEAST_VOLUME])
        after = max(volume - step * pockets[pocket, INFLOW], pockets[pocket, LEAST_VOLUME])
        pressure = pocket_pressure(
            pockets[pocket, GAS_PRESSURE],
            volume,
            after,
            pockets[pocket, LEAK_ALL],
            pockets[pocket, OUTSIDE_SQUARED],
            step,
        )
        pockets[pocket, GAS_PRESSURE] = pressure
        lost += 0.5 * pockets[pocket, LEAK] * (pressure * pressure - pores * pores)
        pockets[pocket, INFLOW] = -1.0
    return lost
