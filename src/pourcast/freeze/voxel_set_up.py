"""Set up: the state from which the freezing is followed.

A cell of metal has the temperature of its segment where the pour left one, a stack the
mean of its segments by volume.  Partly solid metal is set by its solid fraction.  Steel
starts as warm as the mould.
"""

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_between, require_positive
from pourcast.freeze.solid import heat_of_state
from pourcast.freeze.stacks_graph import Graph, graph_of
from pourcast.freeze.voxel_advance import CellArrays, NodeArrays
from pourcast.freeze.voxel_grid import Grid
from pourcast.freeze.voxel_limits import longest_step, metal_limit
from pourcast.freeze.voxel_lists import Lists, lists_of
from pourcast.freeze.voxel_metal import CHUNK
from pourcast.freeze.voxel_model import VoxelBlock, VoxelMetal, VoxelMould, VoxelStart
from pourcast.freeze.voxel_state import March
from pourcast.freeze.voxel_tables import SOLID, MetalTable, MouldFit, metal_table, mould_fit
from pourcast.freeze.voxel_types import Heats, Kinds, SecondsSingle


def set_up(
    grid: Grid,
    block: VoxelBlock,
    metal: VoxelMetal,
    mould: VoxelMould,
    start: VoxelStart,
    stop_fraction: si.Ratio,
    threads: int,
) -> March:
    """Return the state at the start.

    Parameters
    ----------
    grid : Grid
    block : VoxelBlock
    metal : VoxelMetal
    mould : VoxelMould
    start : VoxelStart
    stop_fraction : float [-]
        Solid fraction whose time is noted.
    threads : int

    Returns
    -------
    March

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    require_between("stop_fraction", stop_fraction, "", 0.05, 0.99)
    hottest = float(np.max([start.metal, *_of(start.segment_temperature)]))
    table = metal_table(metal, hottest, stop_fraction)
    fit = mould_fit(mould, start.mould, min(block.room, start.mould) - 1.0, hottest + 1.0)
    lists = lists_of(grid, block)
    graph = graph_of(grid, metal.interface_heat_transfer, metal.solid_conductivity)
    heat, cores = _starting_heat(grid, lists, metal, table, start)
    side = grid.voxel
    f4 = np.float32
    flat = np.zeros(grid.kind.size, dtype=f4)
    flat[lists.metal] = np.interp(heat, table.heat, table.potential)
    order = np.argsort(-table.levels, kind="stable")
    mould_row = np.array(
        [start.mould, fit.capacity, side, block.room, 0.0, *fit.warmth, *fit.potential]
    )
    cells = _cell_arrays(grid, lists, table, heat)
    nodes = _node_arrays(lists, graph, table, fit, heat, cores, start.mould)
    metal_count, stacks = lists.metal.size, cores.size
    levels = table.levels[order]
    return March(
        lists=lists,
        graph=graph,
        metal=table,
        fit=fit,
        voxel=side,
        kind=grid.kind.ravel(),
        u=np.zeros(flat.size, dtype=f4),
        v=np.zeros(flat.size, dtype=f4),
        f=flat,
        heat=heat,
        heat_before=heat.copy(),
        content_before=nodes.content.copy(),
        d1=np.zeros(metal_count, dtype=f4),
        d2=np.zeros(metal_count, dtype=f4),
        e1=np.zeros(nodes.capacity.size),
        e2=np.zeros(nodes.capacity.size),
        levels=levels,
        level_order=order,
        passed=_passed(heat, levels),
        times=_times(heat, levels),
        stack_passed=_passed(cores, levels),
        stack_times=_times(cores, levels),
        cells=cells,
        nodes=nodes,
        mould_row=mould_row,
        metal_row=np.array(
            [
                metal.solid_conductivity,
                metal.liquid_conductivity,
                metal.knots.solidus,
                metal.knots.liquidus,
                metal.interface_heat_transfer,
            ]
        ),
        top_kind=_top_kind(block),
        coefficients=fit.potential.astype(f4),
        face=np.zeros((lists.face_cell.size, 2)),
        top_rate=np.zeros(lists.top.size),
        edge_before=np.zeros(lists.edge.size, dtype=f4),
        wall_temperature=np.full(lists.wall_cell.size, start.mould),
        wall_before=np.full(lists.wall_cell.size, start.mould),
        lost=np.zeros(grid.kind.shape[0]),
        lost_before=np.zeros(grid.kind.shape[0]),
        lost_above=0.0,
        lost_above_before=0.0,
        longest=longest_step(lists, graph, fit, metal.interface_heat_transfer, side),
        metal_limit=metal_limit(graph, table, fit, side),
        potential=np.zeros(
            (max(1, threads - 1), 3, grid.kind.shape[1] * grid.kind.shape[2]), dtype=f4
        ),
        liquid_left=metal_count + stacks,
    )


def require_start(start: VoxelStart, block: VoxelBlock, segments: int) -> None:
    """Raise `InputError` unless temperatures and shapes of a start are within their limits.

    Parameters
    ----------
    start : VoxelStart
    block : VoxelBlock
    segments : int
    """
    require_between("room", block.room, "K", 250.0, 400.0)
    require_between("mould temperature", start.mould, "K", 251.0, 1600.0)
    require_between("metal temperature", start.metal, "K", 300.0, 2500.0)
    require_between("open_share", block.open_share, "", 0.0, 0.95)
    if start.metal <= start.mould:
        raise InputError(
            "metal temperature", f"{start.metal:g}", "K", f"over the mould's, {start.mould:g} K"
        )
    for name, given in (
        ("segment_temperature", start.segment_temperature),
        ("segment_solid_fraction", start.segment_solid_fraction),
        ("filled", start.filled),
    ):
        if given is not None and given.shape != (segments,):
            raise InputError(name, given.shape, "", f"of the shape ({segments},)")
    if start.segment_temperature is not None:
        require_between("segment_temperature", start.segment_temperature, "K", 300.0, 2500.0)
    if block.wall != "bare":
        require_positive("wall_thickness", block.wall_thickness, "m")
    elif block.wall_thickness != 0.0:
        raise InputError("wall_thickness", f"{block.wall_thickness:g}", "m", "0 without a wall")


def _of(given: si.Floats | None) -> list[float]:
    return [] if given is None else [float(given.max(initial=0.0))]


def _passed(heat: Heats, levels: Heats) -> Kinds:
    return np.asarray((heat[:, None] <= levels[None, :]).sum(axis=1), dtype=np.uint8)


def _times(heat: Heats, levels: Heats) -> SecondsSingle:
    return np.where(heat[:, None] <= levels[None, :], 0.0, np.nan).astype(np.float32)


def _top_kind(block: VoxelBlock) -> si.Table:
    if block.button_top == "covered":
        return np.array([block.cover_heat_transfer, 0.0])
    return np.array([block.air_heat_transfer, block.top_emissivity])


def _starting_heat(
    grid: Grid, lists: Lists, metal: VoxelMetal, table: MetalTable, start: VoxelStart
) -> tuple[Heats, Heats]:
    """Return the heat content of metal cells and of cores."""
    poured = float(table.heat_at(np.array([start.metal]))[0])
    segments = np.full(grid.passages.part.size, poured)
    if start.segment_temperature is not None:
        segments = table.heat_at(start.segment_temperature)
        if start.segment_solid_fraction is not None:
            bottom = float(table.heat_at(np.array([metal.knots.liquidus]))[0])
            state = [
                heat_of_state(warm, solid, metal.knots)
                for warm, solid in zip(
                    start.segment_temperature.tolist(),
                    start.segment_solid_fraction.tolist(),
                    strict=True,
                )
            ]
            segments = bottom + metal.density * np.array(state)
    owner = grid.owner.ravel()[lists.metal]
    cells = np.where(owner < 0, poured, segments[np.maximum(owner, 0)] if segments.size else poured)
    rods = grid.rods
    stacks = rods.length.size
    cores = np.bincount(rods.stack, rods.row_volume * segments[rods.segment], stacks)
    return np.ascontiguousarray(cells), cores / rods.volume


def _cell_arrays(grid: Grid, lists: Lists, table: MetalTable, heat: Heats) -> CellArrays:
    _, ny, nz = grid.kind.shape
    return CellArrays(
        offsets=np.array([nz, ny * nz], dtype=np.uint32),
        flat=lists.metal,
        chunk_skin=lists.chunk_skin,
        skin=lists.skin,
        beside=lists.beside,
        base=heat.astype(np.float32),
        skin_temperature=table.temperature_at(heat[lists.skin]),
        skin_sum=np.zeros(lists.skin.size),
        skin_out=np.zeros((lists.skin.size, 2)),
        table=table.table,
        metal=np.array([table.step, table.levels[SOLID]]),
        work=np.zeros(CHUNK, dtype=np.float32),
    )


def _node_arrays(
    lists: Lists,
    graph: Graph,
    table: MetalTable,
    fit: MouldFit,
    heat: Heats,
    cores: Heats,
    mould: si.Kelvin,
) -> NodeArrays:
    stacks, nodes, ports = cores.size, graph.shells.volume.size, graph.ports.size
    capacity = graph.shells.volume.copy()
    capacity[stacks:] *= fit.capacity
    content = np.zeros(nodes)
    content[:stacks] = cores
    temperature = np.full(nodes + ports, mould)
    temperature[:stacks] = table.temperature_at(cores)
    port_metal = np.searchsorted(lists.metal, graph.ports)
    temperature[nodes:] = table.temperature_at(heat[port_metal])
    potential = np.zeros(nodes + ports)
    potential[:stacks] = np.interp(cores, table.heat, table.potential)
    at = np.minimum(np.searchsorted(lists.skin, port_metal), max(lists.skin.size - 1, 0))
    port_skin = np.where(lists.skin[at] == port_metal, at, -1) if lists.skin.size else port_metal
    return NodeArrays(
        metal_pair=graph.metal_pair,
        metal_length=graph.metal_length,
        pair=graph.pair,
        fixed=graph.fixed,
        reach=graph.reach,
        conductance=np.zeros(graph.fixed.size),
        outer_node=graph.outer_node,
        outer_cell=graph.outer_cell,
        outer_reach=graph.outer_reach,
        outer_face=np.zeros((graph.outer_node.size, 2)),
        outer=np.zeros((nodes + ports, 2)),
        capacity=capacity,
        content=content,
        temperature=temperature,
        potential=potential,
        sums=np.zeros(nodes + ports),
        gain=np.zeros(nodes + ports),
        port_flat=graph.ports,
        port_metal=port_metal.astype(np.uint32),
        port_skin=port_skin.astype(np.int64),
    )
