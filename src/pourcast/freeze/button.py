"""Button: the slices of metal in the cup, between their rings, the room and the gate.

The slices follow the bodies of the piece in every table.  Heat runs from slice to
slice, from the lowest through the gate to the piece, from each to its rings, and
from the top to the room.
"""

from pourcast import units as si
from pourcast.freeze.columns import (
    BASE_HEAT,
    BASE_TEMPERATURE,
    FEED_STOP,
    FLASK_EMISSIVITY,
    FLASK_TRANSFER,
    GAP,
    LIQUID_CONDUCTIVITY,
    ROOM,
    SLOPE,
    SOLID_CONDUCTIVITY,
    TOP_EMISSIVITY,
    TOP_TRANSFER,
    TOUCH,
)
from pourcast.freeze.predict import contact, steepness
from pourcast.freeze.rings import RINGS, SLICES, rings_out, surface_transfer
from pourcast.freeze.settle import ABSENT, piece_of
from pourcast.kernels import kernel


@kernel
def button_lines(
    bodies: int,
    step: si.Second,
    tall: si.Metre,
    outside: si.SquareMetre,
    coldest: si.JoulePerKilogram,
    parameters: si.Table,
    curve: si.Table,
    level: si.JoulesPerKilogram,
    mass: si.Kilograms,
    heat: si.JoulesPerKilogram,
    temperature: si.Kelvins,
    slope: si.KilogramKelvinsPerJoule,
    solid: si.Ratios,
    face: si.SquareMetres,
    across: si.SquareMetres,
    ring_room: si.JoulesPerKelvin,
    ring_way: si.WattsPerKelvin,
    ring: si.Kelvins,
    ring_share: si.Ratios,
    ring_free: si.Kelvins,
    ring_hold: si.WattsPerKelvin,
    ring_drawn: si.Watts,
    touch: si.WattsPerKelvin,
    outer: si.WattsPerKelvin,
    way: si.WattsPerKelvin,
    stiff: si.WattsPerKelvin,
    given: si.Watts,
) -> si.WattPerKelvin:
    """Fill the line of each slice for one step; return what the top gives to the room [W/K].

    Parameters
    ----------
    bodies : int
        Of the piece; the slices follow them.
    step : float [s]
    tall : float [m]
        Of a slice.
    outside : float [m²]
        Face of the flask round a slice.
    coldest : float [J/kg]
        Heat of metal as cold as the room.
    parameters, curve : array [by column]
    level : array [J/kg]
    mass : array [kg]
    heat : array [J/kg]
    temperature : array [K]
    slope : array [kg·K/J]
    solid : array [-], shape (bodies + SLICES,)
    face : array [m²], shape (SLICES,)
    across : array [m²], shape (SLICES + 1,)
    ring_room : array [J/K]
    ring_way : array [W/K]
    ring : array [K], shape (SLICES, RINGS)
    ring_share : array [-]
    ring_free : array [K]
    ring_hold : array [W/K], shape (SLICES,)
    ring_drawn : array [W], shape (SLICES,)
        Filled, as `pourcast.freeze.rings.rings_out` says.
    touch, outer : array [W/K], shape (SLICES,)
        Filled: from metal to face; from the middle of the last ring to the room.
    way : array [W/K], shape (SLICES,)
        Filled: from each slice to the one below it, the first to the gate.
    stiff : array [W/K], shape (SLICES,)
    given : array [W], shape (SLICES,)
        Filled: both sides of the balance of each slice.

    Returns
    -------
    float [W/K]
    """
    room = parameters[ROOM]
    top = 0.0
    for place in range(SLICES):
        body = bodies + place
        hot = temperature[body]
        if mass[body] <= ABSENT:
            touch[place] = 0.0
            way[place] = 0.0
            ring_hold[place] = 0.0
            ring_drawn[place] = 0.0
            stiff[place] = 1.0
            given[place] = hot
            continue
        into = contact(solid[body], parameters[FEED_STOP], parameters[TOUCH], parameters[GAP])
        touch[place] = into * face[place]
        last = ring[place, RINGS - 1]
        surface = outside * surface_transfer(
            parameters[FLASK_TRANSFER], parameters[FLASK_EMISSIVITY], last, room
        )
        half = ring_way[place, RINGS]
        outer[place] = surface * half / (surface + half)
        rings_out(
            place,
            step,
            touch[place],
            surface,
            room,
            ring_room,
            ring_way,
            ring,
            ring_share,
            ring_free,
            ring_hold,
            ring_drawn,
        )
        out = ring_hold[place]
        back = ring_drawn[place]
        if place == SLICES - 1:
            transfer = surface_transfer(
                parameters[TOP_TRANSFER], parameters[TOP_EMISSIVITY], hot, room
            )
            top = across[SLICES] * transfer
            out += top
            back += top * room
        held = mass[body] / step
        fall = (back - out * hot) / (held + out * slope[body])
        gone = min(-fall, max(heat[body] - coldest, 0.0))
        target = heat[body] - gone
        at = piece_of(target, level[1], level[2], level[3], level[4])
        there = curve[BASE_TEMPERATURE, at] + curve[SLOPE, at] * (target - curve[BASE_HEAT, at])
        keeps = held * steepness(gone, hot - there, slope[body])
        stiff[place] = keeps + out
        given[place] = keeps * hot + back
        metal = parameters[LIQUID_CONDUCTIVITY] + solid[body] * (
            parameters[SOLID_CONDUCTIVITY] - parameters[LIQUID_CONDUCTIVITY]
        )
        thick = 0.5 * tall if place == 0 else tall
        way[place] = metal * across[place] / thick
    return top


@kernel
def button_solve(
    bodies: int,
    pull: si.WattPerKelvin,
    gate_given: si.Watt,
    stiff: si.WattsPerKelvin,
    given: si.Watts,
    way: si.WattsPerKelvin,
    share: si.Ratios,
    free: si.Kelvins,
    found: si.Kelvins,
) -> si.Kelvin:
    """Fill the temperatures of the slices; return that of the gate [K].

    Parameters
    ----------
    bodies : int
    pull : float [W/K]
    gate_given : float [W]
        What the piece is to the gate: it takes ``pull`` T less ``gate_given``.
    stiff, way : array [W/K], shape (SLICES,)
    given : array [W], shape (SLICES,)
        From `button_lines`.
    share : array [-], shape (SLICES,)
    free : array [K], shape (SLICES,)
        Room to work in.
    found : array [K], shape (bodies + SLICES,)
        The slices are filled.

    Returns
    -------
    float [K]
    """
    above = 0.0
    above_free = 0.0
    above_share = 0.0
    for place in range(SLICES - 1, 0, -1):
        weight = stiff[place] + way[place] + above * (1.0 - above_share)
        free[place] = (given[place] + above * above_free) / weight
        share[place] = way[place] / weight
        above = way[place]
        above_free = free[place]
        above_share = share[place]
    gate = way[0]
    total = gate + pull
    weight = stiff[0] + above * (1.0 - above_share)
    heat = given[0] + above * above_free
    if total > 0.0:
        weight += gate * pull / total
        heat += gate * gate_given / total
    low: si.Kelvin = heat / weight
    found[bodies] = low
    for place in range(1, SLICES):
        found[bodies + place] = free[place] + share[place] * found[bodies + place - 1]
    node: si.Kelvin = low
    if total > 0.0:
        node = (gate * low + gate_given) / total
    return node


@kernel
def button_flows(
    bodies: int,
    gate: si.Kelvin,
    top: si.WattPerKelvin,
    room: si.Kelvin,
    ring_hold: si.WattsPerKelvin,
    ring_drawn: si.Watts,
    way: si.WattsPerKelvin,
    found: si.Kelvins,
    given: si.Watts,
) -> si.Watt:
    """Fill what flows to each slice; return what the top gives to the room [W].

    Parameters
    ----------
    bodies : int
    gate : float [K]
    top : float [W/K]
    room : float [K]
    ring_hold, way : array [W/K], shape (SLICES,)
    ring_drawn : array [W], shape (SLICES,)
    found : array [K], shape (bodies + SLICES,)
        At the end of the step.
    given : array [W], shape (bodies + SLICES,)
        The slices are filled.

    Returns
    -------
    float [W]
    """
    below = gate
    for place in range(SLICES):
        body = bodies + place
        hot = found[body]
        given[body] = way[place] * (below - hot) - (ring_hold[place] * hot - ring_drawn[place])
        if place > 0:
            given[body - 1] -= way[place] * (below - hot)
        below = hot
    lost = top * (below - room)
    given[bodies + SLICES - 1] -= lost
    return lost
