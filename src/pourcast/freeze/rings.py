"""Rings: the button as slices of metal in rings of mould, out to the flask.

The button is large and stays hot for long, so its mould is not without end: the
flask's outside cools it.  Each slice of the cone stands in rings of its own that
grow outward in even ratio of thickness,

    c dT/dt = flow in - flow out,   flow = 2π k l ΔT / ln(r₂/r₁)            (1)

with the heat that leaves the outermost ring by air and by radiation, and the top
of the button by what covers it.  All is taken at the end of the step; the
radiation is a straight line about the temperature before it, and the same number
goes into the account of heat.

Left out: heat up and down in the mould, and the steel of the flask, whose heat is
that of 2 mm of mould.  Both make the button cool a little slower here: the quench
is said later, not earlier.

Source: heat conduction in a hollow cylinder, exact between two radii.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel, small_kernel

SLICES = 4
RINGS = 10
RING_GROWTH = 1.35  # of the thickness from ring to ring; 0.5 mm beside metal for 30 mm of wall
_LEAST_WALL = 5e-3  # m of mould beside a button that is said to touch the flask


@kernel
def set_slices(
    metal: si.CubicMetre,
    gate_radius: si.Metre,
    rim_radius: si.Metre,
    height: si.Metre,
    flask_radius: si.Metre,
    conductivity: si.WattPerMetreKelvin,
    heat_capacity: si.JoulePerCubicMetreKelvin,
    volume: si.CubicMetres,
    face: si.SquareMetres,
    across: si.SquareMetres,
    ring_room: si.JoulesPerKelvin,
    ring_way: si.WattsPerKelvin,
) -> si.Metre:
    """Fill the sizes of the slices and rings of one draw; return the height of a slice [m].

    Parameters
    ----------
    metal : float [m³]
        In the cup.
    gate_radius, rim_radius, height : float [m]
        Of the cone; above it the metal stands as a cylinder.
    flask_radius : float [m]
    conductivity : float [W/(m·K)]
    heat_capacity : float [J/(m³·K)]
        Of the mould.
    volume : array [m³], shape (SLICES,)
        From the gate up.
    face : array [m²], shape (SLICES,)
        Of the side.
    across : array [m²], shape (SLICES + 1,)
        Level areas, from the gate to the top.
    ring_room : array [J/K], shape (SLICES, RINGS)
        Heat that a ring takes up for each kelvin.
    ring_way : array [W/K], shape (SLICES, RINGS + 1)
        From the face to the first ring, from ring to ring, and from the last to the outside.

    Returns
    -------
    float [m]
    """
    level = cup_level(metal, gate_radius, rim_radius, height)
    tall = level / SLICES
    for place in range(SLICES + 1):
        radius = _radius(place * tall, gate_radius, rim_radius, height)
        across[place] = math.pi * radius * radius
    for place in range(SLICES):
        low = _radius(place * tall, gate_radius, rim_radius, height)
        high = _radius((place + 1) * tall, gate_radius, rim_radius, height)
        volume[place] = math.pi / 3.0 * tall * (low * low + low * high + high * high)
        face[place] = math.pi * (low + high) * math.sqrt(tall * tall + (high - low) ** 2)
        inner = 0.5 * (low + high)
        wall = max(flask_radius - inner, _LEAST_WALL)
        thick = wall * (RING_GROWTH - 1.0) / (math.pow(RING_GROWTH, RINGS) - 1.0)
        edge = inner
        middle = inner
        for ring in range(RINGS):
            outer = edge + thick
            centre = 0.5 * (edge + outer)
            ring_room[place, ring] = heat_capacity * math.pi * (outer**2 - edge**2) * tall
            ring_way[place, ring] = 2.0 * math.pi * conductivity * tall / math.log(centre / middle)
            edge = outer
            middle = centre
            thick *= RING_GROWTH
        ring_way[place, RINGS] = 2.0 * math.pi * conductivity * tall / math.log(edge / middle)
    return tall


@small_kernel
def _radius(
    level: si.Metre, gate_radius: si.Metre, rim_radius: si.Metre, height: si.Metre
) -> si.Metre:
    """Return the radius of the cup at a level [m]."""
    return gate_radius + (rim_radius - gate_radius) * min(level / height, 1.0)


@kernel
def cup_level(
    metal: si.CubicMetre, gate_radius: si.Metre, rim_radius: si.Metre, height: si.Metre
) -> si.Metre:
    """Return how high the metal stands in the cup [m].

    Parameters
    ----------
    metal : float [m³]
    gate_radius, rim_radius, height : float [m]
        Of the cone; above it the metal stands as a cylinder.

    Returns
    -------
    float [m]
    """
    low, high = 0.0, height
    full = math.pi / 3.0 * height * (gate_radius**2 + gate_radius * rim_radius + rim_radius**2)
    if metal >= full:
        return height + (metal - full) / (math.pi * rim_radius * rim_radius)
    for _ in range(50):
        middle = 0.5 * (low + high)
        top = gate_radius + (rim_radius - gate_radius) * middle / height
        held = math.pi / 3.0 * middle * (gate_radius**2 + gate_radius * top + top * top)
        if held < metal:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


@small_kernel
def surface_transfer(
    convection: si.WattPerSquareMetreKelvin,
    emissivity: si.Ratio,
    temperature: si.Kelvin,
    room: si.Kelvin,
) -> si.WattPerSquareMetreKelvin:
    """Return the heat transfer from a surface to the room, radiation included [W/(m²·K)].

    Parameters
    ----------
    convection : float [W/(m²·K)]
    emissivity : float [-]
    temperature, room : float [K]

    Returns
    -------
    float [W/(m²·K)]
    """
    both = (temperature * temperature + room * room) * (temperature + room)
    return convection + si.STEFAN_BOLTZMANN * emissivity * both


@kernel
def rings_out(
    place: int,
    step: si.Second,
    touch: si.WattPerKelvin,
    outside: si.WattPerKelvin,
    room: si.Kelvin,
    ring_room: si.JoulesPerKelvin,
    ring_way: si.WattsPerKelvin,
    ring: si.Kelvins,
    ring_share: si.Ratios,
    ring_free: si.Kelvins,
    ring_hold: si.WattsPerKelvin,
    ring_drawn: si.Watts,
) -> None:
    """Put out the rings of a slice, from the flask to the face.

    Parameters
    ----------
    place : int
        Slice.
    step : float [s]
    touch, outside : float [W/K]
        From the metal to the face; from the outside of the flask to the room.
    room : float [K]
    ring_room : array [J/K]
    ring_way : array [W/K]
        From `set_slices`.
    ring : array [K], shape (SLICES, RINGS)
    ring_share : array [-], shape (SLICES, RINGS)
        Filled: by which a ring follows the one inside it.
    ring_free : array [K], shape (SLICES, RINGS)
        Filled: temperature that it would have if that one were at 0 K.
    ring_hold : array [W/K], shape (SLICES,)
    ring_drawn : array [W], shape (SLICES,)
        Filled: metal at T gives ``ring_hold`` T less ``ring_drawn`` to the rings.
    """
    outer = ring_way[place, RINGS]
    # The last ring gives to the room through half of itself and the surface.
    outer = outer * outside / (outer + outside)
    drawn = outer * room
    hold = outer
    for number in range(RINGS - 1, -1, -1):
        inner = ring_way[place, number]
        if number == 0:
            inner = inner * touch / (inner + touch)
        room_rate = ring_room[place, number] / step
        weight = room_rate + hold + inner
        ring_share[place, number] = inner / weight
        ring_free[place, number] = (room_rate * ring[place, number] + drawn) / weight
        # What the next one inward sees of all that lies outside it.
        hold = inner * (weight - inner) / weight
        drawn = inner * ring_free[place, number]
    ring_hold[place] = hold
    ring_drawn[place] = drawn


@kernel
def rings_in(
    place: int,
    metal: si.Kelvin,
    ring: si.Kelvins,
    ring_share: si.Ratios,
    ring_free: si.Kelvins,
) -> None:
    """Put the temperatures of the rings in, from the face to the flask.

    Parameters
    ----------
    place : int
    metal : float [K]
        Of the slice at the end of the step.
    ring : array [K], shape (SLICES, RINGS)
        Taken one step on.
    ring_share : array [-]
    ring_free : array [K]
        From `rings_out`.
    """
    before = metal
    for number in range(RINGS):
        before = ring_free[place, number] + ring_share[place, number] * before
        ring[place, number] = before
