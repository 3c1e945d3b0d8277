"""Hold: until when the vacuum must draw, so that nothing runs back.

Metal stands in a thin passage against the push of its own surface.  Where that push
is more than the head of metal alone can bear, only the vacuum keeps it there; if
it stops before the passage closes, the passage empties back towards the cup.

Model: the entry pressure of the pour, girth over area times -γ cos θ times the film,
against ρ g times the height from the metal in the cup to the middle of the segment.

Left out: the skin of solid metal that holds a passage before it closes, so the time
errs to the long side.

Source: Washburn (1921), Proc. Natl. Acad. Sci. 7, 115, for the push of the surface.
"""

import numpy as np

from pourcast import units as si
from pourcast.freeze.bodies import area, girth
from pourcast.freeze.model import FreezeResult
from pourcast.freeze.rings import cup_level
from pourcast.piece.model import Network
from pourcast.pour.model import PourCase, PourResult


def only_by_vacuum(network: Network, pour: PourCase, result: PourResult) -> si.Booleans:
    """Return which segments would run back if the vacuum stopped while they are liquid.

    Parameters
    ----------
    network : Network
    pour : PourCase
    result : PourResult

    Returns
    -------
    array of bool, shape (draws, segments)
        False where there is no metal or no vacuum.
    """
    metal, stream = pour.metal, pour.stream
    width, thickness = network.width.mean(axis=1), network.thickness.mean(axis=1)
    slim = girth(network.section, width, thickness) / area(network.section, width, thickness)
    surface = -metal.surface_tension * np.cos(metal.contact_angle) * metal.film_factor
    member = network.member
    push = surface[:, None] * slim / pour.section_scale[:, member] * pour.entry_factor[:, member]
    level = np.array(
        [
            cup_level(
                volume, 0.5 * stream.gate_diameter, 0.5 * stream.cup_diameter, stream.cup_height
            )
            for volume in result.metal_left.tolist()
        ]
    )
    depth = -0.5 * (network.start_position[:, 2] + network.end_position[:, 2])
    head = metal.density[:, None] * si.GRAVITY * (level[:, None] + depth)
    there = (result.filled > 0.0) & (pour.block.vacuum > 0.0)[:, None]
    return np.asarray(there & (push > head))


def hold_until(
    network: Network, pour: PourCase, result: PourResult, freezing: FreezeResult
) -> si.Seconds:
    """Return when the last segment that only the vacuum holds has closed [s].

    Parameters
    ----------
    network : Network
    pour : PourCase
    result : PourResult
    freezing : FreezeResult

    Returns
    -------
    array [s], shape (draws,)
        From the start of the pour; 0 where the vacuum holds nothing.
    """
    held = only_by_vacuum(network, pour, result)
    times = np.where(held, np.nan_to_num(freezing.feed_stop_time, nan=0.0), 0.0)
    return np.asarray(times.max(axis=1))
