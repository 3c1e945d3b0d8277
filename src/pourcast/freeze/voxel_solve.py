"""Solve: follow the freezing of one casting in cells.

The step starts at 0.02 s and is a hundredth of the time that has passed: freezing times are
then right to about 1 % (measured, see docs/freezing.md).  A step that is longer than one
pass through the mould can carry goes in several (`pourcast.freeze.voxel_passes`).
"""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import nullcontext

import numpy as np

from pourcast import units as si
from pourcast.errors import SolveError, require_positive
from pourcast.freeze.fields import VoxelFields
from pourcast.freeze.voxel_grid import BUTTON, Grid, build_grid
from pourcast.freeze.voxel_march import advance
from pourcast.freeze.voxel_memory import require_memory
from pourcast.freeze.voxel_model import (
    VoxelAsk,
    VoxelBlock,
    VoxelMetal,
    VoxelMould,
    VoxelStart,
)
from pourcast.freeze.voxel_passes import best_step
from pourcast.freeze.voxel_pools import level_times, place_of, pools_and_loose
from pourcast.freeze.voxel_set_up import require_start, set_up
from pourcast.freeze.voxel_state import March
from pourcast.freeze.voxel_tables import SOLID, STOP
from pourcast.freeze.voxel_watch import (
    ACCOUNT_EVERY,
    LOOK_EVERY,
    Watch,
    account,
    curves_of,
    hot_mould_of,
    keep_section,
    look,
    watch,
)
from pourcast.piece.model import Button, Network

FIRST_STEP = 0.02  # s
GROWTH = 1.01
MEMORY_LIMIT = 1_000_000_000
"""Bytes that a run may take where nothing else is said."""


def solve_voxel(
    network: Network,
    button: Button,
    block: VoxelBlock,
    metal: VoxelMetal,
    mould: VoxelMould,
    start: VoxelStart,
    *,
    voxel: si.Metre,
    until: si.Second,
    ask: VoxelAsk | None = None,
    progress: Callable[[float], bool] | None = None,
    threads: int = 1,
    memory_limit: int = MEMORY_LIMIT,
) -> VoxelFields:
    """Return how a casting freezes, place by place.

    Parameters
    ----------
    network : Network
    button : Button
    block : VoxelBlock
    metal : VoxelMetal
    mould : VoxelMould
    start : VoxelStart
    voxel : float [m]
        Side of a cell; > 0.
    until : float [s]
        > 0.
    ask : VoxelAsk, optional
        What to keep.
    progress : callable, optional
        Called every tenth pass with the share of the time that has passed, 0 to 1;
        where it answers False the run ends, and what there is is kept and marked.
    threads : int
        The result is the same for any number.
    memory_limit : int
        Bytes.

    Returns
    -------
    VoxelFields

    Raises
    ------
    InputError
        If a value is outside its limits, the block does not hold the piece, or the
        cells would need more memory than the limit; then it says which would fit.
    SolveError
        If a temperature stops being a number.

    Notes
    -----
    Closed forms, outside solvers and measurements that it is held against: tests/freeze.
    """
    require_positive("voxel", voxel, "m")
    require_positive("until", until, "s")
    wanted = ask or VoxelAsk()
    require_start(start, block, network.length.size)
    require_memory(network, button, block, voxel, memory_limit)
    grid = build_grid(network, button, block, voxel, start.filled)
    march = set_up(grid, block, metal, mould, start, wanted.stop_fraction, threads)
    warm = march.metal.temperature_at(_metal_heat(march))
    superheat = warm - metal.knots.liquidus
    seen = watch(march, grid, wanted, network.part_names)
    whole = follow(march, seen, until, wanted.section_times, progress, threads)
    return _fields(march, grid, seen, wanted, superheat, network.part_names, partial=not whole)


def follow(
    march: March,
    seen: Watch,
    until: si.Second,
    section_times: tuple[si.Second, ...],
    progress: Callable[[float], bool] | None,
    threads: int,
) -> bool:
    """Follow the freezing; return False where it was stopped.

    Parameters
    ----------
    march : March
        Changed.
    seen : Watch
        Changed.
    until : float [s]
    section_times : tuple of float [s]
    progress : callable or None
    threads : int

    Returns
    -------
    bool
    """
    stops = [*sorted(time for time in section_times if 0.0 < time < until), until]
    going_on = True
    looked, accounted = 0, 0
    with ThreadPoolExecutor(threads - 1) if threads > 1 else nullcontext() as pool:
        while stops and going_on:
            left = stops[0] - march.time
            most = FIRST_STEP + (GROWTH - 1.0) * march.time
            # A last step that is nearly nothing is joined to the one before.
            most = left if left < 1.001 * most else most
            advance(march, best_step(most, march.longest), pool, threads)
            at_stop = stops[0] - march.time <= 1e-9 * stops[0]
            if at_stop:
                if len(stops) > 1:
                    keep_section(march, seen)
                stops.pop(0)
            if march.passes - looked >= LOOK_EVERY or not stops:
                look(march, seen)
                looked = march.passes
                going_on = progress is None or progress(min(march.time / until, 1.0))
            if march.passes - accounted >= ACCOUNT_EVERY or not stops or not going_on:
                account(march, seen)
                accounted = march.passes
                if not np.isfinite(seen.error):
                    raise SolveError("freezing in cells", march.steps, seen.error)
    return not stops


def _metal_heat(march: March) -> si.Floats:
    cores = march.graph.shells.first.size
    return np.concatenate([march.heat, march.nodes.content[:cores]])


def _fields(
    march: March,
    grid: Grid,
    seen: Watch,
    ask: VoxelAsk,
    superheat: si.Kelvins,
    part_names: tuple[str, ...],
    *,
    partial: bool,
) -> VoxelFields:
    cells, stacks = level_times(march)
    flat = march.lists.metal
    owner = grid.owner.ravel()[flat]
    segment_part = np.append(grid.passages.part, BUTTON)
    all_times = np.concatenate([cells[:, SOLID], stacks[:, SOLID]])
    frozen = not np.isnan(all_times).any()
    # Where some is still liquid, the place that is hottest freezes last.
    last = int(all_times.argmax() if frozen else _metal_heat(march).argmax())
    last_place, last_part = place_of(last, march, grid, part_names)
    pools, loose = pools_and_loose(march, grid, ask, superheat, part_names)
    volume = flat.size * grid.voxel**3 + float(grid.rods.volume.sum())
    kinds = np.bincount(march.kind, minlength=4)
    return VoxelFields(
        voxel=grid.voxel,
        origin=grid.origin,
        shape=(grid.kind.shape[0], grid.kind.shape[1], grid.kind.shape[2]),
        cells=np.column_stack(np.unravel_index(flat, grid.kind.shape)),
        part=segment_part[owner],
        freeze_time=cells[:, SOLID].astype(np.float32),
        stop_time=cells[:, STOP].astype(np.float32),
        stack_place=grid.rods.place,
        stack_part=grid.rods.part,
        stack_freeze_time=stacks[:, SOLID],
        stack_stop_time=stacks[:, STOP],
        sections=tuple(seen.sections),
        times=np.array(seen.times),
        curves=curves_of(seen),
        hot_mould=hot_mould_of(march, seen),
        mould_peak=float(march.fit.temperature_at(np.array([seen.peak]))[0]),
        last_place=last_place,
        last_part=last_part,
        last_time=float(all_times[last]) if frozen else float("nan"),
        pools=pools,
        metal_volume=volume,
        loose_volume=loose,
        energy_error=seen.error,
        heat_lost=float(march.lost.sum()) + march.lost_above,
        time=march.time,
        steps=march.steps,
        stages=march.stages,
        cell_count=int(kinds[1] + kinds[2]),
        stack_count=int(stacks.shape[0]),
        partial=partial,
    )
