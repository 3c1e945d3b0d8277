"""Plain bodies in cells, and the metal and mould of the tests of the voxel solver.

Properties are round numbers near bronze and burnt investment; they need no source, since
the closed forms and the other solvers are given the same.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.freeze.solid import Knots, knots_of
from pourcast.freeze.stacks_cut import Rods, cut_rods
from pourcast.freeze.voxel_distance import FAR, nearest_passage
from pourcast.freeze.voxel_grid import BUTTON, HOST, HOST_REACH, METAL, MOULD, Grid
from pourcast.freeze.voxel_march import advance
from pourcast.freeze.voxel_model import VoxelBlock, VoxelMetal, VoxelMould, VoxelStart
from pourcast.freeze.voxel_passages import Passages, passages_of
from pourcast.freeze.voxel_set_up import set_up
from pourcast.freeze.voxel_state import March
from pourcast.piece.model import RECTANGLE, ROUND, Network

ZERO = si.ZERO_CELSIUS
ALMOST_NONE = 1e9  # W/(m²·K); a heat transfer that is no hindrance


def bronze_knots() -> Knots:
    """Freezing curve of a bronze that freezes over 200 K."""
    return knots_of(
        (1000 + ZERO, 960 + ZERO, 930 + ZERO, 880 + ZERO, 798 + ZERO), 495.0, 430.0, 195e3
    )


def bronze(transfer: float = 1500.0) -> VoxelMetal:
    """Metal of the bars and pieces."""
    return VoxelMetal(
        density=8500.0,
        knots=bronze_knots(),
        solid_conductivity=90.0,
        liquid_conductivity=40.0,
        interface_heat_transfer=transfer,
    )


def sharp_metal(
    melting: float,
    *,
    solid_heat: float = 430.0,
    liquid_heat: float = 495.0,
    latent: float = 195e3,
    solid: float = 90.0,
    liquid: float = 40.0,
    transfer: float = ALMOST_NONE,
    width: float = 0.2,
) -> VoxelMetal:
    """Metal that freezes over a fraction of a kelvin."""
    curve = [melting + ZERO + width * (0.5 - place / 4) for place in range(5)]
    return VoxelMetal(
        density=8500.0,
        knots=knots_of(
            (curve[0], curve[1], curve[2], curve[3], curve[4]), liquid_heat, solid_heat, latent
        ),
        solid_conductivity=solid,
        liquid_conductivity=liquid,
        interface_heat_transfer=transfer,
    )


def plain_mould(conductivity: float = 0.5) -> VoxelMould:
    """Mould with the same properties at all temperatures."""
    return VoxelMould(
        density=1250.0,
        temperature=np.array([300.0]),
        conductivity=np.array([conductivity]),
        specific_heat=np.array([1050.0]),
    )


def cold_wall() -> VoxelMould:
    """Mould that keeps its temperature and has no resistance."""
    return VoxelMould(
        density=1e6,
        temperature=np.array([300.0]),
        conductivity=np.array([1e9]),
        specific_heat=np.array([1e9]),
    )


def closed_block() -> VoxelBlock:
    """Block that no heat leaves."""
    return VoxelBlock(
        radius=1.0,
        top=1.0,
        bottom=-1.0,
        wall="bare",
        wall_thickness=0.0,
        wall_density=7850.0,
        room=298.0,
        air_heat_transfer=0.0,
        mould_emissivity=0.0,
        button_top="covered",
        cover_heat_transfer=0.0,
    )


def rod(
    start: tuple[float, float, float],
    end: tuple[float, float, float],
    size: float,
    width: float | None = None,
) -> Network:
    """Network of one straight rod, or of one blade where a width is given; it lies along y."""
    line = np.array(end) - np.array(start)
    return Network(
        start=np.array([0]),
        end=np.array([1]),
        start_position=np.array([start]),
        end_position=np.array([end]),
        section=np.array([ROUND if width is None else RECTANGLE]),
        length=np.array([float(np.linalg.norm(line))]),
        width=np.full((1, 2), width or size),
        thickness=np.full((1, 2), size),
        member=np.array([0]),
        member_part=np.array([0]),
        part_names=("rod",),
        vent_diameter=np.zeros(2),
        vent_length=np.zeros(2),
        vent_to_vacuum=np.zeros(2, dtype=np.bool_),
        is_joint=np.zeros(1, dtype=np.bool_),
        across=np.array([[0.0, 1.0, 0.0]]),
    )


def nothing(voxel: float) -> tuple[Passages, Rods]:
    """Passages and rods of a grid that was made by hand."""
    one = rod((0.0, 0.0, 0.0), (0.0, 0.0, -1.0), 1.0)
    passages = passages_of(one, voxel)
    return passages, cut_rods(one, passages, voxel)


def body(
    distance: Callable[..., si.Metres],
    half: float,
    volume: float,
    voxel: float,
    axes: int,
    offset: tuple[float, float, float] = (0.0, 0.0, 0.0),
) -> Grid:
    """Return metal inside a surface, with mould up to ``half`` from the middle.

    ``axes`` of the three are as wide as that, the others one cell.  ``volume`` is that
    of the body in those axes, in m, m² or m³; ``offset`` in cells.
    """
    count = 2 * int(np.ceil(half / voxel))
    shape = [count if axis < axes else 1 for axis in range(3)]
    middles = [
        (np.arange(-1, size + 1) - (size - 1) / 2 - shift) * voxel if size > 1 else np.zeros(3)
        for size, shift in zip(shape, offset, strict=True)
    ]
    away = distance(*np.meshgrid(*middles, indexing="ij"))
    kind = np.zeros(away.shape, dtype=np.uint8)
    inner = (slice(1, -1),) * 3
    levels, counts = np.unique(np.round(away[inner], 9), return_counts=True)
    best = int(np.abs(np.cumsum(counts) - volume / voxel**axes).argmin())
    level = 0.5 * (levels[best] + levels[best + 1])
    kind[inner] = np.where(away[inner] <= level, METAL, MOULD)
    passages, rods = nothing(voxel)
    return Grid(
        voxel=voxel,
        origin=np.array([axis[0] for axis in middles]),
        kind=kind,
        owner=np.full(kind.shape, BUTTON, dtype=np.int64),
        distance=(away - level).astype(np.float32),
        thin_distance=np.full(kind.shape, FAR, dtype=np.float32),
        passages=passages,
        rods=rods,
    )


def thin_bar(
    size: float,
    half: float,
    voxel: float,
    offset: tuple[float, float],
    width: float | None = None,
) -> Grid:
    """Return a thin bar or blade along z, as long as the grid, with no free end."""
    count, layers = 2 * int(np.ceil(half / voxel)), 9
    kind = np.zeros((count + 2, count + 2, layers + 2), dtype=np.uint8)
    kind[1:-1, 1:-1, 1:-1] = MOULD
    low = -(count + 1) / 2 * voxel
    origin = np.array([low - offset[0] * voxel, low - offset[1] * voxel, -0.5 * voxel])
    network = rod((0.0, 0.0, layers * voxel), (0.0, 0.0, 0.0), size, width)
    passages = passages_of(network, voxel)
    rods = cut_rods(network, passages, voxel)
    rods = replace(rods, caps=np.zeros_like(rods.caps))
    away = np.full(kind.shape, FAR, dtype=np.float32)
    owner = np.full(kind.shape, BUTTON, dtype=np.int64)
    nearest_passage(rods.rows, 0, rods.rows.shape[0], origin, voxel, 3 * voxel, away, owner)
    host = (kind == MOULD) & (away <= HOST_REACH * voxel)
    kind[host] = HOST
    return Grid(
        voxel=voxel,
        origin=origin,
        kind=kind,
        owner=np.where(host, rods.stack[np.maximum(owner, 0)], BUTTON),
        distance=np.full(kind.shape, FAR, dtype=np.float32),
        thin_distance=away,
        passages=passages,
        rods=rods,
    )


def marched(
    grid: Grid,
    metal: VoxelMetal,
    mould: VoxelMould,
    hot: float,
    cold: float,
    block: VoxelBlock | None = None,
) -> March:
    """Return the state at the start, temperatures in °C."""
    start = VoxelStart(metal=hot + ZERO, mould=cold + ZERO)
    return set_up(grid, block or closed_block(), metal, mould, start, 0.7, 1)


def run(
    march: March,
    until: float,
    *,
    first: float = 0.02,
    growth: float = 1.01,
    longest: float = 1e9,
    frozen: bool = False,
) -> None:
    """March to a time, or until all is solid."""
    step = min(first, march.longest, longest)
    while march.time < until * (1 - 1e-12) and not (frozen and march.liquid_left == 0):
        advance(march, min(step, until - march.time), None, 1)
        step = min(step * growth, march.longest, longest)


def freeze_times(march: March) -> si.Seconds:
    """Return when metal cells, then stacks, were all solid."""
    solid = int(np.flatnonzero(march.level_order == 4)[0])
    return np.concatenate([march.times[:, solid], march.stack_times[:, solid]]).astype(float)


def line(metal_cells: int, mould_cells: int, voxel: float) -> Grid:
    """Return a bar of cells along z: mould below, metal above, no heat sideways."""
    kind = np.zeros((3, 3, metal_cells + mould_cells + 2), dtype=np.uint8)
    kind[1, 1, 1 : mould_cells + 1] = MOULD
    kind[1, 1, mould_cells + 1 : -1] = METAL
    passages, rods = nothing(voxel)
    away = (mould_cells + 0.5 - np.arange(kind.shape[2])) * voxel
    return Grid(
        voxel=voxel,
        origin=np.array([-voxel, -voxel, -voxel]),
        kind=kind,
        owner=np.full(kind.shape, BUTTON, dtype=np.int64),
        distance=np.broadcast_to(away, kind.shape).astype(np.float32),
        thin_distance=np.full(kind.shape, FAR, dtype=np.float32),
        passages=passages,
        rods=rods,
    )


def mould_along(march: March, grid: Grid) -> si.Kelvins:
    """Return the temperature of the mould cells in scan order [K]."""
    flat = np.flatnonzero(grid.kind.ravel() == MOULD)
    return march.fit.temperature_at(march.u[flat].astype(float))


def slab(mould_cells: int, voxel: float) -> Grid:
    """Return mould between two outer faces along z, with no metal and no heat sideways.

    Its sides count for nothing once `ends_only` was called.
    """
    kind = np.zeros((3, 3, mould_cells + 2), dtype=np.uint8)
    kind[1, 1, 1:-1] = MOULD
    passages, rods = nothing(voxel)
    return Grid(
        voxel=voxel,
        origin=np.array([-voxel, -voxel, -voxel]),
        kind=kind,
        owner=np.full(kind.shape, BUTTON, dtype=np.int64),
        distance=np.full(kind.shape, FAR, dtype=np.float32),
        thin_distance=np.full(kind.shape, FAR, dtype=np.float32),
        passages=passages,
        rods=rods,
    )


def ends_only(march: March) -> March:
    """Let heat out through the faces along z only."""
    march.lists.wall[march.lists.wall[:, 5] > 0.0, 0] = 0.0
    return march
