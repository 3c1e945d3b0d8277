"""Behind: the heat of the metal behind the fronts, and which passages it closes.

Model.  The metal of each segment is one mixed body of mass m.  It loses heat through its
wall, is fed with metal from the segment before, and passes heat along the metal,

    m dH/dt = -q S + ρ Q (H_before - H) + Σ G (T_other - T),                (1)
    1/G = ½ (L/A + L_other/A_other) / k,

over all wetted neighbours.  Feed and conduction are taken implicitly; the second by one
pass over the tree from the tips to the cup and one back, which is exact Gaussian
elimination with the slope of the temperature over heat content at the start.

This heat changes slowly, so it is worked out every few steps of the flow, with what
has flowed in meanwhile.  The front has its own parcel, `pourcast.pour.cool`.

Left out: conduction to metal in passages beyond which no front runs any more, and to the
cup (both err to the cold side).

Source: Fourier's law; the pass over a tree is Gaussian elimination.
"""

from pourcast import units as si
from pourcast.kernels import kernel, small_kernel
from pourcast.pour.columns import (
    AREA,
    CHOKE,
    CHOKE_HEAT_STOP,
    COOLING,
    CUP_HEAT,
    DEAD,
    DENSITY,
    DRAG,
    FED,
    FIXED,
    FRONT,
    HALF_SOLID,
    HEAT,
    HEAT_HOLD,
    HEAT_LINK,
    HEAT_SHARE,
    HEAT_SUM,
    HEATED_AT,
    HELD,
    LANES,
    LATENT_HEAT,
    LENGTH,
    LINK,
    LINK_COLUMNS,
    LINK_FED,
    LINK_FLOW_AT,
    LIQUIDUS,
    MARKS,
    METAL_CONDUCTIVITY,
    MOULD_TEMPERATURE,
    MOVING,
    NONE,
    PARENT,
    RUNNING,
    SOLIDUS,
    SPECIFIC_HEAT,
    STATE,
    STOPPED,
    TEMPERATURE,
    WALL_RATE,
    WALL_WEIGHT,
    WET,
    WET_DRAG,
    WETTED_AT,
    of_width,
)
from pourcast.pour.cool import face_slowness, heat_loss, heat_taken
from pourcast.pour.elementary import whole_groups
from pourcast.pour.heat import Curve, temperature_of
from pourcast.pour.links import STALE
from pourcast.pour.model import CHOKE as CHOKED
from pourcast.pour.resist import thickened

_LEAST_LENGTH = 1e-7  # m; a body is never shorter, so that it has a mass
# Where the lanes of each number of a run begin.
_AGE, _WEIGHT, _RATE, _SLOWNESS = range(0, 4 * LANES, LANES)
_LEAST_GAP = 1.0  # J/kg; below it the slope of the curve is taken over this


@small_kernel
def cool_body(
    run: int,
    time: si.Second,
    parameters: si.Table,
    curve: Curve,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    slowness: si.Ratio,
) -> None:
    """Take the heat of the metal in one run on to a time: wall and feed.

    Parameters
    ----------
    run : int
    time : float [s]
        HEATED_AT is when it was last worked out.
    parameters : array [by column]
    curve : Curve
    fixed, moving : array [by column]
        FED is what has flowed in since; HELD what the run held then.
    marks : array of int, shape (runs, MARKS)
    slowness : float [-]
        Of its face in the middle of that time, from `pourcast.pour.cool.face_slowness`.
    """
    step = time - moving[run, HEATED_AT]
    if step > 0.0:
        parent = marks[run, PARENT]
        held = moving[run, HELD]
        now = max(moving[run, FRONT], _LEAST_LENGTH) * fixed[run, AREA]
        # Where a front was put back metal left, at the heat of the run.
        fed = max(moving[run, FED], now - held, 0.0)
        heat = moving[run, HEAT]
        loss = heat_loss(heat, slowness, fixed[run, COOLING], parameters[MOULD_TEMPERATURE], curve)
        taken = heat_taken(heat, loss * step, parameters[MOULD_TEMPERATURE], curve)
        lost = 0.5 * (held + now) * taken
        # The division waits for no other run; only what is fed in does.
        often = 1.0 / (held + fed)
        feed_heat = moving[parent, HEAT] if parent != NONE else parameters[CUP_HEAT]
        moving[run, HEAT] = (held * heat - lost) * often + fed * often * feed_heat
        moving[run, HELD] = now
        moving[run, FED] = 0.0
        moving[run, HEATED_AT] = time


@kernel
def conduct(
    active: si.Places,
    count: int,
    step: si.Second,
    parameters: si.Table,
    curve: Curve,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
) -> None:
    """Pass heat along the metal between the runs in play, for one step.

    Parameters
    ----------
    active : array of int, shape (runs,)
        The first ``count`` are the runs in play, each after its parent.
    count : int
    step : float [s]
    parameters : array [by column]
    curve : Curve
    fixed, moving : array [by column]
    marks : array of int, shape (runs, MARKS)
    """
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    of_width(marks, MARKS)
    often = parameters[DENSITY] / step
    conductivity = parameters[METAL_CONDUCTIVITY]
    for place in range(count):
        run = active[place]
        heat = moving[run, HEAT]
        hold = often * moving[run, HELD]
        moving[run, HEAT_HOLD] = hold
        moving[run, HEAT_SUM] = hold * heat
        temperature = temperature_of(heat, curve)
        moving[run, TEMPERATURE] = temperature
        parent = marks[run, PARENT]
        link = 0.0
        if parent != NONE and marks[run, STATE] != DEAD:
            gap = moving[parent, HEAT] - heat
            fall = moving[parent, TEMPERATURE] - temperature
            if abs(gap) < _LEAST_GAP:
                gap = _LEAST_GAP
                fall = temperature_of(heat + gap, curve) - temperature
            # 2 k (fall/gap) / (L/A + L_other/A_other), with one division.
            here = fixed[run, AREA] * fixed[run, AREA]
            across = fixed[parent, AREA]
            way = fixed[parent, LENGTH] * here + moving[run, HELD] * across
            link = 2.0 * conductivity * fall * across * here / (gap * way)
        moving[run, HEAT_LINK] = link
    for place in range(count - 1, -1, -1):
        run = active[place]
        link = moving[run, HEAT_LINK]
        hold = moving[run, HEAT_HOLD]
        moving[run, HEAT_SHARE] = 1.0 / (hold + link)
        if link > 0.0:
            parent = marks[run, PARENT]
            share = link * moving[run, HEAT_SHARE]
            moving[parent, HEAT_HOLD] += share * hold
            moving[parent, HEAT_SUM] += share * moving[run, HEAT_SUM]
    for place in range(count):
        run = active[place]
        link = moving[run, HEAT_LINK]
        if link > 0.0:
            moving[run, HEAT_SUM] += link * moving[marks[run, PARENT], HEAT]
        moving[run, HEAT] = moving[run, HEAT_SUM] * moving[run, HEAT_SHARE]


@kernel
def cool_behind(
    time: si.Second,
    step: si.Second,
    active: si.Places,
    counts: si.Integers,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    flows: si.Table,
    lanes: si.Table,
) -> None:
    """Take the heat of all metal in play on to a time, and close what has frozen.

    Parameters
    ----------
    time, step : float [s]
        Now, and since it was last done.
    active : array of int, shape (runs,)
    counts : array of int, shape (7,)
        Active runs, pockets, and fronts that run; brought up to date.
    parameters, fixed, moving, flows : array [by column]
        The friction of each link is to be worked out again, with the crystals as they are.
    marks : array of int, shape (runs, MARKS)
    lanes : array [by column], shape (LANE_ROOM,)
        Scratch.
    """
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    of_width(marks, MARKS)
    of_width(flows, LINK_COLUMNS)
    curve = Curve(
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )
    count = counts[0]
    for first in range(0, count, LANES):
        some = min(LANES, count - first)
        for lane in range(some):
            run = active[first + lane]
            # Of the middle of the time since it was last done.
            middle = 0.5 * (time + moving[run, HEATED_AT])
            lanes[_AGE + lane] = middle - moving[run, WETTED_AT]
            lanes[_WEIGHT + lane] = fixed[run, WALL_WEIGHT]
            lanes[_RATE + lane] = fixed[run, WALL_RATE]
        for lane in range(whole_groups(some)):
            lanes[_SLOWNESS + lane] = face_slowness(
                lanes[_AGE + lane], 1.0, lanes[_WEIGHT + lane], lanes[_RATE + lane]
            )
        for lane in range(some):
            run = active[first + lane]
            moving[run, FED] += flows[marks[run, LINK], LINK_FED]
            slowness = lanes[_SLOWNESS + lane]
            cool_body(run, time, parameters, curve, fixed, moving, marks, slowness)
    for link in range(counts[6]):
        flows[link, LINK_FED] = 0.0
        flows[link, LINK_FLOW_AT] = STALE
    conduct(active, count, step, parameters, curve, fixed, moving, marks)
    for place in range(count):
        run = active[place]
        parent = marks[run, PARENT]
        if parent != NONE and marks[parent, STATE] == DEAD:
            # The way here has closed: nothing more comes through.
            if marks[run, STATE] == RUNNING:
                counts[2] -= 1
            marks[run, STATE] = DEAD
            marks[run, STOPPED] = CHOKED
        elif marks[run, STATE] == WET:
            drag = fixed[run, DRAG] * fixed[run, LENGTH]
            moving[run, WET_DRAG] = thickened(drag, moving[run, HEAT], parameters[CHOKE], curve)
            if moving[run, HEAT] <= parameters[CHOKE_HEAT_STOP]:
                marks[run, STATE] = DEAD
                marks[run, STOPPED] = CHOKED
