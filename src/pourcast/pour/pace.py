"""Pace: which runs are still in play, and how long the next step may be.

A run is in play while its front runs or metal passes through it to one that
does.  The lists are made anew only after a front has arrived or stopped.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.behind import cool_body
from pourcast.pour.columns import (
    AREA,
    ENDS,
    FACES,
    FLOW,
    HALF_SOLID,
    LATENT_HEAT,
    LENGTH,
    LINK,
    LIQUIDUS,
    LISTED,
    LIVE,
    PARENT,
    PLACE,
    POCKET,
    RADIUS,
    RUNNING,
    SOLIDUS,
    SPECIFIC_HEAT,
    STATE,
)
from pourcast.pour.heat import Curve
from pourcast.pour.links import link_up

_STANDING = 5.0  # steps while nothing flows may be longer by this


@kernel
def keep_live(
    count: int,
    active: si.Integers,
    time: si.Second,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Integers,
) -> int:
    """Return how many runs are still in play, and close up the list of them.

    Parameters
    ----------
    count : int
    active : array of int, shape (runs,)
    time : float [s]
    parameters, fixed, moving : array [by column]
        The heat of those that leave is brought up to date.
    marks : array of int, shape (runs, MARKS)
    """
    curve = Curve(
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )
    for place in range(count):
        marks[active[place], LIVE] = 0
    for place in range(count - 1, -1, -1):
        run = active[place]
        if marks[run, STATE] == RUNNING:
            marks[run, LIVE] = 1
        if marks[run, LIVE] == 1 and marks[run, PARENT] >= 0:
            marks[marks[run, PARENT], LIVE] = 1
    kept = 0
    for place in range(count):
        run = active[place]
        if marks[run, LIVE] == 1:
            active[kept] = run
            kept += 1
        else:
            cool_body(run, time, parameters, curve, fixed, moving, marks)
    return kept


@kernel
def list_fronts(
    counts: si.Integers,
    active: si.Integers,
    fronts: si.Integers,
    ahead: si.Integers,
    fixed: si.Table,
    marks: si.Integers,
    pockets: si.Table,
    links: si.Integers,
) -> None:
    """List the fronts that run and the pockets ahead of them, each once.

    Parameters
    ----------
    counts : array of int, shape (7,)
        Active runs, pockets, fronts that run; then, filled, the length of both lists.
    active : array of int, shape (runs,)
    fronts, ahead : array of int, shape (runs,)
        Filled: runs, and rows of ``pockets``.
    fixed, pockets : array [by column]
    marks : array of int, shape (runs, MARKS)
    links : array of int, shape (runs, LINK_MARKS)
        PLACE is filled.
    """
    listed = 0
    for place in range(counts[0]):
        run = active[place]
        if marks[run, STATE] == RUNNING:
            fronts[listed] = run
            links[marks[run, LINK], PLACE] = listed
            listed += 1
            pockets[marks[run, POCKET], LISTED] = 0.0
    counts[3] = listed
    listed = 0
    for place in range(counts[3]):
        run = fronts[place]
        pocket = marks[run, POCKET]
        if pockets[pocket, LISTED] == 0.0:
            pockets[pocket, LISTED] = 1.0
            pockets[pocket, FACES] = pockets[pocket, ENDS]
            ahead[listed] = pocket
            listed += 1
        pockets[pocket, FACES] += 2.0 * math.pi * fixed[run, RADIUS]
    counts[4] = listed


@kernel
def list_anew(
    time: si.Second,
    counts: si.Integers,
    active: si.Integers,
    fronts: si.Integers,
    ahead: si.Integers,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Integers,
    pockets: si.Table,
    flows: si.Table,
    links: si.Integers,
) -> None:
    """Make the lists of runs, links, fronts and pockets anew.

    Parameters
    ----------
    time : float [s]
    counts, active, fronts, ahead : array of int
        As `list_fronts` takes them.
    parameters, fixed, moving, pockets, flows : array [by column]
    marks : array of int, shape (runs, MARKS)
    links : array of int, shape (runs, LINK_MARKS)
    """
    counts[0] = keep_live(counts[0], active, time, parameters, fixed, moving, marks)
    link_up(counts, active, fixed, moving, marks, flows, links)
    list_fronts(counts, active, fronts, ahead, fixed, marks, pockets, links)


@kernel
def longest_step(
    fronts: si.Integers,
    count: int,
    fixed: si.Table,
    moving: si.Table,
    limits: si.Table,
    time: si.Second,
    rising: bool,
) -> si.Second:
    """Return how long a step may be at the present flows [s].

    Parameters
    ----------
    fronts : array of int, shape (runs,)
    count : int
    fixed, moving : array [by column]
    limits : array [by column], shape (5,)
        Share of a segment, longest step in s, growth, least length in m, lengthening.
    time : float [s]
        Since the pour began.
    rising : bool
        True while metal comes into the cup: a front may be let in at any time.

    Returns
    -------
    float [s]
    """
    still = True
    longest: si.Second = limits[1] + limits[4] * time
    wanted = longest
    for place in range(count):
        run = fronts[place]
        flow = moving[run, FLOW]
        if flow > 0.0:
            still = False
            room = limits[0] * max(fixed[run, LENGTH], limits[3]) * fixed[run, AREA]
            # The test spares a division where the front is slow.
            if room < wanted * flow:
                wanted = room / flow
    if still:
        return longest if rising else _STANDING * longest
    return wanted
