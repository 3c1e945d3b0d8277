"""Follow: wax, original, char and oxygen of one draw after another, along a day of heat.

Temperatures run straight between the moments that the heat was kept at.  A step is
no longer than told while anything goes on in the cavity, and as long as from one
moment to the next before that and after it.  All that is stiff is taken at the end
of its step (char, oxygen) or exactly over it (pyrolysis).
"""

import math

from pourcast import units as si
from pourcast.burnout import fate_columns as at
from pourcast.burnout.fate_burn import burn_char
from pourcast.burnout.oxygen import AIR_OXYGEN, moles_held
from pourcast.burnout.pyrolysis import pyrolyse
from pourcast.burnout.wax import share_over
from pourcast.kernels import kernel

WATER_MOLAR = 18.015e-3  # kg/mol, IUPAC standard atomic weights
VAPOUR_MOLAR = 30e-3  # kg/mol, mean of the gas, water and tar of pyrolysis; estimate

_BOILING = 373.15  # K, at which the original's water begins to leave
_DRY = 383.15  # K, at which it is gone; convention
_REACTS = 400.0  # K, under which neither pyrolysis nor burning is followed; convention
_NO_OXYGEN = 1e-12  # mole fraction that counts as nothing
_GONE = 1e-9  # share of the dry matter that counts as nothing


@kernel
def follow(
    first: int,
    last: int,
    time: si.Seconds,
    kiln: si.Kelvins,
    wall: si.Kelvins,
    piece: si.Kelvins,
    dry_radius: si.Metres,
    free_water: si.Ratios,
    bound_water: si.Ratios,
    table: si.Table,
    shared: si.Table,
    half: si.Metres,
    potential: si.Kilograms,
    band_share: si.Ratios,
    room_share: si.Ratios,
    ways: si.Metres,
    wax: si.Kilograms,
    dry_mass: si.Kilograms,
    char: si.Kilograms,
    kiln_oxygen: si.Ratios,
    supply: si.Ratios,
    wax_gone_at: si.Seconds,
    clean_at: si.Seconds,
    char_left: si.Kilograms,
    wax_out: si.Kilograms,
    account: si.Table,
    mass: si.Kilograms,
    core: si.Ratios,
    layer: si.Ratios,
    burnt: si.Kilograms,
    passed: si.Ratios,
) -> None:
    """Follow draws ``first`` to ``last`` and write what becomes of their matter.

    Parameters
    ----------
    first, last : int
    time : array [s], shape (moments,)
    kiln, wall, piece : array [K], shape (draws, moments)
    dry_radius : array [m], shape (draws, moments)
    free_water, bound_water : array [-], shape (draws, moments)
        As in `HeatDays`.
    table, shared : array [by column]
        Rows of PARAMETERS and of SHARED columns.
    half : array [m], shape (classes,)
        Half thickness of each class of parts; the first is the char of wax, a powder.
    potential : array [kg], shape (draws, classes)
        Char of each class when all is pyrolysed, without ash; 0 for wax.
    band_share : array [-], shape (bands,)
        From `pourcast.burnout.pyrolysis.energies`.
    room_share : array [-], shape (shares,)
    ways : array [m], shape (draws, shares)
        From `pourcast.burnout.oxygen_way.block_ways`.
    wax, dry_mass, char : array [kg], shape (draws, moments)
    kiln_oxygen, supply : array [-], shape (draws, moments)
    wax_gone_at, clean_at : array [s], shape (draws,)
    char_left : array [kg], shape (draws, classes)
    wax_out : array [kg], shape (draws,)
    account : array [by column], shape (draws, ACCOUNT)
        This and the eight before it are filled.
    mass, burnt : array [kg], shape (classes,)
    core, layer : array [-], shape (classes,)
    passed : array [-], shape (bands,)
        Room to work in.
    """
    classes = half.size
    bands = band_share.size
    moments = time.size
    volume = shared[at.VOLUME]
    flasks = shared[at.FLASKS]
    for draw in range(first, last):
        pressure = table[draw, at.PRESSURE]
        wax_mass = table[draw, at.WAX]
        wax_char = table[draw, at.WAX_CHAR]
        all_char = 0.0
        for each in range(classes):
            mass[each] = 0.0
            all_char += potential[draw, each]
        for band in range(bands):
            passed[band] = 0.0
        for column in range(at.ACCOUNT):
            account[draw, column] = 0.0
        highest = piece[draw, 0]
        drained, boiled, water_gone, dry = 0.0, 0.0, 0.0, 1.0
        oxygen, in_cavity, lack = AIR_OXYGEN, AIR_OXYGEN, 0.0
        held = moles_held(pressure, volume, kiln[draw, 0])
        account[draw, at.HELD_FIRST] = held * oxygen
        wax[draw, 0] = wax_mass
        dry_mass[draw, 0] = table[draw, at.DRY]
        char[draw, 0] = 0.0
        kiln_oxygen[draw, 0] = oxygen
        supply[draw, 0] = 0.0
        wax_gone_at[draw] = time[0] if wax_mass <= 0.0 else math.nan
        carbon = all_char + wax_mass * wax_char
        clean_at[draw] = time[0] if carbon < shared[at.CLEAN_BELOW] else math.nan
        for moment in range(1, moments):
            span = time[moment] - time[moment - 1]
            hottest = max(piece[draw, moment - 1], piece[draw, moment])
            idle = hottest < min(table[draw, at.MELT_END], _BOILING)
            done = boiled >= 1.0 and dry <= 0.0 and carbon < 1e-3 * shared[at.CLEAN_BELOW]
            steps = 1 if idle or done else math.ceil(span / shared[at.LONGEST])
            step = span / steps
            steam = table[draw, at.STEAM_FREE] * max(
                free_water[draw, moment - 1] - free_water[draw, moment], 0.0
            )
            steam += table[draw, at.STEAM_BOUND] * max(
                bound_water[draw, moment - 1] - bound_water[draw, moment], 0.0
            )
            air = table[draw, at.AIR] * step
            is_open = dry_radius[draw, moment] <= shared[at.PIECE_RADIUS]
            for number in range(steps):
                middle = (number + 0.5) / steps
                end = (number + 1.0) / steps
                here = piece[draw, moment - 1] + middle * (
                    piece[draw, moment] - piece[draw, moment - 1]
                )
                at_wall = wall[draw, moment - 1] + middle * (
                    wall[draw, moment] - wall[draw, moment - 1]
                )
                highest = max(
                    highest,
                    piece[draw, moment - 1] + end * (piece[draw, moment] - piece[draw, moment - 1]),
                )
                # The original's water and the wax.
                gone = share_over(highest, _BOILING, _DRY)
                stream = (gone - water_gone) * table[draw, at.WATER] / WATER_MOLAR
                water_gone = gone
                if boiled <= 0.0 and highest >= table[draw, at.MELT_END]:
                    left = wax_mass * (1.0 - table[draw, at.SOAK]) - drained
                    drained += min(left, table[draw, at.DRAIN] * step)
                gone = share_over(highest, table[draw, at.BOIL_START], table[draw, at.BOIL_END])
                off = (wax_mass - drained) * (gone - boiled)
                boiled = gone
                mass[0] += off * wax_char
                for_wax = flasks * off * table[draw, at.WAX_OXYGEN]
                in_block = (wax_mass - drained) * (1.0 - boiled)
                if in_block <= 0.0 and math.isnan(wax_gone_at[draw]):
                    wax_gone_at[draw] = time[moment - 1] + end * span
                # The dry matter.
                for_vapour = 0.0
                if dry > 0.0 and here > _REACTS:
                    off = dry
                    dry = pyrolyse(
                        here,
                        step,
                        table[draw, at.LOWEST_ENERGY],
                        table[draw, at.ENERGY_STEP],
                        band_share,
                        passed,
                    )
                    if dry < _GONE:
                        dry = 0.0
                    off -= dry
                    for each in range(1, classes):
                        mass[each] += off * potential[draw, each]
                    for_vapour = flasks * off * table[draw, at.VAPOUR_OXYGEN]
                    stream += off * table[draw, at.VAPOUR] / VAPOUR_MOLAR
                # The air of the kiln.
                before_held = held
                held = moles_held(
                    pressure,
                    volume,
                    kiln[draw, moment - 1] + end * (kiln[draw, moment] - kiln[draw, moment - 1]),
                )
                pushed = before_held + air + flasks * (stream + steam / steps)
                room = max(pushed, held)
                came = air + max(held - pushed, 0.0)
                there = before_held * oxygen + came * AIR_OXYGEN
                met = 1.0
                if for_wax + for_vapour > there:
                    met = there / (for_wax + for_vapour)
                there = max(there - met * (for_wax + for_vapour), 0.0)
                # The char.
                in_all, used, lack = 0.0, 0.0, 0.0
                for each in range(classes):
                    in_all += mass[each]
                burns = in_all > 0.0 and here > _REACTS
                if burns and there > _NO_OXYGEN * room:
                    in_cavity, used = burn_char(
                        draw,
                        step,
                        here,
                        at_wall,
                        is_open,
                        stream,
                        there,
                        room,
                        in_cavity,
                        1.0 - dry,
                        table,
                        shared,
                        half,
                        potential,
                        room_share,
                        ways,
                        mass,
                        core,
                        layer,
                        burnt,
                    )
                oxygen = max(there - used, 0.0) / room
                if burns:
                    lack = 1.0
                    if used > 0.0 and oxygen > 0.0:
                        lack = min(max(1.0 - in_cavity / oxygen, 0.0), 1.0)
                account[draw, at.CAME] += came * AIR_OXYGEN
                account[draw, at.WENT] += (room - held) * oxygen
                account[draw, at.TO_WAX] += met * for_wax
                account[draw, at.TO_VAPOUR] += met * for_vapour
                account[draw, at.SMOKE] += (1.0 - met) * (for_wax + for_vapour)
                account[draw, at.TO_CHAR] += used
                # What can still be char.
                before = carbon
                carbon = dry * all_char + in_block * wax_char
                for each in range(classes):
                    carbon += mass[each]
                limit = shared[at.CLEAN_BELOW]
                if carbon < limit and math.isnan(clean_at[draw]):
                    # It falls by a like share in like times.
                    part = math.log(before / limit) / math.log(before / max(carbon, 1e-12 * limit))
                    begun = time[moment - 1] + number * step
                    clean_at[draw] = begun + step * min(part, 1.0)
            wax[draw, moment] = (wax_mass - drained) * (1.0 - boiled)
            dry_mass[draw, moment] = table[draw, at.DRY] * dry
            in_all = 0.0
            for each in range(classes):
                in_all += mass[each]
            char[draw, moment] = in_all
            kiln_oxygen[draw, moment] = oxygen
            supply[draw, moment] = lack
        account[draw, at.HELD_LAST] = held * oxygen
        wax_out[draw] = drained
        for each in range(classes):
            char_left[draw, each] = mass[each]
