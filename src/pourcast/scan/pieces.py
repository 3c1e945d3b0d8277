"""Pieces: slices of the original by distance from the gate, and their tree.

The gate is chosen first: the lowest cells, the highest, or those nearest to a
place.  Cells are then sorted into bands of distance, one band `STEP` wide; the
parts of a band that hang together are pieces.  A piece is joined to the piece
nearer to the gate with which it has the most contact.
"""

from typing import Literal, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.scan.bodies import bodies_of, bridged, contacts, hung
from pourcast.scan.joints import parted
from pourcast.scan.model import Cells, Cleaned, Field, Pieces
from pourcast.scan.reach import STEPS, distances, numbered, unite

STEP = 1e-3
"""Width of a band [m]; never less than two cells (estimate)."""

Gate: TypeAlias = Literal["lowest", "highest"] | si.Metres
"""Where the metal comes in: an end, or a place [m]."""


def cells_of(cleaned: Cleaned, field: Field, gate: Gate) -> tuple[Cells, si.Integers, si.Metres]:
    """Return the cells of the original with their distance from the gate.

    Parameters
    ----------
    cleaned : Cleaned
    field : Field
    gate : "lowest", "highest" or array [m], shape (3,)

    Returns
    -------
    cells : Cells
    hangs : array of int, shape (bodies,)
        Body that each body hangs on; -1: it holds the gate, -2: loose.
    gate : array [m], shape (3,)
        Middle of the cells at the gate.

    Raises
    ------
    InputError
        If nothing of the original is left in the grid.
    """
    shape = field.share.shape
    place, body, own = bodies_of(cleaned, field)
    if not len(place):
        raise InputError(
            "volume of the mesh", 0, "mm³", "more than 0", "Its surfaces cancel, or it is flat."
        )
    at_gate = _gate_entries(field, place, own, gate)
    weights = np.bincount(body[at_gate], weights=own[at_gate] + 1e-9)
    first = int(weights.argmax())
    touch = contacts(place, body, shape)
    more, owner, touch = bridged(place, body, touch, hung(touch, first))
    hangs = parted(place, body, hung(touch, first))
    rank = np.full(len(hangs), len(hangs), dtype=np.int64)
    depth = _depths(hangs)
    rank[np.lexsort((np.arange(len(hangs)), depth))] = np.arange(len(hangs))
    place, body, own = (
        np.concatenate([place, more]),
        np.concatenate([body, owner]),
        np.concatenate([own, np.zeros(len(more))]),
    )
    # One owner for each cell: the nearest to the gate that fills half of it, else the fullest.
    flat = np.ravel_multi_index(tuple(place.T), shape)
    order = np.lexsort((np.where(own >= 0.5, rank[body], len(hangs) - own), flat))
    chosen = order[np.concatenate([[True], np.diff(flat[order]) > 0])]
    place, body = place[chosen], body[chosen]
    grid = numbered(place, shape)
    at_gate = _gate_entries(field, place, own[chosen], gate)
    at_gate = at_gate[body[at_gate] == first]
    if not len(at_gate):
        at_gate = np.flatnonzero(body == first)[:1]
    return (
        Cells(
            place=place,
            share=np.asarray(field.share[tuple(place.T)], dtype=np.float64),
            shell=body,
            distance=distances(place, grid, body, hangs, at_gate, field.cell),
        ),
        hangs,
        field.origin + field.cell * (place[at_gate].mean(axis=0) + 0.5),
    )


def _depths(hangs: si.Integers) -> si.Integers:
    depth = np.where(hangs == -2, len(hangs), 0)
    for _ in range(len(hangs)):
        deeper = np.where(hangs >= 0, depth[np.maximum(hangs, 0)] + 1, depth)
        if np.array_equal(deeper, depth):
            break
        depth = deeper
    return depth


def _gate_entries(
    field: Field,
    place: si.Integers,
    share: si.Ratios,
    gate: Gate,
) -> si.Integers:
    """Return the cells at the gate."""
    full = np.flatnonzero(share > 0)
    if isinstance(gate, str):
        height = place[full, 2] if gate == "lowest" else -place[full, 2]
        ends: si.Integers = full[height <= height.min() + 1]
        return ends
    middle = field.origin + field.cell * (place[full] + 0.5)
    apart = np.linalg.norm(middle - gate, axis=1)
    near: si.Integers = full[apart <= apart.min() + 1.5 * field.cell]
    return near


def slice_up(cells: Cells, field: Field, hangs: si.Integers) -> Pieces:
    """Return the pieces and their tree.

    Parameters
    ----------
    cells : Cells
    field : Field
    hangs : array of int, shape (bodies,)
        From `cells_of`.

    Returns
    -------
    Pieces
    """
    step = max(2 * field.cell, STEP)
    joined = np.isfinite(cells.distance)
    band = np.where(joined, np.where(joined, cells.distance, 0.0) / step, -1).astype(np.int64)
    bodies = len(hangs)
    kind = np.where(joined, band * bodies + cells.shell, -1)
    grid = numbered(cells.place, field.share.shape)
    flat = np.ravel_multi_index(tuple((cells.place + 1).T), grid.shape)
    half = STEPS[len(STEPS) // 2 :]
    ways = (half[:, 0] * grid.shape[1] + half[:, 1]) * grid.shape[2] + half[:, 2]
    root = np.arange(len(flat))
    unite(flat, grid.ravel(), kind, ways, root)
    roots, of_joined = np.unique(root[joined], return_inverse=True)
    of_cell = np.full(len(flat), -1, dtype=np.int64)
    of_cell[joined] = of_joined.ravel()
    many = len(roots)
    weight = np.maximum(cells.share[joined], 1e-3)
    total = np.bincount(of_cell[joined], weights=weight, minlength=many)
    middle = (
        np.stack(
            [
                np.bincount(
                    of_cell[joined], weights=weight * cells.place[joined, k], minlength=many
                )
                for k in range(3)
            ],
            axis=1,
        )
        / total[:, None]
    )
    shell, its_band = cells.shell[roots], band[roots]
    parent, loops = _parents(of_cell, flat, grid.ravel(), ways, its_band, shell, hangs)
    volume: si.CubicMetres = (
        np.bincount(of_cell[joined], weights=cells.share[joined], minlength=many) * field.cell**3
    ).astype(np.float64)
    return Pieces(
        of_cell=of_cell,
        parent=parent,
        band=its_band,
        step=step,
        shell=shell,
        volume=volume,
        middle=field.origin + field.cell * (middle + 0.5),
        loops=loops,
    )


def _parents(
    of_cell: si.Integers,
    flat: si.Integers,
    grid: si.Integers,
    ways: si.Integers,
    band: si.Integers,
    shell: si.Integers,
    hangs: si.Integers,
) -> tuple[si.Integers, int]:
    """Return the parent of each piece, and how many rings are closed."""
    many = len(band)
    pairs = []
    for way in ways:
        other = grid[flat + way]
        met = other >= 0
        a, b = of_cell[met], of_cell[other[met]]
        apart = (a != b) & (a >= 0) & (b >= 0)
        a, b = a[apart], b[apart]
        pairs.append(np.minimum(a, b) * many + np.maximum(a, b))
    key, times = np.unique(np.concatenate(pairs), return_counts=True)
    a, b = key // many, key % many
    a, b, times = np.concatenate([a, b]), np.concatenate([b, a]), np.concatenate([times, times])
    # From here b is the candidate parent of a.
    own = (shell[a] == shell[b]) & (band[b] < band[a])
    over = hangs[shell[a]] == shell[b]
    good = own | over
    a, b, times, own = a[good], b[good], times[good], own[good]
    order = np.lexsort((-times, ~own, a))
    a, b, own = a[order], b[order], own[order]
    first = np.concatenate([[True], a[1:] != a[:-1]]) if len(a) else np.zeros(0, dtype=bool)
    parent = np.full(many, -1, dtype=np.int64)
    parent[a[first]] = b[first]
    ways_down = np.bincount(a[own], minlength=many)
    return parent, int(np.maximum(ways_down - 1, 0).sum())
