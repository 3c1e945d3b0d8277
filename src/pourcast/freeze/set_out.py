"""Set out: one casting as the pour left it.

The network gives sizes as measured; each member of a draw is wider or thinner by
its own factor, and a segment that did not fill holds less metal or none.  A
segment that filled in part does not reach the bodies beyond it.
"""

import math

from pourcast import units as si
from pourcast.freeze.columns import (
    CONDUCTIVITY,
    CONTRACTION,
    CUP_HEIGHT,
    DENSITY,
    DIFFUSIVITY,
    END_TIME,
    FEED_STOP,
    FLASK_RADIUS,
    GATE_RADIUS,
    KNOTS,
    LEVELS,
    METAL_LEFT,
    MOULD,
    POURED_AT,
    RIM_RADIUS,
    SHRINKAGE,
)
from pourcast.freeze.rings import SLICES, set_slices
from pourcast.freeze.room import Room
from pourcast.freeze.settle import ABSENT, place_on_curve, set_curve
from pourcast.freeze.solid import Knots, fraction_at, heat_of_state, temperature_at
from pourcast.freeze.wall import set_walls
from pourcast.kernels import kernel

_FULL = 1.0 - 1e-9
_LEAST_SHARE = 1e-6  # of a segment; less metal is none
_LEAST_WAY = 0.01
"""Share of its segment over which heat runs into metal that only wets its start, at least.
Flows are differences of temperatures times conductances; over a way of micrometres what is left
of them is rounding, 6e-6 of the heat of a casting where it was not held to this."""
_LEAST_METAL = 1e-9  # m³ in the cup; less is no button


@kernel
def knots_from(parameters: si.Table) -> Knots:
    """Return the freezing curve that stands in the parameters of a draw.

    Parameters
    ----------
    parameters : array [by column], shape (PARAMETERS,)

    Returns
    -------
    Knots
    """
    return Knots(
        parameters[KNOTS],
        parameters[KNOTS + 1],
        parameters[KNOTS + 2],
        parameters[KNOTS + 3],
        parameters[KNOTS + 4],
        parameters[KNOTS + 5],
        parameters[KNOTS + 6],
        parameters[KNOTS + 7],
        parameters[KNOTS + 8],
        parameters[KNOTS + 9],
        parameters[KNOTS + 10],
    )


@kernel
def set_out(
    order: si.Integers,
    above: si.Integers,
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
    held: Room,
) -> si.Metre:
    """Fill the room with a casting at the end of its pour; return the height of a slice [m].

    Parameters
    ----------
    order, above, member : array of int, shape (bodies,)
    volume : array [m³], shape (bodies,)
    side, tip, section : array [m²], shape (bodies,)
    girth, length, member_length : array [m], shape (bodies,)
        As `pourcast.freeze.bodies.Bodies` holds them.
    scale : array [-], shape (members,)
    filled : array [-], shape (segments,)
    fill_time : array [s], shape (segments,)
    temperature : array [K], shape (segments,)
    solid : array [-], shape (segments,)
        As the pour left them.
    parameters : array [by column], shape (PARAMETERS,)
    table : array [-]
        From `pourcast.freeze.wall.curvature_table`.
    held : Room
        Filled.

    Returns
    -------
    float [m]
    """
    bodies = order.size
    knots = knots_from(parameters)
    set_curve(knots, held.curve, held.level)
    for body in range(bodies):
        segment = order[body]
        factor = scale[member[body]]
        share = filled[segment] if filled[segment] > _LEAST_SHARE else 0.0
        held.radius[body] = girth[body] * factor / (2.0 * math.pi)
        held.volume[body] = volume[body] * factor * factor * share
        held.mass[body] = max(parameters[DENSITY] * held.volume[body], ABSENT)
        held.face[body] = side[body] * factor * share + tip[body] * factor * factor
        held.ends[body] = parameters[CONDUCTIVITY] / member_length[body]
        held.near_size[body] = 0.0
        held.far_size[body] = 0.0
        if share > 0.0:
            half = 0.5 * length[body] * max(share, _LEAST_WAY)
            held.near_size[body] = section[body] * factor * factor / half
            if share >= _FULL:
                held.far_size[body] = held.near_size[body]
        held.heat[body] = knots.heat_solidus
        if share > 0.0:
            held.heat[body] = heat_of_state(temperature[segment], solid[segment], knots)
        upper = above[body]
        held.wetted[body] = 0.0
        if upper >= 0:
            since = fill_time[order[upper]]
            # The body above was never full where this one filled from its far side.
            held.wetted[body] = since if since >= 0.0 else 0.5 * parameters[END_TIME]
    metal = parameters[METAL_LEFT]
    for place in range(SLICES):
        held.heat[bodies + place] = knots.heat_solidus
        if metal > _LEAST_METAL:
            held.heat[bodies + place] = heat_of_state(parameters[POURED_AT], 0.0, knots)
    place_on_curve(
        held.heat,
        held.curve,
        held.level,
        held.piece,
        held.temperature,
        held.slope,
        held.solid,
    )
    set_walls(
        held.radius,
        parameters[CONDUCTIVITY],
        parameters[DIFFUSIVITY],
        table,
        held.weight,
        held.swift,
        held.steeped,
    )
    tall = set_slices(
        max(metal, _LEAST_METAL),
        parameters[GATE_RADIUS],
        parameters[RIM_RADIUS],
        parameters[CUP_HEIGHT],
        parameters[FLASK_RADIUS],
        parameters[CONDUCTIVITY],
        parameters[CONDUCTIVITY] / parameters[DIFFUSIVITY],
        held.volume[bodies:],
        held.slice_face,
        held.slice_across,
        held.ring_room,
        held.ring_way,
    )
    there = 1.0 if metal > _LEAST_METAL else 0.0
    for place in range(SLICES):
        held.volume[bodies + place] *= there
        held.mass[bodies + place] = max(parameters[DENSITY] * held.volume[bodies + place], ABSENT)
    held.ring[:, :] = parameters[MOULD]
    held.fed[:] = 0.0
    return tall


@kernel
def set_moments(
    parameters: si.Table,
    fill_time: si.Seconds,
    order: si.Integers,
    moments: si.Seconds,
    demand: si.Ratios,
    closed: si.Seconds,
    held: Room,
) -> None:
    """Fill the times that lie in the pour, and what each body still has to shrink.

    Where the pour left a body in the mush its earlier times are put on a straight
    line of the solid fraction from the time it was full.

    Parameters
    ----------
    parameters : array [by column]
    fill_time : array [s], shape (segments,)
    order : array of int, shape (bodies,)
    moments : array [s], shape (bodies + SLICES, LEVELS)
    demand : array [-], shape (bodies + SLICES, LEVELS)
        Share of the volume that a body still shrinks at the start and at each knot.
    closed : array [s], shape (bodies + SLICES,)
        Filled; -1 where there is no metal.
    held : Room
    """
    knots = knots_from(parameters)
    end = parameters[END_TIME]
    shrinks = parameters[SHRINKAGE]
    contraction = parameters[CONTRACTION]
    at_knot = held.gain  # as long as the knots are few, its room is free here
    at_knot[4] = 0.0
    for knot in range(3, -1, -1):
        fall = temperature_at(held.level[knot], knots) - temperature_at(held.level[knot + 1], knots)
        low = fraction_at(held.level[knot], knots)
        high = fraction_at(held.level[knot + 1], knots)
        liquid = 1.0 - 0.5 * (low + high)
        at_knot[knot] = at_knot[knot + 1] + shrinks * (high - low) + contraction * liquid * fall
    for body in range(held.mass.size):
        closed[body] = -1.0
        piece = held.piece[body]
        solid = held.solid[body]
        if piece == 0:
            over = held.temperature[body] - knots.liquidus
            start = at_knot[0] + contraction * over
        elif piece >= 5:
            start = 0.0
        else:
            low = held.level[piece - 1]
            way = (held.heat[body] - low) / (held.level[piece] - low)
            start = at_knot[piece - 1] + way * (at_knot[piece] - at_knot[piece - 1])
        moments[body, 0] = end
        demand[body, 0] = start
        for knot in range(LEVELS - 1):
            demand[body, knot + 1] = min(at_knot[knot], start)
            moments[body, knot + 1] = end if piece > knot else math.inf
        if held.volume[body] <= 0.0:
            continue
        closed[body] = math.inf
        if solid >= parameters[FEED_STOP]:
            since = end
            if body < order.size and fill_time[order[body]] >= 0.0:
                since = min(fill_time[order[body]], end)
            closed[body] = since + (end - since) * parameters[FEED_STOP] / solid
        if piece >= 5:
            moments[body, 5] = end
