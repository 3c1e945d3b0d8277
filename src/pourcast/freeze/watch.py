"""Watch: the moments that the quench waits for, and how hot the mould face gets."""

import math

from pourcast import units as si
from pourcast.freeze.columns import (
    ABOVE_HIGH,
    ABOVE_LOW,
    BURST,
    BURST_UNTIL,
    BUTTON_BELOW,
    BUTTON_DARK,
    FACE_PEAK,
    KNOTS,
)
from pourcast.freeze.quench import FACE_HIGH, FACE_LOW, GLOW, MARGIN
from pourcast.freeze.rings import RINGS, SLICES
from pourcast.freeze.room import Room
from pourcast.kernels import kernel, small_kernel

_SOLIDUS = KNOTS + 4


@small_kernel
def moment_below(
    limit: si.Kelvin, before: si.Kelvin, after: si.Kelvin, time: si.Second, step: si.Second
) -> si.Second:
    """Return when a temperature that fell over a step passed a limit [s].

    Parameters
    ----------
    limit, before, after : float [K]
    time, step : float [s]
        The step ends at ``time``.

    Returns
    -------
    float [s]
    """
    return time - step * (limit - after) / (before - after)


@small_kernel
def time_above(limit: si.Kelvin, before: si.Kelvin, after: si.Kelvin, step: si.Second) -> si.Second:
    """Return for how long of a step a temperature was above a limit [s].

    Parameters
    ----------
    limit, before, after : float [K]
    step : float [s]

    Returns
    -------
    float [s]
    """
    high = max(before, after)
    low = min(before, after)
    if low >= limit:
        return step
    if high <= limit:
        return 0.0
    return step * (high - limit) / (high - low)


@kernel
def state(bodies: int, held: Room) -> tuple[si.Kelvin, si.Kelvin, si.Kelvin]:
    """Return the hottest slice, the hottest face beside the button, and the mean of its rings.

    Parameters
    ----------
    bodies : int
    held : Room
        After a step: ``found`` is its end.

    Returns
    -------
    tuple of float [K]
        0 where there is no button.
    """
    hottest = 0.0
    face = 0.0
    heat = 0.0
    room_of_all = 0.0
    for place in range(SLICES):
        if held.volume[bodies + place] <= 0.0:
            continue
        metal = held.found[bodies + place]
        hottest = max(hottest, metal)
        if held.slice_touch[place] > 0.0:
            out = held.ring_hold[place] * metal - held.ring_drawn[place]
            face = max(face, metal - out / held.slice_touch[place])
        for number in range(RINGS):
            heat += held.ring_room[place, number] * held.ring[place, number]
            room_of_all += held.ring_room[place, number]
    return hottest, face, heat / max(room_of_all, 1e-300)


@kernel
def begin_watch(time: si.Second, has_button: bool, ends: si.Table) -> None:
    """Write that nothing has happened yet.

    Parameters
    ----------
    time : float [s]
        End of the pour.
    has_button : bool
    ends : array [by column], shape (ENDS,)
    """
    ends[:] = math.nan
    ends[ABOVE_LOW] = 0.0
    ends[ABOVE_HIGH] = 0.0
    ends[FACE_PEAK] = 0.0
    if not has_button:
        ends[BUTTON_BELOW] = time
        ends[BUTTON_DARK] = time


@kernel
def watch(
    time: si.Second,
    step: si.Second,
    left: int,
    hot_before: si.Kelvin,
    face_before: si.Kelvin,
    mean_before: si.Kelvin,
    hot: si.Kelvin,
    face: si.Kelvin,
    mean: si.Kelvin,
    parameters: si.Table,
    ends: si.Table,
) -> bool:
    """Write what happened in a step; return whether all that is waited for has happened.

    Parameters
    ----------
    time, step : float [s]
        The step ends at ``time``.
    left : int
        Bodies that are not solid.
    hot_before, face_before, mean_before, hot, face, mean : float [K]
        From `state`, before and after the step.
    parameters : array [by column]
    ends : array [by column], shape (ENDS,)

    Returns
    -------
    bool
    """
    limit = parameters[_SOLIDUS] - MARGIN
    if hot < limit <= hot_before:
        ends[BUTTON_BELOW] = moment_below(limit, hot_before, hot, time, step)
    if hot < GLOW <= hot_before:
        ends[BUTTON_DARK] = moment_below(GLOW, hot_before, hot, time, step)
    burst = parameters[BURST]
    if mean < burst <= mean_before:
        ends[BURST_UNTIL] = moment_below(burst, mean_before, mean, time, step)
    ends[ABOVE_LOW] += time_above(FACE_LOW, face_before, face, step)
    ends[ABOVE_HIGH] += time_above(FACE_HIGH, face_before, face, step)
    ends[FACE_PEAK] = max(ends[FACE_PEAK], face)
    return left == 0 and hot < min(limit, GLOW) and (mean < burst or hot <= 0.0)
