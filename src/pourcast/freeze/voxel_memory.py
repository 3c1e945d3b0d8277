"""Memory: what a run will need, before anything is made.

Bytes for each cell of the box round the block, each metal cell and each face of the
metal, counted from the arrays of `pourcast.freeze.voxel_grid`,
`pourcast.freeze.voxel_lists` and `pourcast.freeze.voxel_march` at their largest: while
the grid is being made, or while the freezing is followed.  Python and numba take about
0.2 GB more.  Held against the process itself in benchmarks/bench_voxel.py.
"""

import math

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.freeze.voxel_model import VoxelBlock
from pourcast.freeze.voxel_passages import button_row, passages_of
from pourcast.piece.model import Button, Network

_PER_CELL = 56.0  # bytes of a cell of the box; measured 47 to 51 at 1.5 and 1 mm
_PER_METAL = 160.0  # bytes of a metal cell
_PER_STACK = 4e3  # bytes of a stack, with its nodes and ways
_FINEST = 0.05e-3  # m; voxel sizes are told in steps of this


def memory_needed(network: Network, button: Button, block: VoxelBlock, voxel: si.Metre) -> int:
    """Return how many bytes a run will need.

    Parameters
    ----------
    network : Network
    button : Button
    block : VoxelBlock
    voxel : float [m]

    Returns
    -------
    int
    """
    box = (2 * block.radius / voxel + 4) ** 2 * ((block.top - block.bottom) / voxel + 4)
    passages = passages_of(network, voxel)
    thick = float(passages.volume[~passages.thin].sum()) + button_row(button, voxel)[1]
    stacks = float(network.length[passages.thin].sum()) / (2 * voxel)
    return int(_PER_CELL * box + _PER_METAL * thick / voxel**3 + _PER_STACK * stacks)


def require_memory(
    network: Network, button: Button, block: VoxelBlock, voxel: si.Metre, limit: int
) -> None:
    """Raise `InputError` if a run would need more than a limit; it says what would fit.

    Parameters
    ----------
    network : Network
    button : Button
    block : VoxelBlock
    voxel : float [m]
    limit : int
        Bytes.
    """
    need = memory_needed(network, button, block, voxel)
    if need <= limit:
        return
    # Rounded first: 1e-3 / 0.05e-3 is a trace over 20.
    fits = math.ceil(round(voxel * (need / limit) ** (1 / 3) / _FINEST, 6)) * _FINEST
    # A cell as large as the block tells nothing.
    while fits < block.radius and memory_needed(network, button, block, fits) > limit:
        fits += _FINEST
    must = f"{1e3 * fits:.2f} mm or more here" if fits < block.radius else "run with more memory"
    raise InputError(
        "voxel",
        f"{1e3 * voxel:g}",
        "mm",
        must,
        f"It would need {need / 1e6:.0f} MB; the limit is {limit / 1e6:.0f} MB.",
    )
