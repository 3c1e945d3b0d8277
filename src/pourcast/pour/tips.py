"""Tips: the parcels at several fronts, cooled side by side.

What a step makes of one front does not depend on the others, so the numbers of some
fronts are laid beside one another and worked through together (`pourcast.pour.elementary`).
"""

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.columns import (
    AREA,
    BEHIND,
    BORE,
    COOLING,
    DENSITY,
    FIXED,
    FLOW,
    FRONT,
    HALF_SOLID,
    LANES,
    LATENT_HEAT,
    LENGTH,
    LIQUIDUS,
    MARKS,
    METAL_CONDUCTIVITY,
    MOULD_TEMPERATURE,
    MOVING,
    SOLIDUS,
    SPECIFIC_HEAT,
    TIP_AGE,
    TIP_AT,
    TIP_HEAT,
    WALL_RATE,
    WALL_WEIGHT,
    of_width,
)
from pourcast.pour.contact import contact_ages
from pourcast.pour.cool import cooled_parcel, feed_heat_of, warmed_from_mouth
from pourcast.pour.elementary import whole_groups
from pourcast.pour.heat import Curve
from pourcast.pour.meet import room_ahead

# Where the lanes of each number begin.
(
    TIP_SPEED,  # m/s
    TIP_ROOM,  # m, that the front can still go in its run
    TIP_TIME,  # s, until it arrives, or the step
    TIP_DISTANCE,  # m
    TIP_AFTER,  # J/kg, TIP_HEAT after that time
    TIP_AGE_AFTER,  # s
    _FLOW,
    _AREA,
    _BORE,
    _HEAT,
    _AGE,
    _WEIGHT,
    _RATE,
    _COOLING,
    _FEED,
    _FROM_MOUTH,
    _PAST,
    _MEAN_AGE,
    _COOLED,
    TIP_RUN,
) = range(0, 20 * LANES, LANES)


@kernel
def cool_tips(
    first: int,
    last: int,
    most: int,
    every: bool,
    begun: si.Second,
    step: si.Second,
    fronts: si.Places,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    segments: int,
    lanes: si.Table,
) -> tuple[int, int]:
    """Return how many fronts were cooled, and the place of the next in their list.

    Fills how far each goes in a step, until it arrives, and how it cools meanwhile.

    Parameters
    ----------
    first, last : int
        Places in the list of fronts, from and before.
    most : int
        Fronts to be cooled now, up to LANES.
    every : bool
        False: those that stand are left for a later step, which takes their past with it.
    begun, step : float [s]
        When the step began, and its length.
    fronts : array of int, shape (runs,)
    parameters, fixed, moving : array [by column]
    marks : array of int, shape (runs, MARKS)
    segments : int
    lanes : array [by column], shape (LANE_ROOM,)
        Its first six numbers and TIP_RUN are filled.

    Returns
    -------
    tuple of int
    """
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    of_width(marks, MARKS)
    lane = 0
    place = first
    while place < last and lane < most:
        run = fronts[place]
        place += 1
        flow = moving[run, FLOW]
        if flow <= 0.0 and not every:
            continue
        lanes[TIP_RUN + lane] = run
        lanes[_PAST + lane] = max(begun - moving[run, TIP_AT], 0.0)
        lanes[_FLOW + lane] = flow
        lanes[_AREA + lane] = fixed[run, AREA]
        lanes[_BORE + lane] = fixed[run, BORE]
        lanes[_HEAT + lane] = moving[run, TIP_HEAT]
        lanes[_AGE + lane] = moving[run, TIP_AGE]
        lanes[_WEIGHT + lane] = fixed[run, WALL_WEIGHT]
        lanes[_RATE + lane] = fixed[run, WALL_RATE]
        lanes[_COOLING + lane] = fixed[run, COOLING]
        lanes[_FEED + lane] = feed_heat_of(run, parameters, moving, marks)
        lanes[_FROM_MOUTH + lane] = moving[run, BEHIND] + moving[run, FRONT]
        lanes[TIP_ROOM + lane] = fixed[run, LENGTH] - moving[run, FRONT]
        lane += 1
    count = lane
    if fixed.shape[0] > segments:
        for lane in range(count):
            run = int(lanes[TIP_RUN + lane])
            lanes[TIP_ROOM + lane] = room_ahead(run, segments, fixed, moving, marks)
    curve = Curve(
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )
    mould = parameters[MOULD_TEMPERATURE]
    conduction = parameters[METAL_CONDUCTIVITY] / parameters[DENSITY]
    # In three short loops: in one the machine does not see far enough to go on with the next.
    for lane in range(whole_groups(count)):
        speed = lanes[_FLOW + lane] / lanes[_AREA + lane]
        room = max(lanes[TIP_ROOM + lane], 0.0)
        distance = speed * step
        # Once the front has arrived its parcel cools in the passages beyond.
        time = room / speed if distance > room else step
        distance = min(distance, room)
        cooled = lanes[_PAST + lane] + time
        turns = distance / lanes[_BORE + lane]
        lanes[_MEAN_AGE + lane], lanes[TIP_AGE_AFTER + lane] = contact_ages(
            lanes[_AGE + lane], turns, cooled
        )
        lanes[TIP_SPEED + lane] = speed
        lanes[TIP_ROOM + lane] = room
        lanes[TIP_TIME + lane] = time
        lanes[TIP_DISTANCE + lane] = distance
        lanes[_COOLED + lane] = cooled
    for lane in range(whole_groups(count)):
        lanes[TIP_AFTER + lane] = cooled_parcel(
            lanes[_HEAT + lane],
            lanes[_MEAN_AGE + lane],
            lanes[_COOLED + lane],
            lanes[_WEIGHT + lane],
            lanes[_RATE + lane],
            lanes[_COOLING + lane],
            mould,
            curve,
        )
    for lane in range(whole_groups(count)):
        lanes[TIP_AFTER + lane] = warmed_from_mouth(
            lanes[_HEAT + lane],
            lanes[TIP_AFTER + lane],
            lanes[_FEED + lane],
            lanes[_FROM_MOUTH + lane],
            lanes[_COOLED + lane],
            conduction,
            curve,
        )
    return count, place
