"""Slices: which way each piece of the original runs, how wide and how thick it is there.

The width is read from the spread of the cells across the direction: a flat
strip is √12 and a round rod 4 times its standard deviation wide.  The spread of
one cell, its side over √12, is taken off first.  Thickness is the median way
through the wall.
"""

import math
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.scan.model import Cells, Field, Pieces, Walls

FLAT = 2.3
"""Width over thickness from which a section is flat."""

_LEAST_SAMPLES = 12  # on the surface of a piece, that tell how round it is; estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class Slices:
    """Measures of each piece.

    Parameters
    ----------
    direction : array [-], shape (pieces, 3)
        Away from the gate.
    wide, deep : array [m], shape (pieces,)
        Across the direction, the larger and the smaller way.
    through : array [m], shape (pieces,)
        Median way through the wall; nan where none was read.  Of a piece under two cells nan
        where too little is seen, and if it is round no less than its surface is wide.
    across : array [-], shape (pieces, 3)
        Direction of ``wide``.
    """

    direction: si.Ratios
    wide: si.Metres
    deep: si.Metres
    through: si.Metres
    across: si.Ratios


def measured(cells: Cells, field: Field, pieces: Pieces, walls: Walls) -> Slices:
    """Return the measures of each piece.

    Parameters
    ----------
    cells : Cells
    field : Field
    pieces : Pieces
    walls : Walls

    Returns
    -------
    Slices
    """
    many = len(pieces.parent)
    direction = _directions(pieces)
    good = pieces.of_cell >= 0
    owner = pieces.of_cell[good]
    weight = np.maximum(cells.share[good], 1e-3)
    middle = field.origin + field.cell * (cells.place[good] + 0.5)
    values, vectors = np.linalg.eigh(
        _spread(owner, middle - pieces.middle[owner], weight, direction)
    )
    least = (0.25 * field.cell) ** 2
    values = np.maximum(values - field.cell**2 / 12, least)
    major, minor = np.sqrt(values[:, 2]), np.sqrt(values[:, 1])
    factor = np.where(major > 1.6 * minor, np.sqrt(12.0), 4.0)
    wide = factor * major
    under = piece_of(walls, cells, field, pieces)
    # On a rough surface half of the rays through a thin rod end in a fold, and the few of a
    # sliver tell nothing.
    thin = wide < 2 * field.cell
    seen = np.bincount(under[under >= 0], minlength=many)
    through = np.fmax(
        medians(under, walls.way, many),
        np.where(thin, _round(under, walls.place, direction, seen), np.nan),
    )
    return Slices(
        direction=direction,
        wide=wide,
        deep=4.0 * minor,
        through=np.where(thin & (seen < _LEAST_SAMPLES), np.nan, through),
        across=vectors[:, :, 2],
    )


def _spread(
    owner: si.Integers, off: si.Metres, weight: si.Ratios, direction: si.Ratios
) -> si.SquareMetres:
    """Return the mean squares of what lies off the middle of each piece, across its direction."""
    many = len(direction)
    off = off - np.einsum("ij,ij->i", off, direction[owner])[:, None] * direction[owner]
    total = np.maximum(np.bincount(owner, weights=weight, minlength=many), 1e-300)
    spread = np.empty((many, 3, 3))
    for i in range(3):
        for j in range(i, 3):
            spread[:, i, j] = spread[:, j, i] = (
                np.bincount(owner, weights=weight * off[:, i] * off[:, j], minlength=many) / total
            )
    return spread


def _round(
    under: si.Integers, place: si.Metres, direction: si.Ratios, seen: si.Integers
) -> si.Metres:
    """Return how thick the surface of each piece says it is; nan: it is not round."""
    many = len(direction)
    good = under >= 0
    under, place = under[good], place[good]
    middle = (
        np.stack(
            [np.bincount(under, weights=place[:, k], minlength=many) for k in range(3)], axis=1
        )
        / np.maximum(seen, 1)[:, None]
    )
    values = np.linalg.eigvalsh(
        _spread(under, place - middle[under], np.ones(len(under)), direction)
    )
    return round_by_surface(np.sqrt(np.maximum(values[:, 1:], 0.0)))


def round_by_surface(spread: si.Metres) -> si.Metres:
    """Return the diameter of a rod by the spread of its surface; nan where it is no rod.

    A circle has the diameter √8 times its spread each way.  A slice that lies askew spreads
    the one way, so the other one is taken.  The rim of a strip r times as wide as thick spreads
    r √((r + 3) / (1 + 3 r)) times as far along as across.

    Parameters
    ----------
    spread : array [m], shape (pieces, 2)
        The smaller and the larger one.

    Returns
    -------
    array [m], shape (pieces,)
    """
    strip = FLAT * math.sqrt((FLAT + 3.0) / (1.0 + 3.0 * FLAT))
    out: si.Metres = np.where(
        spread[:, 1] < strip * spread[:, 0], math.sqrt(8.0) * spread[:, 0], np.nan
    )
    return out


def _directions(pieces: Pieces) -> si.Ratios:
    many = len(pieces.parent)
    ahead = np.zeros((many, 3))
    has = pieces.parent >= 0
    step = np.zeros((many, 3))
    step[has] = pieces.middle[has] - pieces.middle[pieces.parent[has]]
    # Of several children the heavy ones say where the piece runs.
    for k in range(3):
        ahead[:, k] = np.bincount(
            pieces.parent[has], weights=step[has, k] * pieces.volume[has], minlength=many
        )
    ahead /= np.maximum(np.linalg.norm(ahead, axis=1), 1e-300)[:, None]
    back = step / np.maximum(np.linalg.norm(step, axis=1), 1e-300)[:, None]
    both = ahead + back
    size = np.linalg.norm(both, axis=1)
    both[size < 1e-9] = (0.0, 0.0, 1.0)
    direction: si.Ratios = both / np.maximum(np.linalg.norm(both, axis=1), 1e-300)[:, None]
    return direction


def piece_of(walls: Walls, cells: Cells, field: Field, pieces: Pieces) -> si.Integers:
    """Return the piece under each place of the surface; -1: none.

    Parameters
    ----------
    walls : Walls
    cells : Cells
    field : Field
    pieces : Pieces

    Returns
    -------
    array of int, shape (samples,)
    """
    cell = cell_of(walls, cells, field)
    return np.where(cell >= 0, pieces.of_cell[np.maximum(cell, 0)], -1)


def cell_of(walls: Walls, cells: Cells, field: Field) -> si.Integers:
    """Return the cell just inside each place of the surface; -1: none.

    Parameters
    ----------
    walls : Walls
    cells : Cells
    field : Field

    Returns
    -------
    array of int, shape (samples,)
    """
    number = np.full(field.share.shape, -1, dtype=np.int64)
    number[tuple(cells.place.T)] = np.arange(len(cells.place))
    depth = np.where(np.isfinite(walls.way), 0.5 * walls.way, 0.25 * field.cell)
    depth = np.minimum(depth, 0.5 * field.cell)
    index = np.floor((walls.place + depth[:, None] * walls.inward - field.origin) / field.cell)
    index = np.clip(index.astype(np.int64), 0, np.array(field.share.shape) - 1)
    found: si.Integers = number[tuple(index.T)]
    return found


def medians(group: si.Integers, value: si.Metres, many: int) -> si.Metres:
    """Return the median value of each group; nan where a group has none.

    Parameters
    ----------
    group : array of int, shape (values,)
        Negative: in no group.
    value : array [m], shape (values,)
        Nan is left out.
    many : int
        Groups.

    Returns
    -------
    array [m], shape (groups,)
    """
    good = (group >= 0) & np.isfinite(value)
    group, value = group[good], value[good]
    order = np.lexsort((value, group))
    group, value = group[order], value[order]
    start = np.searchsorted(group, np.arange(many))
    size = np.searchsorted(group, np.arange(many), side="right") - start
    out = np.full(many, np.nan)
    has = size > 0
    low = start[has] + (size[has] - 1) // 2
    high = start[has] + size[has] // 2
    out[has] = 0.5 * (value[low] + value[high])
    return out
