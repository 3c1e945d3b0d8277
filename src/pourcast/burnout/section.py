"""Section: the field of heat, water and steam in one block, for the picture.

One draw is followed in a half section of the finite block by `pourcast.burnout.plane`.

Left out: as there.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.burnout import columns as c
from pourcast.burnout.block_pack import (
    TOUCHING,
    block_values,
    burnt_tables,
    open_share,
    way_to_holes,
)
from pourcast.burnout.breathe import boil, open_ways, pass_on
from pourcast.burnout.corners import corners
from pourcast.burnout.model import BlockCase, Curve, Section
from pourcast.burnout.plane import (
    CELL,
    GAIN,
    HELD,
    HOT,
    PRESS,
    SOURCE,
    WET,
    lead_heat,
    lose_gypsum,
    see_cells,
    start_plane,
)
from pourcast.burnout.require import require_block, require_curve
from pourcast.errors import InputError, require_between
from pourcast.kernels import kernel

_SHARE = 0.4  # of the longest step that is stable


def section(
    block: BlockCase,
    draw: int,
    curve: Curve,
    times: si.Seconds,
    *,
    rows: int = 40,
    columns: int = 20,
) -> Section:
    """Return the block of one draw in section, at chosen moments.

    Parameters
    ----------
    block : BlockCase
    draw : int
    curve : Curve
    times : array [s], shape (moments,)
        Rising, within the curve.
    rows, columns : int
        Cells along the height and the radius; 4 or more, rows even.

    Returns
    -------
    Section

    Raises
    ------
    InputError
        If a value is not finite or outside its limits.
    """
    draws = require_block(block)
    require_curve(curve)
    if not 0 <= draw < draws:
        raise InputError("draw", draw, "", f"0 to {draws - 1}")
    for what, number in (("rows", rows), ("columns", columns)):
        if number < 4:
            raise InputError(what, number, "", "4 or more")
    if rows % 2:
        raise InputError("rows", rows, "", "even, as the halves are alike")
    require_between("times", times, "s", float(curve.time[0]), float(curve.time[-1]))
    if times.size < 1 or not (np.diff(times) > 0.0).all():
        raise InputError("times", "a list that falls or is empty", "", "rising")
    values = block_values(block)[draw]
    heats, conducts = burnt_tables(block)
    burnt = np.zeros((3, c.ENTRIES))
    burnt[c.SPECIFIC_HEAT], burnt[c.CONDUCTIVITY] = heats[draw], conducts[draw]
    pairs = 0.5 * c.SPACING * (heats[draw, 1:] + heats[draw, :-1])
    burnt[c.HEAT, 1:] = np.cumsum(pairs)
    share = float(open_share(block)[draw])
    contact = min(block.contact_conductance, TOUCHING)
    side = np.array([share, block.wall_thickness * block.wall_heat, contact])
    gap = np.array([0.0, 0.0, way_to_holes(block)[draw]])
    if block.wall == "solid":
        gap[0] = 1.0
        if block.flask_gap is not None:
            gap[1] = 2.0 * math.pi * block.radius * block.flask_gap[draw] ** 3 / 12.0
    corner, kiln = corners(curve)
    half = rows // 2
    cells = np.zeros((CELL, half, columns + 1))
    steel = np.zeros(half)
    kept = np.zeros((3, times.size, half, columns))
    wide, high = block.radius / columns, block.height / rows
    follow_plane(
        half,
        columns,
        wide,
        high,
        corner,
        kiln,
        np.asarray(times, dtype=float),
        values,
        side,
        gap,
        burnt,
        cells,
        steel,
        kept,
    )
    whole = np.concatenate([kept, kept[:, :, ::-1]], axis=2)
    return Section(
        time=np.asarray(times, dtype=float),
        radius=np.asarray((np.arange(columns) + 0.5) * wide),
        depth=np.asarray((np.arange(rows) + 0.5) * high),
        temperature=whole[0],
        free_water=whole[1],
        overpressure=whole[2],
    )


@kernel
def follow_plane(
    rows: int,
    columns: int,
    wide: si.Metre,
    high: si.Metre,
    corner: si.Seconds,
    kiln: si.Kelvins,
    times: si.Seconds,
    values: si.Table,
    side: si.Table,
    gap: si.Table,
    burnt: si.Table,
    cells: si.Table,
    steel: si.Kelvins,
    kept: si.Table,
) -> None:
    """Follow the half section through the day and keep it at the times.

    Parameters
    ----------
    rows, columns : int
    wide, high : float [m]
        Of a cell.
    corner : array [s], shape (corners,)
        Of the curve.
    kiln : array [K], shape (corners,)
    times : array [s], shape (moments,)
    values : array [by column], shape (VALUES,)
    side, gap, burnt, cells : array [by column]
        As `pourcast.burnout.plane` and `breathe` take them.
    steel : array [K], shape (rows,)
    kept : array [by column], shape (3, moments, rows, columns)
        Temperature [K], free water [kg/m³], pressure over the air [Pa].
    """
    start_plane(rows, columns, values, burnt, cells, steel)
    floor = values[c.AIR_PRESSURE]
    time, piece, moment = corner[0], 0, 0
    wet = bound = True
    while moment < times.size:
        fastest = see_cells(rows, columns, values, burnt, cells)
        while moment < times.size and times[moment] <= time + 1e-6:
            for z in range(rows):
                for r in range(columns):
                    kept[0, moment, z, r] = cells[HOT, z, r]
                    kept[1, moment, z, r] = cells[WET, z, r]
                    kept[2, moment, z, r] = math.sqrt(cells[PRESS, z, r]) - floor
            moment += 1
        if moment == times.size:
            break
        step = _SHARE / (fastest * (2.0 / (wide * wide) + 2.0 / (high * high)))
        step = min(step, times[moment] - time)
        end = time + step
        while piece < corner.size - 2 and end > corner[piece + 1]:
            piece += 1
        slope = (kiln[piece + 1] - kiln[piece]) / (corner[piece + 1] - corner[piece])
        air = kiln[piece] + slope * (end - corner[piece]) + values[c.KILN_ERROR]
        lead_heat(rows, columns, wide, high, step, air, values, side, cells, steel)
        for z in range(rows):
            for r in range(columns):
                cells[HELD, z, r] += step * cells[GAIN, z, r]
                cells[SOURCE, z, r] = 0.0
        if bound:
            bound = lose_gypsum(rows, columns, step, values, cells)
        if wet or bound:
            see_cells(rows, columns, values, burnt, cells)
            open_ways(rows, columns, wide, high, gap, values, cells)
            wet = boil(rows, columns, wide, high, step, values, cells)
            pass_on(rows, columns, wide, high, step, gap, values, cells)
        else:
            for z in range(rows):
                for r in range(columns):
                    cells[PRESS, z, r] = floor * floor
        time = end
