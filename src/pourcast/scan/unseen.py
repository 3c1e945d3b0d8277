"""Unseen: how far the sections of a part may be off for what the scan did not show.

Where a hole was closed nobody saw the wall, and a part that the cells hardly hold has no
sure middle.  With u the share of the walls of a part of which one side or both lie in a
closed hole, its sizes are taken to be off nine times of ten by at most

    u / 3                                     rod, blade                       (1)
    (u - sin(2 π u) / (2 π)) / 2              rod                              (2)
    u                                         lump                             (3)

(1): a part half as thick at one end as at the other, of which one end is not seen: the mean
of the rest is off by u (1 - 1/2) / (1 + 1/2).  (2): half of the round section that a flat fan
over the share u of its girth cuts off.  (3): a cap with the share u of the surface of a ball
is as high as the share u of its diameter (Archimedes).  Of a rod the larger of (1) and (2)
counts.  To that comes

    0.3 (c / d - 1)    rod of a diameter d under the side c of a cell          (4)
    0.07               blade, in a scan read by the winding of its surface     (5)

Both are estimates, from plants of our own with seeds under 50: clean ones in cells of 1 and
1.5 mm, and torn ones, whose blades had up to 14 % less or more volume, which is the square
of the size.  All of it goes beside what a caliper would be off, by squares.

Left out: parts that a hole has taken away as a whole, and how far a length is off.
"""

import math

from pourcast import units as si
from pourcast.piece.model import NINE_OF_TEN, Shape

CALIPER = 0.035
"""One standard deviation of a measure by caliper on soft matter, over it: the root of the mean
square of what the forecast draws for it, 1 to 6 %."""

TOLD = 0.06
"""The most of a caliper; a part that may be off by more is named to the caster."""

_LEAST = 0.01  # the least of a caliper; less is held by what is drawn for it
_UNDER_CELL = 0.3  # of equation (4)
_BY_WINDING = 0.07  # equation (5)
_MOST = 0.5  # more says no more; estimate


def section_error(
    shape: Shape, unseen: si.Ratio, across: si.Metre, cell: si.Metre, *, by_winding: bool
) -> si.Ratio | None:
    """Return how far width and thickness of a part may be off; None: as of a caliper.

    Parameters
    ----------
    shape : {"rod", "blade", "lump"}
    unseen : float [-]
        Share of its walls of which one side or both lie in a closed hole; 0 to 1.
    across : float [m]
        Its least diameter or thickness.
    cell : float [m]
        Side of a cell of the grid.
    by_winding : bool
        True if the scan was so torn that the winding of its surface was taken.

    Returns
    -------
    float or None [-]
        One standard deviation, over them.
    """
    hole = unseen if shape == "lump" else unseen / 3.0
    grid = _BY_WINDING if shape == "blade" and by_winding else 0.0
    if shape == "rod":
        cut_off = 0.5 * (unseen - math.sin(2.0 * math.pi * unseen) / (2.0 * math.pi))
        hole = max(hole, cut_off)
        grid = _UNDER_CELL * max(0.0, cell / across - 1.0)
    own = math.hypot(hole, grid) / NINE_OF_TEN
    return min(math.hypot(CALIPER, own), _MOST) if own > _LEAST else None
