"""Metal: heat through the metal over one long step, in many short stages.

    dH/dt = div grad F - (loss through the skin)                              (1)

The metal conducts so well that its explicit limit is a sixtieth of that of the mould.
Super time steps (RKL1) carry it over a step of the mould in s stages where plain steps
would take s (s + 1) / 2.  With L the right side of (1) and D_j = H_j - H_0,

    D_j = μ_j D_{j-1} + ν_j D_{j-2} + μ_j w Δt L(H_{j-1}),
    μ_j = (2j - 1)/j,  ν_j = (1 - j)/j,  w = 2 / (s² + s)                     (2)

D_s is a sum of the L of all stages with fixed weights b_j, so the heat that left a
skin cell is its conductance times Σ b_j T_{j-1}, which is kept for the mould: what one
side loses the other gains, to rounding.

F stands in a full array with 0 where there is no metal, so that neighbours are found by
counting.  D and F are in single
precision, H itself in double.

Source: Meyer, Balsara and Aslam (2014), J. Comput. Phys. 257, 594: RKL1.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.freeze.voxel_types import (
    Heats,
    HeatsSingle,
    Indices,
    KelvinSeconds,
    Kinds,
    PotentialsSingle,
    RatiosSingle,
    SecondsSingle,
    TableSingle,
)
from pourcast.kernels import kernel

STAGE_COLUMNS = 4
"""Columns of a stage: 0 μ, 1 ν, 2 μ w Δt (s), 3 b (s), the weight of its L in the whole."""

CHUNK = 1024
"""Metal cells that are worked on together, so that what they need stays near."""


def stages_for(step: si.Second, limit: si.Second) -> int:
    """Return how many stages carry a step that is longer than the explicit limit.

    Parameters
    ----------
    step : float [s]
    limit : float [s]
        Longest stable plain step.

    Returns
    -------
    int
    """
    return max(1, math.ceil((math.sqrt(1.0 + 8.0 * step / limit) - 1.0) / 2.0))


def stage_table(stages: int, step: si.Second) -> si.Table:
    """Return the weights of the stages, equation 2.

    Parameters
    ----------
    stages : int
    step : float [s]

    Returns
    -------
    array [by column], shape (stages, STAGE_COLUMNS)
        The last column adds up to the step.
    """
    table = np.zeros((stages, STAGE_COLUMNS))
    j = np.arange(1, stages + 1)
    table[:, 0] = (2 * j - 1) / j
    table[:, 1] = (1 - j) / j
    table[:, 2] = table[:, 0] * 2.0 / (stages * stages + stages) * step
    # How much of D_j is in D_s, from the last stage back.
    passed, after = 1.0, 0.0
    for place in range(stages - 1, -1, -1):
        table[place, 3] = table[place, 2] * passed
        carry = table[place, 0] * passed
        if place + 1 < stages:
            carry += table[place + 1, 1] * after
        after, passed = passed, carry
    return table


@kernel
def stage_of_cells(
    mu: si.Ratio,
    nu: si.Ratio,
    weight: si.Second,
    share: si.Second,
    voxel: si.Metre,
    metal: Heats,
    offsets: Indices,
    flat: Indices,
    chunk_skin: si.Integers,
    skin: Indices,
    beside: RatiosSingle,
    base: HeatsSingle,
    d1: HeatsSingle,
    d2: HeatsSingle,
    f: PotentialsSingle,
    skin_temperature: si.Kelvins,
    skin_sum: KelvinSeconds,
    skin_out: si.Table,
    table: TableSingle,
    work: PotentialsSingle,
) -> None:
    """Make one stage in all metal cells, equation 2, a chunk at a time.

    Parameters
    ----------
    mu, nu : float [-]
    weight, share : float [s]
        μ w Δt and b.
    voxel : float [m]
    metal : array [J/m³], shape (2,)
        Step of the table; heat content at the solidus.
    offsets, flat, chunk_skin, skin : array of int
        As `pourcast.freeze.voxel_mould.step_planes` and
        `pourcast.freeze.voxel_lists.Lists` say.
    beside : array [-], shape (metal,)
    base : array [J/m³], shape (metal,)
        H at the start of the step.
    d1, d2 : array [J/m³], shape (metal,)
        D of the last stage and of the one before it; ``d2`` is filled with the new one.
    f : array [W/m], shape (cells,)
        F; filled with the new one.
    skin_temperature : array [K], shape (skin,)
        Filled.
    skin_sum : array [K·s], shape (skin,)
        Added to.
    skin_out : array [by column], shape (skin, 2)
        Conductance to the outside of the metal in W/(m²·K), and that times the
        temperature there.
    table : array [by column], shape (entries, 4)
        Of `pourcast.freeze.voxel_tables.MetalTable`.
    work : array [W/m], shape (CHUNK,)
        Room to work in.
    """
    unit = d1.dtype.type
    m, n = unit(mu), unit(nu)
    w = unit(weight / (voxel * voxel))
    one, row, layer = np.uint64(1), np.uint64(offsets[0]), np.uint64(offsets[1])
    for chunk in range(chunk_skin.size - 1):
        low = np.uint64(chunk * CHUNK)
        count = np.uint64(min(chunk * CHUNK + CHUNK, flat.size)) - low
        # Where there is no metal F is 0.  All that is added and taken off stands in one sum, so
        # that like cells give exactly nothing: a trace would add up over thousands of steps.
        for z in range(count):
            i = np.uint64(flat[low + z])
            work[z] = (
                (f[i - one] + f[i + one])
                + (f[i - row] + f[i + row])
                + (f[i - layer] + f[i + layer])
                - beside[low + z] * f[i]
            )
        for q in range(np.uint64(chunk_skin[chunk]), np.uint64(chunk_skin[chunk + 1])):
            warm = skin_temperature[q]
            skin_sum[q] += share * warm
            work[np.uint64(skin[q]) - low] -= unit(voxel * (skin_out[q, 0] * warm - skin_out[q, 1]))
        for z in range(count):
            h = low + z
            d2[h] = m * d1[h] + n * d2[h] + w * work[z]
    # A second round, so that F can be written where it stands: one array stays near, two do not.
    state_of_cells(metal, flat, chunk_skin, skin, base, d2, f, skin_temperature, table, work)


@kernel
def state_of_cells(
    metal: Heats,
    flat: Indices,
    chunk_skin: si.Integers,
    skin: Indices,
    base: HeatsSingle,
    change: HeatsSingle,
    f: PotentialsSingle,
    skin_temperature: si.Kelvins,
    table: TableSingle,
    work: PotentialsSingle,
) -> None:
    """Write F of all metal cells, and the temperature of the skin.

    Parameters
    ----------
    metal : array [J/m³], shape (2,)
    flat, chunk_skin, skin : array of int
        Of `stage_of_cells`.
    base, change : array [J/m³], shape (metal,)
        H at the start of the step, and D: what was added to it.
    f : array [W/m], shape (cells,)
    skin_temperature : array [K], shape (skin,)
        Both filled.
    table : array [by column], shape (entries, 4)
    work : array [W/m], shape (CHUNK,)
    """
    unit = base.dtype.type
    inverse = unit(1.0 / metal[0])
    top, nothing = unit(table.shape[0] - 2), unit(0.0)
    # Below the solidus F and T are straight in H: the first entry of the table says how.
    all_solid = min(unit(math.floor(metal[1] / metal[0]) - 1.0), top)
    f_first, f_rise = table[0, 0], table[0, 1]
    for chunk in range(chunk_skin.size - 1):
        low = np.uint64(chunk * CHUNK)
        count = np.uint64(min(chunk * CHUNK + CHUNK, flat.size)) - low
        hottest = nothing
        for z in range(count):
            h = low + z
            x = min(max((base[h] + change[h]) * inverse, nothing), top)
            work[z] = x
            hottest = max(hottest, x)
        if hottest < all_solid:
            for z in range(count):
                f[flat[low + z]] = f_first + work[z] * f_rise
        else:
            for z in range(count):
                x = work[z]
                j = np.uint32(np.int32(x))
                f[flat[low + z]] = table[j, 0] + (x - unit(j)) * table[j, 1]
        for q in range(np.uint64(chunk_skin[chunk]), np.uint64(chunk_skin[chunk + 1])):
            x = work[np.uint64(skin[q]) - low]
            j = np.uint32(np.int32(x))
            skin_temperature[q] = table[j, 2] + (x - unit(j)) * table[j, 3]


@kernel
def close_step(
    time: si.Second,
    step: si.Second,
    heat: Heats,
    change: HeatsSingle | Heats,
    base: HeatsSingle,
    levels: Heats,
    passed: Kinds,
    times: SecondsSingle,
) -> int:
    """Add the change of a step to the heat of the cells, and note which levels they pass.

    Parameters
    ----------
    time : float [s]
        At the start of the step.
    step : float [s]
    heat : array [J/m³], shape (metal,)
        Filled with that at the end of the step.
    change : array [J/m³], shape (metal,)
    base : array [J/m³], shape (metal,)
        Filled with the heat at the end, in single precision.
    levels : array [J/m³], shape (levels,)
        Falling.
    passed : array of int, shape (metal,)
        How many of them each cell has passed; filled.
    times : array [s], shape (metal, levels)
        When; filled.

    Returns
    -------
    int
        Cells that have not passed all.
    """
    left = 0
    last = levels.size
    for cell in range(np.uint64(heat.size)):
        before = heat[cell]
        after = before + change[cell]
        heat[cell] = after
        base[cell] = after
        at = passed[cell]
        if at < last:
            while at < last and after <= levels[at]:
                gone = (before - levels[at]) / max(before - after, 1e-30)
                times[cell, at] = time + step * min(max(gone, 0.0), 1.0)
                at += 1
            passed[cell] = at
            if at < last:
                left += 1
    return left
