"""Plane: a day of the finite block in a half section, radius by depth.

The same block as in `pourcast.burnout.day`, cut into rings and slices from one end to half
height (the ends are alike), with explicit steps.  Water boils in a cell where its steam finds a
way out, at the pressure of saturation of the cell, and is held back by that round it,

    m = Σ g (p_s(T)² - p²),   g = K A M/(2 μ R T · way)                      (1)

and in dry cells Σ g (p_other² - p²) + steam of gypsum = 0, solved by a few sweeps a step from
what was found before.  (1) is implicit in the temperature of its cell alone.
In a closed flask the gap to the steel is one more column.

Left out: water in a cell is even, so the front is as wide as a cell (radius and dry hours
err by up to a third of one); wet pores pass no steam; the ends do not stand on a shelf.

Source: as `pourcast.burnout.rings`, `radial` and `settle`.
"""

import math

from pourcast import units as si
from pourcast.burnout import columns as c
from pourcast.burnout import gypsum, steam
from pourcast.burnout.radial import give
from pourcast.burnout.rings import entry
from pourcast.kernels import kernel

# Rows of the field of a cell.
(
    HOT,  # K
    HELD,  # J/m³
    WET,  # kg/m³ of free water
    ONE,  # share of gypsum that has taken its first step
    TWO,  # and its second
    LEADS,  # W/(m·K)
    HOLDS,  # J/(m³·K)
    GAIN,  # W/m³
    SOURCE,  # kg/(m³·s), of steam from gypsum
    PRESS,  # Pa², square of the pressure
    PASSES,  # kg/(s·Pa²·m): K M/(2 μ R T)
    OUT,  # kg/(s·Pa²), g of equation 1 to the next cell outwards, to the gap or to the kiln
    DOWN,  # kg/(s·Pa²), to the next cell towards half height
    END,  # kg/(s·Pa²), to the kiln at the end; of the first row only
) = range(14)
CELL = 14


@kernel
def start_plane(
    rows: int, columns: int, values: si.Table, burnt: si.Table, cells: si.Table, steel: si.Kelvins
) -> None:
    """Fill the cells as they go into the kiln.

    Parameters
    ----------
    rows, columns : int
    values : array [by column], shape (VALUES,)
        Of one draw.
    burnt : array [by column], shape (3, ENTRIES)
    cells : array [by column], shape (CELL, rows, columns + 1)
    steel : array [K], shape (rows,)
    """
    start, water = values[c.START], values[c.FREE_WATER]
    one, two = values[c.FIRST_WATER], values[c.SECOND_WATER]
    over = start - steam.BASE
    j = entry(start)
    x = start - c.COLDEST - j * c.SPACING
    slope = (burnt[c.SPECIFIC_HEAT, j + 1] - burnt[c.SPECIFIC_HEAT, j]) / c.SPACING
    held = (
        values[c.BURNT_DENSITY]
        * (burnt[c.HEAT, j] + x * (burnt[c.SPECIFIC_HEAT, j] + 0.5 * slope * x))
        + water * steam.LIQUID_HEAT * over
        + (one + two) * (steam.STEAM_BASE + values[c.BOUND_HEAT] * over)
        - one * values[c.FIRST_HEAT]
        - two * values[c.SECOND_HEAT]
    )
    for z in range(rows):
        steel[z] = start
        for r in range(columns + 1):
            for k in range(CELL):
                cells[k, z, r] = 0.0
            cells[HOT, z, r] = start
            cells[HELD, z, r] = held
            cells[WET, z, r] = water if r < columns else 0.0
            cells[PRESS, z, r] = values[c.AIR_PRESSURE] ** 2


@kernel
def see_cells(
    rows: int, columns: int, values: si.Table, burnt: si.Table, cells: si.Table
) -> si.SquareMetrePerSecond:
    """Find temperatures and what cells lead, hold and pass; return the greatest diffusivity [m²/s].

    Parameters
    ----------
    rows, columns : int
    values, burnt, cells : array [by column]
        As `start_plane` takes them.

    Returns
    -------
    float [m²/s]
    """
    solid = values[c.BURNT_DENSITY]
    water = max(values[c.FREE_WATER], 1e-9)
    fastest = 0.0
    for z in range(rows):
        for r in range(columns):
            one = (1.0 - cells[ONE, z, r]) * values[c.FIRST_WATER]
            two = (1.0 - cells[TWO, z, r]) * values[c.SECOND_WATER]
            wet = cells[WET, z, r] * steam.LIQUID_HEAT + (one + two) * values[c.BOUND_HEAT]
            left = (
                cells[HELD, z, r]
                - (one + two) * steam.STEAM_BASE
                + one * values[c.FIRST_HEAT]
                + two * values[c.SECOND_HEAT]
            )
            kelvin = cells[HOT, z, r]
            hold = 1.0
            for _ in range(2):
                j = entry(kelvin)
                x = kelvin - c.COLDEST - j * c.SPACING
                low = burnt[c.SPECIFIC_HEAT, j]
                slope = (burnt[c.SPECIFIC_HEAT, j + 1] - low) / c.SPACING
                held = solid * (burnt[c.HEAT, j] + x * (low + 0.5 * slope * x))
                held += wet * (kelvin - steam.BASE)
                hold = solid * (low + slope * x) + wet
                kelvin += (left - held) / hold
            cells[HOT, z, r] = kelvin
            cells[HOLDS, z, r] = hold
            x /= c.SPACING
            low = burnt[c.CONDUCTIVITY, j]
            whole = low + x * (burnt[c.CONDUCTIVITY, j + 1] - low)
            two = cells[TWO, z, r]
            dry = values[c.SET_CONDUCTIVITY] + two * (whole - values[c.SET_CONDUCTIVITY])
            share = min(cells[WET, z, r] / water, 1.0)
            leads = dry + share * (values[c.WET_CONDUCTIVITY] - dry)
            cells[LEADS, z, r] = leads
            fastest = max(fastest, leads / hold)
            cells[GAIN, z, r] = 0.0
            slow = 2.0 * steam.steam_viscosity(kelvin) * steam.GAS * kelvin
            cells[PASSES, z, r] = values[c.PERMEABILITY] / slow
    return fastest


@kernel
def lead_heat(
    rows: int,
    columns: int,
    wide: si.Metre,
    high: si.Metre,
    step: si.Second,
    air: si.Kelvin,
    values: si.Table,
    side: si.Table,
    cells: si.Table,
    steel: si.Kelvins,
) -> None:
    """Fill the heat that cells gain, and warm the steel.

    Parameters
    ----------
    rows, columns : int
    wide, high : float [m]
        Of a cell.
    step : float [s]
    air : float [K]
    values, cells : array [by column]
        As `start_plane` takes them.
    side : array [by column], shape (3,)
        Open share of the side, heat of the steel [J/(m²·K)], its contact [W/(m²·K)].
    steel : array [K], shape (rows,)
    """
    emissivity, blow = values[c.EMISSIVITY], values[c.CONVECTION]
    for r in range(columns - 1):
        face = (r + 1) * wide
        inward = math.log(face / (face - 0.5 * wide)) / (2.0 * math.pi)
        outward = math.log((face + 0.5 * wide) / face) / (2.0 * math.pi)
        area = math.pi * (2 * r + 1) * wide * wide
        beyond = math.pi * (2 * r + 3) * wide * wide
        for z in range(rows):
            own, other = cells[LEADS, z, r], cells[LEADS, z, r + 1]
            flow = cells[HOT, z, r + 1] - cells[HOT, z, r]
            flow *= own * other / (inward * other + outward * own)
            cells[GAIN, z, r] += flow / area
            cells[GAIN, z, r + 1] -= flow / beyond
    for z in range(rows - 1):
        for r in range(columns):
            own, other = cells[LEADS, z, r], cells[LEADS, z + 1, r]
            flow = cells[HOT, z + 1, r] - cells[HOT, z, r]
            flow *= 2.0 * own * other / ((own + other) * high * high)
            cells[GAIN, z, r] += flow
            cells[GAIN, z + 1, r] -= flow
    for r in range(columns):
        kelvin = cells[HOT, 0, r]
        flow = (air - kelvin) / (
            1.0 / give(kelvin, air, blow, emissivity) + 0.5 * high / cells[LEADS, 0, r]
        )
        cells[GAIN, 0, r] += flow / high
    r = columns - 1
    outer = columns * wide
    for z in range(rows):
        kelvin, metal = cells[HOT, z, r], steel[z]
        skin = outer * math.log(outer / (outer - 0.5 * wide)) / cells[LEADS, z, r]
        flow = side[0] * (air - kelvin)
        flow /= 1.0 / give(kelvin, air, blow, emissivity) + skin
        if side[0] < 1.0:
            touch = 1.0 / (1.0 / side[2] + skin)
            shone = give(metal, air, blow, emissivity)
            flow += (1.0 - side[0]) * touch * (metal - kelvin)
            hold = side[1] / step
            steel[z] = (hold * metal + shone * air + touch * kelvin) / (hold + shone + touch)
        cells[GAIN, z, r] += flow * 2.0 * outer / ((2 * r + 1) * wide * wide)


@kernel
def lose_gypsum(
    rows: int, columns: int, step: si.Second, values: si.Table, cells: si.Table
) -> bool:
    """Let gypsum of dry cells give off water in a step; return whether any is left.

    Parameters
    ----------
    rows, columns : int
    step : float [s]
    values, cells : array [by column]
        As `start_plane` takes them.

    Returns
    -------
    bool
    """
    air = values[c.AIR_PRESSURE]
    some = False
    for z in range(rows):
        for r in range(columns):
            cells[SOURCE, z, r] = 0.0
            kelvin, two = cells[HOT, z, r], cells[TWO, z, r]
            if two > 1.0 - 1e-9:
                continue
            some = True
            if cells[WET, z, r] > 0.0 or kelvin < gypsum.COLD:
                continue
            pressure = math.sqrt(cells[PRESS, z, r])
            pressure *= steam.steam_share(
                pressure, air, kelvin, values[c.PERMEABILITY], values[c.OPEN_SHARE]
            )
            one = cells[ONE, z, r]
            first = second = 0.0
            still = gypsum.first_still(kelvin)
            if one < 1.0 and pressure < still:
                rate = gypsum.step_rate(kelvin, gypsum.FIRST_RATE, gypsum.FIRST_AT)
                first = gypsum.taken_in(1.0 - one, rate * (1.0 - pressure / still), step)
            still = gypsum.second_still(kelvin)
            if two < one and pressure < still:
                rate = gypsum.step_rate(kelvin, gypsum.SECOND_RATE, gypsum.SECOND_AT)
                second = gypsum.taken_in(one - two, rate * (1.0 - pressure / still), step)
            cells[ONE, z, r] = one + first
            cells[TWO, z, r] = two + second
            given = first * values[c.FIRST_WATER] + second * values[c.SECOND_WATER]
            vapour = steam.STEAM_BASE + steam.STEAM_HEAT * (kelvin - steam.BASE)
            cells[SOURCE, z, r] = given / step
            cells[HELD, z, r] -= given * vapour
    return some
