"""Start: a front at the mouth of a run, with what it brings from the run before."""

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.columns import (
    AREA_START,
    BEHIND,
    DENSITY,
    FED,
    FEEDER,
    FLOW,
    FRONT,
    HEAT,
    HEATED_AT,
    HELD,
    INLET,
    LENGTH,
    LINK,
    MOUTH,
    NONE,
    OPEN,
    PARENT,
    POCKET,
    PUSH,
    RUNNING,
    STATE,
    STOPPED,
    TAPER,
    TIP_AGE,
    TIP_HEAT,
    WEIGHT,
    WETTED_AT,
)
from pourcast.pour.model import FULL
from pourcast.pour.resist import entry_pressure

# Rise of the threshold pressure from which a joint is a narrow mouth: by rounding
# like sections differ, and a taper that is written in steps is no mouth (estimate).
_NARROWER = 0.1


@kernel
def start_front(
    run: int,
    parent: int,
    pocket: int,
    time: si.Second,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    parameters: si.Table,
) -> bool:
    """Start a front at the mouth of a run; return whether the rush of the metal carries it in.

    Parameters
    ----------
    run, parent, pocket : int
    time : float [s]
    fixed, moving : array [by column]
    marks : array of int, shape (runs, MARKS)
    parameters : array [by column]

    Returns
    -------
    bool
        False where the surface holds the metal back at a narrower mouth: the
        velocity head is less than the rise of the threshold pressure.
    """
    marks[run, STATE] = RUNNING
    marks[run, LINK] = NONE
    marks[run, PARENT] = parent
    marks[run, POCKET] = pocket
    marks[run, OPEN] = 1
    marks[run, STOPPED] = FULL
    moving[run, FRONT] = 0.0
    moving[run, FLOW] = 0.0
    moving[run, TIP_HEAT] = moving[parent, TIP_HEAT]
    moving[run, HEAT] = moving[parent, TIP_HEAT]
    moving[run, TIP_AGE] = moving[parent, TIP_AGE]
    moving[run, WETTED_AT] = time
    moving[run, HEATED_AT] = time
    moving[run, HELD] = 0.0
    moving[run, FED] = 0.0
    moving[run, INLET] = moving[parent, INLET] + fixed[parent, WEIGHT]
    speed = moving[parent, FLOW] / (fixed[parent, AREA_START] * (1.0 + fixed[parent, TAPER]) ** 2)
    entry = entry_pressure(fixed, run, 0.0)
    moving[run, PUSH] = -entry
    before = entry_pressure(fixed, parent, fixed[parent, LENGTH])
    rise = entry - before
    if rise > _NARROWER * before:
        marks[run, MOUTH] = 1
        marks[run, FEEDER] = parent
        moving[run, BEHIND] = 0.0
    else:
        marks[run, MOUTH] = marks[parent, MOUTH]
        marks[run, FEEDER] = marks[parent, FEEDER]
        moving[run, BEHIND] = moving[parent, BEHIND] + fixed[parent, LENGTH]
    return bool(0.5 * parameters[DENSITY] * speed * speed >= rise)
