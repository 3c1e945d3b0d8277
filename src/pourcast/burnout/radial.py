"""Radial: the temperatures of the rings and of the front of the water after a step.

A step is implicit and straight in the temperatures: conduction between the
middles of the rings by the logarithm of their radii, sinks of gypsum with their
slopes, and steam that takes up heat as it goes outwards through dry rings.

Free water leaves at a front inside a ring, where the share of its water that is left
puts it.  The front holds no heat; what flows into it boils water,

    flow of heat = m (h_v(T) - h_l),   p_s(T)² = p_air² + C m + S            (1)

where C m and S are what the steam of the front and that of gypsum need to get
out, by equation 3 of `pourcast.burnout.steam`; p_s is the pressure of saturation.
(1) bends sharply, so it is solved by Newton's method with the equations of all rings.

The face of the block lies between its outer ring and, side by side, steel that
it touches and kiln that it sees, which shines and blows on it:

    q = h (T_kiln - T) + ε σ (T_kiln⁴ - T⁴)                                   (2)

Left out: evaporation under boiling (dry hours err late: a block held under 95 °C
never dries); steam that goes inwards and condenses (the wet core warms late).

Sources: finite volumes, Patankar (1980), Numerical Heat Transfer and Fluid Flow;
(2) Stefan and Boltzmann, kiln walls as hot as its air.
"""

import math

from pourcast import units as si
from pourcast.burnout import columns as c
from pourcast.burnout import steam
from pourcast.kernels import kernel, small_kernel

_THIN = 1e-3  # least logarithm of a way of heat, so that a front at a face has a finite one
_WITHIN = 0.01  # K, to which the temperature of the front is found
_TRIALS = 20


@small_kernel
def give(
    face: si.Kelvin,
    air: si.Kelvin,
    convection: si.WattPerSquareMetreKelvin,
    emissivity: si.Ratio,
) -> si.WattPerSquareMetreKelvin:
    """Return the flow of heat of equation 2 over the difference of temperature [W/(m²·K)].

    Parameters
    ----------
    face, air : float [K]
    convection : float [W/(m²·K)]
    emissivity : float [-]

    Returns
    -------
    float [W/(m²·K)]
    """
    squares = air * air + face * face
    return convection + emissivity * si.STEFAN_BOLTZMANN * squares * (air + face)


@kernel
def conduct(
    draw: int,
    rings: int,
    step: si.Second,
    air: si.Kelvin,
    values: si.Table,
    measures: si.Table,
    room: si.Table,
    whole: si.Table,
    way: si.Table,
) -> None:
    """Find the temperatures after a step; SOLUTION holds rings, front, face and steel.

    Parameters
    ----------
    draw, rings : int
    step : float [s]
    air : float [K]
        Kiln at the end of the step.
    values : array [by column], shape (draws, VALUES)
    measures : array [by column], shape (draws, MEASURES)
    room : array [by column], shape (ROWS, rings + 3)
        As `pourcast.burnout.rings.weigh` leaves it.
    whole : array [by column], shape (WHOLE,)
    way : array [by column], shape (2,)
        C and S of equation 1.
    """
    front = int(whole[c.FRONT])
    tau = 2.0 * math.pi
    wet = values[draw, c.WET_CONDUCTIVITY]
    shift = 1 if front >= 0 else 0
    last = rings + shift  # the face; steel is one beyond
    radius = whole[c.FRONT_RADIUS]
    inner_way = outer_way = 0.0
    if front >= 0:
        inner = room[c.INNER, front]
        middle = 0.5 * (inner + radius)
        outer_way = max(math.log(room[c.OUTER, front] / radius), 0.0) / room[c.CONDUCTION, front]
        room[c.LINK, front] = tau * wet / max(math.log(radius / middle), _THIN)
        if front > 0:
            inner_way = max(math.log(middle / inner), 0.0) / wet
    for i in range(rings):
        if i == front:
            continue
        if i == front - 1:
            along = room[c.OUTWARD, i] / wet + inner_way
        else:
            along = room[c.OUTWARD, i] / room[c.CONDUCTION, i]
            if i < rings - 1:
                along += room[c.INWARD, i + 1] / room[c.CONDUCTION, i + 1]
        room[c.LINK, i + (shift if i > front else 0)] = tau / max(along, _THIN)
    if front >= 0:
        along = outer_way
        if front < rings - 1:
            along += room[c.INWARD, front + 1] / room[c.CONDUCTION, front + 1]
        room[c.LINK, front + 1] = tau / max(along, _THIN)
    for i in range(rings):
        p = i + shift if i > front else i
        kelvin = room[c.TEMPERATURE, i]
        hold = room[c.CAPACITY, i] / step + room[c.SINK_SLOPE, i]
        below = room[c.LINK, p - 1] if p > 0 else 0.0
        carried = room[c.FLOW, i - 1] * steam.STEAM_HEAT if i > front and i > 0 else 0.0
        if i == front + 1 and front >= 0:
            carried = whole[c.BOILING] * steam.STEAM_HEAT
        room[c.LOWER, p] = below + carried
        room[c.UPPER, p] = room[c.LINK, p]
        room[c.DIAGONAL, p] = hold + below + carried + room[c.LINK, p]
        room[c.RIGHT, p] = hold * kelvin - room[c.SINK, i]
    if front >= 0:
        p = front + 1
        room[c.LOWER, p], room[c.UPPER, p] = room[c.LINK, p - 1], room[c.LINK, p]
    emissivity, blow = values[draw, c.EMISSIVITY], values[draw, c.CONVECTION]
    face, metal = whole[c.FACE], whole[c.STEEL]
    to_face = measures[draw, c.OPEN_AREA] * give(face, air, blow, emissivity)
    to_steel = measures[draw, c.STEEL_AREA] * give(metal, air, blow, emissivity)
    touch = measures[draw, c.CONTACT]
    room[c.LOWER, last] = room[c.LINK, last - 1]
    room[c.UPPER, last] = touch
    room[c.DIAGONAL, last] = room[c.LINK, last - 1] + touch + to_face
    room[c.RIGHT, last] = to_face * air
    hold = measures[draw, c.STEEL_HEAT] / step
    room[c.LOWER, last + 1] = touch
    room[c.UPPER, last + 1] = 0.0
    # Where there is no steel its equation says that it is as hot as the kiln.
    none = 1.0 if measures[draw, c.STEEL_AREA] == 0.0 else 0.0
    room[c.DIAGONAL, last + 1] = hold + touch + to_steel + none
    room[c.RIGHT, last + 1] = hold * metal + (to_steel + none) * air

    air_pressure = values[draw, c.AIR_PRESSURE]
    base = air_pressure * air_pressure + way[1]
    guess = whole[c.FRONT_TEMPERATURE]
    begin = 0
    for _ in range(_TRIALS):
        boiling = slope = heat = 0.0
        if front >= 0:
            squared = steam.saturation_pressure(guess) ** 2
            if squared > base:
                boiling = (squared - base) / way[0]
                slope = 2.0 * squared * steam.saturation_slope(guess) / way[0]
            heat = steam.STEAM_BASE + steam.STEAM_HEAT * (guess - steam.BASE)
            heat -= steam.LIQUID_HEAT * (room[c.TEMPERATURE, front] - steam.BASE)
            p = front + 1
            room[c.DIAGONAL, p] = room[c.LOWER, p] + room[c.UPPER, p] + heat * slope
            room[c.RIGHT, p] = heat * (slope * guess - boiling)
        for p in range(begin, last + 2):
            if p == 0:
                rest = room[c.DIAGONAL, 0]
                room[c.PART, 0] = room[c.RIGHT, 0] / rest
            else:
                low = room[c.LOWER, p]
                rest = room[c.DIAGONAL, p] - low * room[c.RATIO, p - 1]
                room[c.PART, p] = (room[c.RIGHT, p] + low * room[c.PART, p - 1]) / rest
            room[c.RATIO, p] = room[c.UPPER, p] / rest
        room[c.SOLUTION, last + 1] = room[c.PART, last + 1]
        for p in range(last, -1, -1):
            room[c.SOLUTION, p] = room[c.PART, p] + room[c.RATIO, p] * room[c.SOLUTION, p + 1]
        if front < 0:
            break
        begin = front + 1
        found = room[c.SOLUTION, front + 1]
        if abs(found - guess) < _WITHIN:
            break
        guess = found
    if front >= 0:
        whole[c.FRONT_TEMPERATURE] = room[c.SOLUTION, front + 1]
    whole[c.FACE] = room[c.SOLUTION, last]
    whole[c.STEEL] = room[c.SOLUTION, last + 1]
