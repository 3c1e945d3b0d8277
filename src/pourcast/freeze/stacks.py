"""Stacks: a part thinner than three cells, with the mould close round it, in one dimension.

Cells cannot show such a part: at 1 mm a rod of 1 mm freezes 76 % late in them, one of
0.5 mm takes five times as long.  Each length of it is a stack: a core of metal with one
temperature, and shells of mould round it.  At the distance s from the surface of a
convex body with the length L, girth P and section S, with e free ends, a shell has the
area

    A(s) = L (P + 2 π s) + e (S + π P s / 2 + 2 π s²)                         (1)

exactly for a rod, a blade or an ellipse.  Core and first shell, and shell and shell,
exchange

    core    (T_c - T_1) / R,  1/h A(0) + V/(m P L k_s A(0)) + ∫ ds / (k A)    (2)
    shells  (T_i - T_j) k / ∫ ds / A,  from middle to middle                  (3)

with m = 2 in a round core and 3 in a flat one (mean to wall, quasi-steady).

A stack owns the cells near its axis, the hosts; they are no mould cells any more.  Its
shells reach so far out that core and shells together have the volume of its hosts, so
nothing is counted twice.  Through each face between a host and a mould cell, with the
area a, the direction n of the distance s and the outer shell o,

    flux = k (T_o - T_cell) (a n·e / A(s_face)) / ∫_{s_o}^{s_cell} ds / A     (4)

In a field that depends on s alone this is exact, however coarse the cells, because the
faces round a stack see the whole of it: Σ a n·e / A = 1.  All of these fluxes, and those
along the metal, are taken from one side and added to the other.

Stacks that crowd each other have fewer hosts than they need; then the shells keep a
quarter of a cell and the volumes do not match.  The heat is still kept, and the excess
is told.

Left out: differences round the girth of a part, as on the side towards a thick
neighbour; heat along the mould inside one stack.

Source: (1) Steiner (1840), area of parallel bodies; (2) mean of the parabola in a round
and a flat bar, textbook; (4) is our own.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.freeze.stacks_cut import Rods
from pourcast.freeze.voxel_types import PerMetres
from pourcast.piece.model import RECTANGLE

_FIRST_SHELL = 1 / 8  # of the least way across
_LEAST_FIRST, _MOST_FIRST = 0.06, 0.25  # cells
_GROWTH = 1.35
_LEAST_DEPTH = 0.25  # cells of mould that every stack keeps
_NEWTON_STEPS = 40  # from the far side on a convex curve: more than enough


@dataclass(frozen=True, slots=True, kw_only=True)
class Shells:
    """Cores and shells; nodes are numbered cores first, then shell by shell.

    Parameters
    ----------
    area : array [by column], shape (stacks, 3)
        Of equation 1: m², m and 1, in powers of s.
    first, last : array of int, shape (stacks,)
        First and last shell of each stack.
    volume : array [m³], shape (nodes,)
    away : array [m], shape (nodes,)
        Distance of the middle of a shell from the surface; 0 for a core.
    edge : array [m], shape (nodes,)
        Distance of its outer face.
    core_slowness : array [1/m], shape (stacks,)
        V / (m P L A(0)) of equation 2, to be divided by the conductivity.
    reach : array [1/m], shape (nodes,)
        ∫ ds / A of equations 2 and 3 from the node before it; 0 for cores.
    excess : float [m³]
        By which stacks are larger than their hosts, all together.
    """

    area: si.Table
    first: si.Integers
    last: si.Integers
    volume: si.CubicMetres
    away: si.Metres
    edge: si.Metres
    core_slowness: PerMetres
    reach: PerMetres
    excess: si.CubicMetre


def area_at(area: si.Table, distance: si.Metres) -> si.SquareMetres:
    """Return the area of equation 1.

    Parameters
    ----------
    area : array [by column], shape (..., 3)
    distance : array [m], shape (...)

    Returns
    -------
    array [m²], shape (...)
    """
    return np.asarray(area[..., 0] + distance * (area[..., 1] + distance * area[..., 2]))


def way_between(area: si.Table, near: si.Metres, far: si.Metres) -> PerMetres:
    """Return ∫ ds / A between two distances, by Simpson's rule on four lengths.

    Parameters
    ----------
    area : array [by column], shape (..., 3)
    near, far : array [m], shape (...)

    Returns
    -------
    array [1/m], shape (...)
    """
    step = (far - near) / 4
    parts = [1.0 / area_at(area, near + place * step) for place in range(5)]
    return np.asarray(step / 3 * (parts[0] + 4 * parts[1] + 2 * parts[2] + 4 * parts[3] + parts[4]))


def shells_of(rods: Rods, hosted: si.CubicMetres, voxel: si.Metre) -> Shells:
    """Return cores and shells of all stacks.

    Parameters
    ----------
    rods : Rods
    hosted : array [m³], shape (stacks,)
        Volume of the host cells of each stack.
    voxel : float [m]

    Returns
    -------
    Shells
    """
    stacks = rods.length.size
    flat_row = rods.rows[:, 16] == RECTANGLE
    flat = np.bincount(rods.stack, flat_row, stacks) > 0
    area = np.column_stack(
        [
            rods.length * rods.girth + rods.caps * rods.area,
            2 * np.pi * rods.length + rods.caps * np.pi / 2 * rods.girth,
            2 * np.pi * rods.caps,
        ]
    )
    room = hosted - rods.volume
    depth = np.maximum(_depth_of(area, np.maximum(room, 0.0)), _LEAST_DEPTH * voxel)
    start = np.clip(_FIRST_SHELL * rods.least, _LEAST_FIRST * voxel, _MOST_FIRST * voxel)
    count = np.ceil(np.log1p(depth / start * (_GROWTH - 1)) / np.log(_GROWTH)).astype(np.int64)
    count = np.maximum(count, 1)
    stack = np.repeat(np.arange(stacks), count)
    first = np.cumsum(count) - count
    rank = np.arange(stack.size) - first[stack]
    unit = depth / (_GROWTH**count - 1)
    inner = unit[stack] * (_GROWTH**rank - 1)
    outer = unit[stack] * (_GROWTH ** (rank + 1) - 1)
    middle = 0.5 * (inner + outer)
    before = np.where(rank == 0, 0.0, np.roll(middle, 1))
    shell = _filled(area[stack], outer) - _filled(area[stack], inner)
    shape = np.where(flat, 3.0, 2.0)
    none = np.zeros(stacks)
    return Shells(
        area=area,
        first=first + stacks,
        last=first + count - 1 + stacks,
        volume=np.concatenate([rods.volume, shell]),
        away=np.concatenate([none, middle]),
        edge=np.concatenate([none, outer]),
        core_slowness=rods.volume / (shape * rods.girth * rods.length * area[:, 0]),
        reach=np.concatenate([none, way_between(area[stack], before, middle)]),
        excess=float(np.maximum(_filled(area, depth) - room, 0.0).sum()),
    )


def _filled(area: si.Table, distance: si.Metres) -> si.CubicMetres:
    """Return the volume between the surface and a distance, the integral of equation 1."""
    return np.asarray(
        distance * (area[:, 0] + distance * (area[:, 1] / 2 + distance * area[:, 2] / 3))
    )


def _depth_of(area: si.Table, room: si.CubicMetres) -> si.Metres:
    """Return the distance that encloses a volume."""
    depth = room / area[:, 0]
    for _ in range(_NEWTON_STEPS):
        depth = depth - (_filled(area, depth) - room) / area_at(area, depth)
    return np.asarray(np.maximum(depth, 0.0))
