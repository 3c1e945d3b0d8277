"""Give off: the gas that char under the metal sends to the pockets ahead, over one step.

Model.  A front covers char as it goes; what lies under the metal is lost at the rate of
`pourcast.pour.char` equation 2, exactly over the step.  The gas goes on along the metal
to the fronts that are still fed through the passage, shared at a fork by area, and is added
to the pockets ahead of them.  Where no front runs beyond a passage any more, its gas is
not counted: nothing is left there that it could stop.

That all of it goes ahead is an upper bound: the part that the block takes up
through the wall behind the front is left out.  It is added at the end of a step, so it is
late by one step.
"""

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.char import face_temperature, reaction_rate
from pourcast.pour.columns import (
    AREA,
    CHAR_ACTIVATION,
    CHAR_LOG_RATE,
    DEAD,
    FRONT,
    GAS_PRESSURE,
    GAS_VOLUME,
    HALF_SOLID,
    HEAT,
    LATENT_HEAT,
    LEAST_VOLUME,
    LENGTH,
    LIQUIDUS,
    MOULD_TEMPERATURE,
    NONE,
    PARENT,
    POCKET,
    RUNNING,
    SOLIDUS,
    SPECIFIC_HEAT,
    STATE,
    WALL_RATE,
    WALL_WEIGHT,
    WETTED_AT,
)
from pourcast.pour.cool import face_slowness
from pourcast.pour.elementary import exponential
from pourcast.pour.heat import Curve, temperature_of

COVERED, BOUND, SENT, ONWARD, CHAR_COLUMNS = range(5)
"""Columns of the room of `give_off`, one row per run: how far the front had come [m], gas
still bound under the metal [J], gas sent on in this step [J], area of the ways on [m²]."""


@kernel
def give_off(
    time: si.Second,
    step: si.Second,
    active: si.Places,
    count: int,
    draw: int,
    char: si.Joules,
    covered: si.Table,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    pockets: si.Table,
) -> si.Joule:
    """Return the gas that came into the pockets in this step, pressure times volume [J].

    Parameters
    ----------
    time, step : float [s]
        At the end of the step, and its length.
    active : array of int, shape (runs,)
        The first ``count`` are the runs in play, each after its parent.
    count : int
    draw : int
    char : array [J], shape (draws, segments)
        Gas that the char of a segment makes in all.
    covered : array [by column], shape (runs, CHAR_COLUMNS)
        0 at the start of a draw; brought up to date.
    parameters, fixed, moving, pockets : array [by column]
        The gas raises the pressure of the pockets.
    marks : array of int, shape (runs, MARKS)

    Returns
    -------
    float [J]
    """
    curve = Curve(
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )
    mould = parameters[MOULD_TEMPERATURE]
    segments = char.shape[1]
    for place in range(count):
        covered[active[place], ONWARD] = 0.0
    for place in range(count):
        run = active[place]
        parent = marks[run, PARENT]
        if parent != NONE and marks[run, STATE] != DEAD:
            covered[parent, ONWARD] += fixed[run, AREA]
    given = 0.0
    for place in range(count):
        run = active[place]
        here = char[draw, run % segments] / fixed[run, LENGTH]
        bound = covered[run, BOUND] + here * (moving[run, FRONT] - covered[run, COVERED])
        covered[run, COVERED] = moving[run, FRONT]
        gas = 0.0
        if bound > 0.0:
            slowness = face_slowness(
                time - moving[run, WETTED_AT], 1.0, fixed[run, WALL_WEIGHT], fixed[run, WALL_RATE]
            )
            face = face_temperature(temperature_of(moving[run, HEAT], curve), mould, slowness)
            rate = reaction_rate(face, parameters[CHAR_ACTIVATION], parameters[CHAR_LOG_RATE])
            gas = bound * (1.0 - exponential(-rate * step))
        covered[run, BOUND] = bound - gas
        parent = marks[run, PARENT]
        if parent != NONE and covered[parent, ONWARD] > 0.0:
            gas += covered[parent, SENT] * fixed[run, AREA] / covered[parent, ONWARD]
        if marks[run, STATE] == DEAD:
            gas = 0.0
        covered[run, SENT] = gas
        if marks[run, STATE] == RUNNING:
            pocket = marks[run, POCKET]
            volume = max(pockets[pocket, GAS_VOLUME], pockets[pocket, LEAST_VOLUME])
            pockets[pocket, GAS_PRESSURE] += gas / volume
            given += gas
    return given
