"""Pools: where the casting freezes last, and where it is cut off from the button.

The graph of `pourcast.freeze.feeding` is made of the metal cells that share a face and
of the stacks with their metal links.  The button's top cells are the feeder.  What a
place still has to shrink falls from

    β + a (T_0 - T_liquidus)  at the start, β at the liquidus,  β (1 - f) after    (1)

with β the shrinkage on freezing and a that of the liquid for each kelvin.

Left out: the walls' own movement; the air above that presses the metal on.
"""

import numpy as np

from pourcast import units as si
from pourcast.freeze.feeding import adjacency, lack_of, pools_of
from pourcast.freeze.fields import ShrinkPool
from pourcast.freeze.solid import LEVELS
from pourcast.freeze.voxel_grid import BUTTON, METAL, Grid
from pourcast.freeze.voxel_model import VoxelAsk
from pourcast.freeze.voxel_state import March
from pourcast.freeze.voxel_tables import STOP

_PROMINENCE = 0.05  # share of its life that a pool must outlive its bridge; less is noise of cells
_LEAST_LACK = 0.5e-9  # m³; half a cubic millimetre is a speck
_MOST_POOLS = 50


def level_times(march: March) -> tuple[si.Seconds, si.Seconds]:
    """Return when metal cells and stacks passed each level, in the order of `LEVELS`.

    Parameters
    ----------
    march : March

    Returns
    -------
    pair of array [s], shape (metal, levels + 1) and (stacks, levels + 1)
        The last column is that of the stop fraction.
    """
    back = np.argsort(march.level_order)
    return march.times[:, back].astype(float), march.stack_times[:, back].astype(float)


def pools_and_loose(
    march: March,
    grid: Grid,
    ask: VoxelAsk,
    superheat: si.Kelvins,
    part_names: tuple[str, ...],
) -> tuple[tuple[ShrinkPool, ...], si.CubicMetre]:
    """Return the pools that lack metal, and the volume without a way to the button.

    Parameters
    ----------
    march : March
        At the end.
    grid : Grid
    ask : VoxelAsk
    superheat : array [K], shape (metal + stacks,)
        At the start.
    part_names : tuple of str

    Returns
    -------
    tuple of ShrinkPool, and float [m³]
    """
    lists, graph = march.lists, march.graph
    metal, stacks = lists.metal.size, graph.shells.first.size
    times = np.concatenate(level_times(march))
    # What has not come yet comes after all that has.
    never = 2.0 * march.time + 1.0
    times = np.where(np.isnan(times), never, times)
    volume = np.concatenate([np.full(metal, march.voxel**3), graph.shells.volume[:stacks]])
    first, neighbour = adjacency(metal + stacks, _edges(march, grid))
    layer = lists.metal % grid.kind.shape[2]
    owner = grid.owner.ravel()[lists.metal]
    feeder = np.zeros(metal + stacks, dtype=np.bool_)
    feeder[:metal] = (owner == BUTTON) & (layer == grid.kind.shape[2] - 2)
    pools = pools_of(times[:, STOP], volume, first, neighbour, feeder)
    moments = np.column_stack([np.zeros(metal + stacks), times[:, :STOP]])
    demand = np.zeros((metal + stacks, STOP + 1))
    demand[:, 0] = ask.beta + ask.liquid_contraction * np.maximum(superheat, 0.0)
    demand[:, 1:] = ask.beta * (1.0 - np.array(LEVELS))
    told, lack = lack_of(pools, times[:, STOP], volume, moments, demand, prominence=_PROMINENCE)
    loose = float(pools.volume[(pools.cut_time < 0.0) & ~pools.fed].sum())
    worst = np.flatnonzero(told & (lack >= _LEAST_LACK))
    worst = worst[np.argsort(-lack[worst], kind="stable")][:_MOST_POOLS]
    made = []
    for pool in worst.tolist():
        peak = int(pools.peak[pool])
        place, name = place_of(peak, march, grid, part_names)
        made.append(
            ShrinkPool(
                place=place,
                part=name,
                cut_time=float(pools.cut_time[pool]),
                last_time=float(times[peak, STOP]),
                lack=float(lack[pool]),
            )
        )
    return tuple(made), loose


def place_of(
    at: int, march: March, grid: Grid, part_names: tuple[str, ...]
) -> tuple[si.Metres, str]:
    """Return where a metal cell or a stack is, and of which part.

    Parameters
    ----------
    at : int
        Place among metal cells, then stacks.
    march : March
    grid : Grid
    part_names : tuple of str

    Returns
    -------
    place : array [m], shape (3,)
    part : str
    """
    metal = march.lists.metal
    if at >= metal.size:
        stack = at - metal.size
        return grid.rods.place[stack], part_names[int(grid.rods.part[stack])]
    flat = int(metal[at])
    cell = np.array(np.unravel_index(flat, grid.kind.shape))
    owner = int(grid.owner.ravel()[flat])
    name = "button" if owner == BUTTON else part_names[int(grid.passages.part[owner])]
    return grid.origin + cell * grid.voxel, name


def _edges(march: March, grid: Grid) -> si.Integers:
    metal = march.lists.metal.astype(np.int64)
    kind = march.kind
    _, ny, nz = grid.kind.shape
    made = []
    for offset in (1, nz, ny * nz):
        source = np.flatnonzero(kind[metal + offset] == METAL)
        made.append(np.column_stack([source, np.searchsorted(metal, metal[source] + offset)]))
    pairs = march.graph.metal_pair.copy()
    nodes = march.graph.shells.volume.size
    is_port = pairs >= nodes
    ports = np.searchsorted(metal, march.graph.ports)
    pairs[is_port] = ports[pairs[is_port] - nodes] if ports.size else pairs[is_port]
    pairs[~is_port] += metal.size
    return np.concatenate([*made, pairs])
