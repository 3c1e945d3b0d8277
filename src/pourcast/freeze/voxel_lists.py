"""Lists: the cells of the grid in the order in which the kernels take them.

Flat places count along z first.  Planes are the layers of like x; a plane is one run
from its first to its last cell of the block, and what lies between that is no mould is
worked out too and never read.  Metal cells stand in scan order.  The skin is every metal
cell with a neighbour that is not metal.

The steps of a round block show 4/π of its side; each outer face counts with the part
of it that faces outwards, scaled so that the faces of the side add up to 2 π R.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.freeze.voxel_grid import METAL, MOULD, OUTSIDE, Grid
from pourcast.freeze.voxel_metal import CHUNK
from pourcast.freeze.voxel_model import VoxelBlock
from pourcast.freeze.voxel_types import Indices, RatiosSingle

_LEAST_FACING = 1e-3  # n·e of a metal face: keeps 1/(h n·e) finite
WALL_COLUMNS = 7
"""Columns of a wall face: 0 area (m²), 1 resistance of the gap (m²·K/W), 2 heat capacity of
the steel (J/(m²·K)), 3 convection (W/(m²·K)), 4 emissivity, 5 one where it is the side,
6 conductance from the middle of the cell to the face or steel (W/(m²·K)), set on the way."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lists:
    """Cells and faces in the order of the kernels.

    Parameters
    ----------
    shape : tuple of int
    run_first, run_last : array of int, shape (nx,)
        Of each plane; the same where it holds no block.
    metal : array of int, shape (metal,)
        Flat places.
    chunk_skin : array of int, shape (chunks + 1,)
        Skin cells of each chunk of metal cells.
    skin : array of int, shape (skin,)
        Places in ``metal``.
    beside : array [-], shape (metal,)
        Neighbours of each metal cell that are metal.
    face_skin : array of int, shape (faces,)
        Of a face between metal and mould: place in ``skin``, rising.
    face_cell : array of int, shape (faces,)
        Flat place of the mould cell.
    facing : array [-], shape (faces,)
        n·e at the face.
    top : array of int, shape (top,)
        Skin cells with a face to the outside, above.
    edge : array of int, shape (edge,)
        Flat places of mould cells with a neighbour that is not mould.
    edge_open : array [-], shape (edge, 6)
        1 towards a neighbour that is mould, else 0; along z, y and x, down first.
    edge_plane : array of int, shape (nx + 1,)
        Edge cells of each plane.
    wall_cell : array of int, shape (wall,)
        Flat places of mould cells, rising.
    wall : array [by column], shape (wall, WALL_COLUMNS)
    wall_plane : array of int, shape (nx + 1,)
    """

    shape: tuple[int, int, int]
    run_first: Indices
    run_last: Indices
    metal: Indices
    chunk_skin: si.Integers
    skin: Indices
    beside: RatiosSingle
    face_skin: Indices
    face_cell: Indices
    facing: si.Ratios
    top: si.Integers
    edge: Indices
    edge_open: RatiosSingle
    edge_plane: si.Integers
    wall_cell: Indices
    wall: si.Table
    wall_plane: si.Integers


def lists_of(grid: Grid, block: VoxelBlock) -> Lists:
    """Return the cells and faces of a grid in the order of the kernels.

    Parameters
    ----------
    grid : Grid
    block : VoxelBlock

    Returns
    -------
    Lists
    """
    nx, ny, nz = grid.kind.shape
    kind = grid.kind.ravel()
    offsets = (-1, 1, -nz, nz, -ny * nz, ny * nz)
    plane = np.arange(nx + 1) * (ny * nz)
    inside = np.flatnonzero(kind != OUTSIDE)
    at = np.searchsorted(inside, plane)
    full = at[1:] > at[:-1]
    run_first = np.where(full, inside[np.minimum(at[:-1], inside.size - 1)], 1)
    run_last = np.where(full, inside[np.maximum(at[1:] - 1, 0)] + 1, 1)

    metal = np.flatnonzero(kind == METAL)
    chunks = -(-metal.size // CHUNK)
    near = np.column_stack([kind[metal + offset] for offset in offsets])
    skin = np.flatnonzero((near != METAL).any(axis=1))
    face_skin, way = np.nonzero(near[skin] == MOULD)
    source = metal[skin[face_skin]]
    target = source + np.asarray(offsets)[way]
    away = grid.distance.ravel().astype(np.float64)
    facing = np.clip((away[target] - away[source]) / grid.voxel, _LEAST_FACING, 1.0)

    mould = np.flatnonzero(kind == MOULD)
    is_edge = np.zeros(mould.size, dtype=np.bool_)
    for offset in offsets:
        is_edge |= kind[mould + offset] != MOULD
    edge = mould[is_edge]
    edge_open = np.column_stack([kind[edge + offset] == MOULD for offset in offsets])
    wall_cell, wall = _wall_faces(grid, block, edge, offsets)
    return Lists(
        shape=(nx, ny, nz),
        run_first=run_first.astype(np.uint32),
        run_last=run_last.astype(np.uint32),
        metal=metal.astype(np.uint32),
        chunk_skin=np.searchsorted(skin, np.arange(chunks + 1) * CHUNK).astype(np.int64),
        skin=skin.astype(np.uint32),
        beside=(near == METAL).sum(axis=1).astype(np.float32),
        face_skin=face_skin.astype(np.uint32),
        face_cell=target.astype(np.uint32),
        facing=facing,
        top=np.flatnonzero(near[skin, 1] == OUTSIDE),
        edge=edge.astype(np.uint32),
        edge_open=edge_open.astype(np.float32),
        edge_plane=np.searchsorted(edge, plane).astype(np.int64),
        wall_cell=wall_cell.astype(np.uint32),
        wall=wall,
        wall_plane=np.searchsorted(wall_cell, plane).astype(np.int64),
    )


def _wall_faces(
    grid: Grid, block: VoxelBlock, edge: si.Integers, offsets: tuple[int, ...]
) -> tuple[si.Integers, si.Table]:
    kind = grid.kind.ravel()
    _, ny, nz = grid.kind.shape
    cells: list[si.Integers] = []
    tables: list[si.Table] = []
    steel = block.wall_thickness * block.wall_density * block.wall_specific_heat
    if block.wall == "perforated":
        steel *= 1.0 - block.open_share
    for way, offset in enumerate(offsets):
        cell = edge[kind[edge + offset] == OUTSIDE]
        table = np.zeros((cell.size, WALL_COLUMNS))
        table[:, 0] = grid.voxel**2
        air = block.air_heat_transfer
        table[:, 3] = 0.0 if block.in_vacuum and way != 1 else air
        table[:, 4] = block.mould_emissivity
        if way >= 2:
            x = grid.origin[0] + cell // (ny * nz) * grid.voxel
            y = grid.origin[1] + cell // nz % ny * grid.voxel
            across = (x, y)[0 if way >= 4 else 1]
            out = across + (0.5 if offset > 0 else -0.5) * grid.voxel
            beside = (y, x)[0 if way >= 4 else 1]
            table[:, 0] *= np.abs(out) / np.hypot(out, beside)
            table[:, 5] = 1.0
            if steel > 0.0:
                table[:, 1] = 1.0 / block.gap_heat_transfer
                table[:, 2] = steel
                table[:, 4] = block.wall_emissivity
        cells.append(cell)
        tables.append(table)
    cell, table = np.concatenate(cells), np.concatenate(tables)
    order = np.argsort(cell, kind="stable")
    cell, table = cell[order], table[order]
    side = table[:, 5] > 0.0
    whole = 2 * np.pi * block.radius * (nz - 2) * grid.voxel
    if side.any():
        table[side, 0] *= whole / table[side, 0].sum()
    return cell, table
