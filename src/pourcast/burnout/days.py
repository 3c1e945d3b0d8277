"""Days: heat and water of the block over the day, for all draws.

The block is followed along its radius only; a long block of its own radius stands
for the finite one (`pourcast.burnout.block_pack`).  Radii are handed back as those of the true
block.

Left out: what the files called leave out.  `pourcast.burnout.section` follows the finite block.
"""

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.burnout import columns as c
from pourcast.burnout import day
from pourcast.burnout.block_pack import block_measures, block_values, burnt_tables, working_radius
from pourcast.burnout.corners import corners
from pourcast.burnout.model import BlockCase, Curve, HeatDays
from pourcast.burnout.require import require_block, require_curve
from pourcast.errors import InputError, SolveError, require_positive

_SLAB = 8  # draws that a thread takes at a time


@dataclass(frozen=True, slots=True, kw_only=True)
class Fineness:
    """How finely a day is followed.

    Parameters
    ----------
    rings : int
    warming : float [K]
        That a ring may do in a step.
    longest : float [s]
        Step.
    """

    rings: int = 20
    warming: si.Kelvin = 3.0
    longest: si.Second = 240.0


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatAccount:
    """Where the heat of the day went, draw by draw; arrays have shape (draws,).

    Parameters
    ----------
    through_face : array [J]
        Into the block.
    kept : array [J]
        By block, water and gypsum, end less start.
    with_steam : array [J]
        In steam that left, counted from liquid water at 25 °C.
    boiling, gypsum : array [J]
        Taken by free water as it boiled, and by gypsum as it gave off its water.
    boiled, bound : array [kg]
        Free water that left, and water of gypsum.
    steps : array of int
    """

    through_face: si.Joules
    kept: si.Joules
    with_steam: si.Joules
    boiling: si.Joules
    gypsum: si.Joules
    boiled: si.Kilograms
    bound: si.Kilograms
    steps: si.Integers


def heat_days(
    block: BlockCase,
    curve: Curve,
    *,
    threads: int = 1,
    moments: int = 193,
    fineness: Fineness | None = None,
) -> HeatDays:
    """Return heat and water of the block over the day, draw by draw.

    Parameters
    ----------
    block : BlockCase
    curve : Curve
    threads : int
        Draws are shared out among them; the result is the same for any number.
    moments : int
        That are kept, evenly over the curve; 2 or more.
    fineness : Fineness, optional

    Returns
    -------
    HeatDays

    Raises
    ------
    InputError
        If a value is not finite or outside its limits.

    Notes
    -----
    Closed forms and outside facts that it is held against: tests/burnout.
    """
    return heat_days_with_account(
        block, curve, threads=threads, moments=moments, fineness=fineness
    )[0]


def heat_days_with_account(
    block: BlockCase,
    curve: Curve,
    *,
    threads: int = 1,
    moments: int = 193,
    fineness: Fineness | None = None,
) -> tuple[HeatDays, HeatAccount]:
    """Return what `heat_days` does, and where the heat went.

    Parameters
    ----------
    block : BlockCase
    curve : Curve
    threads, moments : int
    fineness : Fineness, optional

    Returns
    -------
    HeatDays, HeatAccount

    Raises
    ------
    InputError
        If a value is not finite or outside its limits.
    """
    fine = fineness or Fineness()
    draws = require_block(block)
    require_curve(curve)
    for name, number, least in (
        ("threads", threads, 1),
        ("moments", moments, 2),
        ("rings", fine.rings, 3),
    ):
        if number < least:
            raise InputError(name, number, "", f"{least} or more")
    require_positive("warming", fine.warming, "K")
    require_positive("longest", fine.longest, "s")
    values, measures = block_values(block), block_measures(block)
    radius = working_radius(block.radius, block.height)
    loads = np.stack(
        [
            block.expansion,
            np.full(draws, block.cristobalite_growth),
            np.full(draws, block.quartz_growth),
            block.youngs_modulus,
            block.tensile_strength,
        ],
        axis=1,
    )
    heats, conducts = burnt_tables(block)
    corner, kiln = corners(curve)
    time = np.linspace(curve.time[0], curve.time[-1], moments)
    kept = np.zeros((draws, moments, day.KEPT))
    ends = np.zeros((draws, day.ENDS))

    def some(first: int) -> None:
        day.follow(
            first,
            min(first + _SLAB, draws),
            fine.rings,
            fine.warming,
            fine.longest,
            corner,
            kiln,
            time,
            values,
            loads,
            measures,
            conducts,
            heats,
            np.zeros((c.ROWS, fine.rings + 3)),
            np.zeros(c.WHOLE),
            np.zeros((3, c.ENTRIES)),
            np.zeros((3, day.KEPT + 2)),
            kept,
            ends,
        )

    with ThreadPoolExecutor(threads) as pool:
        list(pool.map(some, range(0, draws, _SLAB)))
    if not np.isfinite(kept).all():
        bad = int(np.argwhere(~np.isfinite(kept))[0][0])
        raise SolveError(
            f"heat of the block in draw {bad}", int(ends[bad, day.STEPS_MADE]), math.nan
        )
    height = block.height * (block.radius / radius) ** 2  # of the long block
    days = HeatDays(
        time=time,
        kiln=np.interp(time, curve.time, curve.temperature)[None, :] + block.kiln_error[:, None],
        wall=kept[:, :, day.WALL_AT].copy(),
        piece=kept[:, :, day.PIECE_AT].copy(),
        core=kept[:, :, day.CORE_AT].copy(),
        free_water=kept[:, :, day.FREE_AT].copy(),
        bound_water=kept[:, :, day.BOUND_AT].copy(),
        dry_radius=kept[:, :, day.DRY_AT] * (block.radius / radius),
        overpressure=np.maximum(kept[:, :, day.OVER_AT], 0.0),
        stress=kept[:, :, day.STRESS_AT].copy(),
        dry_at=ends[:, day.DRY_TIME].copy(),
        inversion_time=ends[:, day.LOW_CORE : day.HIGH_CORE + 1]
        - ends[:, day.LOW_WALL : day.HIGH_WALL + 1],
        cooled_through=ends[:, day.LOW_FALLS : day.HIGH_FALLS + 1].astype(np.int64),
        heat_taken=ends[:, day.TAKEN_IN] * height,
    )
    account = HeatAccount(
        through_face=ends[:, day.TAKEN_IN] * height,
        kept=(ends[:, day.HEAT_AFTER] - ends[:, day.HEAT_BEFORE]) * height,
        with_steam=ends[:, day.CARRIED_OUT] * height,
        boiling=ends[:, day.BOILING_TOOK] * height,
        gypsum=ends[:, day.GYPSUM_TOOK] * height,
        boiled=ends[:, day.BOILED_OFF] * height,
        bound=ends[:, day.GYPSUM_GAVE] * height,
        steps=ends[:, day.STEPS_MADE].astype(np.int64),
    )
    return days, account
