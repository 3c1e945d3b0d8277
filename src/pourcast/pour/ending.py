"""Ending: how each segment stands when all fronts have stopped."""

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.columns import (
    COOLING,
    DEAD,
    FRONT,
    FULL_AT,
    HALF_SOLID,
    HEAT,
    HEATED_AT,
    LATENT_HEAT,
    LENGTH,
    LIQUIDUS,
    MOULD_TEMPERATURE,
    OPEN,
    SOLIDUS,
    SPECIFIC_HEAT,
    STATE,
    STOPPED,
    TAPER,
    TIP_HEAT,
    WALL_RATE,
    WALL_WEIGHT,
    WETTED_AT,
)
from pourcast.pour.cool import face_slowness, heat_loss, heat_taken
from pourcast.pour.heat import Curve, solid_fraction_of, temperature_of
from pourcast.pour.meet import COLD_SHUT
from pourcast.pour.model import CHOKE, FULL
from pourcast.pour.sections import length_share

_CATCH_UP_STEPS = 8  # steps in which metal that stood is cooled to the end of the pour
_FULL_SHARE = 1.0 - 1e-6


@kernel
def write_segment(
    segment: int,
    segments: int,
    start: si.Integers,
    ends: si.Integers,
    stopped_at: si.Integers,
    time: si.Second,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Integers,
    filled: si.Ratios,
    cause: si.Integers,
    fill_time: si.Seconds,
    temperature: si.Kelvins,
    solid: si.Ratios,
    shut: si.Booleans,
) -> None:
    """Write how one segment ends: share, cause, time, heat.

    Parameters
    ----------
    segment, segments : int
    start, ends : array of int
    stopped_at : array of int, shape (nodes,)
        Cause that keeps the metal from each node; brought up to date.
    time : float [s]
        End of the pour.
    parameters, fixed, moving : array [by column]
    marks : array of int, shape (runs, MARKS)
    filled, solid : array [-], shape (segments,)
    cause : array of int, shape (segments,)
    fill_time : array [s], shape (segments,)
    temperature : array [K], shape (segments,)
    shut : array of bool, shape (segments,)
        The last six are filled.
    """
    curve = Curve(
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )
    run = segment
    wet = moving[run, FRONT]
    if fixed.shape[0] > segments:
        other = segment + segments
        wet += moving[other, FRONT]
        if moving[other, FRONT] > moving[run, FRONT]:
            run = other
        shut[segment] = marks[segment, OPEN] == COLD_SHUT or marks[other, OPEN] == COLD_SHUT
    share = min(wet / fixed[segment, LENGTH], 1.0)
    if wet == moving[segment, FRONT]:
        # From one side: how far along a taper the metal came, not how much of it there is.
        share = length_share(share, fixed[segment, TAPER])
    full = share >= _FULL_SHARE
    filled[segment] = 1.0 if full else share
    stopped = marks[run, STOPPED]
    if full:
        cause[segment] = FULL
        fill_time[segment] = moving[run, FULL_AT]
        if stopped == CHOKE:
            stopped_at[ends[segment]] = CHOKE
    else:
        if stopped <= FULL:
            stopped = stopped_at[start[segment]]
        cause[segment] = stopped if stopped > FULL else CHOKE
        stopped_at[ends[segment]] = cause[segment]
    heat = moving[run, HEAT] if wet > 0.0 else 0.0
    if wet > 0.0:
        if marks[run, STATE] == DEAD and moving[run, TIP_HEAT] < heat and not full:
            heat = 0.5 * (heat + moving[run, TIP_HEAT])
        step = (time - moving[run, HEATED_AT]) / _CATCH_UP_STEPS
        for number in range(_CATCH_UP_STEPS):
            if step <= 0.0:
                break
            age = moving[run, HEATED_AT] + (number + 0.5) * step - moving[run, WETTED_AT]
            slowness = face_slowness(age, 1.0, fixed[run, WALL_WEIGHT], fixed[run, WALL_RATE])
            loss = heat_loss(
                heat, slowness, fixed[run, COOLING], parameters[MOULD_TEMPERATURE], curve
            )
            heat -= heat_taken(heat, loss * step, parameters[MOULD_TEMPERATURE], curve)
    temperature[segment] = temperature_of(heat, curve)
    solid[segment] = solid_fraction_of(heat, curve)
