"""Crossings: where scan lines meet the faces of a mesh.

A line runs along one axis.  It meets a face where it lies inside the outline of
the face; a line through an edge belongs to one of its two faces, so that no
crossing is lost or counted twice.  The sign of a crossing is that of the area
of the face as the line sees it.

Lines stand in a square grid, each shifted by a fixed amount that looks random,
up to half a spacing: a sheet that lies along the grid would else be counted one
whole line too thick or too thin.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.kernels import kernel, small_kernel


@small_kernel
def _shift(i: int, j: int, salt: int) -> si.Ratio:
    """Return a fixed number from -0.5 to 0.5 for a line."""
    mixed = (i * 73856093) ^ (j * 19349663) ^ (salt * 83492791)
    mixed = ((mixed ^ (mixed >> 13)) * 1274126177) & 0x7FFFFFFF
    mixed = (mixed ^ (mixed >> 16)) & 0xFFFF
    return mixed / 65536.0 - 0.5


@small_kernel
def _turn(
    ax: si.Metre, ay: si.Metre, bx: si.Metre, by: si.Metre, px: si.Metre, py: si.Metre
) -> si.SquareMetre:
    """Return twice the area of a triangle; exactly opposite for the edge walked the other way."""
    # Both faces of an edge must round alike, so its ends are always taken in one order.
    if ax < bx or (ax == bx and ay < by):
        return (bx - ax) * (py - ay) - (by - ay) * (px - ax)
    return -((ax - bx) * (py - by) - (ay - by) * (px - bx))


@small_kernel
def _owns(
    area: si.SquareMetre,
    sign: si.Ratio,
    ax: si.Metre,
    ay: si.Metre,
    bx: si.Metre,
    by: si.Metre,
) -> bool:
    """Say whether a place belongs to a face as far as one edge decides."""
    if area == 0.0:
        return (ax < bx or (ax == bx and ay < by)) == (sign > 0.0)
    return area * sign > 0.0


@kernel
def cross(
    corners: si.Metres,
    across: si.Integers,
    lines: si.Integers,
    origin: si.Metres,
    spacing: si.Metre,
    first: si.Integers,
    count: si.Integers,
    place: si.Metres,
    sign: si.Integers,
    keep: bool,
) -> None:
    """Count the crossings of each line, or write them down.

    Parameters
    ----------
    corners : array [m], shape (faces, 3, 3)
    across : array of int, shape (3,)
        The two axes across the lines, and the one along them.
    lines : array of int, shape (2,)
        How many there are each way.
    origin : array [m], shape (2,)
        Of the first line.
    spacing : float [m]
    first : array of int, shape (lines,)
        Where the crossings of a line begin in ``place``.
    count : array of int, shape (lines,)
        Zero before; crossings of each line after.
    place : array [m], shape (crossings,)
    sign : array of int, shape (crossings,)
    keep : bool
        False: count only.
    """
    u, v, w = across[0], across[1], across[2]
    for f in range(corners.shape[0]):
        ax, ay, az = corners[f, 0, u], corners[f, 0, v], corners[f, 0, w]
        bx, by, bz = corners[f, 1, u], corners[f, 1, v], corners[f, 1, w]
        cx, cy, cz = corners[f, 2, u], corners[f, 2, v], corners[f, 2, w]
        seen = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
        if seen == 0.0:
            continue
        side = 1.0 if seen > 0.0 else -1.0
        left, right = min(ax, bx, cx), max(ax, bx, cx)
        low, high = min(ay, by, cy), max(ay, by, cy)
        i0 = max(0, math.ceil((left - origin[0]) / spacing - 0.5))
        i1 = min(lines[0] - 1, math.floor((right - origin[0]) / spacing + 0.5))
        j0 = max(0, math.ceil((low - origin[1]) / spacing - 0.5))
        j1 = min(lines[1] - 1, math.floor((high - origin[1]) / spacing + 0.5))
        for i in range(i0, i1 + 1):
            for j in range(j0, j1 + 1):
                x = origin[0] + (i + _shift(i, j, 1)) * spacing
                y = origin[1] + (j + _shift(i, j, 2)) * spacing
                first_area = _turn(bx, by, cx, cy, x, y)
                second = _turn(cx, cy, ax, ay, x, y)
                third = _turn(ax, ay, bx, by, x, y)
                if (
                    _owns(first_area, side, bx, by, cx, cy)
                    and _owns(second, side, cx, cy, ax, ay)
                    and _owns(third, side, ax, ay, bx, by)
                ):
                    line = i * lines[1] + j
                    if keep:
                        at = first[line] + count[line]
                        whole = first_area + second + third
                        place[at] = (first_area * az + second * bz + third * cz) / whole
                        sign[at] = 1 if side > 0.0 else -1
                    count[line] += 1


@kernel
def fill(
    first: si.Integers,
    count: si.Integers,
    place: si.Metres,
    sign: si.Integers,
    lines: si.Integers,
    finer: int,
    origin: si.Metre,
    cell: si.Metre,
    inside: si.Ratios,
    good: si.Integers,
) -> int:
    """Sum the length inside along each line into the cells that it runs through.

    A line is inside where the sum of the signs so far is not zero, so shells
    that overlap count once.  A line whose signs do not add up to zero met a
    hole and is left out.

    Parameters
    ----------
    first, count : array of int, shape (lines,)
        As `cross` writes them.
    place : array [m], shape (crossings,)
        Sorted here along each line.
    sign : array of int, shape (crossings,)
        Sorted with them.
    lines : array of int, shape (2,)
    finer : int
        Lines per cell, each way.
    origin : float [m]
        Where the first cell begins along the lines.
    cell : float [m]
    inside : array [-], shape (cells u, cells v, cells w)
        Adds up the length inside over the side of a cell.
    good : array of int, shape (cells u, cells v)
        Adds up the lines without a hole.

    Returns
    -------
    int
        Lines that met a hole.
    """
    bad = 0
    deep = inside.shape[2]
    for i in range(lines[0]):
        for j in range(lines[1]):
            line = i * lines[1] + j
            begin, number = first[line], count[line]
            a, b = i // finer, j // finer
            total = 0
            for k in range(begin, begin + number):
                total += sign[k]
                at, turn = place[k], sign[k]
                m = k - 1
                while m >= begin and place[m] > at:
                    place[m + 1], sign[m + 1] = place[m], sign[m]
                    m -= 1
                place[m + 1], sign[m + 1] = at, turn
            if total != 0:
                bad += 1
                continue
            good[a, b] += 1
            depth = 0
            for k in range(begin, begin + number - 1):
                depth -= sign[k]
                if depth == 0:
                    continue
                start, end = (place[k] - origin) / cell, (place[k + 1] - origin) / cell
                low, high = max(0, int(start)), min(deep - 1, int(end))
                for c in range(low, high + 1):
                    inside[a, b, c] += max(0.0, min(end, c + 1.0) - max(start, float(c)))
    return bad


def crossed_lines(count: si.Integers) -> int:
    """Return how many lines met a face."""
    return int(np.count_nonzero(count))
