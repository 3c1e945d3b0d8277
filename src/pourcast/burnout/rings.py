"""Rings: what each ring of the block holds, conducts and takes up before a step.

A ring of volume V per height holds the heat

    H = V [ρ h(T) + w h_l(T) + Σ β h_β(T)],   h_β = h_0 - q + c_β (T - T0)   (1)

of burnt block, of free water w and of water β in gypsum, which is given off in two steps
with heats q at 25 °C.  Heats of water and steam are those of
`pourcast.burnout.steam`.  A ring conducts as wet block where it holds water; else it goes
over from set to burnt block as the second step of its gypsum goes on.

Left out: the change of volume; water that lies unevenly at the start; gypsum that
gives off water under free water, slowly and over 120 °C only (heat is taken a little late).

Source: (1) energy balance.
"""

import math

from pourcast import units as si
from pourcast.burnout import columns as c
from pourcast.burnout import gypsum, steam
from pourcast.kernels import kernel, small_kernel

_MOST = c.ENTRIES - 2
_LITTLE = 1e-6  # K, to which temperature and heat of a ring agree
_DONE = 1.0 - 1e-12


@kernel
def lay_rings(radius: si.Metre, rings: int, room: si.Table) -> None:
    """Fill the measures of rings of equal width.

    Parameters
    ----------
    radius : float [m]
    rings : int
    room : array [by column], shape (ROWS, rings + 3)
    """
    width = radius / rings
    for i in range(rings):
        inner, outer = i * width, (i + 1) * width
        middle = 0.5 * (inner + outer)
        room[c.INNER, i], room[c.OUTER, i] = inner, outer
        room[c.VOLUME, i] = math.pi * (outer * outer - inner * inner)
        room[c.INWARD, i] = math.log(middle / inner) if i > 0 else 0.0
        room[c.OUTWARD, i] = math.log(outer / middle)


@small_kernel
def entry(temperature: si.Kelvin) -> int:
    """Return the entry of the tables that a temperature lies over.

    Parameters
    ----------
    temperature : float [K]

    Returns
    -------
    int
    """
    return min(max(int((temperature - c.COLDEST) / c.SPACING), 0), _MOST)


@kernel
def begin(draw: int, rings: int, values: si.Table, burnt: si.Table, room: si.Table) -> None:
    """Fill the rings as they go into the kiln.

    Parameters
    ----------
    draw, rings : int
    values : array [by column], shape (draws, VALUES)
    burnt : array [by column], shape (3, ENTRIES)
    room : array [by column], shape (ROWS, rings + 3)
    """
    start = values[draw, c.START]
    water = values[draw, c.FREE_WATER]
    one, two = values[draw, c.FIRST_WATER], values[draw, c.SECOND_WATER]
    over = start - steam.BASE
    j = entry(start)
    x = start - c.COLDEST - j * c.SPACING
    slope = (burnt[c.SPECIFIC_HEAT, j + 1] - burnt[c.SPECIFIC_HEAT, j]) / c.SPACING
    density = (
        values[draw, c.BURNT_DENSITY]
        * (burnt[c.HEAT, j] + x * (burnt[c.SPECIFIC_HEAT, j] + 0.5 * slope * x))
        + water * steam.LIQUID_HEAT * over
        + (one + two) * (steam.STEAM_BASE + values[draw, c.BOUND_HEAT] * over)
        - one * values[draw, c.FIRST_HEAT]
        - two * values[draw, c.SECOND_HEAT]
    )
    for i in range(rings):
        room[c.TEMPERATURE, i] = start
        room[c.ENTHALPY, i] = room[c.VOLUME, i] * density
        room[c.WATER, i] = water
        room[c.FIRST, i] = 0.0
        room[c.SECOND, i] = 0.0
        room[c.STEAM, i] = 0.0
        room[c.FLOW, i] = 0.0
        room[c.GIVEN, i] = 0.0


@kernel
def warm(draw: int, rings: int, values: si.Table, burnt: si.Table, room: si.Table) -> None:
    """Find the temperatures of the rings from their heat, equation 1.

    Parameters
    ----------
    draw, rings : int
    values, burnt, room : array [by column]
        As `begin` takes them; TEMPERATURE holds a first guess.
    """
    solid = values[draw, c.BURNT_DENSITY]
    for i in range(rings):
        one = (1.0 - room[c.FIRST, i]) * values[draw, c.FIRST_WATER]
        two = (1.0 - room[c.SECOND, i]) * values[draw, c.SECOND_WATER]
        wet = room[c.WATER, i] * steam.LIQUID_HEAT + (one + two) * values[draw, c.BOUND_HEAT]
        left = (
            room[c.ENTHALPY, i] / room[c.VOLUME, i]
            - (one + two) * steam.STEAM_BASE
            + one * values[draw, c.FIRST_HEAT]
            + two * values[draw, c.SECOND_HEAT]
        )
        kelvin = room[c.TEMPERATURE, i]
        for _ in range(20):
            j = entry(kelvin)
            x = kelvin - c.COLDEST - j * c.SPACING
            low = burnt[c.SPECIFIC_HEAT, j]
            slope = (burnt[c.SPECIFIC_HEAT, j + 1] - low) / c.SPACING
            held = solid * (burnt[c.HEAT, j] + x * (low + 0.5 * slope * x))
            held += wet * (kelvin - steam.BASE)
            change = (left - held) / (solid * (low + slope * x) + wet)
            kelvin += change
            if abs(change) < _LITTLE:
                break
        room[c.TEMPERATURE, i] = kelvin


@kernel
def weigh(
    draw: int,
    rings: int,
    front: int,
    step: si.Second,
    values: si.Table,
    burnt: si.Table,
    room: si.Table,
) -> None:
    """Fill what the rings conduct and hold, and what their gypsum takes in a step.

    Parameters
    ----------
    draw, rings : int
    front : int
        Ring that holds the front of the water; -1: none.
    step : float [s]
    values, burnt, room : array [by column]
        As `begin` takes them.
    """
    solid, bound_heat = values[draw, c.BURNT_DENSITY], values[draw, c.BOUND_HEAT]
    wet_conductivity, set_conductivity = (
        values[draw, c.WET_CONDUCTIVITY],
        values[draw, c.SET_CONDUCTIVITY],
    )
    for i in range(rings):
        kelvin = room[c.TEMPERATURE, i]
        j = entry(kelvin)
        x = (kelvin - c.COLDEST) / c.SPACING - j
        first, second = room[c.FIRST, i], room[c.SECOND, i]
        one = (1.0 - first) * values[draw, c.FIRST_WATER]
        two = (1.0 - second) * values[draw, c.SECOND_WATER]
        low = burnt[c.SPECIFIC_HEAT, j]
        room[c.CAPACITY, i] = room[c.VOLUME, i] * (
            solid * (low + x * (burnt[c.SPECIFIC_HEAT, j + 1] - low))
            + room[c.WATER, i] * steam.LIQUID_HEAT
            + (one + two) * bound_heat
        )
        low = burnt[c.CONDUCTIVITY, j]
        whole = low + x * (burnt[c.CONDUCTIVITY, j + 1] - low)
        dry = set_conductivity + second * (whole - set_conductivity)
        room[c.CONDUCTION, i] = wet_conductivity if i < front else dry
        room[c.SINK, i] = room[c.SINK_SLOPE, i] = 0.0
        room[c.STEP_ONE, i] = room[c.STEP_ONE_SLOPE, i] = 0.0
        room[c.STEP_TWO, i] = room[c.STEP_TWO_SLOPE, i] = 0.0
        if i <= front or kelvin < gypsum.COLD or second > _DONE:
            continue
        over = kelvin - steam.BASE
        extra = (steam.STEAM_HEAT - bound_heat) * over
        pressure = room[c.STEAM, i]
        sink = sink_slope = 0.0
        if first < 1.0:
            still = gypsum.first_still(kelvin)
            if pressure < still:
                rate = gypsum.step_rate(kelvin, gypsum.FIRST_RATE, gypsum.FIRST_AT)
                drive = 1.0 - pressure / still
                slope = rate * gypsum.rate_slope(kelvin, drive, gypsum.FIRST_LATENT)
                rate *= drive
                room[c.STEP_ONE, i] = gypsum.taken_in(1.0 - first, rate, step)
                slope *= gypsum.taken_slope(1.0 - first, rate, step)
                room[c.STEP_ONE_SLOPE, i] = slope
                heat = values[draw, c.FIRST_WATER] * (values[draw, c.FIRST_HEAT] + extra)
                sink += heat * room[c.STEP_ONE, i]
                sink_slope += heat * slope
        if second < first:
            still = gypsum.second_still(kelvin)
            if pressure < still:
                rate = gypsum.step_rate(kelvin, gypsum.SECOND_RATE, gypsum.SECOND_AT)
                drive = 1.0 - pressure / still
                slope = rate * gypsum.rate_slope(kelvin, drive, gypsum.SECOND_LATENT)
                rate *= drive
                room[c.STEP_TWO, i] = gypsum.taken_in(first - second, rate, step)
                slope *= gypsum.taken_slope(first - second, rate, step)
                room[c.STEP_TWO_SLOPE, i] = slope
                heat = values[draw, c.SECOND_WATER] * (values[draw, c.SECOND_HEAT] + extra)
                sink += heat * room[c.STEP_TWO, i]
                sink_slope += heat * slope
        room[c.SINK, i] = sink * room[c.VOLUME, i] / step
        room[c.SINK_SLOPE, i] = sink_slope * room[c.VOLUME, i] / step
