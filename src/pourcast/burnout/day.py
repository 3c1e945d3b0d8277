"""Day: the block of each draw, followed from the cold kiln to the end of the curve.

Steps are as long as the rings warm by little, the front of the water moves by a part
of its ring and the kiln changes by little; they land on the corners of the curve.
Between steps what is kept is straight; pressure and stress are the worst since the
moment before.

Left out: nothing beside what the files that it calls leave out.
"""

import math

from pourcast import units as si
from pourcast.burnout import columns as c
from pourcast.burnout.radial import conduct
from pourcast.burnout.rings import begin, lay_rings, weigh
from pourcast.burnout.settle import let_out, move_front, settle
from pourcast.burnout.stress import CRISTOBALITE, QUARTZ, most_loaded
from pourcast.kernels import kernel

_FIRST_STEP = 0.02  # s
_GROWTH = 1.4  # of a step over the one before
_KILN_CHANGE = 4.0  # of the kiln in a step, over the warming that a ring may do
_PART = 0.25  # of a ring that the front may move in a step
_WHILE_BOILING = 60.0  # s, longest step then, so that the hour of the last water is sharp
_SURE = 2.0  # K past an inversion, from which a fall counts

# Columns of what is kept at each moment.
WALL_AT, PIECE_AT, CORE_AT, FREE_AT, BOUND_AT, DRY_AT, OVER_AT, STRESS_AT = range(8)
KEPT = 8

# Columns of what is kept for the whole day.
DRY_TIME, LOW_WALL, HIGH_WALL, LOW_CORE, HIGH_CORE = range(5)
LOW_FALLS, HIGH_FALLS, TAKEN_IN, CARRIED_OUT, BOILED_OFF = range(5, 10)
HEAT_BEFORE, HEAT_AFTER, BOILING_TOOK, GYPSUM_TOOK, STEPS_MADE, GYPSUM_GAVE = range(10, 16)
ENDS = 16


@kernel
def look(
    draw: int,
    rings: int,
    values: si.Table,
    measures: si.Table,
    room: si.Table,
    whole: si.Table,
    seen: si.Table,
) -> None:
    """Fill what is seen of the block now, by the columns of a moment.

    Parameters
    ----------
    draw, rings : int
    values, measures, room, whole : array [by column]
        As `pourcast.burnout.settle.let_out` takes them.
    seen : array [by column], shape (KEPT,)
        But for pressure and stress.
    """
    seen[WALL_AT] = whole[c.FACE]
    free = bound = volume = 0.0
    for i in range(rings):
        part = room[c.VOLUME, i]
        volume += part
        free += part * room[c.WATER, i]
        bound += part * (
            (1.0 - room[c.FIRST, i]) * values[draw, c.FIRST_WATER]
            + (1.0 - room[c.SECOND, i]) * values[draw, c.SECOND_WATER]
        )
    start = values[draw, c.FREE_WATER] * volume
    seen[FREE_AT] = free / start if start > 0.0 else 0.0
    seen[BOUND_AT] = bound / ((values[draw, c.FIRST_WATER] + values[draw, c.SECOND_WATER]) * volume)
    seen[DRY_AT] = whole[c.FRONT_RADIUS]
    if whole[c.FRONT] >= 0 or rings < 2:
        seen[CORE_AT] = room[c.TEMPERATURE, 0]
    else:
        # A round hill: the middles of the inner rings lie at half a width and at three.
        top = room[c.TEMPERATURE, 0] - room[c.TEMPERATURE, 1]
        seen[CORE_AT] = room[c.TEMPERATURE, 0] + 0.125 * top
    width = room[c.OUTER, 0]
    place = measures[draw, c.PIECE] / width - 0.5
    if place <= 0.0:
        seen[PIECE_AT] = seen[CORE_AT] if place <= -0.5 else room[c.TEMPERATURE, 0]
        share = 2.0 * (place + 0.5)
        seen[PIECE_AT] = seen[CORE_AT] + share * (room[c.TEMPERATURE, 0] - seen[CORE_AT])
    elif place >= rings - 1:
        share = min(2.0 * (place - rings + 1), 1.0)
        outer = room[c.TEMPERATURE, rings - 1]
        seen[PIECE_AT] = outer + share * (whole[c.FACE] - outer)
    else:
        i = int(place)
        low, high = room[c.TEMPERATURE, i], room[c.TEMPERATURE, i + 1]
        seen[PIECE_AT] = low + (place - i) * (high - low)


@kernel
def follow(
    first: int,
    last: int,
    rings: int,
    warming: si.Kelvin,
    longest: si.Second,
    corner: si.Seconds,
    kiln: si.Kelvins,
    moments: si.Seconds,
    values: si.Table,
    loads: si.Table,
    measures: si.Table,
    conductivity: si.Table,
    specific_heat: si.Table,
    room: si.Table,
    whole: si.Table,
    burnt: si.Table,
    small: si.Table,
    kept: si.Table,
    ends: si.Table,
) -> None:
    """Follow some of the draws through the day.

    Parameters
    ----------
    first, last : int
        Draws from the first to before the last.
    rings : int
    warming : float [K]
        That a ring may do in a step.
    longest : float [s]
        Step.
    corner : array [s], shape (corners,)
        Of the curve.
    kiln : array [K], shape (corners,)
    moments : array [s], shape (moments,)
        From the first corner to the last.
    values : array [by column], shape (draws, VALUES)
    loads : array [by column], shape (draws, 5)
        Expansion [1/K], two jumps [-], Young's modulus [Pa], tensile strength [Pa].
    measures : array [by column], shape (draws, MEASURES)
    conductivity, specific_heat : array [by column], shape (draws, ENTRIES)
        W/(m·K) and J/(kg·K) of the burnt block.
    room, whole, burnt, small : array [by column]
        Room of this thread: (ROWS, rings + 3), (WHOLE,), (3, ENTRIES), (3, KEPT + 2).
    kept : array [by column], shape (draws, moments, KEPT)
    ends : array [by column], shape (draws, ENDS)
    """
    seen, before, way = small[0], small[1], small[2]
    for draw in range(first, last):
        lay_rings(measures[draw, c.RADIUS], rings, room)
        closed = measures[draw, c.AXIAL] > 0.0
        for j in range(c.ENTRIES):
            burnt[c.SPECIFIC_HEAT, j] = specific_heat[draw, j]
            burnt[c.CONDUCTIVITY, j] = conductivity[draw, j]
        burnt[c.HEAT, 0] = 0.0
        for j in range(1, c.ENTRIES):
            pair = burnt[c.SPECIFIC_HEAT, j - 1] + burnt[c.SPECIFIC_HEAT, j]
            burnt[c.HEAT, j] = burnt[c.HEAT, j - 1] + 0.5 * c.SPACING * pair
        begin(draw, rings, values, burnt, room)
        whole[:] = 0.0
        start = values[draw, c.START]
        whole[c.FACE] = whole[c.STEEL] = whole[c.FRONT_TEMPERATURE] = start
        whole[c.FRONT] = rings - 1 if values[draw, c.FREE_WATER] > 0.0 else -1
        move_front(draw, values, room, whole)
        way[0] = way[1] = 0.0
        let_out(draw, rings, 1.0, values, measures, room, whole, way)
        air_pressure = values[draw, c.AIR_PRESSURE]
        for i in range(rings):
            ends[draw, HEAT_BEFORE] += room[c.ENTHALPY, i]
        look(draw, rings, values, measures, room, whole, before)
        for k in range(KEPT):
            kept[draw, 0, k] = before[k] if k < OVER_AT else 0.0
        ends[draw, DRY_TIME] = math.nan if values[draw, c.FREE_WATER] > 0.0 else 0.0
        for k in range(LOW_WALL, HIGH_CORE + 1):
            ends[draw, k] = math.nan
        low_over = high_over = False
        time, plan = corner[0], _FIRST_STEP
        moment, piece = 1, 0
        worst = 0.0
        while moment < moments.size:
            while piece < corner.size - 2 and time >= corner[piece + 1]:
                piece += 1
            slope = (kiln[piece + 1] - kiln[piece]) / (corner[piece + 1] - corner[piece])
            boils = whole[c.BOILING] > 0.0 and whole[c.FRONT] >= 0
            plan = step = min(plan, min(longest, _WHILE_BOILING) if boils else longest)
            if abs(slope) * step > _KILN_CHANGE * warming:
                step = _KILN_CHANGE * warming / abs(slope)
            if boils:
                front = int(whole[c.FRONT])
                water = values[draw, c.FREE_WATER] * room[c.VOLUME, front]
                step = min(step, _PART * water / whole[c.BOILING])
            end = time + step
            # A rest too short to be a step of its own is taken along.
            if end > corner[piece + 1] - 0.01 * step:
                end = corner[piece + 1]
            step = end - time
            air = kiln[piece] + slope * (end - corner[piece]) + values[draw, c.KILN_ERROR]
            weigh(draw, rings, int(whole[c.FRONT]), step, values, burnt, room)
            conduct(draw, rings, step, air, values, measures, room, whole, way)
            settle(draw, rings, step, values, measures, burnt, room, whole, way)
            ends[draw, STEPS_MADE] += 1.0
            look(draw, rings, values, measures, room, whole, seen)
            worst = max(worst, whole[c.PRESSURE] - air_pressure)
            if whole[c.FRONT] < 0 and math.isnan(ends[draw, DRY_TIME]):
                ends[draw, DRY_TIME] = end
            for k in range(2):
                limit = CRISTOBALITE if k == 0 else QUARTZ
                if math.isnan(ends[draw, LOW_WALL + k]) and seen[WALL_AT] >= limit:
                    share = (limit - before[WALL_AT]) / (seen[WALL_AT] - before[WALL_AT])
                    ends[draw, LOW_WALL + k] = time + share * step
                if math.isnan(ends[draw, LOW_CORE + k]) and seen[CORE_AT] >= limit:
                    share = (limit - before[CORE_AT]) / (seen[CORE_AT] - before[CORE_AT])
                    ends[draw, LOW_CORE + k] = time + share * step
            if seen[CORE_AT] > CRISTOBALITE + _SURE:
                low_over = True
            elif low_over and seen[CORE_AT] < CRISTOBALITE - _SURE:
                low_over = False
                ends[draw, LOW_FALLS] += 1.0
            if seen[CORE_AT] > QUARTZ + _SURE:
                high_over = True
            elif high_over and seen[CORE_AT] < QUARTZ - _SURE:
                high_over = False
                ends[draw, HIGH_FALLS] += 1.0
            over_end = piece == corner.size - 2 and end >= corner[piece + 1]
            while moment < moments.size and (moments[moment] <= end or over_end):
                share = min((moments[moment] - time) / step, 1.0)
                for k in range(OVER_AT):
                    kept[draw, moment, k] = before[k] + share * (seen[k] - before[k])
                kept[draw, moment, OVER_AT] = worst
                tension = most_loaded(
                    rings,
                    loads[draw, 0],
                    loads[draw, 1:3],
                    loads[draw, 3],
                    start,
                    worst,
                    whole[c.FRONT_RADIUS],
                    closed,
                    room,
                )
                kept[draw, moment, STRESS_AT] = tension / loads[draw, 4]
                worst = whole[c.PRESSURE] - air_pressure
                moment += 1
            for k in range(OVER_AT):
                before[k] = seen[k]
            time = end
            warmed = max(whole[c.CHANGE], 0.01 * warming)
            plan = min(_GROWTH * plan, 0.9 * warming / warmed * step)
        for i in range(rings):
            ends[draw, HEAT_AFTER] += room[c.ENTHALPY, i]
        ends[draw, TAKEN_IN] = whole[c.TAKEN]
        ends[draw, CARRIED_OUT] = whole[c.CARRIED]
        ends[draw, BOILED_OFF] = whole[c.BOILED]
        ends[draw, BOILING_TOOK] = whole[c.BOIL_HEAT]
        ends[draw, GYPSUM_TOOK] = whole[c.GYPSUM_HEAT]
        ends[draw, GYPSUM_GAVE] = whole[c.GYPSUM_WATER]
