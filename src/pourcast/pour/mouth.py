"""Mouth: the flow for the rest of a step, once a front has come to a narrow mouth within it.

The rush of the metal may be too little to carry it in, and the pressure behind it yet
enough.  A front that waited there for the next step came late by half a step at each mouth.
"""

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.columns import (
    AREA_START,
    DENSITY,
    FLOW,
    LINK_DRAG,
    LINK_INERTIA,
    LINK_INLET,
    LINK_SQUARE,
    LINK_WEIGHT,
    LOSS_SQUARE,
)
from pourcast.pour.links import rubbed
from pourcast.pour.resist import entry_pressure

_PASSES = 3


@kernel
def flow_beyond(
    run: int,
    way: int,
    link: int,
    rest: si.Second,
    pressure: si.Pascal,
    volume: si.CubicMetre,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    flows: si.Table,
) -> si.CubicMetrePerSecond:
    """Return the flow into a passage at the end of the step in which its mouth was reached [m³/s].

    Parameters
    ----------
    run, way : int
        The run that is full, and the one beyond.
    link : int
        Of ``run``, which has been added to it.
    rest : float [s]
        Of the step; > 0.
    pressure : float [Pa]
        Of the gas ahead at its end, if the flow were kept.
    volume : float [m³]
        Of that gas then; > 0.
    parameters, fixed, moving, flows : array [by column]

    Returns
    -------
    float [m³/s]
        By equation 1 of `pourcast.pour.flow` for the link alone, at the pressure at its
        start; 0: the metal is held.
    """
    before = moving[run, FLOW]
    here = fixed[way, AREA_START]
    drag, square = rubbed(run, before, fixed, moving)
    square += flows[link, LINK_SQUARE]
    square += 0.5 * parameters[DENSITY] / (here * here) + fixed[way, LOSS_SQUARE]
    inertia = flows[link, LINK_INERTIA] / rest
    spring = pressure * rest / volume
    stiff = flows[link, LINK_DRAG] + drag + inertia + spring
    push = flows[link, LINK_INLET] + flows[link, LINK_WEIGHT] - pressure
    push += (inertia + spring) * before - entry_pressure(fixed, way, 0.0)
    flow: si.CubicMetrePerSecond = before
    for _ in range(_PASSES):
        flow = max((push + square * flow * flow) / (stiff + 2.0 * square * flow), 0.0)
    return flow
