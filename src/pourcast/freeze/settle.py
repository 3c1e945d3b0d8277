"""Settle: from the heat that each body keeps to its temperature, and when it passes a knot."""

from pourcast import units as si
from pourcast.freeze.columns import (
    BASE_HEAT,
    BASE_SOLID,
    BASE_TEMPERATURE,
    PIECES,
    SLOPE,
    SOLID_SLOPE,
)
from pourcast.freeze.solid import Knots
from pourcast.kernels import kernel, small_kernel

ABSENT = 1e-12
"""Mass of a body that holds no metal [kg]; not 0, so that nothing is divided by it.
It counts as solid, and nothing flows to it."""


@kernel
def set_curve(knots: Knots, curve: si.Table, level: si.JoulesPerKilogram) -> None:
    """Fill the freezing curve in pieces, from the liquid to the solid.

    Parameters
    ----------
    knots : Knots
    curve : array [by column], shape (CURVE_ROWS, PIECES)
    level : array [J/kg], shape (5,)
        Heat at the knots.
    """
    level[0] = 0.0
    level[1] = knots.heat_half
    level[2] = knots.heat_seventy
    level[3] = knots.heat_ninety
    level[4] = knots.heat_solidus
    curve[BASE_TEMPERATURE, 0] = knots.liquidus
    curve[BASE_TEMPERATURE, 1] = knots.liquidus
    curve[BASE_TEMPERATURE, 2] = knots.half
    curve[BASE_TEMPERATURE, 3] = knots.seventy
    curve[BASE_TEMPERATURE, 4] = knots.ninety
    curve[BASE_TEMPERATURE, 5] = knots.solidus
    curve[BASE_SOLID, 0] = 0.0
    curve[BASE_SOLID, 1] = 0.0
    curve[BASE_SOLID, 2] = 0.5
    curve[BASE_SOLID, 3] = 0.7
    curve[BASE_SOLID, 4] = 0.9
    curve[BASE_SOLID, 5] = 1.0
    curve[BASE_HEAT, 0] = 0.0
    curve[SLOPE, 0] = 1.0 / knots.liquid_heat
    curve[SLOPE, 5] = 1.0 / knots.solid_heat
    curve[SOLID_SLOPE, 0] = 0.0
    curve[SOLID_SLOPE, 5] = 0.0
    for piece in range(1, PIECES):
        curve[BASE_HEAT, piece] = level[piece - 1]
        if piece < PIECES - 1:
            fall = level[piece] - level[piece - 1]
            warm, cold = curve[BASE_TEMPERATURE, piece], curve[BASE_TEMPERATURE, piece + 1]
            curve[SLOPE, piece] = (cold - warm) / fall
            more = curve[BASE_SOLID, piece + 1] - curve[BASE_SOLID, piece]
            curve[SOLID_SLOPE, piece] = more / fall


@small_kernel
def piece_of(
    heat: si.JoulePerKilogram,
    half: si.JoulePerKilogram,
    seventy: si.JoulePerKilogram,
    ninety: si.JoulePerKilogram,
    solidus: si.JoulePerKilogram,
) -> int:
    """Return the piece of the curve that a heat content lies in, 0 in the liquid.

    Parameters
    ----------
    heat, half, seventy, ninety, solidus : float [J/kg]
        The last four at the knots; numbers and no array, which costs more to hand over.

    Returns
    -------
    int
    """
    return (
        int(heat < 0.0)
        + int(heat < half)
        + int(heat < seventy)
        + int(heat < ninety)
        + int(heat <= solidus)
    )


@kernel
def place_on_curve(
    heat: si.JoulesPerKilogram,
    curve: si.Table,
    level: si.JoulesPerKilogram,
    piece: si.Integers,
    temperature: si.Kelvins,
    slope: si.KilogramKelvinsPerJoule,
    solid: si.Ratios,
) -> None:
    """Fill the state of bodies from their heat contents.

    Parameters
    ----------
    heat : array [J/kg], shape (bodies,)
    curve : array [by column]
    level : array [J/kg]
        From `set_curve`.
    piece : array of int, shape (bodies,)
    temperature : array [K], shape (bodies,)
    slope : array [kg·K/J], shape (bodies,)
    solid : array [-], shape (bodies,)
    """
    half, seventy, ninety, solidus = level[1], level[2], level[3], level[4]
    for body in range(heat.size):
        here = heat[body]
        at = piece_of(here, half, seventy, ninety, solidus)
        past = here - curve[BASE_HEAT, at]
        piece[body] = at
        slope[body] = curve[SLOPE, at]
        temperature[body] = curve[BASE_TEMPERATURE, at] + curve[SLOPE, at] * past
        solid[body] = curve[BASE_SOLID, at] + curve[SOLID_SLOPE, at] * past


@kernel
def settle(
    first: int,
    time: si.Second,
    step: si.Second,
    stop: si.JoulePerKilogram,
    given: si.Watts,
    mass: si.Kilograms,
    curve: si.Table,
    level: si.JoulesPerKilogram,
    heat: si.JoulesPerKilogram,
    before: si.JoulesPerKilogram,
    piece: si.Integers,
    temperature: si.Kelvins,
    slope: si.KilogramKelvinsPerJoule,
    solid: si.Ratios,
    moments: si.Seconds,
    closed: si.Seconds,
) -> int:
    """Take the heat of bodies one step on; return how many of them are not solid.

    A time at which a body passes a knot is taken on the straight line over the
    step; a body that is warmed again passes it again, and the last time stays.

    Parameters
    ----------
    first : int
        Bodies before it are left as they are.
    time, step : float [s]
        The step ends at ``time``.
    stop : float [J/kg]
        Heat content at which metal stops moving.
    given : array [W], shape (bodies,)
        To each body over the step.
    mass : array [kg], shape (bodies,)
    curve : array [by column]
    level : array [J/kg]
    heat, before : array [J/kg], shape (bodies,)
        ``before`` is filled with the heat that ``heat`` had.
    piece : array of int, shape (bodies,)
    temperature : array [K], shape (bodies,)
    slope : array [kg·K/J], shape (bodies,)
    solid : array [-], shape (bodies,)
    moments : array [s], shape (bodies, LEVELS)
    closed : array [s], shape (bodies,)
        When metal stops moving through a body.
    """
    half, seventy, ninety, solidus = level[1], level[2], level[3], level[4]
    begin = max(first, 0)  # says to the compiler that no place counts from the end
    for body in range(begin, heat.size):
        before[body] = heat[body]
        heat[body] += step * given[body] / mass[body]
    left = 0
    last = PIECES - 1
    cold_slope = curve[SLOPE, last]
    cold_base = curve[BASE_TEMPERATURE, last] - cold_slope * curve[BASE_HEAT, last]
    for body in range(begin, heat.size):
        here = heat[body]
        was = piece[body]
        if was == last and here <= solidus:
            # Solid before and after, as most bodies are in most steps: no knot is passed.
            temperature[body] = cold_base + cold_slope * here
            continue
        at = piece_of(here, half, seventy, ninety, solidus)
        past = here - curve[BASE_HEAT, at]
        rise = curve[SLOPE, at]
        slope[body] = rise
        temperature[body] = curve[BASE_TEMPERATURE, at] + rise * past
        solid[body] = curve[BASE_SOLID, at] + curve[SOLID_SLOPE, at] * past
        left += int(at < last)
        if at > was or here <= stop:
            fall = here - before[body]
            for knot in range(max(was, 0), at):
                moments[body, knot + 1] = time - step * (here - level[knot]) / fall
            if here <= stop and before[body] > stop:
                closed[body] = time - step * (here - stop) / fall
        piece[body] = at
    return left
