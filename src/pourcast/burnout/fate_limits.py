"""Limits of what the fate of wax and original is worked out from."""

import numpy as np

from pourcast.burnout.char import OXYGEN_PER_CARBON
from pourcast.burnout.model import BlockCase, Burning, HeatDays, Matter
from pourcast.errors import (
    InputError,
    require_between,
    require_finite,
    require_not_negative,
    require_positive,
)


def check(block: BlockCase, matter: Matter, burning: Burning, heat: HeatDays) -> None:
    """Raise `InputError` at the first value that cannot be worked with.

    Parameters
    ----------
    block : BlockCase
    matter : Matter
    burning : Burning
    heat : HeatDays

    Raises
    ------
    InputError
        If a value is not finite or outside its limits, or arrays do not fit.
    """
    _check_shapes(block, matter, burning, heat)
    _check_heat(heat)
    _check_matter(matter)
    _check_burning(burning)
    require_positive("gate_diameter", block.gate_diameter, "m")
    require_between("porosity", block.porosity, "", 0.0, 1.0)
    require_positive("air_pressure", block.air_pressure, "Pa")
    need = matter.dry_mass.sum(axis=1) * burning.dry_oxygen
    char = (matter.dry_mass * (matter.char_yield - matter.ash_fraction)).sum(axis=1)
    if np.any(need < OXYGEN_PER_CARBON * char):
        raise InputError(
            "dry_oxygen",
            float(burning.dry_oxygen[np.argmin(need - OXYGEN_PER_CARBON * char)]),
            "kg/kg",
            "enough to burn the char alone",
        )


def _check_shapes(block: BlockCase, matter: Matter, burning: Burning, heat: HeatDays) -> None:
    draws, moments = heat.kiln.shape
    members = matter.half_thickness.size
    for name, array, shape in (
        ("time of the heat", heat.time, (moments,)),
        ("temperature at the matter", heat.piece, (draws, moments)),
        ("temperature of the wall", heat.wall, (draws, moments)),
        ("dry_mass", matter.dry_mass, (draws, members)),
        ("water", matter.water, (draws, members)),
        ("char_yield", matter.char_yield, (draws, members)),
        ("ash_fraction", matter.ash_fraction, (draws, members)),
        ("wax", matter.wax, (draws,)),
        ("air_changes", burning.air_changes, (draws,)),
        ("air_pressure", block.air_pressure, (draws,)),
    ):
        if array.shape != shape:
            raise InputError(f"shape of {name}", array.shape, "", f"{shape}")
    if moments < 2:
        raise InputError("moments of the heat", moments, "", "2 or more")


def _check_heat(heat: HeatDays) -> None:
    require_finite("time of the heat", heat.time, "s")
    require_positive("step between moments of the heat", np.diff(heat.time), "s")
    for name, temperature in (("kiln", heat.kiln), ("wall", heat.wall), ("piece", heat.piece)):
        require_positive(f"temperature of the {name}", temperature, "K")


def _check_matter(matter: Matter) -> None:
    require_not_negative("dry_mass", matter.dry_mass, "kg")
    require_not_negative("water", matter.water, "kg")
    require_between("ash_fraction", matter.ash_fraction, "", 0.0, 1.0)
    require_between("char_yield", matter.char_yield, "", 0.0, 1.0)
    require_not_negative(
        "char_yield less ash_fraction", matter.char_yield - matter.ash_fraction, ""
    )
    require_not_negative("half_thickness", matter.half_thickness, "m")
    require_not_negative("wax", matter.wax, "kg")
    require_positive("wax_melt_end", matter.wax_melt_end, "K")
    require_positive(
        "wax_boil_end less wax_boil_start", matter.wax_boil_end - matter.wax_boil_start, "K"
    )
    require_between("wax_soak", matter.wax_soak, "", 0.0, 1.0)
    require_not_negative("wax_oxygen", matter.wax_oxygen, "")
    for name, value, unit in (
        ("wax_melt_density", matter.wax_melt_density, "kg/m³"),
        ("wax_viscosity", matter.wax_viscosity, "Pa·s"),
    ):
        if value is not None:
            require_positive(name, value, unit)
    if matter.wax_char is not None:
        require_between("wax_char", matter.wax_char, "", 0.0, 1.0)
        require_not_negative(
            "wax_oxygen less that of its char",
            matter.wax_oxygen - OXYGEN_PER_CARBON * matter.wax_char,
            "",
        )


def _check_burning(burning: Burning) -> None:
    require_positive("volume of the kiln", burning.kiln_volume, "m³")
    require_not_negative("air_changes", burning.air_changes, "1/s")
    if burning.flasks < 1:
        raise InputError("flasks", burning.flasks, "", "1 or more")
    require_positive("char_activation", burning.char_activation, "J/mol")
    require_finite("char_log10_rate", burning.char_log10_rate, "")
    require_between("char_rate_oxygen", burning.char_rate_oxygen, "", 0.01, 1.0)
    require_between("char_order", burning.char_order, "", 0.0, 2.0)
    require_positive("oxygen_diffusivity", burning.oxygen_diffusivity, "m²/s")
    require_between("diffusivity_exponent", burning.diffusivity_exponent, "", 1.0, 2.5)
    require_between("tortuosity", burning.tortuosity, "", 1.0, 100.0)
    require_positive("ash_bulk_density", burning.ash_bulk_density, "kg/m³")
    if burning.char_density is not None:
        require_positive("char_density", burning.char_density, "kg/m³")
    if burning.char_openness is not None:
        require_positive("char_openness", burning.char_openness, "")
        require_between("char_openness", burning.char_openness, "", 0.0, 1.0)
