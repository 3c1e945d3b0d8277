"""Freezing in cells on a graphics card: a thread a cell, a face or a place of the wall.

Faces, walls and the close of a step call the kernels of `pourcast.freeze` with one place
at a time.  The two large ones, the mould in runs and the stage of the metal, are written
for the card: the loops of `step_planes` and `stage_of_cells` without their planes and
chunks, with the same polynomial and the same sums in the same order.
"""

import numpy as np
from gpu_card import cuda, on_card

from pourcast.freeze import voxel_faces, voxel_metal, voxel_mould

_poly5 = on_card(voxel_mould.poly5)
_set_wall = on_card(voxel_mould.set_wall)
_step_wall = on_card(voxel_mould._step_wall)
_set_conductances = on_card(voxel_faces.set_conductances)
_set_faces = on_card(voxel_faces.set_faces)
_give_heat = on_card(voxel_faces.give_heat)
_close_step = on_card(voxel_metal.close_step)


@cuda.jit
def mould_runs(u, v, r, row, layer, first, last, k):  # type: ignore[no-untyped-def]
    """One step of a mould cell whose neighbours are all mould: a thread a cell."""
    plane = cuda.blockIdx.y + 1
    i = np.int64(plane) * layer + cuda.blockIdx.x * cuda.blockDim.x + cuda.threadIdx.x
    if i < first[plane] or i >= last[plane] or i >= (plane + 1) * layer:
        return
    a, b, c, d, e = k[0], k[1], k[2], k[3], k[4]
    own = u[i]
    v[i] = own + r * (
        (_poly5(u[i - 1], a, b, c, d, e) + _poly5(u[i + 1], a, b, c, d, e))
        + (_poly5(u[i - row], a, b, c, d, e) + _poly5(u[i + row], a, b, c, d, e))
        + (_poly5(u[i - layer], a, b, c, d, e) + _poly5(u[i + layer], a, b, c, d, e))
        - np.float32(6.0) * _poly5(own, a, b, c, d, e)
    )


@cuda.jit
def mould_edge(u, v, r, row, layer, edge, open_to, k):  # type: ignore[no-untyped-def]
    """One step of a mould cell at the edge."""
    at = cuda.grid(1)
    if at >= edge.size:
        return
    a, b, c, d, e = k[0], k[1], k[2], k[3], k[4]
    i = np.int64(edge[at])
    own = _poly5(u[i], a, b, c, d, e)
    v[i] = u[i] + r * (
        open_to[0, at] * (_poly5(u[i - 1], a, b, c, d, e) - own)
        + open_to[1, at] * (_poly5(u[i + 1], a, b, c, d, e) - own)
        + open_to[2, at] * (_poly5(u[i - row], a, b, c, d, e) - own)
        + open_to[3, at] * (_poly5(u[i + row], a, b, c, d, e) - own)
        + open_to[4, at] * (_poly5(u[i - layer], a, b, c, d, e) - own)
        + open_to[5, at] * (_poly5(u[i + layer], a, b, c, d, e) - own)
    )


@cuda.jit
def wall_of(step, u, v, cell, wall, group, warm, mould, lost):  # type: ignore[no-untyped-def]
    """Heat through the outer faces of one cell."""
    at = cuda.grid(1)
    if at < group.size - 1:
        _step_wall(
            at, at + 1, 1.0, step, u, v, cell, wall, group, warm, warm, mould, lost, lost
        )  # fmt: skip


@cuda.jit
def conductances(u, cell, wall, mould, metal, face_skin, face_cell, facing, skin_warm, face):  # type: ignore[no-untyped-def]
    """Set the conductances of a wall face and of a metal face."""
    at = cuda.grid(1)
    if at < cell.size:
        _set_wall(u, cell[at : at + 1], wall[at : at + 1], mould)
    if at < face_cell.size:
        _set_conductances(
            u, mould, metal, face_skin[at : at + 1], face_cell[at : at + 1],
            facing[at : at + 1], skin_warm, face[at : at + 1],
        )  # fmt: skip


@cuda.jit
def faces(u, mould, nought, first, face_cell, top_at, top_kind, skin_warm, face, out, rate):  # type: ignore[no-untyped-def]
    """Set what one skin cell meets."""
    q = cuda.grid(1)
    if q >= first.size - 1:
        return
    a, b, t = first[q], first[q + 1], top_at[q]
    tops = 1 if t >= 0 else 0
    t = max(t, 0)
    _set_faces(
        u, mould, nought[: b - a], face_cell[a:b], nought[:tops], top_kind,
        skin_warm[q : q + 1], face[a:b], out[q : q + 1], rate[t : t + tops],
    )  # fmt: skip


@cuda.jit
def give(step, v, mould, skin, cell, order, group, face, top, rate, sums, gone):  # type: ignore[no-untyped-def]
    """Give one mould cell what its metal neighbours lost; note what a top face lost."""
    at = cuda.grid(1)
    if at < group.size - 1:
        for place in range(group[at], group[at + 1]):
            f = order[place]
            _give_heat(
                1.0, step, v, mould, skin[f : f + 1], cell[f : f + 1], face[f : f + 1],
                top[:0], rate[:0], sums,
            )  # fmt: skip
    if at < top.size:
        gone[at] += _give_heat(
            1.0, step, v, mould, skin[:0], cell[:0], face[:0], top[at : at + 1],
            rate[at : at + 1], sums,
        )  # fmt: skip


@cuda.jit
def metal_stage(  # type: ignore[no-untyped-def]
    m,
    n,
    w,
    share,
    voxel,
    inverse,
    row,
    layer,
    flat,
    skin_of,
    beside,
    base,
    d1,
    d2,
    f,
    g,
    warm,
    sums,
    out,
    table,
):
    """One stage of one metal cell, from F in ``f`` to F in ``g``."""
    h = cuda.grid(1)
    if h >= flat.size:
        return
    i = np.int64(flat[h])
    work = (
        (f[i - 1] + f[i + 1]) + (f[i - row] + f[i + row]) + (f[i - layer] + f[i + layer])
        - beside[h] * f[i]
    )  # fmt: skip
    q = skin_of[h]
    if q >= 0:
        sums[q] += share * warm[q]
        work -= np.float32(voxel * (out[q, 0] * warm[q] - out[q, 1]))
    change = m * d1[h] + n * d2[h] + w * work
    d2[h] = change
    x = min(max((base[h] + change) * inverse, np.float32(0.0)), np.float32(table.shape[0] - 2))
    j = np.int32(x)
    rest = x - np.float32(j)
    g[i] = table[j, 0] + rest * table[j, 1]
    if q >= 0:
        warm[q] = table[j, 2] + rest * table[j, 3]


@cuda.jit
def close(at_time, step, heat, change, base, levels, passed, times, left):  # type: ignore[no-untyped-def]
    """Close the step of one metal cell."""
    h = cuda.grid(1)
    if h >= heat.size:
        return
    a = _close_step(
        at_time, step, heat[h : h + 1], change[h : h + 1], base[h : h + 1], levels,
        passed[h : h + 1], times[h : h + 1],
    )  # fmt: skip
    if a > 0:
        cuda.atomic.add(left, 0, np.int32(a))


@cuda.jit
def clear(d1, d2, sums):  # type: ignore[no-untyped-def]
    """Set the changes of a step to nothing."""
    h = cuda.grid(1)
    if h < d1.size:
        d1[h] = 0.0
        d2[h] = 0.0
    if h < sums.size:
        sums[h] = 0.0
