"""Catch up: the heat of metal that stood, taken to the end of a pour, some runs side by side.

Metal beyond which no front runs any more is left as it was; here it cools on by itself, in
a few steps.  In a passage whose front stopped halfway half of it is as warm as the front.
"""

from pourcast import units as si
from pourcast.kernels import kernel, small_kernel
from pourcast.pour.columns import (
    COOLING,
    DEAD,
    FRONT,
    HALF_SOLID,
    HEAT,
    HEATED_AT,
    LANES,
    LATENT_HEAT,
    LENGTH,
    LIQUIDUS,
    MOULD_TEMPERATURE,
    SOLIDUS,
    SPECIFIC_HEAT,
    STATE,
    TAPER,
    TIP_HEAT,
    WALL_RATE,
    WALL_WEIGHT,
    WETTED_AT,
)
from pourcast.pour.cool import face_slowness, heat_loss, heat_taken
from pourcast.pour.elementary import whole_groups
from pourcast.pour.heat import Curve
from pourcast.pour.sections import length_share

FULL_SHARE = 1.0 - 1e-6

_STEPS = 8  # in which metal that stood is cooled to the end of the pour

# Where the lanes of each number of a run begin.
_HEAT, _AGE, _STEP, _WEIGHT, _RATE, _COOLING, _RUN = range(0, 7 * LANES, LANES)


@small_kernel
def share_filled(segment: int, segments: int, fixed: si.Table, moving: si.Table) -> si.Ratio:
    """Return how much of the length of a segment metal has reached, from both ends [-].

    Parameters
    ----------
    segment, segments : int
    fixed, moving : array [by column]
    """
    wet = moving[segment, FRONT]
    if fixed.shape[0] > segments:
        wet += moving[segment + segments, FRONT]
    share: si.Ratio = min(wet / fixed[segment, LENGTH], 1.0)
    if wet == moving[segment, FRONT]:
        # From one side: how far along a taper the metal came, not how much of it there is.
        share = length_share(share, fixed[segment, TAPER])
    return share


@kernel
def catch_up(
    time: si.Second,
    segments: int,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    lanes: si.Table,
) -> None:
    """Take the heat of all metal on to the end of the pour.

    Parameters
    ----------
    time : float [s]
    segments : int
    parameters, fixed, moving : array [by column]
        HEAT is brought up to date.
    marks : array of int, shape (runs, MARKS)
    lanes : array [by column], shape (LANE_ROOM,)
        Scratch.
    """
    count = 0
    for run in range(fixed.shape[0]):
        if moving[run, FRONT] > 0.0:
            heat = moving[run, HEAT]
            if marks[run, STATE] == DEAD and moving[run, TIP_HEAT] < heat:
                segment = run if run < segments else run - segments
                if share_filled(segment, segments, fixed, moving) < FULL_SHARE:
                    heat = 0.5 * (heat + moving[run, TIP_HEAT])
            moving[run, HEAT] = heat
            lanes[_HEAT + count] = heat
            lanes[_AGE + count] = moving[run, HEATED_AT] - moving[run, WETTED_AT]
            lanes[_STEP + count] = max(time - moving[run, HEATED_AT], 0.0) / _STEPS
            lanes[_WEIGHT + count] = fixed[run, WALL_WEIGHT]
            lanes[_RATE + count] = fixed[run, WALL_RATE]
            lanes[_COOLING + count] = fixed[run, COOLING]
            lanes[_RUN + count] = run
            count += 1
        if count == LANES or run == fixed.shape[0] - 1:
            _cool_on(count, parameters, lanes)
            for lane in range(count):
                moving[int(lanes[_RUN + lane]), HEAT] = lanes[_HEAT + lane]
            count = 0


@kernel
def _cool_on(count: int, parameters: si.Table, lanes: si.Table) -> None:
    """Take the heat of some runs through the steps to the end of the pour.

    Parameters
    ----------
    count : int
    parameters, lanes : array [by column]
    """
    curve = Curve(
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )
    mould = parameters[MOULD_TEMPERATURE]
    for number in range(_STEPS):
        for lane in range(whole_groups(count)):
            heat = lanes[_HEAT + lane]
            step = lanes[_STEP + lane]
            age = lanes[_AGE + lane] + (number + 0.5) * step
            slowness = face_slowness(age, 1.0, lanes[_WEIGHT + lane], lanes[_RATE + lane])
            loss = heat_loss(heat, slowness, lanes[_COOLING + lane], mould, curve)
            lanes[_HEAT + lane] = heat - heat_taken(heat, loss * step, mould, curve)
