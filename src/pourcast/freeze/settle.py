"""Settle: from the heat that each body keeps to its temperature, and when it passes a knot."""

from typing import TypeAlias

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

_Six: TypeAlias = tuple[float, float, float, float, float, float]  # one for each piece


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


@small_kernel
def _row(row: int, curve: si.Table) -> _Six:
    """Return a row of the freezing curve: numbers, which a loop keeps in registers."""
    return (
        curve[row, 0],
        curve[row, 1],
        curve[row, 2],
        curve[row, 3],
        curve[row, 4],
        curve[row, 5],
    )


@small_kernel
def _at_no_heat(base: int, rise: int, curve: si.Table) -> _Six:
    """Return where the line of each piece would be at a heat content of 0."""
    return (
        curve[base, 0] - curve[rise, 0] * curve[BASE_HEAT, 0],
        curve[base, 1] - curve[rise, 1] * curve[BASE_HEAT, 1],
        curve[base, 2] - curve[rise, 2] * curve[BASE_HEAT, 2],
        curve[base, 3] - curve[rise, 3] * curve[BASE_HEAT, 3],
        curve[base, 4] - curve[rise, 4] * curve[BASE_HEAT, 4],
        curve[base, 5] - curve[rise, 5] * curve[BASE_HEAT, 5],
    )


@small_kernel
def _pick(
    heat: si.JoulePerKilogram,
    half: si.JoulePerKilogram,
    seventy: si.JoulePerKilogram,
    ninety: si.JoulePerKilogram,
    solidus: si.JoulePerKilogram,
    values: _Six,
) -> float:
    """Return which of six values holds in the piece of the curve that `piece_of` finds."""
    here = values[1] if heat < 0.0 else values[0]
    here = values[2] if heat < half else here
    here = values[3] if heat < seventy else here
    here = values[4] if heat < ninety else here
    return values[5] if heat <= solidus else here


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
    passes: si.Integers,
    passing: si.Integers,
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
    passes, passing : array of int, shape (bodies,)
        Room to work in: which bodies pass a knot, and a list of them.
    temperature : array [K], shape (bodies,)
    slope : array [kg·K/J], shape (bodies,)
    solid : array [-], shape (bodies,)
    moments : array [s], shape (bodies, LEVELS)
    closed : array [s], shape (bodies,)
        When metal stops moving through a body.
    """
    # Views that begin at 0: the compiler then knows that no place counts from the end, and
    # works on several bodies at once.
    given, mass, heat, before = given[first:], mass[first:], heat[first:], before[first:]
    temperature, slope, solid = temperature[first:], slope[first:], solid[first:]
    piece, moments, closed = piece[first:], moments[first:], closed[first:]
    half, seventy, ninety, solidus = level[1], level[2], level[3], level[4]
    rises, solid_rises = _row(SLOPE, curve), _row(SOLID_SLOPE, curve)
    bases = _at_no_heat(BASE_TEMPERATURE, SLOPE, curve)
    solid_bases = _at_no_heat(BASE_SOLID, SOLID_SLOPE, curve)
    # No branches, and each body worked out in full: which of them are still liquid has no
    # pattern that a processor could foresee.
    for body in range(heat.size):
        before[body] = heat[body]
        heat[body] += step * given[body] / mass[body]
    for body in range(heat.size):
        here = heat[body]
        rise = _pick(here, half, seventy, ninety, solidus, rises)
        slope[body] = rise
        temperature[body] = _pick(here, half, seventy, ninety, solidus, bases) + rise * here
        solid_rise = _pick(here, half, seventy, ninety, solidus, solid_rises)
        solid[body] = _pick(here, half, seventy, ninety, solidus, solid_bases) + solid_rise * here
    left = 0
    for body in range(heat.size):
        here = heat[body]
        at = piece_of(here, half, seventy, ninety, solidus)
        stops = int(here <= stop) & int(before[body] > stop)
        passes[body] = int(at > piece[body]) | stops
        piece[body] = at
        left += int(at < PIECES - 1)
    count = 0
    for body in range(heat.size):
        passing[count] = body  # written over by the next where this one passes nothing
        count += passes[body]
    for number in range(count):
        body = passing[number]
        here, was = heat[body], before[body]
        fall = here - was
        for knot in range(piece_of(was, half, seventy, ninety, solidus), piece[body]):
            moments[body, knot + 1] = time - step * (here - level[knot]) / fall
        if here <= stop and was > stop:
            closed[body] = time - step * (here - stop) / fall
    return left
