"""Fork: the links beyond a fork that a front has come to, of a piece without loops.

The link of the run that leads there ends at the fork, and each way on begins one of its
own, with its front and its pocket in the lists.  So the lists need not be made anew,
`pourcast.pour.pace.list_anew`, until a front stops.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.columns import (
    ENDS,
    FACES,
    INLET,
    LINK,
    LINK_CALM,
    LINK_FLOW_AT,
    LINK_INLET,
    LISTED,
    PLACE,
    POCKET,
    RADIUS,
    TAIL,
    UPSTREAM,
)
from pourcast.pour.links import STALE


@kernel
def begin_link(
    run: int,
    parent: int,
    first: bool,
    old_pocket: int,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    pockets: si.Table,
    counts: si.Integers,
    fronts: si.Places,
    ahead: si.Places,
    flows: si.Table,
    links: si.Places,
) -> None:
    """Enter one way on from a fork into the lists of links, fronts and pockets.

    Parameters
    ----------
    run : int
        Its front and pocket have begun.
    parent : int
        Run that led to the fork.
    first : bool
        The first way takes the places of front and pocket before the fork.
    old_pocket : int
        Of the run that led to the fork.
    fixed, moving, pockets, flows : array [by column]
    marks : array of int, shape (runs, MARKS)
    counts, fronts, ahead : array of int
        As `pourcast.pour.pace.list_anew` fills them; brought up to date.
    links : array of int, shape (runs, LINK_MARKS)
    """
    before = marks[parent, LINK]
    pocket = marks[run, POCKET]
    place = links[before, PLACE]
    listed = int(pockets[old_pocket, LISTED])
    if not first:
        place = counts[3]
        counts[3] += 1
        counts[4] += 1
        listed = counts[4]
    fronts[place] = run
    ahead[listed - 1] = pocket
    pockets[pocket, LISTED] = listed
    pockets[pocket, FACES] = pockets[pocket, ENDS] + 2.0 * math.pi * fixed[run, RADIUS]
    link = counts[6]
    counts[6] += 1
    flows[link, :] = 0.0
    flows[link, LINK_INLET] = moving[run, INLET]
    flows[link, LINK_CALM] = 1e300
    flows[link, LINK_FLOW_AT] = STALE
    links[link, UPSTREAM] = before
    links[link, TAIL] = run
    links[link, PLACE] = place
    marks[run, LINK] = link
