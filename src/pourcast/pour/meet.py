"""Meet: two fronts in one passage, where the piece has loops.

A thread of wax from leaf to leaf, a second feeder or two leaves that touch
make a loop.  The wet part stays a tree until two fronts come together in a
segment; there it is cut, and nothing flows across.  If both fronts are colder
than the liquidus, or one is frozen, the streams do not join: a cold shut.

Left out: pressure that a full loop passes on (errs to the side of short parts).
The rule for a cold shut is an estimate.
"""

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.columns import (
    DEAD,
    DRY,
    FLOW,
    FRONT,
    FULL_AT,
    LENGTH,
    OPEN,
    RUNNING,
    STATE,
    STOPPED,
    TIP_HEAT,
    WET,
)
from pourcast.pour.model import FULL

COLD_SHUT = 2
"""Written to OPEN of a run whose front met another and did not join."""


@kernel
def opposite_of(run: int, segments: int) -> int:
    """Return the run that takes the same segment the other way.

    Parameters
    ----------
    run, segments : int
    """
    return run + segments if run < segments else run - segments


@kernel
def meets(run: int, segments: int, marks: si.Places) -> bool:
    """Return whether another front has come into the segment of a run.

    Parameters
    ----------
    run, segments : int
    marks : array of int, shape (runs, MARKS)
    """
    looped = marks.shape[0] > segments
    return looped and bool(marks[opposite_of(run, segments), STATE] != DRY)


@kernel
def room_ahead(
    run: int, segments: int, fixed: si.Table, moving: si.Table, marks: si.Places
) -> si.Metre:
    """Return how far a front can still go in its segment [m].

    Parameters
    ----------
    run, segments : int
    fixed, moving : array [by column]
    marks : array of int, shape (runs, MARKS)

    Returns
    -------
    float [m]
    """
    room: si.Metre = fixed[run, LENGTH] - moving[run, FRONT]
    if meets(run, segments, marks):
        room -= moving[opposite_of(run, segments), FRONT]
    return room


@kernel
def meet(
    run: int,
    segments: int,
    time: si.Second,
    moving: si.Table,
    marks: si.Places,
    counts: si.Integers,
) -> None:
    """Close a segment in which two fronts have come together.

    Parameters
    ----------
    run, segments : int
    time : float [s]
    moving : array [by column]
    marks : array of int, shape (runs, MARKS)
    counts : array of int, shape (7,)
        Active runs, pockets, and fronts that run; brought up to date.
    """
    other = opposite_of(run, segments)
    frozen = marks[other, STATE] == DEAD
    cold = moving[run, TIP_HEAT] < 0.0 and moving[other, TIP_HEAT] < 0.0
    for front in (run, other):
        if marks[front, STATE] == RUNNING:
            marks[front, STATE] = WET
            moving[front, FULL_AT] = time
            counts[2] -= 1
        marks[front, STOPPED] = FULL
        moving[front, FLOW] = 0.0
        marks[front, OPEN] = COLD_SHUT if cold or frozen else 1
