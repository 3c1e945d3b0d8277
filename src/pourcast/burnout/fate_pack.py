"""Pack: from the records of block, matter and kiln to the tables of the kernel.

Members of like thickness burn alike, so they are put into classes.  Thicknesses within
a tenth of each other are one class and burn as the thickest of it.
"""

import math
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.burnout import fate_columns as at
from pourcast.burnout.char import OXYGEN_MOLAR, OXYGEN_PER_CARBON
from pourcast.burnout.fate_follow import WATER_MOLAR
from pourcast.burnout.fate_limits import check
from pourcast.burnout.model import BlockCase, Burning, HeatDays, Matter
from pourcast.burnout.oxygen_room import ROOM_SHARES
from pourcast.burnout.oxygen_way import block_ways, hole_layer
from pourcast.burnout.pyrolysis import energies
from pourcast.burnout.wax import drain_rate
from pourcast.units import GAS_CONSTANT

_LIKE = math.log(1.1)  # width of a class on the logarithm of the thickness
_ROOM = 293.15  # K, at which the air changes are measured
_WATER_IN_GYPSUM = 2.0 * 18.015 / 172.17  # kg/kg, formula weights


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """What the kernel reads.

    Parameters
    ----------
    heat : tuple of array [by column]
        Time [s], temperatures [K] of kiln, wall and piece, dry radius [m], free and
        bound water [-].
    table : array [by column], shape (draws, PARAMETERS)
    shared : array [by column], shape (SHARED,)
    half : array [m], shape (classes,)
        The first class is the char of wax.
    potential : array [kg], shape (draws, classes)
    band_share : array [-], shape (bands,)
    room_share : array [-], shape (shares,)
    ways : array [m], shape (draws, shares)
        From `pourcast.burnout.oxygen_way.block_ways`.
    member_class : array of int, shape (members,)
    member_share : array [-], shape (draws, members)
        Of the char of its class that is in a member.
    """

    heat: tuple[si.Table, ...]
    table: si.Table
    shared: si.Table
    half: si.Metres
    potential: si.Kilograms
    band_share: si.Ratios
    room_share: si.Ratios
    ways: si.Metres
    member_class: si.Integers
    member_share: si.Ratios


def pack(
    block: BlockCase,
    matter: Matter,
    burning: Burning,
    heat: HeatDays,
    clean_below: si.Kilogram,
    longest: si.Second,
) -> Packed:
    """Return the tables of all draws.

    Parameters
    ----------
    block : BlockCase
    matter : Matter
    burning : Burning
    heat : HeatDays
    clean_below : float [kg]
    longest : float [s]

    Returns
    -------
    Packed

    Raises
    ------
    InputError
        If a value is not finite or outside its limits.
    """
    check(block, matter, burning, heat)
    char = matter.dry_mass * (matter.char_yield - matter.ash_fraction)
    member_class, half = _classes(matter.half_thickness)
    potential = np.zeros((char.shape[0], half.size))
    for each in range(1, half.size):
        potential[:, each] = char[:, member_class == each].sum(axis=1)
    of_class = potential[:, member_class]
    share = np.divide(char, of_class, out=np.zeros_like(char), where=of_class > 0.0)
    if burning.char_density is None or burning.char_openness is None:
        half = np.zeros_like(half)
    lowest, step, band_share = energies(burning.pyrolysis_start, burning.pyrolysis_end)
    values = _values(block, matter, burning, char)
    values[at.LOWEST_ENERGY], values[at.ENERGY_STEP] = lowest, step
    table = np.empty((char.shape[0], at.PARAMETERS))
    for column in range(at.PARAMETERS):
        table[:, column] = values[column]
    gate = 0.25 * math.pi * block.gate_diameter**2 / (0.5 * block.height)
    rows = (
        heat.time,
        heat.kiln,
        heat.wall,
        heat.piece,
        heat.dry_radius,
        heat.free_water,
        heat.bound_water,
    )
    return Packed(
        heat=tuple(np.ascontiguousarray(row, dtype=float) for row in rows),
        table=table,
        shared=np.array(
            [
                burning.kiln_volume,
                float(burning.flasks),
                gate,
                block.piece_radius,
                burning.char_rate_oxygen,
                clean_below,
                longest,
            ]
        ),
        half=half,
        potential=potential,
        band_share=band_share,
        room_share=np.array(ROOM_SHARES),
        ways=_ways(block, matter, burning),
        member_class=member_class,
        member_share=share,
    )


def _classes(half_thickness: si.Metres) -> tuple[si.Integers, si.Metres]:
    """Return the class of each member, and the half thickness of each class."""
    thin = np.maximum(half_thickness, 1e-9)
    step = np.floor(np.log(thin) / _LIKE).astype(np.int64)
    kept, place = np.unique(step, return_inverse=True)
    half = np.zeros(kept.size + 1)
    np.maximum.at(half, place + 1, half_thickness)
    return np.asarray(place + 1, dtype=np.int64), half


def matter_radius(block: BlockCase, matter: Matter) -> si.Metre:
    """Return the radius of the room in which the matter lies.

    Parameters
    ----------
    block : BlockCase
    matter : Matter

    Returns
    -------
    float [m]
        As the matter names it; else its mean distance from the axis, or the mean half
        thickness of the parts where that is more: a stem on the axis has no distance.
    """
    if matter.room_radius is not None:
        return matter.room_radius
    weight = matter.dry_mass.mean(axis=0)
    if weight.sum() <= 0.0:
        return block.piece_radius
    thick = float((weight * matter.half_thickness).sum() / weight.sum())
    return max(block.piece_radius, thick)


def _ways(block: BlockCase, matter: Matter, burning: Burning) -> si.Metres:
    pores = block.porosity / burning.tortuosity
    layer = np.zeros_like(pores)
    share, hole = block.open_share, block.hole_diameter
    if block.wall == "perforated" and share is not None and hole is not None:
        layer = hole_layer(share, hole, block.wall_thickness, pores)
    return block_ways(block, matter_radius(block, matter), layer, pores)


def _values(
    block: BlockCase, matter: Matter, burning: Burning, char: si.Kilograms
) -> dict[int, si.Table]:
    draws = char.shape[0]
    nothing = np.zeros(draws)
    volume = math.pi * block.radius**2 * block.height
    dry = matter.dry_mass.sum(axis=1)
    wax_char = nothing if matter.wax_char is None else matter.wax_char
    drain = np.full(draws, np.inf)
    if matter.wax_melt_density is not None and matter.wax_viscosity is not None:
        melts = zip(matter.wax_melt_density.tolist(), matter.wax_viscosity.tolist(), strict=True)
        drain = np.array([drain_rate(block.gate_diameter, *melt) for melt in melts])
    density = np.ones(draws) if burning.char_density is None else burning.char_density
    return {
        at.WAX: matter.wax,
        at.MELT_END: matter.wax_melt_end,
        at.BOIL_START: matter.wax_boil_start,
        at.BOIL_END: matter.wax_boil_end,
        at.SOAK: matter.wax_soak,
        at.DRAIN: drain,
        at.WAX_OXYGEN: (matter.wax_oxygen - OXYGEN_PER_CARBON * wax_char) / OXYGEN_MOLAR,
        at.WAX_CHAR: wax_char,
        at.DRY: dry,
        at.WATER: matter.water.sum(axis=1),
        at.VAPOUR_OXYGEN: (dry * burning.dry_oxygen - OXYGEN_PER_CARBON * char.sum(axis=1))
        / OXYGEN_MOLAR,
        at.VAPOUR: dry - (matter.dry_mass * matter.char_yield).sum(axis=1),
        at.CHAR_ACTIVATION: burning.char_activation,
        at.CHAR_LOG10_RATE: burning.char_log10_rate,
        at.CHAR_ORDER: burning.char_order,
        at.STOCK: density / si.CARBON_MOLAR,
        at.OPENNESS: np.ones(draws) if burning.char_openness is None else burning.char_openness,
        at.DIFFUSIVITY: burning.oxygen_diffusivity,
        at.EXPONENT: burning.diffusivity_exponent,
        at.AIR: burning.air_changes
        * burning.kiln_volume
        * block.air_pressure
        / (GAS_CONSTANT * _ROOM),
        at.PRESSURE: block.air_pressure,
        at.STEAM_FREE: block.free_water * volume / WATER_MOLAR,
        at.STEAM_BOUND: np.full(draws, block.gypsum * _WATER_IN_GYPSUM * volume / WATER_MOLAR),
    }
