"""Graph: what each stack exchanges heat with, from the cells of the grid.

Nodes are cores, shells, and ports: metal cells that a thin part grows on or that touch
a host.  Links carry heat by the potential F (metal to metal, equation 1 of
`pourcast.freeze.stacks_cut`) or by the temperature (all others); outer ways lead from
the outer shells into mould cells, equation 4 of `pourcast.freeze.stacks`.

A thin part grows on the metal cells nearest to its joint, as many as its section
covers.  Hosts of two stacks that share a face exchange heat over the way between the
middles of the two; a metal cell that touches a host, over half a cell of metal, the
face and half a cell of mould.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.freeze.stacks import Shells, area_at, shells_of, way_between
from pourcast.freeze.voxel_grid import HOST, METAL, MOULD, Grid
from pourcast.freeze.voxel_types import Indices, KelvinPerWatts, PerMetres

_NEAR = 2.5  # cells in which a thin part looks for the metal that it grows on
_LEAST_WAY = 0.4  # cells from the middle of the outer shell to that of a mould cell
_LEAST_FACING = 0.05  # n·e; a face along the distance still passes a little


@dataclass(frozen=True, slots=True, kw_only=True)
class Graph:
    """Stacks with all that they exchange heat with.

    Parameters
    ----------
    shells : Shells
    ports : array of int, shape (ports,)
        Flat places of metal cells; their nodes are numbered after all shells.
    metal_pair : array of int, shape (links, 2)
    metal_length : array [m], shape (links,)
        Flux over the difference of F.
    pair : array of int, shape (ways, 2)
        Nodes that exchange heat by temperature; the second is a shell.
    fixed : array [K/W], shape (ways,)
        Part of the resistance that is not mould: 1/h and metal.
    reach : array [1/m], shape (ways,)
        The rest, to be divided by the conductivity of the mould.
    outer_node : array of int, shape (outer,)
    outer_cell : array of int, shape (outer,)
        Flat places of mould cells.
    outer_reach : array [1/m], shape (outer,)
    """

    shells: Shells
    ports: Indices
    metal_pair: si.Integers
    metal_length: si.Metres
    pair: si.Integers
    fixed: KelvinPerWatts
    reach: PerMetres
    outer_node: si.Integers
    outer_cell: Indices
    outer_reach: PerMetres


def graph_of(
    grid: Grid,
    heat_transfer: si.WattPerSquareMetreKelvin,
    solid_conductivity: si.WattPerMetreKelvin,
) -> Graph:
    """Return the stacks of a grid with all that they exchange heat with.

    Parameters
    ----------
    grid : Grid
    heat_transfer : float [W/(m²·K)]
        From metal to mould.
    solid_conductivity : float [W/(m·K)]
        Of the metal.

    Returns
    -------
    Graph
    """
    side, rods = grid.voxel, grid.rods
    stacks = rods.length.size
    owner = grid.owner.ravel()
    hosts = np.flatnonzero(grid.kind.ravel() == HOST)
    hosted = np.bincount(owner[hosts], minlength=stacks).astype(np.float64) * side**3
    shells = shells_of(rods, hosted, side)
    grown_stack, grown_cell, grown_length = _grown_on(grid)
    touching, touched = _faces_with(grid, hosts, METAL)
    one, other = _faces_with(grid, hosts, HOST)
    # Each face between hosts is met from both sides; take it once.
    apart = owner[one] > owner[other]
    one, other = owner[one[apart]], owner[other[apart]]
    gap = np.maximum(np.linalg.norm(rods.place[one] - rods.place[other], axis=1), side)
    ports = np.unique(np.concatenate([grown_cell, touched]))
    nodes = shells.volume.size

    shell = np.arange(stacks, nodes)
    stack = np.repeat(np.arange(stacks), shells.last - shells.first + 1)
    inner = np.where(shell == shells.first[stack], stack, shell - 1)
    skin = 1.0 / (heat_transfer * shells.area[:, 0]) + shells.core_slowness / solid_conductivity
    touch = 1.0 / (heat_transfer * side**2) + 0.5 / (solid_conductivity * side)
    outer_host, outer_cell = _faces_with(grid, hosts, MOULD)
    return Graph(
        shells=shells,
        ports=ports.astype(np.uint32),
        metal_pair=_pairs(
            (rods.links[:, 0], rods.links[:, 1]),
            (grown_stack, nodes + np.searchsorted(ports, grown_cell)),
        ),
        metal_length=np.concatenate([rods.link_length, grown_length]),
        pair=_pairs(
            (inner, shell),
            (shells.last[one], shells.last[other]),
            (nodes + np.searchsorted(ports, touched), shells.last[owner[touching]]),
        ),
        fixed=np.concatenate(
            [
                np.where(inner < stacks, skin[stack], 0.0),
                np.zeros(gap.size),
                np.full(touched.size, touch),
            ]
        ),
        reach=np.concatenate(
            [shells.reach[stacks:], gap / side**2, np.full(touched.size, 0.5 / side)]
        ),
        outer_node=shells.last[owner[outer_host]],
        outer_cell=outer_cell.astype(np.uint32),
        outer_reach=_outer_reach(grid, shells, outer_host, outer_cell),
    )


def _pairs(*columns: tuple[si.Integers, si.Integers]) -> si.Integers:
    return np.concatenate([np.column_stack(pair) for pair in columns]).astype(np.int64)


def _faces_with(grid: Grid, hosts: si.Integers, wanted: int) -> tuple[si.Integers, si.Integers]:
    """Return hosts and their neighbours of one kind, one row a face."""
    kind = grid.kind.ravel()
    _, ny, nz = grid.kind.shape
    inside, beyond = [], []
    for offset in (-1, 1, -nz, nz, -ny * nz, ny * nz):
        near = hosts[kind[hosts + offset] == wanted]
        inside.append(near)
        beyond.append(near + offset)
    return np.concatenate(inside), np.concatenate(beyond)


def _outer_reach(grid: Grid, shells: Shells, host: si.Integers, cell: si.Integers) -> PerMetres:
    away = grid.thin_distance.ravel().astype(np.float64)
    stack = grid.owner.ravel()[host]
    area = shells.area[stack]
    start = shells.away[shells.last[stack]]
    end = np.maximum(away[cell], start + _LEAST_WAY * grid.voxel)
    face = np.maximum(0.5 * (away[host] + away[cell]), 0.0)
    facing = np.clip((away[cell] - away[host]) / grid.voxel, _LEAST_FACING, 1.0)
    share = facing * grid.voxel**2 / area_at(area, face)
    return np.asarray(way_between(area, start, end) / share)


def _grown_on(grid: Grid) -> tuple[si.Integers, si.Integers, si.Metres]:
    """Return which stacks grow on which metal cells, and flux over the difference of F."""
    rods, side = grid.rods, grid.voxel
    kind = grid.kind
    stacks: list[int] = []
    cells: list[int] = []
    lengths: list[float] = []
    reach = int(np.ceil(_NEAR))
    for joint in rods.into_cells.tolist():
        place = rods.joint_place[joint]
        middle = np.round((place - grid.origin) / side).astype(np.int64)
        low = np.maximum(middle - reach, 0)
        high = np.minimum(middle + reach + 1, kind.shape)
        box = kind[low[0] : high[0], low[1] : high[1], low[2] : high[2]]
        found = np.argwhere(box == METAL) + low
        if found.size == 0:
            continue
        far = np.linalg.norm(grid.origin + found * side - place, axis=1)
        stack = int(rods.joint_stack[joint])
        area = float(rods.area[stack])
        taken = np.argsort(far, kind="stable")[: max(1, round(area / side**2))]
        taken = taken[far[taken] <= _NEAR * side]
        for cell in found[taken]:
            stacks.append(stack)
            cells.append(int(np.ravel_multi_index(tuple(cell), kind.shape)))
            # The arm of the length and half a cell, over the part of the section.
            part = area / taken.size
            lengths.append(part / (float(rods.joint_arm[joint]) + 0.5 * side))
    return (
        np.array(stacks, dtype=np.int64),
        np.array(cells, dtype=np.int64),
        np.array(lengths),
    )
