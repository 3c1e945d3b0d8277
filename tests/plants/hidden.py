"""Hidden: how much of each member of a plant stands before or behind nothing else in a photograph?

The members are painted one by one, as `tests.plants.pictures` paints all of them.  A place of
a middle line is clear where no other member covers it: there a silhouette has the edges of this
member and of no other.

Uses `tests.plants.shells`, and the painting of `tests.plants.pictures`.
"""

import numpy as np

from pourcast import units as si
from pourcast.piece.model import Piece
from tests.plants.pictures import fill
from tests.plants.shells import member_shells
from tests.plants.truth import members

CLEAR = 0.5
"""Share of its line in a picture, from which a member is to be seen; our own choice."""

_ROOM = 2.0  # mm about the plant


def clear_shares(
    piece: Piece, turn_deg: float, *, mm_per_pixel: float = 0.07, camera_mm: float = 1000.0
) -> si.Ratios:
    """Return the share of the line of each member, in a picture, that nothing else covers."""
    shells = member_shells(piece)
    angle = np.radians(turn_deg)
    c, s = np.cos(angle), np.sin(angle)
    middle = 0.5 * max(float(shell.vertices[:, 2].max()) for shell in shells)

    def seen(places: si.Ratios) -> si.Ratios:
        x, y, z = places.T
        x, y = c * x + s * y, -s * x + c * y
        near = camera_mm / (camera_mm + y)
        return np.stack([x * near, middle + (z - middle) * near], axis=1)

    flat = [seen(np.asarray(shell.vertices)) for shell in shells]
    low = np.min([each.min(axis=0) for each in flat], axis=0) - _ROOM
    high = np.max([each.max(axis=0) for each in flat], axis=0) + _ROOM
    columns, rows = np.ceil((high - low) / mm_per_pixel).astype(int)
    painted = []
    for shell, places in zip(shells, flat, strict=True):
        one = np.ones((rows, columns))
        corners = ((places - low) / mm_per_pixel)[shell.faces]
        fill(one, corners, np.zeros(len(shell.faces)))
        painted.append(one == 0.0)
    count = np.sum(painted, axis=0)
    shares = []
    for member, own in zip(members(piece), painted, strict=True):
        column, row = ((seen(member.line) - low) / mm_per_pixel).astype(int).T
        alone = (count[row, column] == own[row, column]).astype(np.float64)
        steps = np.hypot(*np.diff(seen(member.line), axis=0).T)
        shares.append(float((steps * 0.5 * (alone[1:] + alone[:-1])).sum() / steps.sum()))
    return np.array(shares)
