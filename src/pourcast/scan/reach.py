"""Reach: how far each cell lies from the gate, inside the original.

Distance runs over the 26 neighbours of a cell.  A step to a neighbour over a
face, an edge or a corner counts 12, 17 or 21 parts of 12.5 of a cell: near to
1, √2 and √3, taken a little smaller so that the mean error over all directions
is small.  From one body of the original to another it goes only where the
second hangs on the first.

Slices of equal distance that are in one piece are then nodes of a tree.

Source of whole-number steps: Borgefors (1986), Computer Vision, Graphics and
Image Processing 34, 344; the numbers are our own choice.
"""

import numpy as np

from pourcast import units as si
from pourcast.kernels import kernel

STEPS = np.array(
    [
        (a, b, c)
        for a in (-1, 0, 1)
        for b in (-1, 0, 1)
        for c in (-1, 0, 1)
        if (a, b, c) != (0, 0, 0)
    ]
)
"""To the 26 neighbours of a cell."""

WEIGHTS = np.array([12, 17, 21])[np.abs(STEPS).sum(axis=1) - 1]
PER_CELL = 12.5
_FAR = 2**30


def numbered(place: si.Integers, shape: tuple[int, ...]) -> si.Integers:
    """Return a grid with a rim of one, which holds the number of each cell; -1: no cell.

    Parameters
    ----------
    place : array of int, shape (cells, 3)
    shape : tuple of int
        Of the grid without its rim.

    Returns
    -------
    array of int, shape (x + 2, y + 2, z + 2)
    """
    grid = np.full(tuple(n + 2 for n in shape), -1, dtype=np.int32)
    grid[tuple((place + 1).T)] = np.arange(len(place), dtype=np.int32)
    return grid  # type: ignore[return-value]


def distances(
    place: si.Integers,
    grid: si.Integers,
    body: si.Integers,
    hangs_on: si.Integers,
    start: si.Integers,
    cell: si.Metre,
) -> si.Metres:
    """Return the distance of each cell from the start, inside the original.

    Parameters
    ----------
    place : array of int, shape (cells, 3)
    grid : array of int
        From `numbered`.
    body : array of int, shape (cells,)
    hangs_on : array of int, shape (bodies,)
        Body that each body hangs on; -1: the gate.
    start : array of int, shape (starts,)
        Numbers of cells.
    cell : float [m]

    Returns
    -------
    array [m], shape (cells,)
        Infinite where there is no way.
    """
    many = len(place)
    found = np.full(many, _FAR, dtype=np.int64)
    queue = np.full((2, many), -1, dtype=np.int64)
    heads = np.full(int(WEIGHTS.max()) + 1, -1, dtype=np.int64)
    flat = np.ravel_multi_index(tuple((place + 1).T), grid.shape)
    _, y, z = grid.shape
    ways = (STEPS[:, 0] * y + STEPS[:, 1]) * z + STEPS[:, 2]
    _spread(flat, grid.ravel(), body, hangs_on, start, ways, WEIGHTS, found, queue, heads)
    out: si.Metres = found.astype(np.float64) * (cell / PER_CELL)
    out[found == _FAR] = np.inf
    return out


@kernel
def _spread(
    flat: si.Integers,
    grid: si.Integers,
    body: si.Integers,
    hangs_on: si.Integers,
    start: si.Integers,
    ways: si.Integers,
    weights: si.Integers,
    found: si.Integers,
    queue: si.Integers,
    heads: si.Integers,
) -> None:
    """Spread from the start cells; ``queue`` links the cells of like distance both ways."""
    slots = len(heads)
    waiting = 0
    for k in range(len(start)):
        a = start[k]
        if found[a] != 0:
            found[a] = 0
            queue[0, a] = heads[0]
            if heads[0] >= 0:
                queue[1, heads[0]] = a
            queue[1, a] = -1
            heads[0] = a
            waiting += 1
    now = 0
    while waiting > 0:
        slot = now % slots
        while heads[slot] >= 0:
            a = heads[slot]
            heads[slot] = queue[0, a]
            if heads[slot] >= 0:
                queue[1, heads[slot]] = -1
            waiting -= 1
            for k in range(len(ways)):
                b = grid[flat[a] + ways[k]]
                if b < 0 or (body[b] != body[a] and hangs_on[body[b]] != body[a]):
                    continue
                way = now + weights[k]
                old = found[b]
                if way >= old:
                    continue
                if old < 2**30:
                    before, after = queue[1, b], queue[0, b]
                    if before >= 0:
                        queue[0, before] = after
                    else:
                        heads[old % slots] = after
                    if after >= 0:
                        queue[1, after] = before
                    waiting -= 1
                found[b] = way
                into = way % slots
                queue[0, b] = heads[into]
                queue[1, b] = -1
                if heads[into] >= 0:
                    queue[1, heads[into]] = b
                heads[into] = b
                waiting += 1
        now += 1


@kernel
def unite(
    flat: si.Integers, grid: si.Integers, kind: si.Integers, ways: si.Integers, root: si.Integers
) -> None:
    """Give neighbours of one kind one root.

    Parameters
    ----------
    flat : array of int, shape (cells,)
        Place of each cell in ``grid`` laid flat.
    grid : array of int, shape (x · y · z,)
        Number of the cell at each place; -1: none.
    kind : array of int, shape (cells,)
        Negative: belongs to nothing.
    ways : array of int, shape (neighbours,)
    root : array of int, shape (cells,)
        Own numbers before; the least number of each piece after.
    """
    for a in range(len(flat)):
        if kind[a] < 0:
            continue
        for k in range(len(ways)):
            b = grid[flat[a] + ways[k]]
            if b < 0 or kind[b] != kind[a]:
                continue
            p, q = a, b
            while root[p] != p:
                root[p] = root[root[p]]
                p = root[p]
            while root[q] != q:
                root[q] = root[root[q]]
                q = root[q]
            if p < q:
                root[q] = p
            else:
                root[p] = q
    for a in range(len(flat)):
        p = a
        while root[p] != p:
            p = root[p]
        root[a] = p
