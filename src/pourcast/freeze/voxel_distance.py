"""Distance: how far a place is from the surface of a tapered passage.

A passage is a straight taper between two sections.  At the share s of its length,
0 to 1, with b along the width and c along the thickness,

    round or ellipse   k (k - 1) / g,  k² = (b/hw)² + (c/ht)²,
                                       g² = (b/hw²)² + (c/ht²)²               (1)
    flat               distance to the rectangle 2 hw by 2 ht                (2)

where hw and ht are half of the width and thickness there; both are multiplied by
the cosine of the taper.  Inside it is below 0.  (1) is exact where the section is
round, else the first step of Newton's method.  The ends are flat planes that may be
moved out, so that passages at a bend or on a parent hang together.  Where a passage goes
on in another there is no surface: only (1) or (2) counts up to that plane, and nothing
beyond it.

Source: (1) is the usual first-order distance to an ellipse, common practice.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.freeze.voxel_types import MetresSingle
from pourcast.kernels import kernel, small_kernel
from pourcast.piece.model import RECTANGLE

COLUMNS = 21
"""Columns of a passage: 0 to 2 start (m), 3 to 5 direction, 6 to 8 direction of the
width, 9 length (m), 10 and 11 half widths (m), 12 and 13 half thicknesses (m), 14 and
15 how far the ends are moved out (m), 16 section, 17 and 18 cosines of the tapers, 19 and
20 one where the passage goes on in another."""

FAR = 1e3  # m; a distance that was not worked out


@small_kernel
def _to_section(
    b: si.Metre, c: si.Metre, wide: si.Metre, thick: si.Metre, flat: si.Ratio
) -> si.Metre:
    if flat > 0.5:
        over_b = abs(b) - wide
        over_c = abs(c) - thick
        outside = math.hypot(max(over_b, 0.0), max(over_c, 0.0))
        return outside + min(max(over_b, over_c), 0.0)
    k = math.hypot(b / wide, c / thick)
    g = math.hypot(b / (wide * wide), c / (thick * thick))
    if g <= 0.0:
        return -min(wide, thick)
    return k * (k - 1.0) / g


@kernel
def nearest_passage(
    passages: si.Table,
    first: int,
    last: int,
    origin: si.Metres,
    voxel: si.Metre,
    margin: si.Metre,
    distance: MetresSingle,
    owner: si.Integers,
) -> None:
    """Lower the distance of every cell to that of the nearest of some passages.

    Parameters
    ----------
    passages : array [by column], shape (passages, COLUMNS)
    first, last : int
        Rows that are asked for.
    origin : array [m], shape (3,)
        Middle of the cell (0, 0, 0).
    voxel : float [m]
    margin : float [m]
        Cells farther than this are left as they are.
    distance : array [m], shape (nx, ny, nz), single precision
        Filled where it becomes less.
    owner : array of int, shape (nx, ny, nz)
        Row of the passage that a cell is nearest to.
    """
    nx, ny, nz = distance.shape
    for row in range(first, last):
        px, py, pz = passages[row, 0], passages[row, 1], passages[row, 2]
        ax, ay, az = passages[row, 3], passages[row, 4], passages[row, 5]
        bx, by, bz = passages[row, 6], passages[row, 7], passages[row, 8]
        cx, cy, cz = ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx
        length = passages[row, 9]
        before, after = passages[row, 14], passages[row, 15]
        flat = 1.0 if passages[row, 16] == RECTANGLE else 0.0
        low_open, high_open = passages[row, 19] > 0.5, passages[row, 20] > 0.5
        lean = passages[row, 17] * passages[row, 18]
        wide = max(passages[row, 10], passages[row, 11])
        thick = max(passages[row, 12], passages[row, 13])
        reach = margin + (math.hypot(wide, thick) if flat > 0.5 else max(wide, thick))
        qx, qy, qz = px + ax * length, py + ay * length, pz + az * length
        out = max(before, after)
        lows = (
            min(px, qx) - reach - out,
            min(py, qy) - reach - out,
            min(pz, qz) - reach - out,
        )
        highs = (
            max(px, qx) + reach + out,
            max(py, qy) + reach + out,
            max(pz, qz) + reach + out,
        )
        i0 = max(0, math.ceil((lows[0] - origin[0]) / voxel))
        j0 = max(0, math.ceil((lows[1] - origin[1]) / voxel))
        k0 = max(0, math.ceil((lows[2] - origin[2]) / voxel))
        i1 = min(nx, math.floor((highs[0] - origin[0]) / voxel) + 1)
        j1 = min(ny, math.floor((highs[1] - origin[1]) / voxel) + 1)
        k1 = min(nz, math.floor((highs[2] - origin[2]) / voxel) + 1)
        for i in range(i0, i1):
            rx = origin[0] + i * voxel - px
            for j in range(j0, j1):
                ry = origin[1] + j * voxel - py
                for k in range(k0, k1):
                    rz = origin[2] + k * voxel - pz
                    along = rx * ax + ry * ay + rz * az
                    low_end, high_end = -(along + before), along - (length + after)
                    if (low_open and low_end > 0.0) or (high_open and high_end > 0.0):
                        continue
                    end = max(-FAR if low_open else low_end, -FAR if high_open else high_end)
                    if end > margin:
                        continue
                    share = min(max(along / length, 0.0), 1.0)
                    hw = passages[row, 10] + share * (passages[row, 11] - passages[row, 10])
                    ht = passages[row, 12] + share * (passages[row, 13] - passages[row, 12])
                    b = rx * bx + ry * by + rz * bz
                    c = rx * cx + ry * cy + rz * cz
                    side = _to_section(b, c, hw, ht, flat) * lean
                    away = math.hypot(side, end) if side > 0.0 and end > 0.0 else max(side, end)
                    if away < margin and away < distance[i, j, k]:
                        distance[i, j, k] = np.float32(away)
                        owner[i, j, k] = row
