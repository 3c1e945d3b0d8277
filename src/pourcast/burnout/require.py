"""Require: is what a burnout starts from something that can be worked with?

Limits are those of the tables and laws, not of good practice: a block of ice and
a kiln above 1200 °C are refused, a curve that cracks the block is not.

Source: limits set by hand.
"""

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import BlockCase, Curve
from pourcast.errors import InputError, require_between, require_not_negative, require_positive

COLDEST, HOTTEST = 233.15, 1473.15
"""Of the kiln, K."""

WARMEST_START = 350.0
"""Of a block with free water as it goes in, K."""

LONGEST_DAY = 14.0 * 86_400.0  # s

_POSITIVE: tuple[tuple[str, str], ...] = (
    ("wet_conductivity", "W/(m·K)"),
    ("set_conductivity", "W/(m·K)"),
    ("burnt_conductivity", "W/(m·K)"),
    ("burnt_specific_heat", "J/(kg·K)"),
    ("gypsum_specific_heat", "J/(kg·K)"),
    ("first_heat", "J/kg"),
    ("second_heat", "J/kg"),
    ("permeability", "m²"),
    ("tensile_strength", "Pa"),
    ("youngs_modulus", "Pa"),
    ("air_pressure", "Pa"),
)
_NOT_NEGATIVE: tuple[tuple[str, str], ...] = (
    ("free_water", "kg/m³"),
    ("wet_permeability", "m²"),
    ("expansion", "1/K"),
    ("convection", "W/(m²·K)"),
)


def require_curve(curve: Curve) -> None:
    """Raise `InputError` unless a curve can be followed.

    Parameters
    ----------
    curve : Curve

    Raises
    ------
    InputError
        If it has fewer than two points, its times do not rise, or a temperature is
        not finite or outside -40 to 1200 °C.
    """
    if curve.time.ndim != 1 or curve.time.size < 2:
        raise InputError("points of the curve", curve.time.size, "", "two or more")
    if curve.temperature.shape != curve.time.shape:
        raise InputError(
            "temperatures of the curve", curve.temperature.size, "", f"{curve.time.size}, as times"
        )
    require_not_negative("time of the curve", curve.time, "s")
    require_between("length of the curve", curve.time[-1] - curve.time[0], "s", 1.0, LONGEST_DAY)
    gap = np.diff(curve.time)
    if not (gap > 0.0).all():
        late = float(curve.time[1:][gap <= 0.0][0])
        raise InputError("time of the curve", f"{late:g}", "s", "later than that before it")
    require_between("temperature of the curve", curve.temperature, "K", COLDEST, HOTTEST)


def require_block(block: BlockCase) -> int:
    """Return the number of draws; raise `InputError` unless a block can be worked with.

    Parameters
    ----------
    block : BlockCase

    Returns
    -------
    int
        1 or more.

    Raises
    ------
    InputError
        If a value is not finite, outside its limits, or not one for each draw.
    """
    draws = int(block.free_water.size)
    if draws < 1:
        raise InputError("draws", draws, "", "1 or more")
    for what in ("radius", "height", "set_density"):
        require_positive(what, getattr(block, what), "m" if what != "set_density" else "kg/m³")
    require_positive("gypsum", block.gypsum, "kg/m³")
    if block.gypsum > block.set_density:
        raise InputError(
            "gypsum", f"{block.gypsum:g}", "kg/m³", f"{block.set_density:g} or less, as the block"
        )
    require_between("porosity", block.porosity, "", 0.05, 0.95)
    require_between("piece_radius", block.piece_radius, "m", 0.0, block.radius)
    for what, unit, low, high in (
        ("open_share", "", 0.01, 1.0),
        ("hole_diameter", "m", 0.0, 0.1),
        ("flask_gap", "m", 0.0, 1e-3),
    ):
        value = getattr(block, what)
        if value is not None:
            _require_draws(what, value, draws)
            require_between(what, value, unit, low, high)
    if block.wall != "bare":
        require_positive("wall_thickness", block.wall_thickness, "m")
        require_positive("wall_heat", block.wall_heat, "J/(m³·K)")
        if not block.contact_conductance > 0.0:
            raise InputError(
                "contact_conductance", block.contact_conductance, "W/(m²·K)", "greater than 0"
            )
    require_not_negative("cristobalite_growth", block.cristobalite_growth, "")
    require_not_negative("quartz_growth", block.quartz_growth, "")
    for what, unit in _POSITIVE:
        _require_draws(what, getattr(block, what), draws)
        require_positive(what, getattr(block, what), unit)
    for what, unit in _NOT_NEGATIVE:
        _require_draws(what, getattr(block, what), draws)
        require_not_negative(what, getattr(block, what), unit)
    for what in ("emissivity", "kiln_error", "start_temperature"):
        _require_draws(what, getattr(block, what), draws)
    require_between("emissivity", block.emissivity, "", 0.0, 1.0)
    require_between("kiln_error", block.kiln_error, "K", -150.0, 150.0)
    require_between("start_temperature", block.start_temperature, "K", 273.15, WARMEST_START)
    if not ((block.convection > 0.0) | (block.emissivity > 0.0)).all():
        raise InputError("convection", 0, "W/(m²·K)", "greater than 0 where nothing shines")
    _require_table("burnt_conductivity", block.burnt_conductivity_at, block.burnt_conductivity)
    _require_table("burnt_specific_heat", block.burnt_specific_heat_at, block.burnt_specific_heat)
    return draws


def _require_draws(what: str, value: si.Floats, draws: int) -> None:
    if value.ndim < 1 or value.shape[0] != draws:
        raise InputError(f"draws of {what}", value.shape[0] if value.ndim else 1, "", f"{draws}")


def _require_table(what: str, at: si.Kelvins, value: si.Floats) -> None:
    if value.ndim != 2 or value.shape[1] != at.size or at.size < 1:
        raise InputError(f"values of {what}", value.shape[-1], "", f"{at.size}, as temperatures")
    require_between(f"temperature of {what}", at, "K", 200.0, 2000.0)
    if not (np.diff(at) > 0.0).all():
        raise InputError(f"temperature of {what}", "a list that falls", "", "rising")
