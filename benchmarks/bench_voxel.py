"""How long the freezing in cells takes: two million cells, twenty minutes of the day.

Prints seconds, memory, the account of heat, and for each kernel its rate beside that of
a plain triad (a = b + s c) in the same run: other work on the machine slows both.
There is no pass or fail.  One argument: seconds of the day to follow (1200).
"""

import resource
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from tests.freeze.voxel_cases import ZERO, bronze, plain_mould
from tests.piece.make import part, piece

from pourcast.freeze.voxel_advance import run_stages
from pourcast.freeze.voxel_grid import build_grid
from pourcast.freeze.voxel_march import advance
from pourcast.freeze.voxel_memory import memory_needed
from pourcast.freeze.voxel_metal import stage_table
from pourcast.freeze.voxel_model import VoxelBlock, VoxelStart
from pourcast.freeze.voxel_mould import step_planes
from pourcast.freeze.voxel_set_up import set_up
from pourcast.freeze.voxel_solve import solve_voxel
from pourcast.freeze.voxel_state import March
from pourcast.kernels import kernel
from pourcast.piece.model import Button, Network, Piece
from pourcast.piece.network import build

VOXEL = 1e-3
THREADS = 2


@kernel
def triad(a: Any, b: Any, c: Any, scale: float) -> None:
    """Write b + scale c into a."""
    unit = a.dtype.type(scale)
    for place in range(a.size):
        a[place] = b[place] + unit * c[place]


def bouquet() -> Piece:
    """Invented: six limbs with nine twigs each on a wide button."""
    made = piece(
        part("stock", length=0.03, width=0.014),
        part("limb", "stock", count=6, length=0.07, width=(0.008, 0.005), position=1.0, angle=35),
        part(
            "twig", "limb", count=9, length=0.018, width=(0.004, 0.003), position=(0.2, 1), angle=50
        ),
    )
    button = Button(diameter=0.05, height=0.022, gate_diameter=0.02, material="casting")
    return Piece(name="bouquet", parts=made.parts, button=button)


def case() -> tuple[Network, Button, VoxelBlock, VoxelStart]:
    """Return piece, block and start of the benchmark."""
    made = bouquet()
    block = VoxelBlock(
        radius=0.069,
        top=0.022,
        bottom=-0.122,
        wall="solid",
        wall_thickness=1.5e-3,
        wall_density=7850.0,
        room=298.0,
    )
    return build(made), made.button, block, VoxelStart(metal=1100 + ZERO, mould=550 + ZERO)


def best(work: Callable[[], object], runs: int = 60) -> float:
    """Return the shortest of some runs [s]."""
    times = []
    for _ in range(runs):
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return min(times)


def triad_rate(size: int) -> float:
    """Return the rate of a triad of three single-precision arrays, one thread [bytes/s]."""
    a, b, c = (np.ones(size, dtype=np.float32) for _ in range(3))
    return 12 * size / best(lambda: triad(a, b, c, 2.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """Seconds of each kernel for one pass or stage, and triads of the same run [bytes/s]."""

    cells: int
    metal_cells: int
    runs: float
    with_edges: float
    stage: float
    near: float
    far: float


def kernel_rates(march: March) -> Rates:
    """Return what each kernel takes, the least of some runs."""
    lists = march.lists
    cells = int((lists.run_last.astype(int) - lists.run_first.astype(int)).sum())
    planes = best(
        lambda: step_planes(
            1,
            lists.shape[0] - 1,
            1.0,
            0.1,
            1e-6,
            march.u,
            march.v,
            march.cells.offsets,
            march.coefficients,
            lists.run_first,
            lists.run_last,
            lists.edge,
            lists.edge_open,
            lists.edge_plane,
            march.edge_before,
            lists.wall_cell,
            lists.wall,
            lists.wall_plane,
            march.wall_temperature,
            march.wall_before,
            march.mould_row,
            march.lost,
            march.lost_before,
            march.potential[0],
        )
    )
    none = np.zeros(0, dtype=np.uint32)
    no_plane = np.zeros(lists.shape[0] + 1, dtype=np.int64)
    runs = best(
        lambda: step_planes(
            1,
            lists.shape[0] - 1,
            1.0,
            0.1,
            1e-6,
            march.u,
            march.v,
            march.cells.offsets,
            march.coefficients,
            lists.run_first,
            lists.run_last,
            none,
            np.zeros((0, 6), dtype=np.float32),
            no_plane,
            np.zeros(0, dtype=np.float32),
            none,
            np.zeros((0, 7)),
            no_plane,
            np.zeros(0),
            np.zeros(0),
            march.mould_row,
            march.lost,
            march.lost_before,
            march.potential[0],
        )
    )
    table = stage_table(11, 1e-9)
    stage = (
        best(
            lambda: run_stages(
                table,
                march.graph.shells.first.size,
                march.voxel,
                march.mould_row,
                march.cells,
                march.nodes,
                march.d1,
                march.d2,
                march.f,
                march.e1,
                march.e2,
            )
        )
        / 11
    )
    return Rates(
        cells=cells,
        metal_cells=lists.metal.size,
        runs=runs,
        with_edges=planes,
        stage=stage,
        near=triad_rate(cells),
        far=triad_rate(30_000_000),
    )


def kernels(march: March) -> None:
    """Print the rate of each kernel."""
    lists, rates = march.lists, kernel_rates(march)
    cells, near, far = rates.cells, rates.near, rates.far
    runs, planes, stage = rates.runs, rates.with_edges, rates.stage
    print(f"triad, one thread: {near / 1e9:.1f} GB/s at this size, {far / 1e9:.1f} GB/s at 360 MB")
    print(
        f"mould in runs  {1e3 * runs:6.3f} ms  {cells / runs / 1e9:5.2f} Gcell/s"
        f"  {12 * cells / runs / 1e9:5.1f} GB/s,"
        f" {100 * 12 * cells / runs / near:.0f} % of the triad"
    )
    print(
        f"with edge ({lists.edge.size}) and wall ({lists.wall_cell.size})  {1e3 * planes:6.3f} ms"
    )
    print(
        f"metal stage    {1e3 * stage:6.3f} ms  {lists.metal.size / stage / 1e9:5.2f} Gcell/s"
        f"  ({lists.metal.size} cells, {march.graph.shells.volume.size} nodes)"
    )


def main() -> None:
    """Print the table."""
    until = float(sys.argv[1]) if len(sys.argv) > 1 else 1200.0
    network, button, block, start = case()
    solve_voxel(
        network, button, block, bronze(), plain_mould(), start, voxel=3e-3, until=1.0, threads=1
    )  # compiles
    for threads in (2, 1):
        begun, worked = time.perf_counter(), time.process_time()
        fields = solve_voxel(
            network,
            button,
            block,
            bronze(),
            plain_mould(),
            start,
            voxel=VOXEL,
            until=until,
            threads=threads,
        )
        print(
            f"{threads} threads: {time.perf_counter() - begun:6.2f} s by the clock,"
            f" {time.process_time() - worked:6.2f} s of processor;"
            f" {fields.cell_count} cells, {fields.cells.shape[0]} of metal,"
            f" {fields.stack_count} stacks, {fields.steps} steps, {fields.stages} stages,"
            f" energy {fields.energy_error:.1e}"
        )
        print(
            f"   last to freeze: {fields.last_part} at {fields.last_time:.0f} s;"
            f" hottest mould {fields.mould_peak - ZERO:.0f} C"
        )
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
    told = memory_needed(network, button, block, VOXEL)
    print(f"memory: {peak / 1e9:.2f} GB at most, with Python and numba; told {told / 1e9:.2f} GB")
    begun = time.perf_counter()
    grid = build_grid(network, button, block, VOXEL)
    march = set_up(grid, block, bronze(), plain_mould(), start, 0.7, THREADS)
    print(f"grid and lists {time.perf_counter() - begun:.2f} s")
    kernels(march)
    step = best(lambda: advance(march, march.longest, None, 1), 20)
    print(f"one step, one thread {1e3 * step:.2f} ms of {march.longest:.3f} s")


if __name__ == "__main__":
    main()
