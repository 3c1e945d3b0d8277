"""Share: how much of each cell of a grid lies inside the surface of a mesh.

Scan lines run along all three axes.  With crossings z_k and their signs s_k a
line is inside where the sum of the signs so far is not zero, and

    share = sum of the length inside / (side of a cell · good lines)           (1)

over the good lines of the three axes that run through a cell.  Cells are joined
where the share is above zero, and weighed by it: a sheet of 0.3 mm keeps its
volume and stays one piece in cells of 0.5 mm.  Thickness is never read from
cells.

Where more lines meet holes than `WINDING`, the share is the part of 3 x 3 x 3
places in a cell about which the surface winds by half a turn or more.  Above
`TORN` the mesh is refused.  Both limits rest on a few torn meshes (estimate).

Source of the winding number for open surfaces: Jacobson, Kavan and
Sorkine-Hornung (2013), ACM Transactions on Graphics 32(4), 33.
"""

from typing import Any

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.scan.crossings import cross, crossed_lines, fill
from pourcast.scan.model import Field, Mesh

WINDING = 0.03
"""Share of the lines that may meet a hole before the winding field is taken; estimate."""

TORN = 0.15
"""Share of the lines above which a mesh is refused; estimate."""

MOST_CELLS = 60_000_000
"""Of a grid: 1 GB with its work arrays; our own choice."""

_MARGIN = 2  # cells about the mesh
_POINTS = 3  # places along a cell for the winding number
_ACROSS = ((1, 2, 0), (2, 0, 1), (0, 1, 2))  # axes across a line, and the one along it


def grid_of(mesh: Mesh, cell: si.Metre) -> tuple[si.Metres, si.Integers]:
    """Return the lower corner of the grid about a mesh, and its cells each way.

    Parameters
    ----------
    mesh : Mesh
    cell : float [m]

    Returns
    -------
    origin : array [m], shape (3,)
    cells : array of int, shape (3,)
    """
    # Corners at whole cells: grids of several bodies of one file then fit each other.
    low = np.floor(mesh.vertices.min(axis=0) / cell) - _MARGIN
    high = np.ceil(mesh.vertices.max(axis=0) / cell) + _MARGIN
    return low * cell, (high - low).astype(np.int64)


def share_of(mesh: Mesh, *, cell: si.Metre, finer: int = 3) -> Field:
    """Return the share field of a mesh by scan lines, equation (1).

    Parameters
    ----------
    mesh : Mesh
        Cleaned, so that its faces look outward.
    cell : float [m]
    finer : int
        Scan lines per cell, each way.

    Returns
    -------
    Field

    Raises
    ------
    InputError
        If the grid would have more cells than `MOST_CELLS`.
    """
    origin, cells = grid_of(mesh, cell)
    if float(np.prod(cells.astype(float))) > MOST_CELLS:
        raise InputError(
            "voxel",
            f"{1e3 * cell:g}",
            "mm",
            f"so large that the box of the original has at most {MOST_CELLS // 1_000_000} "
            "million of them",
            "Take a coarser one with --voxel, or look whether the unit is right.",
        )
    corners = np.ascontiguousarray(mesh.vertices[mesh.faces])
    total = np.zeros(tuple(cells), dtype=np.float32)
    good_all = np.zeros(tuple(cells), dtype=np.int16)
    bad = met = 0
    spacing = cell / finer
    for u, v, w in _ACROSS:
        lines = cells[[u, v]] * finer
        start = origin[[u, v]] + 0.5 * spacing
        count = np.zeros(int(lines.prod()), dtype=np.int64)
        none_f, none_i = np.zeros(1), np.zeros(1, dtype=np.int64)
        axes = np.array([u, v, w])
        cross(corners, axes, lines, start, spacing, none_i, count, none_f, none_i, False)
        first = np.concatenate([[0], np.cumsum(count)[:-1]])
        number = int(count.sum())
        place = np.empty(max(number, 1))
        sign = np.empty(max(number, 1), dtype=np.int64)
        count[:] = 0
        cross(corners, axes, lines, start, spacing, first, count, place, sign, True)
        inside = np.zeros(tuple(cells[[u, v, w]]), dtype=np.float32)
        good = np.zeros(tuple(cells[[u, v]]), dtype=np.int64)
        bad += fill(first, count, place, sign, lines, finer, float(origin[w]), cell, inside, good)
        met += crossed_lines(count)
        back = np.argsort([u, v, w])
        total += inside.transpose(back)
        good_all += good.astype(np.int16)[:, :, None].transpose(back)
    # Single precision: 60 million cells are 240 MB of it.
    share: Any = np.minimum(total / np.maximum(good_all, 1), 1.0, dtype=np.float32)
    return Field(
        share=share,
        origin=origin,
        cell=cell,
        bad_lines=bad / met if met else 0.0,
        by_winding=False,
    )


def mended(field: Field, mesh: Mesh) -> Field:
    """Return the field that may be worked with: as it is, by winding, or refused.

    Parameters
    ----------
    field : Field
        By scan lines.
    mesh : Mesh
        That it was made of.

    Returns
    -------
    Field

    Raises
    ------
    InputError
        If more of the lines than `TORN` meet a hole.
    """
    if field.bad_lines > TORN:
        raise InputError(
            "scan",
            f"torn: {100 * field.bad_lines:.0f} % of the scan lines meet a hole",
            "",
            f"at most {100 * TORN:.0f} %",
            "Scan again, or close the holes.",
        )
    if field.bad_lines <= WINDING:
        return field
    import igl  # type: ignore[import-untyped]
    from scipy import ndimage

    near = ndimage.binary_dilation(field.share > 0, iterations=1)
    index = np.argwhere(near)
    step = (np.arange(_POINTS) + 0.5) / _POINTS
    inner = np.stack(np.meshgrid(step, step, step, indexing="ij"), axis=-1).reshape(-1, 3)
    share: Any = np.zeros(field.share.shape, dtype=np.float32)
    vertices, faces = np.ascontiguousarray(mesh.vertices), np.ascontiguousarray(mesh.faces)
    at_once = 200_000
    for begin in range(0, len(index), at_once):
        some = index[begin : begin + at_once]
        places = field.origin + field.cell * (some[:, None] + inner[None])
        turns = igl.fast_winding_number(vertices, faces, places.reshape(-1, 3))
        share[tuple(some.T)] = (np.abs(turns) >= 0.5).reshape(len(some), -1).mean(axis=1)
    return Field(
        share=share,
        origin=field.origin,
        cell=field.cell,
        bad_lines=field.bad_lines,
        by_winding=True,
    )
