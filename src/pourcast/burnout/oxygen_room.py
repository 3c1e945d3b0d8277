"""Room of the oxygen's way: how well does a block pass gas to the place where char lies?

Model.  Laplace's equation in the block in r and z: mole fraction 1 on the open faces, 0
on a cylinder on the axis that stands for the room of the matter, no flow through a
closed side.  The flow over diffusivity and difference is the shape factor F [m].

At first the cylinder has the mean radius of the matter and reaches from 0.15 of the
height below the face of the gate (the button) to 0.25 of the diameter above the far
end (the usual cover; practice disagrees).  Both are estimates.  Char that lies nearest
to the air burns first, so the room shrinks towards the middle of the block: where the
side is closed in length, with the share m of the char that is left; where it is open in
all measures, with m^(1/3).

Left out: the way along thin passages inside the room (hopeful for a piece of a few thin
parts); the open cup, which brings the air nearer (too slow); a shelf under the block.

Source: finite volumes on a grid that narrows towards the cylinder, solved row by row.
"""

import math
from functools import lru_cache

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import BlockCase
from pourcast.errors import require_positive

BUTTON_SHARE = 0.15  # of the height; estimate
COVER_SHARE = 0.25  # of the diameter over the far end; common practice, no source
ROOM_SHARES = (0.01, 0.05, 0.2, 0.5, 1.0)
"""Of the char that is left, at which the way to it is worked out; straight between."""

_LEAST_RADIUS = 0.02  # of the block's radius, of the room of the matter; convention
_MOST_RADIUS = 0.9
_COLUMNS, _ROWS = 16, (8, 16, 8)  # cells outside the room of the matter; above, beside, below


def rooms(block: BlockCase, matter_radius: si.Metre) -> list[tuple[si.Metre, si.Metre, si.Metre]]:
    """Return radius, top and bottom of the room of the char as it shrinks.

    Parameters
    ----------
    block : BlockCase
    matter_radius : float [m]
        At first; held between 0.02 and 0.9 of the block's radius.

    Returns
    -------
    list of tuple of float [m]
        For each of `ROOM_SHARES`; top and bottom as depth below the face of the gate.
    """
    low, high = _LEAST_RADIUS * block.radius, _MOST_RADIUS * block.radius
    inner = min(max(matter_radius, low), high)
    middle = 0.5 * block.height
    above = middle - BUTTON_SHARE * block.height
    below = middle - min(2.0 * COVER_SHARE * block.radius, 0.4 * block.height)
    found = []
    for share in ROOM_SHARES:
        along = share if block.wall == "solid" else share ** (1.0 / 3.0)
        across = 1.0 if block.wall == "solid" else along
        found.append((max(across * inner, low), middle - along * above, middle + along * below))
    return found


@lru_cache(maxsize=128)
def shape_factor(
    radius: si.Metre,
    height: si.Metre,
    inner: si.Metre,
    top: si.Metre,
    bottom: si.Metre,
    *,
    open_side: bool,
) -> si.Metre:
    """Return the flow to a cylinder on the axis of a block, over diffusivity and difference.

    Parameters
    ----------
    radius, height : float [m]
        Of the block.
    inner : float [m]
        Radius of the cylinder; less than ``radius``.
    top, bottom : float [m]
        Depth of its ends; 0 < top < bottom < height.
    open_side : bool
        Ends are open always.

    Returns
    -------
    float [m]
        Within 1 % of the same on a grid three times as fine.
    """
    require_positive("room between the matter and the wall", radius - inner, "m")
    require_positive("cover under the matter", height - bottom, "m")
    # Cells narrow towards the cylinder, where the field is steepest.
    around = inner * np.geomspace(1.0, radius / inner, _COLUMNS + 1)
    within = np.array([0.0, 0.5, 0.8, 1.0]) * inner
    across = np.concatenate([within[:-1], around])
    narrowing = 1.0 - np.linspace(1.0, 0.0, _ROWS[0] + 1) ** 2
    beside = 0.5 - 0.5 * np.cos(np.linspace(0.0, math.pi, _ROWS[1] + 1))
    down = np.concatenate(
        [
            top * narrowing,
            (top + (bottom - top) * beside)[1:],
            (height - (height - bottom) * narrowing[::-1])[1:],
        ]
    )
    return _flow(across, down, inner, top, bottom, open_side)


def _flow(
    across: si.Metres,
    down: si.Metres,
    inner: si.Metre,
    top: si.Metre,
    bottom: si.Metre,
    open_side: bool,
) -> si.Metre:
    """Return the flow of a unit of diffusivity and difference, by finite volumes [m]."""
    column, row = 0.5 * (across[1:] + across[:-1]), 0.5 * (down[1:] + down[:-1])
    ring, high = math.pi * np.diff(across**2), np.diff(down)
    taken = (row[:, None] > top) & (row[:, None] < bottom) & (column[None, :] < inner)
    # A taken cell holds its mole fraction, 0, up to its own face.
    beside = (across[1:-1] - column[:-1]) * ~taken[:, :-1]
    beside = beside + (column[1:] - across[1:-1]) * ~taken[:, 1:]
    sideways = 2.0 * math.pi * across[1:-1] * high[:, None] / np.where(beside > 0.0, beside, 1.0)
    under = (down[1:-1] - row[:-1])[:, None] * ~taken[:-1]
    under = under + (row[1:] - down[1:-1])[:, None] * ~taken[1:]
    downwards = ring / np.where(under > 0.0, under, 1.0)
    # Ways to the open faces, where the mole fraction is 1.
    face = np.zeros(taken.shape)
    face[0] += ring / (row[0] - down[0])
    face[-1] += ring / (down[-1] - row[-1])
    if open_side:
        face[:, -1] += 2.0 * math.pi * across[-1] * high / (across[-1] - column[-1])
    whole = face.copy()
    whole[:, :-1] += sideways
    whole[:, 1:] += sideways
    whole[:-1] += downwards
    whole[1:] += downwards
    field = _field(whole, sideways, downwards, face, taken)
    return float((face * (1.0 - field)).sum())


def _field(
    whole: si.Metres,
    sideways: si.Metres,
    downwards: si.Metres,
    face: si.Metres,
    taken: si.Booleans,
) -> si.Ratios:
    """Return the mole fraction in each cell, row after row: elimination by blocks."""
    rows, columns = taken.shape
    free = (~taken).astype(float)
    field = np.zeros((rows, columns))
    folded, pushed = np.zeros((columns, columns)), np.zeros(columns)
    kept = []
    for row in range(rows):
        to_side = sideways[row] * free[row, 1:] * free[row, :-1]
        own = np.diag(np.where(taken[row], 1.0, whole[row]))
        own -= np.diag(to_side, 1) + np.diag(to_side, -1)
        source = face[row] * free[row]
        if row > 0:
            up = downwards[row - 1] * free[row] * free[row - 1]
            own -= up[:, None] * folded
            source = source + up * pushed
        to_next = (
            downwards[row] * free[row] * free[row + 1] if row < rows - 1 else np.zeros(columns)
        )
        solved = np.linalg.solve(own, np.column_stack([np.diag(to_next), source]))
        folded, pushed = solved[:, :-1], solved[:, -1]
        kept.append((folded, pushed))
    field[-1] = kept[-1][1]
    for row in range(rows - 2, -1, -1):
        field[row] = kept[row][1] + kept[row][0] @ field[row + 1]
    return field
