"""Advance: all stages of the metal over one step of the mould.

The arrays stand in two named tuples, one for the metal cells and one for the stacks.
What is filled in one step stands in the same arrays at the next; the two that change
places from stage to stage are handed over by name.
"""

from typing import NamedTuple

from pourcast import units as si
from pourcast.freeze.stacks_step import (
    gains_of_nodes,
    read_ports,
    stage_of_nodes,
    state_of_nodes,
    write_ports,
)
from pourcast.freeze.voxel_metal import stage_of_cells, state_of_cells
from pourcast.freeze.voxel_types import (
    Heats,
    HeatsSingle,
    Indices,
    KelvinSeconds,
    PerMetres,
    Potentials,
    PotentialsSingle,
    RatiosSingle,
    TableSingle,
)
from pourcast.kernels import kernel


class CellArrays(NamedTuple):
    """Metal cells, as `pourcast.freeze.voxel_metal.stage_of_cells` takes them."""

    offsets: Indices
    flat: Indices
    chunk_skin: si.Integers
    skin: Indices
    beside: RatiosSingle
    base: HeatsSingle
    skin_temperature: si.Kelvins
    skin_sum: KelvinSeconds
    skin_out: si.Table
    table: TableSingle
    metal: Heats
    work: PotentialsSingle


class NodeArrays(NamedTuple):
    """Stacks, as `pourcast.freeze.stacks_step` and `pourcast.freeze.stacks_graph` say."""

    metal_pair: si.Integers
    metal_length: si.Metres
    pair: si.Integers
    fixed: si.Table
    reach: PerMetres
    conductance: si.Table
    outer_node: si.Integers
    outer_cell: Indices
    outer_reach: PerMetres
    outer_face: si.Table
    outer: si.Table
    capacity: si.Table
    content: si.Table
    temperature: si.Kelvins
    potential: Potentials
    sums: KelvinSeconds
    gain: si.Watts
    port_flat: Indices
    port_metal: Indices
    port_skin: si.Integers


@kernel
def run_stages(
    stages: si.Table,
    cores: int,
    voxel: si.Metre,
    mould: si.Table,
    cells: CellArrays,
    nodes: NodeArrays,
    d1: HeatsSingle,
    d2: HeatsSingle,
    f: PotentialsSingle,
    e1: si.Table,
    e2: si.Table,
) -> None:
    """Carry metal and stacks over one step.

    Parameters
    ----------
    stages : array [by column], shape (stages, STAGE_COLUMNS)
        Of `pourcast.freeze.voxel_metal.stage_table`.
    cores : int
    voxel : float [m]
    mould : array [by column], shape (15,)
    cells : CellArrays
    nodes : NodeArrays
    d1, d2 : array [J/m³], shape (metal,)
        Filled; the change stands in ``d2`` if the number of stages is odd, else in ``d1``.
    f : array [W/m], shape (cells,)
        F; filled.
    e1, e2 : array [by column], shape (nodes,)
        As ``d1`` and ``d2``, for the stacks.
    """
    d1[:] = 0.0
    d2[:] = 0.0
    e1[:] = 0.0
    e2[:] = 0.0
    cells.skin_sum[:] = 0.0
    nodes.sums[:] = 0.0
    count = nodes.capacity.size
    heat_step = cells.metal[0]
    for stage in range(stages.shape[0]):
        mu, nu = stages[stage, 0], stages[stage, 1]
        weight, share = stages[stage, 2], stages[stage, 3]
        if count > 0:
            read_ports(count, nodes.port_flat, f, nodes.potential)
            gains_of_nodes(
                share,
                nodes.metal_pair,
                nodes.metal_length,
                nodes.pair,
                nodes.conductance,
                nodes.outer,
                nodes.temperature,
                nodes.potential,
                nodes.sums,
                nodes.gain,
            )
        stage_of_cells(
            mu,
            nu,
            weight,
            share,
            voxel,
            cells.metal,
            cells.offsets,
            cells.flat,
            cells.chunk_skin,
            cells.skin,
            cells.beside,
            cells.base,
            d1,
            d2,
            f,
            cells.skin_temperature,
            cells.skin_sum,
            cells.skin_out,
            cells.table,
            cells.work,
        )
        if count > 0:
            stage_of_nodes(
                cores,
                mu,
                nu,
                weight,
                heat_step,
                mould,
                nodes.capacity,
                nodes.content,
                e1,
                e2,
                nodes.gain,
                nodes.temperature,
                nodes.potential,
                cells.table,
            )
            write_ports(
                count,
                weight,
                voxel**3,
                heat_step,
                nodes.port_flat,
                nodes.port_metal,
                nodes.port_skin,
                cells.base,
                d2,
                f,
                cells.skin_temperature,
                nodes.gain,
                nodes.temperature,
                cells.table,
            )
        d1, d2 = d2, d1
        e1, e2 = e2, e1


@kernel
def read_state(
    cores: int,
    voxel: si.Metre,
    mould: si.Table,
    cells: CellArrays,
    nodes: NodeArrays,
    nothing: HeatsSingle,
    f: PotentialsSingle,
    none: si.Table,
) -> None:
    """Write F and temperatures of metal and stacks as their heat says.

    After a pass of a weight other than 1 they are not those of its last stage.

    Parameters
    ----------
    cores : int
    voxel : float [m]
    mould : array [by column], shape (15,)
    cells : CellArrays
    nodes : NodeArrays
    nothing : array [J/m³], shape (metal,)
        Set to 0.
    f : array [W/m], shape (cells,)
        Filled.
    none : array [by column], shape (nodes,)
        Set to 0.
    """
    nothing[:] = 0.0
    state_of_cells(
        cells.metal,
        cells.flat,
        cells.chunk_skin,
        cells.skin,
        cells.base,
        nothing,
        f,
        cells.skin_temperature,
        cells.table,
        cells.work,
    )
    count = nodes.capacity.size
    if count > 0:
        none[:] = 0.0
        state_of_nodes(
            cores,
            cells.metal[0],
            mould,
            nodes.content,
            none,
            nodes.temperature,
            nodes.potential,
            cells.table,
        )
        nodes.gain[:] = 0.0
        write_ports(
            count,
            0.0,
            voxel**3,
            cells.metal[0],
            nodes.port_flat,
            nodes.port_metal,
            nodes.port_skin,
            cells.base,
            nothing,
            f,
            cells.skin_temperature,
            nodes.gain,
            nodes.temperature,
            cells.table,
        )
