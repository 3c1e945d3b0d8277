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
    BODY,
    COUNTED,
    ENDS,
    FACES,
    FED,
    FIXED,
    FLOW,
    FRONT,
    HALF_SOLID,
    HEATED_AT,
    INERTIA,
    INLET,
    LATENT_HEAT,
    LENGTH,
    LINK,
    LINK_CALM,
    LINK_COLUMNS,
    LINK_FED,
    LINK_FLOW,
    LINK_FLOW_AT,
    LINK_INERTIA,
    LINK_INLET,
    LINK_MARKS,
    LIQUIDUS,
    LISTED,
    MARKS,
    MOVING,
    NEXT,
    NONE,
    NOT_KNOWN,
    ONWARD,
    PARENT,
    PLACE,
    POCKET,
    POCKET_COLUMNS,
    RADIUS,
    RUNNING,
    SOLIDUS,
    SPECIFIC_HEAT,
    SPREAD_AT,
    STATE,
    TAIL,
    TAPER,
    UPSTREAM,
    WALL_RATE,
    WALL_WEIGHT,
    WETTED_AT,
    of_width,
)
from pourcast.pour.cool import face_slowness
from pourcast.pour.heat import Curve
from pourcast.pour.links import STALE, add_full

_ONWARD = 0.5  # of what lies just beyond, that may fill in the step in which metal comes there
_NARROWING = 0.2  # of the bore of a taper, that a front may cross in a step; see docs/filling.md
_STANDING = 5.0  # steps while nothing flows may be longer by this
_CREEP = 0.4  # of what each front may go in a step: less is creeping
_CREEPING = 2.0  # steps while all fronts creep may be longer by this
_FARTHEST = 12e-3  # m, that a front may go in a step once all is poured


@kernel
def list_anew(
    time: si.Second,
    counts: si.Integers,
    active: si.Places,
    fronts: si.Places,
    ahead: si.Places,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    pockets: si.Table,
    flows: si.Table,
    links: si.Places,
) -> None:
    """Make the lists of runs, links, fronts and pockets anew; flows and inlet pressures are kept.

    Parameters
    ----------
    time : float [s]
    counts : array of int, shape (7,)
        Active runs, pockets, fronts that run; filled: active runs, the length of the lists
        of fronts and of pockets (3 and 4), and the number of links (6).
    active : array of int, shape (runs,)
        Runs in play, each after its parent.
    fronts, ahead : array of int, shape (runs,)
        Filled: runs, and rows of ``pockets``, each once.
    parameters, fixed, moving, pockets, flows : array [by column]
        The heat of runs that are no longer in play is brought up to date.
    marks : array of int, shape (runs, MARKS)
    links : array of int, shape (runs, LINK_MARKS)
    """
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    of_width(marks, MARKS)
    of_width(pockets, POCKET_COLUMNS)
    of_width(flows, LINK_COLUMNS)
    of_width(links, LINK_MARKS)
    curve = Curve(
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )
    for place in range(counts[0] - 1, -1, -1):
        run = active[place]
        onward = marks[run, COUNTED]
        marks[run, COUNTED] = 0
        marks[run, ONWARD] = onward
        running = marks[run, STATE] == RUNNING
        parent = marks[run, PARENT]
        if parent != NONE and (running or onward > 0):
            marks[parent, COUNTED] += 1
        link = marks[run, LINK]
        if link != NONE:
            if not running:
                moving[run, FLOW] = flows[link, LINK_FLOW]
            moving[run, INLET] = flows[link, LINK_INLET]
            moving[run, FED] += flows[link, LINK_FED]
    kept = 0
    made = 0
    listed = 0
    for place in range(counts[0]):
        run = active[place]
        running = marks[run, STATE] == RUNNING
        if not running and marks[run, ONWARD] == 0:
            age = 0.5 * (time + moving[run, HEATED_AT]) - moving[run, WETTED_AT]
            slowness = face_slowness(age, 1.0, fixed[run, WALL_WEIGHT], fixed[run, WALL_RATE])
            cool_body(run, time, parameters, curve, fixed, moving, marks, slowness)
            continue
        active[kept] = run
        kept += 1
        parent = marks[run, PARENT]
        if parent != NONE and marks[parent, ONWARD] == 1:
            link = marks[parent, LINK]
            if not running:
                held = flows[link, LINK_INERTIA]
                total = held + moving[run, INERTIA]
                change = moving[run, FLOW] - flows[link, LINK_FLOW]
                flows[link, LINK_FLOW] += change * (1.0 - held / total)
        else:
            link = made
            made += 1
            flows[link, :] = 0.0
            flows[link, LINK_FLOW] = moving[run, FLOW]
            flows[link, LINK_INLET] = moving[run, INLET]
            flows[link, LINK_CALM] = 1e300
            flows[link, LINK_FLOW_AT] = STALE
            links[link, UPSTREAM] = NONE if parent == NONE else marks[parent, LINK]
        marks[run, LINK] = link
        links[link, TAIL] = run
        if running:
            fronts[listed] = run
            links[link, PLACE] = listed
            listed += 1
            pockets[marks[run, POCKET], LISTED] = 0.0
        else:
            add_full(link, run, fixed, moving, flows)
    counts[0] = kept
    counts[6] = made
    counts[3] = listed
    counts[4] = 0
    for place in range(listed):
        run = fronts[place]
        pocket = marks[run, POCKET]
        if pockets[pocket, LISTED] == 0.0:
            pockets[pocket, FACES] = pockets[pocket, ENDS]
            pockets[pocket, SPREAD_AT] = NOT_KNOWN
            ahead[counts[4]] = pocket
            counts[4] += 1
            pockets[pocket, LISTED] = counts[4]
        pockets[pocket, FACES] += 2.0 * math.pi * fixed[run, RADIUS]


@kernel
def longest_step(
    fronts: si.Places,
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
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    still = True
    longest: si.Second = limits[1] + limits[4] * time
    # Metal that only creeps on is found as well in longer steps, once all is poured.
    wanted = longest if rising else _CREEPING / _CREEP * longest
    for place in range(count):
        run = fronts[place]
        flow = moving[run, FLOW]
        if flow > 0.0:
            still = False
            reach = limits[0] * max(fixed[run, LENGTH], limits[3])
            # What holds a front goes with the bore, and is kept to the end of the step.
            if abs(fixed[run, TAPER]) * reach > _NARROWING * fixed[run, LENGTH]:
                reach = _NARROWING * fixed[run, LENGTH] / abs(fixed[run, TAPER])
            if not rising:
                reach = min(reach, _FARTHEST)
            room = reach * fixed[run, AREA]
            # A flow that is kept to the end of the step would fill what is narrower beyond.
            left = fixed[run, BODY] - moving[run, FRONT] * fixed[run, AREA]
            room = min(room, left + _ONWARD * fixed[run, NEXT])
            # The test spares a division where the front is slow.
            if room < wanted * flow:
                wanted = room / flow
    if still:
        return longest if rising else _STANDING * longest
    return wanted if rising else max(min(wanted, longest), _CREEP * wanted)
