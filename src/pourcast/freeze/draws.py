"""Draws: freeze some of the draws, one after another, in the same room."""

import math

from pourcast import units as si
from pourcast.freeze.columns import FEED_STOP, FLASK_RADIUS, MOULD, ROOM
from pourcast.freeze.march import march
from pourcast.freeze.room import Room
from pourcast.freeze.set_out import knots_from, set_moments, set_out
from pourcast.freeze.solid import heat_at_fraction
from pourcast.kernels import kernel, small_kernel


@small_kernel
def _heat_of_solid(
    temperature: si.Kelvin,
    solidus: si.Kelvin,
    heat: si.JoulePerKilogram,
    specific: si.JoulePerKilogramKelvin,
) -> si.JoulePerKilogram:
    """Return the heat of solid metal at a temperature; at most that of the solidus [J/kg]."""
    return heat - specific * max(solidus - temperature, 0.0)


@kernel
def freeze_draws(
    first: int,
    last: int,
    order: si.Integers,
    above: si.Integers,
    near: si.Places,
    far: si.Places,
    cut: si.Integers,
    meets: si.Integers,
    member: si.Integers,
    volume: si.CubicMetres,
    side: si.SquareMetres,
    tip: si.SquareMetres,
    section: si.SquareMetres,
    girth: si.Metres,
    length: si.Metres,
    member_length: si.Metres,
    scale: si.Ratios,
    filled: si.Ratios,
    fill_time: si.Seconds,
    temperature: si.Kelvins,
    solid: si.Ratios,
    parameters: si.Table,
    table: si.Ratios,
    moments: si.Seconds,
    demand: si.Ratios,
    closed: si.Seconds,
    volumes: si.CubicMetres,
    ends: si.Table,
    held: Room,
) -> None:
    """Freeze draws ``first`` to ``last`` and write when each place froze.

    Parameters
    ----------
    first, last : int
    order, above, near, far, member : array of int, shape (bodies,)
    cut, meets : array of int, shape (rings,)
    volume : array [m³], shape (bodies,)
    side, tip, section : array [m²], shape (bodies,)
    girth, length, member_length : array [m], shape (bodies,)
        As `pourcast.freeze.bodies.Bodies` holds them.
    scale : array [-], shape (draws, members)
    filled, solid : array [-], shape (draws, segments)
    fill_time : array [s], shape (draws, segments)
    temperature : array [K], shape (draws, segments)
        As the pour left them.
    parameters : array [by column], shape (draws, PARAMETERS)
    table : array [-]
        From `pourcast.freeze.wall.curvature_table`.
    moments : array [s], shape (draws, bodies + SLICES, LEVELS)
    demand : array [-], shape (draws, bodies + SLICES, LEVELS)
    closed : array [s], shape (draws, bodies + SLICES)
    volumes : array [m³], shape (draws, bodies + SLICES)
    ends : array [by column], shape (draws, ENDS)
        These five are filled.
    held : Room
    """
    places = held.mass.size
    for draw in range(first, last):
        values = parameters[draw]
        tall = set_out(
            order,
            above,
            member,
            volume,
            side,
            tip,
            section,
            girth,
            length,
            member_length,
            scale[draw],
            filled[draw],
            fill_time[draw],
            temperature[draw],
            solid[draw],
            values,
            table,
            held,
        )
        set_moments(values, fill_time[draw], order, moments[draw], demand[draw], closed[draw], held)
        for place in range(places):
            volumes[draw, place] = held.volume[place]
        knots = knots_from(values)
        march(
            near,
            far,
            cut,
            meets,
            tall,
            2.0 * math.pi * values[FLASK_RADIUS] * tall,
            heat_at_fraction(values[FEED_STOP], knots),
            _heat_of_solid(values[MOULD], knots.solidus, knots.heat_solidus, knots.solid_heat),
            _heat_of_solid(values[ROOM], knots.solidus, knots.heat_solidus, knots.solid_heat),
            values,
            moments[draw],
            closed[draw],
            ends[draw],
            held,
        )
