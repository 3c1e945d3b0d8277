"""Breathe: how steam leaves the cells of a half section, and what it takes along.

Equation 1 of `pourcast.burnout.plane`: wet cells boil against the pressure round
them, dry cells pass the steam on, and it takes up heat on its way.

Left out: as there.
"""

import math

from pourcast import units as si
from pourcast.burnout import columns as c
from pourcast.burnout import steam
from pourcast.burnout.plane import DOWN, END, HELD, HOLDS, HOT, OUT, PASSES, PRESS, SOURCE, WET
from pourcast.kernels import kernel, small_kernel

_SWEEPS = 3
_OVER = 1.6  # by which a sweep goes past what balances a cell
_NEAR = 0.02  # least way of steam out of a wet cell, over half the cell
_LEAST_WATER = 1e-6  # share of what a cell held, under which it is dry
_COOL = 360.0  # K; no water boils there, at any height that people cast at


@small_kernel
def way_out(water: si.KilogramPerCubicMetre, full: si.KilogramPerCubicMetre) -> si.Ratio:
    """Return the way of steam out of a cell over half its width [-].

    Parameters
    ----------
    water, full : float [kg/m³]
        In the cell, now and at the start.

    Returns
    -------
    float [-]
    """
    return max(1.0 - water / full, _NEAR) if water > 0.0 else 1.0


@kernel
def open_ways(
    rows: int,
    columns: int,
    wide: si.Metre,
    high: si.Metre,
    gap: si.Table,
    values: si.Table,
    cells: si.Table,
) -> None:
    """Fill how easily steam goes from cell to cell; not at all between two wet ones.

    Parameters
    ----------
    rows, columns : int
    wide, high : float [m]
        Of a cell.
    gap : array [by column], shape (3,)
        Closed flask (1) or not (0), g²/12 times section of the gap [m⁴], way round to
        holes [m].
    values, cells : array [by column]
        As `pourcast.burnout.plane.start_plane` takes them.
    """
    full = values[c.FREE_WATER]
    floor = values[c.AIR_PRESSURE] ** 2
    for z in range(rows):
        for r in range(columns):
            water, passes = cells[WET, z, r], cells[PASSES, z, r]
            own = way_out(water, full)
            area = 2.0 * math.pi * (r + 1) * wide * high
            if r < columns - 1:
                beyond = cells[WET, z, r + 1]
                cells[OUT, z, r] = 0.0
                if water == 0.0 or beyond == 0.0:
                    way = own / passes + way_out(beyond, full) / cells[PASSES, z, r + 1]
                    cells[OUT, z, r] = area / (0.5 * wide * way)
            elif gap[0] == 0.0:
                cells[OUT, z, r] = area * passes / (0.5 * wide * own + gap[2])
                cells[PRESS, z, columns] = floor
            else:
                cells[OUT, z, r] = area * passes / (0.5 * wide * own) if gap[1] > 0.0 else 0.0
            area = math.pi * (2 * r + 1) * wide * wide
            cells[END, z, r] = area * passes / (0.5 * high * own) if z == 0 else 0.0
            cells[DOWN, z, r] = 0.0
            if z < rows - 1:
                beyond = cells[WET, z + 1, r]
                if water == 0.0 or beyond == 0.0:
                    way = own / passes + way_out(beyond, full) / cells[PASSES, z + 1, r]
                    cells[DOWN, z, r] = area / (0.5 * high * way)


@kernel
def boil(
    rows: int,
    columns: int,
    wide: si.Metre,
    high: si.Metre,
    step: si.Second,
    values: si.Table,
    cells: si.Table,
) -> bool:
    """Boil water where its steam finds a way; return whether any water is left.

    Parameters
    ----------
    rows, columns : int
    wide, high : float [m]
    step : float [s]
    values, cells : array [by column]
        As `open_ways` leaves them.

    Returns
    -------
    bool
    """
    some = False
    floor = values[c.AIR_PRESSURE] ** 2
    for z in range(rows):
        for r in range(columns):
            water = cells[WET, z, r]
            if water <= 0.0:
                continue
            some = True
            kelvin = cells[HOT, z, r]
            if kelvin < _COOL:
                cells[PRESS, z, r] = floor
                continue
            total = cells[OUT, z, r] + cells[DOWN, z, r] + cells[END, z, r]
            against = cells[OUT, z, r] * cells[PRESS, z, r + 1] + cells[END, z, r] * floor
            if z < rows - 1:
                against += cells[DOWN, z, r] * cells[PRESS, z + 1, r]
            if z > 0:
                total += cells[DOWN, z - 1, r]
                against += cells[DOWN, z - 1, r] * cells[PRESS, z - 1, r]
            if r > 0:
                total += cells[OUT, z, r - 1]
                against += cells[OUT, z, r - 1] * cells[PRESS, z, r - 1]
            squared = steam.saturation_pressure(kelvin) ** 2
            cells[PRESS, z, r] = max(squared, floor)
            if total <= 0.0 or total * squared <= against:
                continue
            volume = math.pi * (2 * r + 1) * wide * wide * high
            hold = cells[HOLDS, z, r] * volume / step
            found = kelvin
            flow = 0.0
            for _ in range(8):
                squared = steam.saturation_pressure(found) ** 2
                heat = steam.BOILING_HEAT - (steam.LIQUID_HEAT - steam.STEAM_HEAT) * (
                    found - steam.BOILING
                )
                flow = total * squared - against
                slope = 2.0 * total * squared * steam.saturation_slope(found)
                change = (hold * (kelvin - found) - heat * flow) / (hold + heat * slope)
                found += change
                if abs(change) < 1e-3:
                    break
            gone = min(max(flow, 0.0) * step / volume, water)
            cells[HELD, z, r] -= gone * (steam.STEAM_BASE + steam.STEAM_HEAT * (found - steam.BASE))
            water -= gone
            cells[WET, z, r] = water if water > _LEAST_WATER * values[c.FREE_WATER] else 0.0
            cells[PRESS, z, r] = max(squared, floor)
    return some


@kernel
def pass_on(
    rows: int,
    columns: int,
    wide: si.Metre,
    high: si.Metre,
    step: si.Second,
    gap: si.Table,
    values: si.Table,
    cells: si.Table,
) -> None:
    """Find the pressures of dry cells and gap, and let steam warm on its way.

    Parameters
    ----------
    rows, columns : int
    wide, high : float [m]
    step : float [s]
    gap, values, cells : array [by column]
        As `open_ways` takes them.
    """
    floor = values[c.AIR_PRESSURE] ** 2
    for sweep in range(_SWEEPS):
        last = sweep == _SWEEPS - 1
        for z in range(rows):
            for r in range(columns):
                if cells[WET, z, r] > 0.0:
                    continue
                area = math.pi * (2 * r + 1) * wide * wide
                own, kelvin = cells[PRESS, z, r], cells[HOT, z, r]
                out, down, end = cells[OUT, z, r], cells[DOWN, z, r], cells[END, z, r]
                total = out + down + end
                into = cells[SOURCE, z, r] * area * high + out * cells[PRESS, z, r + 1]
                into += end * floor
                warm = 0.0
                if last and r < columns - 1:
                    gain = max(cells[PRESS, z, r + 1] - own, 0.0)
                    warm += out * gain * (cells[HOT, z, r + 1] - kelvin)
                if down > 0.0:
                    into += down * cells[PRESS, z + 1, r]
                    gain = max(cells[PRESS, z + 1, r] - own, 0.0)
                    warm += down * gain * (cells[HOT, z + 1, r] - kelvin)
                if z > 0:
                    up = cells[DOWN, z - 1, r]
                    total += up
                    into += up * cells[PRESS, z - 1, r]
                    gain = max(cells[PRESS, z - 1, r] - own, 0.0)
                    warm += up * gain * (cells[HOT, z - 1, r] - kelvin)
                if r > 0:
                    inner = cells[OUT, z, r - 1]
                    total += inner
                    into += inner * cells[PRESS, z, r - 1]
                    gain = max(cells[PRESS, z, r - 1] - own, 0.0)
                    warm += inner * gain * (cells[HOT, z, r - 1] - kelvin)
                found = own + _OVER * (into / total - own) if total > 0.0 else floor
                cells[PRESS, z, r] = max(found, floor)
                if last:
                    cells[HELD, z, r] += step * steam.STEAM_HEAT * warm / (area * high)
        if gap[1] > 0.0:
            r = columns - 1
            for z in range(rows):
                kelvin = cells[HOT, z, r]
                slow = 2.0 * steam.steam_viscosity(kelvin) * steam.GAS * kelvin
                along = gap[1] / (slow * high)
                above = cells[PRESS, z - 1, columns] if z > 0 else floor
                easy = along if z > 0 else 2.0 * along  # half a cell to the end
                total = cells[OUT, z, r] + easy
                into = cells[OUT, z, r] * cells[PRESS, z, r] + easy * above
                if z < rows - 1:
                    total += along
                    into += along * cells[PRESS, z + 1, columns]
                own = cells[PRESS, z, columns]
                cells[PRESS, z, columns] = max(own + _OVER * (into / total - own), floor)
