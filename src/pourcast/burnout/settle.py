"""Settle: heat, water, gypsum and steam of the block after a step.

The temperatures that `pourcast.burnout.radial` finds give the flows of heat
between rings; these move the heat of each ring, and its temperature follows from
that, so energy is kept to rounding whatever the step.  The heat that flows into
the front boils water; where the ring has less than that, the rest of
the heat stays in the ring.  Steam carries its heat from ring to ring and out of the face.

Way of the steam.  In a bare block and a perforated flask it goes straight out
through the dry rings,

    C = Σ μ R T/(π M K) · ln(outer/inner)                                    (1)

and at the holes of a perforated wall through their narrows besides.  In a closed flask it
leaves at the two ends.  Sources even over the height give at half height

    p² = p_air² + μ R T/M · (H/2)² · flow / Σ K A                            (2)

with A the section of each ring and K that of the dry or the wet block; the gap g between
block and steel counts with K = g²/12.

Left out: in (2) the ends that dry first, and water that steam pushes out ahead of
it, so that pressures in closed flasks err high; steam that cools the shell on its way
to the ends is taken as going through the face.

Source: Darcy (1856); (1) and (2) ideal gas, `pourcast.burnout.steam` equation 3.
"""

import math

from pourcast import units as si
from pourcast.burnout import columns as c
from pourcast.burnout import gypsum, steam
from pourcast.burnout.rings import warm
from pourcast.kernels import kernel

_CALM = 60.0  # s in which steam in the pores follows its flow; keeps steps from swinging
_LEAST_WATER = 1e-9  # share of the water of a ring, under which the last of it goes too
_TIGHT = 1e-19  # m², least wet permeability, so that some pressure lets steam out


@kernel
def move_heat(
    draw: int,
    rings: int,
    step: si.Second,
    values: si.Table,
    room: si.Table,
    whole: si.Table,
) -> None:
    """Move heat, water and steam over a step, from the temperatures at its end.

    Parameters
    ----------
    draw, rings : int
    step : float [s]
    values : array [by column], shape (draws, VALUES)
    room : array [by column], shape (ROWS, rings + 3)
    whole : array [by column], shape (WHOLE,)
    """
    front = int(whole[c.FRONT])
    shift = 1 if front >= 0 else 0
    boiling = 0.0
    carried = 0.0  # W/m in the steam on its way out
    if front >= 0:
        at_ring, at_front = room[c.SOLUTION, front], room[c.SOLUTION, front + 1]
        in_flow = room[c.LINK, front] * (at_ring - at_front)
        in_flow += room[c.LINK, front + 1] * (room[c.SOLUTION, front + 2] - at_front)
        liquid = steam.LIQUID_HEAT * (at_ring - steam.BASE)
        vapour = steam.STEAM_BASE + steam.STEAM_HEAT * (at_front - steam.BASE)
        most = room[c.WATER, front] * room[c.VOLUME, front] / step
        boiling = min(max(in_flow / (vapour - liquid), 0.0), most)
        dries = boiling > (1.0 - _LEAST_WATER) * most
        if dries:
            boiling = most
        carried = boiling * vapour
        # What did not boil water stays in the ring.
        room[c.ENTHALPY, front] += step * (in_flow - boiling * vapour)
        left = room[c.WATER, front] - step * boiling / room[c.VOLUME, front]
        room[c.WATER, front] = 0.0 if dries else left
        whole[c.BOILED] += step * boiling
        whole[c.BOIL_HEAT] += step * boiling * (vapour - liquid)
    whole[c.BOILING] = boiling
    flow = boiling
    whole[c.CHANGE] = 0.0
    for i in range(rings):
        p = i + shift if i > front else i
        kelvin = room[c.SOLUTION, p]
        change = kelvin - room[c.TEMPERATURE, i]
        heat = 0.0
        if p > 0:
            heat += room[c.LINK, p - 1] * (room[c.SOLUTION, p - 1] - kelvin)
        heat += room[c.LINK, p] * (room[c.SOLUTION, p + 1] - kelvin)
        first, second = room[c.FIRST, i], room[c.SECOND, i]
        one = room[c.STEP_ONE, i] + change * room[c.STEP_ONE_SLOPE, i]
        one = min(max(one, 0.0), 1.0 - first)
        two = room[c.STEP_TWO, i] + change * room[c.STEP_TWO_SLOPE, i]
        two = min(max(two, 0.0), first - second)
        room[c.FIRST, i] = first + one
        room[c.SECOND, i] = second + two
        water_one = one * values[draw, c.FIRST_WATER]
        water_two = two * values[draw, c.SECOND_WATER]
        given = (water_one + water_two) * room[c.VOLUME, i] / step
        if i > front:
            flow += given
            out = flow * (steam.STEAM_BASE + steam.STEAM_HEAT * (kelvin - steam.BASE))
            heat += carried - out
            carried = out
            room[c.GIVEN, i] = given
            room[c.FLOW, i] = flow
        over = (steam.STEAM_HEAT - values[draw, c.BOUND_HEAT]) * (kelvin - steam.BASE)
        whole[c.GYPSUM_HEAT] += room[c.VOLUME, i] * (
            water_one * (values[draw, c.FIRST_HEAT] + over)
            + water_two * (values[draw, c.SECOND_HEAT] + over)
        )
        room[c.ENTHALPY, i] += step * heat
        room[c.TEMPERATURE, i] = kelvin
        whole[c.CHANGE] = max(whole[c.CHANGE], abs(change))
    last = rings + shift
    whole[c.TAKEN] += (
        step * room[c.LINK, last - 1] * (room[c.SOLUTION, last] - room[c.SOLUTION, last - 1])
    )
    whole[c.CARRIED] += step * carried
    whole[c.GYPSUM_WATER] += step * (flow - boiling)


@kernel
def move_front(draw: int, values: si.Table, room: si.Table, whole: si.Table) -> None:
    """Put the front of the water where the water left in its ring puts it.

    Parameters
    ----------
    draw : int
    values, room, whole : array [by column]
        As `move_heat` takes them.
    """
    front = int(whole[c.FRONT])
    start = values[draw, c.FREE_WATER]
    while front >= 0 and room[c.WATER, front] <= 0.0:
        front -= 1
    whole[c.FRONT] = front
    if front < 0:
        whole[c.FRONT_RADIUS] = 0.0
        return
    inner, outer = room[c.INNER, front], room[c.OUTER, front]
    share = min(room[c.WATER, front] / start, 1.0)
    radius = math.sqrt(inner * inner + share * (outer * outer - inner * inner))
    # On the axis the way to a line would be endless.
    whole[c.FRONT_RADIUS] = max(radius, 0.25 * room[c.OUTER, 0])


@kernel
def let_out(
    draw: int,
    rings: int,
    step: si.Second,
    values: si.Table,
    measures: si.Table,
    room: si.Table,
    whole: si.Table,
    way: si.Table,
) -> None:
    """Find the pressure of the steam, and the ways out of it in the next step.

    Parameters
    ----------
    draw, rings : int
    step : float [s]
    values, room, whole : array [by column]
        As `move_heat` takes them.
    measures : array [by column], shape (draws, MEASURES)
    way : array [by column], shape (2,)
        C and S of `pourcast.burnout.radial`, equation 1.
    """
    front = int(whole[c.FRONT])
    permeability = values[draw, c.PERMEABILITY]
    air = values[draw, c.AIR_PRESSURE]
    boiling = whole[c.BOILING]
    closed = measures[draw, c.AXIAL] > 0.0
    follow = step / (step + _CALM)
    squared = air * air
    resist = extra = 0.0
    if closed:
        kelvin = room[c.TEMPERATURE, rings - 1]
        slow = steam.steam_viscosity(kelvin) * steam.GAS * kelvin
        passing = values[draw, c.GAP] / slow
        for i in range(rings):
            kelvin = room[c.TEMPERATURE, i]
            slow = steam.steam_viscosity(kelvin) * steam.GAS * kelvin
            wet = 1.0 if i < front else 0.0
            if i == front:
                inner, outer = room[c.INNER, i], room[c.OUTER, i]
                wet = (whole[c.FRONT_RADIUS] ** 2 - inner * inner) / (outer * outer - inner * inner)
            tight = max(values[draw, c.WET_PERMEABILITY], _TIGHT)
            passing += room[c.VOLUME, i] * (wet * tight + (1.0 - wet) * permeability) / slow
        resist = measures[draw, c.AXIAL] / passing
        extra = resist * (room[c.FLOW, rings - 1] - boiling if front < rings - 1 else 0.0)
        squared += resist * boiling + extra
    else:
        kelvin = room[c.TEMPERATURE, rings - 1]
        slow = steam.steam_viscosity(kelvin) * steam.GAS * kelvin / (math.pi * permeability)
        resist = slow * measures[draw, c.NARROWS]
        flow = room[c.FLOW, rings - 1] if front < rings - 1 else boiling
        extra = resist * (flow - boiling)
        squared += resist * flow
    for i in range(rings - 1, -1, -1):
        kelvin = room[c.TEMPERATURE, i]
        if i < front or (i == front and front >= 0):
            if i == front and not closed:
                part = math.log(room[c.OUTER, i] / whole[c.FRONT_RADIUS])
                slow = steam.steam_viscosity(kelvin) * steam.GAS * kelvin
                step_resist = max(part, 1e-4) * slow / (math.pi * permeability)
                resist += step_resist
                squared += step_resist * boiling
            room[c.STEAM, i] = steam.saturation_pressure(kelvin) if kelvin > gypsum.COLD else 0.0
            continue
        given = room[c.GIVEN, i]
        if not closed:
            slow = steam.steam_viscosity(kelvin) * steam.GAS * kelvin / (math.pi * permeability)
            outward, inward = slow * room[c.OUTWARD, i], slow * room[c.INWARD, i]
            flow = room[c.FLOW, i]
            squared += outward * (flow - 0.25 * given)
        pressure = math.sqrt(squared)
        if room[c.SECOND, i] < 1.0:
            held = pressure * steam.steam_share(
                pressure, air, kelvin, permeability, values[draw, c.OPEN_SHARE]
            )
            room[c.STEAM, i] += follow * (held - room[c.STEAM, i])
        if not closed:
            squared += inward * (flow - 0.75 * given)
            resist += outward + inward
            extra += outward * (flow - 0.25 * given - boiling)
            extra += inward * (flow - 0.75 * given - boiling)
    whole[c.PRESSURE] = math.sqrt(squared)
    if front >= 0:
        # The front has moved on since it boiled; its temperature says what it boiled at.
        whole[c.PRESSURE] = max(steam.saturation_pressure(whole[c.FRONT_TEMPERATURE]), air)
    way[0] = resist
    way[1] += follow * (extra - way[1])


@kernel
def settle(
    draw: int,
    rings: int,
    step: si.Second,
    values: si.Table,
    measures: si.Table,
    burnt: si.Table,
    room: si.Table,
    whole: si.Table,
    way: si.Table,
) -> None:
    """Bring the block to the end of a step.

    Parameters
    ----------
    draw, rings : int
    step : float [s]
    values, measures, room, whole, way : array [by column]
        As `let_out` takes them.
    burnt : array [by column], shape (3, ENTRIES)
    """
    move_heat(draw, rings, step, values, room, whole)
    warm(draw, rings, values, burnt, room)
    move_front(draw, values, room, whole)
    if whole[c.FRONT] >= 0 or whole[c.BOILING] > 0.0 or room[c.FLOW, rings - 1] > 0.0:
        let_out(draw, rings, step, values, measures, room, whole, way)
    else:
        whole[c.PRESSURE] = values[draw, c.AIR_PRESSURE]
