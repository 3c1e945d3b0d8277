"""Air traps: where does air stay under the original while the flask is filled?

The flask is filled with the button down, so the piece stands up: the network
turned over.  A face of a blade whose normal n points down by less than 15°
from straight down is near level, and a bubble under it has nowhere to go,

    |n · up| > cos 15°                                                       (1)

A lean of the flask by θ towards any side turns "up"; the least θ, in steps of
5° up to 30°, that leaves under a tenth of the area near level is the advice.

Members of a blade part that stand round one place, three or more, with their
mean direction more than 15° under level, are a bell: a hollow that is open
downwards.

Left out: rods and lumps, round which a bubble finds its way once the slurry gives;
curls and folds of a leaf; hair; that a rising surface may lap over an
edge and shut air in; that the vacuum takes out nearly all of it.

Source: geometry.  15° and 10 to 30° of lean: common practice, no source.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.errors import require_positive
from pourcast.mould.model import AirTraps, PartTrap
from pourcast.mould.places import frames
from pourcast.piece.model import RECTANGLE, Network, first_segments

NEAR_LEVEL = math.radians(15.0)
"""Undersides nearer to level than this hold bubbles; common practice, no source."""

_LEANS = np.radians(np.arange(5.0, 31.0, 5.0))
_SIDES = np.radians(np.arange(0.0, 360.0, 22.5))
_FREED = 0.1  # of the area at no lean
_WORTH = 1e-6  # m², less is not spoken of (estimate)


def air_traps(network: Network, bubble: si.Metre) -> AirTraps:
    """Return where air stays, and which lean of the flask would free it.

    Parameters
    ----------
    network : Network
    bubble : float [m]
        Largest bubble that the yield stress holds; > 0.

    Returns
    -------
    AirTraps
    """
    require_positive("bubble", bubble, "m")
    frame = frames(network)
    part = network.member_part[network.member]
    parts = len(network.part_names)
    up = np.array([[0.0, 0.0, -1.0]])
    level = _level_area(network, frame, up)[0]
    by_part = np.bincount(part, weights=level, minlength=parts)
    surface = np.bincount(part, weights=_surface(network), minlength=parts)
    bells = _bells(network, frame)
    total = float(level.sum())
    tilt, left = _freeing(network, frame, total)
    return AirTraps(
        parts=tuple(
            PartTrap(
                name=name,
                area=float(by_part[i]),
                share=float(by_part[i] / surface[i]),
                bell=bells[i],
            )
            for i, name in enumerate(network.part_names)
        ),
        area=total,
        tilt=tilt,
        tilt_area=left,
        bubble=bubble,
    )


def _freeing(
    network: Network, frame: si.Ratios, total: si.SquareMetre
) -> tuple[si.Radian | None, si.SquareMetre]:
    """Return the least lean that frees the undersides, and the area near level at it."""
    if total < _WORTH:
        return 0.0, total
    best = total
    for lean in _LEANS:
        up = np.column_stack(
            [
                np.sin(lean) * np.cos(_SIDES),
                np.sin(lean) * np.sin(_SIDES),
                np.full(_SIDES.size, -np.cos(lean)),
            ]
        )
        left = float(_level_area(network, frame, up).sum(axis=1).min())
        if left < _FREED * total:
            return float(lean), left
        best = min(best, left)
    return None, best


def _level_area(network: Network, frame: si.Ratios, up: si.Ratios) -> si.SquareMetres:
    """Return the area of each segment that faces down near level, shape (ups, segments)."""
    broad = network.length * network.width.mean(axis=1) * (network.section == RECTANGLE)
    return np.asarray(broad * (np.abs(up @ frame[:, 2].T) > math.cos(NEAR_LEVEL)))


def _surface(network: Network) -> si.SquareMetres:
    both = (network.width + network.thickness).mean(axis=1)
    flat = network.section == RECTANGLE
    return np.asarray(np.where(flat, 2.0, math.pi / 2.0) * both * network.length)


def _bells(network: Network, frame: si.Ratios) -> list[bool]:
    """Return for each part whether its members stand round a hollow that is open downwards."""
    first = first_segments(network)[:-1]
    found = []
    for part in range(len(network.part_names)):
        heads = first[network.member_part == part]
        bell = False
        if network.section[heads[0]] == RECTANGLE:
            for node in np.unique(network.start[heads]):
                ring = heads[network.start[heads] == node]
                mean = frame[ring, 0].mean(axis=0)
                size = float(np.sqrt((mean**2).sum()))
                opens = math.sin(NEAR_LEVEL)
                # The z axis of the network points down while the flask is filled.
                bell |= ring.size >= 3 and size > opens and mean[2] > opens * size
        found.append(bool(bell))
    return found
