"""Look: the temperature of a cell, and which places are worth a curve."""

import numpy as np

from pourcast import units as si
from pourcast.freeze.voxel_grid import BUTTON, HOST, METAL, OUTSIDE, Grid
from pourcast.freeze.voxel_state import March


def temperature_of(march: March, grid: Grid, at: tuple[si.Integers, ...]) -> si.Kelvins:
    """Return the temperature of cells.

    A host has that of the core where it lies in the thin part, else that of the shell
    at its distance.

    Parameters
    ----------
    march : March
    grid : Grid
    at : tuple of array of int
        Cells, as numpy takes them.

    Returns
    -------
    array [K]
        Not a number outside the block.
    """
    flat = np.ravel_multi_index(at, grid.kind.shape)
    kind = march.kind[flat]
    warm = march.fit.temperature_at(march.u[flat].astype(np.float64))
    warm[kind == OUTSIDE] = np.nan
    is_metal = kind == METAL
    warm[is_metal] = march.metal.temperature_at(
        march.heat[np.searchsorted(march.lists.metal, flat[is_metal])]
    )
    shells = march.graph.shells
    for place in np.flatnonzero(kind == HOST).tolist():
        stack = int(grid.owner.ravel()[flat[place]])
        away = float(grid.thin_distance.ravel()[flat[place]])
        first, last = int(shells.first[stack]), int(shells.last[stack])
        node = stack
        if away > 0.0:
            node = min(first + int(np.searchsorted(shells.edge[first : last + 1], away)), last)
        warm[place] = march.nodes.temperature[node]
    return np.asarray(warm)


def usual_places(grid: Grid, part_names: tuple[str, ...]) -> tuple[list[str], si.Metres, list[int]]:
    """Return the middle of the button and the thickest place of each part.

    Parameters
    ----------
    grid : Grid
    part_names : tuple of str

    Returns
    -------
    names : list of str
    places : array [m], shape (places, 3)
    stacks : list of int
        The stack whose core it is; -1: a cell.
    """
    names, places = ["button"], [_middle_of_button(grid)]
    stacks = [-1]
    rows, passages, rods = grid.passages.rows, grid.passages, grid.rods
    for part, name in enumerate(part_names):
        mine = np.flatnonzero((passages.part == part) & ~passages.thin & passages.present)
        thin = np.flatnonzero(rods.part == part)
        if mine.size:
            row = rows[mine[passages.least[mine].argmax()]]
            places.append(row[0:3] + 0.5 * row[9] * row[3:6])
            stacks.append(-1)
        elif thin.size:
            stacks.append(int(thin[rods.least[thin].argmax()]))
            places.append(rods.place[stacks[-1]])
        else:
            continue
        names.append(name)
    return names, np.array(places), stacks


def _middle_of_button(grid: Grid) -> si.Metres:
    cells = np.argwhere((grid.kind == METAL) & (grid.owner == BUTTON))
    height = float(cells[:, 2].mean())
    return np.array([0.0, 0.0, float(grid.origin[2]) + height * grid.voxel])
