"""State: block and metal at one time, as the march takes them from step to step."""

from dataclasses import dataclass

from pourcast import units as si
from pourcast.freeze.stacks_graph import Graph
from pourcast.freeze.voxel_advance import CellArrays, NodeArrays
from pourcast.freeze.voxel_lists import Lists
from pourcast.freeze.voxel_tables import MetalTable, MouldFit
from pourcast.freeze.voxel_types import (
    Heats,
    HeatsSingle,
    KelvinsSingle,
    Kinds,
    PotentialsSingle,
    SecondsSingle,
)


@dataclass(slots=True, kw_only=True)
class March:
    """Block and metal at one time; it changes from step to step.

    Parameters
    ----------
    lists : Lists
    graph : Graph
    metal : MetalTable
    fit : MouldFit
    voxel : float [m]
    kind : array of int, shape (cells,)
    u, v : array [K], shape (cells,)
        Scaled heat content of the mould, now and one pass earlier.
    f : array [W/m], shape (cells,)
    heat, heat_before : array [J/m³], shape (metal,)
    content_before : array [by column], shape (nodes,)
        Of `NodeArrays.content`.
    d1, d2 : array [J/m³], shape (metal,)
    e1, e2 : array [by column], shape (nodes,)
    levels : array [J/m³], shape (levels,)
        Heat contents that are watched, falling.
    level_order : array of int, shape (levels,)
        Where each stands in `MetalTable.levels`.
    passed : array of int, shape (metal,)
    times : array [s], shape (metal, levels)
        When each cell passes each level; not a number before.
    stack_passed : array of int, shape (stacks,)
    stack_times : array [s], shape (stacks, levels)
    cells : CellArrays
    nodes : NodeArrays
    mould_row, metal_row, top_kind : array [by column]
        As `pourcast.freeze.voxel_faces.set_faces` takes them.
    coefficients : array [K], shape (5,)
    face : array [by column], shape (faces, 2)
    top_rate : array [by column], shape (top,)
    edge_before : array [K], shape (edge,)
        Room to work in.
    wall_temperature, wall_before : array [K], shape (wall,)
    lost, lost_before : array [J], shape (nx,)
    lost_above, lost_above_before : float [J]
        Through the top of the button.
    longest, metal_limit : float [s]
        Longest that one pass may carry, longest plain step of the metal.
    potential : array [K], shape (parts, 3, cells of a plane)
        Room to work in of each thread of the mould; m²/s·K.
    time : float [s]
    steps, passes, stages : int
    liquid_left : int
        Cells and stacks that are not all solid.
    """

    lists: Lists
    graph: Graph
    metal: MetalTable
    fit: MouldFit
    voxel: si.Metre
    kind: Kinds
    u: KelvinsSingle
    v: KelvinsSingle
    f: PotentialsSingle
    heat: Heats
    heat_before: Heats
    content_before: si.Table
    d1: HeatsSingle
    d2: HeatsSingle
    e1: si.Table
    e2: si.Table
    levels: Heats
    level_order: si.Integers
    passed: Kinds
    times: SecondsSingle
    stack_passed: Kinds
    stack_times: SecondsSingle
    cells: CellArrays
    nodes: NodeArrays
    mould_row: si.Table
    metal_row: si.Table
    top_kind: si.Table
    coefficients: KelvinsSingle
    face: si.Table
    top_rate: si.Table
    edge_before: KelvinsSingle
    wall_temperature: si.Kelvins
    wall_before: si.Kelvins
    lost: si.Joules
    lost_before: si.Joules
    lost_above: si.Joule
    lost_above_before: si.Joule
    longest: si.Second
    metal_limit: si.Second
    potential: KelvinsSingle
    time: si.Second = 0.0
    steps: int = 0
    passes: int = 0
    stages: int = 0
    liquid_left: int = -1
