"""Mould: one step of heat through the block, and out through its wall.

In every mould cell, with r = Δt / side² and the sum over its mould neighbours,

    u' = u + r Σ (Φ(u_n) - Φ(u))                                              (1)

one explicit pass, stable while 6 r dΦ/du < 1.  What is written is the pass of weight μ of a
long step (`pourcast.freeze.voxel_passes`, equation 1): u + μ r Σ + (1 - μ) (u_before - u).
Cells whose neighbours are all mould are
taken in long runs, plane by plane, with Φ of three planes at hand; the others, the edge,
with a weight of 0 or 1 on each neighbour.  Heat from the metal is added afterwards.

Through an outer face: half a cell of mould, the gap, the steel with the heat capacity C
per area and no heat along it, then convection and radiation to the room,

    C dT_s/dt = G (T - T_s) - q,   q = h (T_s - T_r) + ε σ (T_s⁴ - T_r⁴)      (2)

Without steel C is 0 and T_s is where both sides of (2) agree.  In a vacuum h is 0.

Left out: heat along the steel, which evens out its temperature; the air drawn through
the block by the pump, which cools its top.
"""

from pourcast import units as si
from pourcast.freeze.voxel_types import Indices, KelvinsSingle, RatiosSingle
from pourcast.kernels import kernel, small_kernel
from pourcast.units import STEFAN_BOLTZMANN


@small_kernel
def poly5(
    x: si.Kelvin,
    a: si.Ratio,
    b: si.Ratio,
    c: si.Ratio,
    d: si.Ratio,
    e: si.Ratio,
) -> si.Kelvin:
    """Return x (a + x (b + x (c + x (d + x e)))).

    Parameters
    ----------
    x : float [K]
    a, b, c, d, e : float [-]
        Coefficients, in powers of 1/K.

    Returns
    -------
    float [K]
        Or whatever a is over a kelvin.
    """
    return x * (a + x * (b + x * (c + x * (d + x * e))))


@small_kernel
def mould_conductivity(
    own: si.Kelvin,
    mould: si.Table,
) -> si.WattPerMetreKelvin:
    """Return the conductivity of mould with a scaled heat content [W/(m·K)].

    Parameters
    ----------
    own : float [K]
        Its scaled heat content.
    mould : array [by column], shape (15,)
        Of `step_planes`.

    Returns
    -------
    float [W/(m·K)]
    """
    rise = mould[10] + own * (
        2 * mould[11] + own * (3 * mould[12] + own * (4 * mould[13] + own * 5 * mould[14]))
    )
    warm = mould[5] + own * (
        2 * mould[6] + own * (3 * mould[7] + own * (4 * mould[8] + own * 5 * mould[9]))
    )
    return float(mould[1] * rise / warm)


@kernel
def step_planes(
    first: int,
    last: int,
    mu: si.Ratio,
    ratio: si.Ratio,
    step: si.Second,
    u: KelvinsSingle,
    v: KelvinsSingle,
    offsets: Indices,
    coefficients: KelvinsSingle,
    run_first: Indices,
    run_last: Indices,
    edge: Indices,
    edge_open: RatiosSingle,
    edge_plane: si.Integers,
    edge_before: KelvinsSingle,
    wall_cell: Indices,
    wall: si.Table,
    wall_plane: si.Integers,
    wall_temperature: si.Kelvins,
    wall_before: si.Kelvins,
    mould: si.Table,
    lost: si.Joules,
    lost_before: si.Joules,
    potential: KelvinsSingle,
) -> None:
    """Make one pass in the mould cells of some planes, equations 1 and 2.

    Parameters
    ----------
    first, last : int
        Planes; neither the first nor the last of the grid, which are outside.
    mu : float [-]
        Weight of the pass; 1: a plain step.
    ratio : float [-]
        Δt / side², in units of the coefficients.
    step : float [s]
    u, v : array [K], shape (cells,), single precision
        Scaled heat content, and that one pass earlier: filled with the new one in these
        planes.
    offsets : array of int, shape (2,)
        Cells from row to row and from plane to plane.
    coefficients : array [K], shape (5,), single precision
        Of Φ; the first in m²/s.
    run_first, run_last, edge, wall_cell : array of int
    edge_open : array [-], shape (edge, 6)
    edge_plane, wall_plane : array of int
        Of `pourcast.freeze.voxel_lists.Lists`.
    edge_before : array [K], shape (edge,)
        Room to work in.
    wall : array [by column], shape (wall, WALL_COLUMNS)
    wall_temperature, wall_before : array [K], shape (wall,)
        Of the steel or the bare face, and one pass earlier; filled.
    mould : array [by column], shape (15,)
        0 start (K), 1 ρ c₀ (J/(m³·K)), 2 side (m), 3 room (K), 5 to 9 coefficients of T,
        10 to 14 coefficients of Φ.
    lost, lost_before : array [J], shape (nx,)
        To the room up to now, and one pass earlier, plane by plane; filled.
    potential : array [K], shape (3, cells of a plane), single precision
        Room to work in; m²/s·K.
    """
    unit = u.dtype.type
    r, back = unit(mu * ratio), unit(1.0 - mu)
    six, one = unit(6.0), offsets.dtype.type(1)
    row, layer = offsets[0], int(offsets[1])
    _potential(first - 1, u, layer, coefficients, potential)
    _potential(first, u, layer, coefficients, potential)
    for plane in range(first, last):
        _potential(plane + 1, u, layer, coefficients, potential)
        begin = plane * layer
        before, here, after = (
            potential[(plane - 1) % 3],
            potential[plane % 3],
            potential[(plane + 1) % 3],
        )
        old, new = u[begin : begin + layer], v[begin : begin + layer]
        # Unsigned places: numba asks of signed ones whether they count from the end.
        base = offsets.dtype.type(begin)
        # The runs go over the edge too: what stood there is kept for it.
        for at in range(edge_plane[plane], edge_plane[plane + 1]):
            edge_before[at] = new[edge[at] - base]
        for i in range(run_first[plane] - base, run_last[plane] - base):
            now = old[i]
            new[i] = (now + back * (new[i] - now)) + r * (
                (here[i - one] + here[i + one])
                + (here[i - row] + here[i + row])
                + (before[i] + after[i])
                - six * here[i]
            )
        for at in range(edge_plane[plane], edge_plane[plane + 1]):
            i = edge[at] - base
            own, now = here[i], old[i]
            new[i] = (now + back * (edge_before[at] - now)) + r * (
                edge_open[at, 0] * (here[i - one] - own)
                + edge_open[at, 1] * (here[i + one] - own)
                + edge_open[at, 2] * (here[i - row] - own)
                + edge_open[at, 3] * (here[i + row] - own)
                + edge_open[at, 4] * (before[i] - own)
                + edge_open[at, 5] * (after[i] - own)
            )
    _step_wall(
        first,
        last,
        mu,
        step,
        u,
        v,
        wall_cell,
        wall,
        wall_plane,
        wall_temperature,
        wall_before,
        mould,
        lost,
        lost_before,
    )


@kernel
def _step_wall(
    first: int,
    last: int,
    mu: si.Ratio,
    step: si.Second,
    u: KelvinsSingle,
    v: KelvinsSingle,
    wall_cell: Indices,
    wall: si.Table,
    wall_plane: si.Integers,
    wall_temperature: si.Kelvins,
    wall_before: si.Kelvins,
    mould: si.Table,
    lost: si.Joules,
    lost_before: si.Joules,
) -> None:
    """Let heat through the outer faces of some planes, equation 2."""
    start, capacity, side, room = mould[0], mould[1], mould[2], mould[3]
    t0, t1, t2, t3, t4 = mould[5], mould[6], mould[7], mould[8], mould[9]
    room4 = room * room * room * room
    per_volume = mu * step / (capacity * side * side * side)
    back = 1.0 - mu
    for plane in range(first, last):
        gone = 0.0
        for at in range(wall_plane[plane], wall_plane[plane + 1]):
            here = wall_cell[at]
            inside = start + poly5(float(u[here]), t0, t1, t2, t3, t4)
            conductance = wall[at, 6]
            face = wall_temperature[at]
            earlier = wall_before[at]
            wall_before[at] = face
            air, shine = wall[at, 3], wall[at, 4] * STEFAN_BOLTZMANN
            square = face * face
            if wall[at, 2] > 0.0:
                out = air * (face - room) + shine * (square * square - room4)
                gained = conductance * (inside - face)
                wall_temperature[at] = (
                    face + back * (earlier - face) + mu * step * (gained - out) / wall[at, 2]
                )
            else:
                # One step of Newton's method from the face of the step before, which is near.
                miss = (
                    conductance * (inside - face)
                    - air * (face - room)
                    - shine * (square * square - room4)
                )
                face += miss / (conductance + air + 4.0 * shine * square * face)
                wall_temperature[at] = face
                gained = conductance * (inside - face)
                out = gained
            v[here] -= gained * wall[at, 0] * per_volume
            gone += out * step * wall[at, 0]
        told = lost[plane]
        earlier = lost_before[plane]
        lost_before[plane] = told
        lost[plane] = told + back * (earlier - told) + mu * gone


@kernel
def _potential(
    plane: int,
    u: KelvinsSingle,
    layer: int,
    coefficients: KelvinsSingle,
    potential: KelvinsSingle,
) -> None:
    """Write Φ of one plane into its place among the three that are kept."""
    a, b, c, d, e = (
        coefficients[0],
        coefficients[1],
        coefficients[2],
        coefficients[3],
        coefficients[4],
    )
    here = u[plane * layer : (plane + 1) * layer]
    kept = potential[plane % 3]
    for i in range(layer):
        kept[i] = poly5(here[i], a, b, c, d, e)


@kernel
def set_wall(u: KelvinsSingle, wall_cell: Indices, wall: si.Table, mould: si.Table) -> None:
    """Set the conductances of the wall by the mould's temperature.

    They change so little from step to step that this is done now and then.

    Parameters
    ----------
    u : array [K], shape (cells,), single precision
    wall_cell : array of int, shape (wall,)
    wall : array [by column], shape (wall, WALL_COLUMNS)
        Its last column is filled.
    mould : array [by column], shape (15,)
    """
    for at in range(wall_cell.size):
        inner = 0.5 * mould[2] / mould_conductivity(float(u[wall_cell[at]]), mould)
        wall[at, 6] = 1.0 / (wall[at, 1] + inner)
