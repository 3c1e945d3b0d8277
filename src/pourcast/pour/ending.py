"""Ending: how each segment stands when all fronts have stopped."""

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.catch_up import FULL_SHARE, share_filled
from pourcast.pour.columns import (
    FRONT,
    FULL_AT,
    HALF_SOLID,
    HEAT,
    LATENT_HEAT,
    LIQUIDUS,
    OPEN,
    SOLIDUS,
    SPECIFIC_HEAT,
    STOPPED,
)
from pourcast.pour.heat import Curve, solid_fraction_of, temperature_of
from pourcast.pour.meet import COLD_SHUT
from pourcast.pour.model import CHOKE, FULL


@kernel
def write_segment(
    segment: int,
    segments: int,
    start: si.Integers,
    ends: si.Integers,
    stopped_at: si.Integers,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
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
    parameters, fixed, moving : array [by column]
        HEAT is that of the end of the pour.
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
    share = share_filled(segment, segments, fixed, moving)
    full = share >= FULL_SHARE
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
    temperature[segment] = temperature_of(heat, curve)
    solid[segment] = solid_fraction_of(heat, curve)
