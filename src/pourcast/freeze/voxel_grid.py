"""Grid: which cells of the block are metal, and how far each is from the metal's surface.

The cells are cubes; z runs fastest.  The gate lies on the faces between two layers,
the axis of the flask on the edges between four columns.  A part's cells are those
nearer to its surface than a level c,

    distance(cell) <= c,   c so that their number comes nearest to the true volume   (1)

part by part, each after its parent, among the cells that are not metal yet.  Button
and block are treated alike.  Without (1) a rod of three cells holds up to a fifth too
much or too little, and freezes that much late or early.

The direction n of the surface, on which the heat transfer between metal and mould
depends, comes from the same distances: at the face between the cells i and j

    n · e = (distance_j - distance_i) / side                                  (2)

A part thinner than three cells has none of its own.  The cells within one side of its
surface are hosts: they are taken from the mould and given to its stack.

Left out: the thickness of the button's meniscus; a tilt of the button.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_positive
from pourcast.freeze.stacks_cut import Rods, cut_rods
from pourcast.freeze.voxel_distance import FAR, nearest_passage
from pourcast.freeze.voxel_model import VoxelBlock
from pourcast.freeze.voxel_passages import Passages, button_row, passages_of
from pourcast.freeze.voxel_types import Kinds, MetresSingle
from pourcast.piece.model import Button, Network

OUTSIDE, MOULD, METAL, HOST = 0, 1, 2, 3
"""Kinds of cells."""

BUTTON = -1
"""Owner of the metal of the button."""

HOST_REACH = 1.0  # cells beyond the surface of a thin part that its stack takes
_SEEN = 3.0  # cells beyond the surface up to which distances are worked out
_MOST_LEVEL = 0.7  # cells


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """The block in cells, one layer of `OUTSIDE` all round.

    Parameters
    ----------
    voxel : float [m]
    origin : array [m], shape (3,)
        Middle of the cell (0, 0, 0).
    kind : array of int, shape (nx, ny, nz)
    owner : array of int, shape (nx, ny, nz)
        Of metal: the segment, or `BUTTON`; of a host: the stack.
    distance : array [m], shape (nx, ny, nz)
        To the surface of the metal cells, below 0 inside.
    thin_distance : array [m], shape (nx, ny, nz)
        To the surface of the nearest thin part.
    passages : Passages
    rods : Rods
        The thin parts in lengths, one a stack.
    """

    voxel: si.Metre
    origin: si.Metres
    kind: Kinds
    owner: si.Integers
    distance: MetresSingle
    thin_distance: MetresSingle
    passages: Passages
    rods: Rods


def build_grid(
    network: Network,
    button: Button,
    block: VoxelBlock,
    voxel: si.Metre,
    filled: si.Ratios | None = None,
) -> Grid:
    """Return the block in cells.

    Parameters
    ----------
    network : Network
    button : Button
    block : VoxelBlock
    voxel : float [m]
    filled : array or None [-], shape (segments,)
        Share of each segment that metal reached.

    Returns
    -------
    Grid

    Raises
    ------
    InputError
        If a measure is not above 0 or the block does not hold the piece.
    """
    require_positive("voxel", voxel, "m")
    require_positive("block radius", block.radius, "m")
    require_positive("block top", block.top, "m")
    require_positive("depth of the block below the gate", -block.bottom, "m")
    require_holds(network, button, block)
    passages = passages_of(network, voxel, filled)
    origin, kind = _empty_block(block, voxel)
    owner = np.full(kind.shape, BUTTON, dtype=np.int64)
    distance = np.full(kind.shape, FAR, dtype=np.float32)
    scratch = np.empty(kind.shape, dtype=np.float32)
    found = np.empty(kind.shape, dtype=np.int64)
    row, volume = button_row(button, voxel)
    jobs = [(row, np.array([BUTTON]), volume)]
    for part in range(len(network.part_names)):
        mine = np.flatnonzero((passages.part == part) & ~passages.thin & passages.present)
        if mine.size:
            jobs.append((passages.rows[mine], mine, float(passages.volume[mine].sum())))
    for rows, names, volume in jobs:
        scratch.fill(FAR)
        nearest_passage(rows, 0, rows.shape[0], origin, voxel, 1.5 * voxel, scratch, found)
        level = _level(scratch[(kind == MOULD) & (scratch < voxel)], volume / voxel**3, voxel)
        new = (kind == MOULD) & (scratch <= level)
        kind[new] = METAL
        owner[new] = names[found[new]]
        np.minimum(distance, scratch - np.float32(level), out=distance)
    rods = cut_rods(network, passages, voxel)
    scratch.fill(FAR)
    nearest_passage(rods.rows, 0, rods.rows.shape[0], origin, voxel, _SEEN * voxel, scratch, found)
    host = (kind == MOULD) & (scratch <= HOST_REACH * voxel)
    kind[host] = HOST
    owner[host] = rods.stack[found[host]]
    return Grid(
        voxel=voxel,
        origin=origin,
        kind=kind,
        owner=owner,
        distance=distance,
        thin_distance=scratch,
        passages=passages,
        rods=rods,
    )


def require_holds(network: Network, button: Button, block: VoxelBlock) -> None:
    """Raise `InputError` unless the block holds the piece and the button.

    Parameters
    ----------
    network : Network
    button : Button
    block : VoxelBlock
    """
    ends = np.concatenate([network.start_position, network.end_position])
    reach = float(np.hypot(ends[:, 0], ends[:, 1]).max(initial=button.diameter / 2))
    if reach >= block.radius:
        raise InputError(
            "block radius", f"{block.radius:g}", "m", f"over the reach of the piece, {reach:g} m"
        )
    highest = float(ends[:, 2].max(initial=0.0))
    if highest > block.top:
        raise InputError("block top", f"{block.top:g}", "m", f"at least as high as {highest:g} m")
    lowest = float(ends[:, 2].min(initial=0.0))
    if lowest <= block.bottom:
        raise InputError("block bottom", f"{block.bottom:g}", "m", f"below the piece, {lowest:g} m")


def _empty_block(block: VoxelBlock, voxel: si.Metre) -> tuple[si.Metres, Kinds]:
    half = int(np.ceil(block.radius / voxel))
    below, above = max(1, round(-block.bottom / voxel)), max(1, round(block.top / voxel))
    side = 2 * half
    middle = (np.arange(side) - half + 0.5) * voxel
    away = np.hypot(middle[:, None], middle[None, :])
    level = _level(
        (away - block.radius).ravel(), np.pi * (block.radius / voxel) ** 2, voxel, block.radius
    )
    kind = np.zeros((side + 2, side + 2, below + above + 2), dtype=np.uint8)
    kind[1:-1, 1:-1, 1:-1] = np.where(away - block.radius <= level, MOULD, OUTSIDE)[:, :, None]
    origin = np.array([-(half + 0.5) * voxel, -(half + 0.5) * voxel, -(below + 0.5) * voxel])
    return origin, kind


def _level(
    distance: si.Floats | MetresSingle,
    wanted: si.Ratio,
    voxel: si.Metre,
    most: si.Metre | None = None,
) -> si.Metre:
    """Return the distance under which the number of cells comes nearest to the wanted one."""
    limit = _MOST_LEVEL * voxel if most is None else voxel
    # Cells that lie alike by symmetry differ by rounding only: they go together.
    levels, counts = np.unique(np.round(distance / voxel, 4), return_counts=True)
    if levels.size == 0:
        return 0.0
    best = int(np.abs(np.cumsum(counts) - wanted).argmin())
    # Halfway to the next cells: the surface lies between those that are in and those that are not.
    level = 0.5 * float(levels[best] + levels[min(best + 1, levels.size - 1)]) * voxel
    return min(max(level, -limit), limit)
