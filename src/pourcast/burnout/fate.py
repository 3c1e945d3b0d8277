"""Fate: what becomes of wax and original over a day in the kiln?

Draw by draw along the temperatures of the block: wax runs out, soaks in and boils
off (`wax`); the original's water leaves at 100 °C; its dry matter turns to char and
vapour (`pyrolysis`); char burns (`char`) with the oxygen that comes to it
(`oxygen_way`) from the air of the kiln (`oxygen`); ash stays (`ash`).

Matter counts as carbon and water: dry matter that takes b kg of oxygen a kilogram
holds b/2.664 of carbon, what else it has leaves as water and ash.  That is exact for
cellulose and within a few hundredths for wood; carbon, hydrogen and oxygen balance.
All matter of a draw has one temperature, that of the block at its mean distance
from the axis, and one mole fraction of oxygen round it.

Left out: heat of burning, which warms block and lumps (the block takes a few
hundredths less from the kiln, lumps burn faster: too slow here); char that sits
nearer to the air than the mean, and burns first, and char that lies deeper, and
burns last (the last of it later than this says: hopeful).
"""

from concurrent.futures import ThreadPoolExecutor

import numpy as np

from pourcast import units as si
from pourcast.burnout import fate_columns as at
from pourcast.burnout.ash import ash_mass, ash_volume
from pourcast.burnout.char import OXYGEN_MOLAR
from pourcast.burnout.fate_follow import follow
from pourcast.burnout.fate_pack import Packed, pack
from pourcast.burnout.model import BlockCase, Burning, Fate, HeatDays, Matter
from pourcast.burnout.pyrolysis import BANDS
from pourcast.errors import require_finite, require_positive

LONGEST_STEP = 30.0
"""s; halving it moves no hour of a clean cavity by more than a minute."""


def fates(
    block: BlockCase,
    matter: Matter,
    burning: Burning,
    heat: HeatDays,
    *,
    clean_below: si.Kilogram = 1e-6,
    threads: int = 1,
) -> Fate:
    """Return what becomes of wax and original.

    Parameters
    ----------
    block : BlockCase
    matter : Matter
    burning : Burning
    heat : HeatDays
        Of the same draws.
    clean_below : float [kg]
        Char in the whole cavity under which it counts as clean; > 0.
    threads : int
        Draws are shared out among them; the result is the same for any number.

    Returns
    -------
    Fate

    Raises
    ------
    InputError
        If a value is not finite or outside its limits, or a kiln has no size.
    """
    return followed(block, matter, burning, heat, clean_below=clean_below, threads=threads)[0]


def followed(
    block: BlockCase,
    matter: Matter,
    burning: Burning,
    heat: HeatDays,
    *,
    clean_below: si.Kilogram = 1e-6,
    threads: int = 1,
    longest: si.Second = LONGEST_STEP,
) -> tuple[Fate, si.Table]:
    """Return the fate, and where the oxygen went.

    Parameters
    ----------
    block : BlockCase
    matter : Matter
    burning : Burning
    heat : HeatDays
    clean_below : float [kg]
    threads : int
    longest : float [s]
        Step.

    Returns
    -------
    fate : Fate
    account : array [by column], shape (draws, ACCOUNT)
        Moles of oxygen, by the columns of `pourcast.burnout.fate_columns`.

    Raises
    ------
    InputError
        As `fates`.
    """
    require_positive("clean_below", clean_below, "kg")
    require_positive("longest step", longest, "s")
    packed = pack(block, matter, burning, heat, clean_below, longest)
    draws, moments = heat.kiln.shape
    time, kiln, wall, piece, dry_radius, free_water, bound_water = packed.heat
    over_day = np.zeros((5, draws, moments))
    wax, dry_mass, char, kiln_oxygen, supply = over_day
    wax_gone_at, clean_at, wax_out = np.zeros(draws), np.zeros(draws), np.zeros(draws)
    left = np.zeros((draws, packed.half.size))
    account = np.zeros((draws, at.ACCOUNT))

    def some(first: int, last: int) -> None:
        mass, core, layer, burnt = np.zeros((4, packed.half.size))
        follow(
            first,
            last,
            time,
            kiln,
            wall,
            piece,
            dry_radius,
            free_water,
            bound_water,
            packed.table,
            packed.shared,
            packed.half,
            packed.potential,
            packed.band_share,
            packed.room_share,
            packed.ways,
            wax,
            dry_mass,
            char,
            kiln_oxygen,
            supply,
            wax_gone_at,
            clean_at,
            left,
            wax_out,
            account,
            mass,
            core,
            layer,
            burnt,
            np.zeros(BANDS),
        )

    edges = np.linspace(0, draws, max(1, threads) * 4 + 1).astype(int).tolist()
    if threads <= 1:
        some(0, draws)
    else:
        with ThreadPoolExecutor(threads) as pool:
            list(pool.map(some, edges[:-1], edges[1:]))
    require_finite("account of oxygen", account, "mol")
    return _fate(
        matter,
        burning,
        heat,
        packed,
        over_day,
        wax_gone_at,
        clean_at,
        left,
        wax_out,
        account,
        clean_below,
    ), account


def _fate(
    matter: Matter,
    burning: Burning,
    heat: HeatDays,
    packed: Packed,
    over_day: si.Table,
    wax_gone_at: si.Seconds,
    clean_at: si.Seconds,
    left: si.Kilograms,
    wax_out: si.Kilograms,
    account: si.Table,
    clean_below: si.Kilogram,
) -> Fate:
    wax, dry_mass, char, kiln_oxygen, supply = over_day
    ash = ash_mass(matter)
    used = account[:, [at.TO_CHAR, at.TO_VAPOUR, at.TO_WAX]].sum(axis=1)
    return Fate(
        time=heat.time,
        wax=wax,
        dry_mass=dry_mass,
        char=char,
        kiln_oxygen=kiln_oxygen,
        supply=supply,
        wax_gone_at=wax_gone_at,
        clean_at=clean_at,
        clean_below=clean_below,
        char_left=packed.member_share * left[:, packed.member_class],
        ash=ash,
        ash_volume=ash_volume(
            ash.sum(axis=1) + matter.wax_ash * (matter.wax - wax_out), burning.ash_bulk_density
        ),
        oxygen_used=used * OXYGEN_MOLAR,
        wax_drained=np.divide(
            wax_out, matter.wax, out=np.zeros_like(wax_out), where=matter.wax > 0.0
        ),
    )
