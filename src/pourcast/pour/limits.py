"""Limits: what a pour can be started from at all.

A value outside is a mistake of the caller and is refused; a bad casting is not.
"""

import math

from pourcast.errors import (
    InputError,
    require_between,
    require_finite,
    require_not_negative,
    require_positive,
)
from pourcast.piece.model import Network
from pourcast.pour.model import PourCase

_COLDEST, _HOTTEST = 200.0, 3000.0  # K; no mould or metal of a studio lies outside


def check(network: Network, case: PourCase) -> None:
    """Refuse a network or a case that no pour can be started from.

    Parameters
    ----------
    network : Network
    case : PourCase

    Raises
    ------
    InputError
        Naming the first value outside its limits.
    """
    require_positive("length", network.length, "m")
    require_positive("thickness", network.thickness, "m")
    require_positive("width", network.width, "m")
    require_positive("section_scale", case.section_scale, "")
    require_positive("entry_factor", case.entry_factor, "")
    _check_metal(case)
    _check_block(case)
    _check_stream(case)
    _check_char(case)


def _check_metal(case: PourCase) -> None:
    metal = case.metal
    require_positive("density", metal.density, "kg/m³")
    require_positive("viscosity", metal.viscosity, "Pa·s")
    require_not_negative("surface_tension", metal.surface_tension, "N/m")
    require_between("contact_angle", metal.contact_angle, "rad", 0.0, math.pi)
    require_not_negative("film_factor", metal.film_factor, "")
    for name in ("liquidus", "half_solid", "solidus", "temperature"):
        require_between(name, getattr(metal, name), "K", _COLDEST, _HOTTEST)
    require_not_negative("liquidus less half_solid", metal.liquidus - metal.half_solid, "K")
    require_not_negative("half_solid less solidus", metal.half_solid - metal.solidus, "K")
    require_positive("specific_heat", metal.specific_heat, "J/(kg·K)")
    require_positive("latent_heat", metal.latent_heat, "J/kg")
    require_not_negative("conductivity of the metal", metal.conductivity, "W/(m·K)")
    require_between("tip_stop", metal.tip_stop, "", 0.0, 1.0)
    require_between("choke_stop", metal.choke_stop, "", 0.0, 1.0)


def _check_block(case: PourCase) -> None:
    block = case.block
    require_between("temperature of the block", block.temperature, "K", _COLDEST, _HOTTEST)
    require_positive("interface_heat_transfer", block.interface_heat_transfer, "W/(m²·K)")
    require_not_negative("conductivity of the block", block.conductivity, "W/(m·K)")
    require_positive("diffusivity", block.diffusivity, "m²/s")
    require_positive("permeability", block.permeability, "m²")
    require_positive("porosity", block.porosity, "")
    require_between("porosity", block.porosity, "", 0.0, 1.0)
    require_positive("air_pressure", block.air_pressure, "Pa")
    require_not_negative("vacuum", block.vacuum, "Pa")
    require_not_negative("air_pressure less vacuum", block.air_pressure - block.vacuum, "Pa")
    require_positive("pump_time", block.pump_time, "s")
    require_not_negative("lead_time", block.lead_time, "s")
    for name in ("radius", "depth", "piece_radius", "piece_height"):
        require_positive(name, getattr(block, name), "m")
    require_not_negative("cover", block.cover, "m")


def _check_stream(case: PourCase) -> None:
    stream = case.stream
    require_positive("metal_volume", stream.metal_volume, "m³")
    require_not_negative("pour_rate", stream.pour_rate, "m³/s")
    require_not_negative("start_head", stream.start_head, "m")
    require_not_negative("entry_loss", stream.entry_loss, "")
    require_not_negative("fork_loss", stream.fork_loss, "")
    require_not_negative("roughness", stream.roughness, "m")
    for name in ("cup_diameter", "cup_height", "gate_diameter"):
        require_positive(name, getattr(stream, name), "m")


def _check_char(case: PourCase) -> None:
    if case.char_left is None:
        return
    require_not_negative("char_left", case.char_left, "kg")
    if case.char_left.shape != case.section_scale.shape:
        shape = case.section_scale.shape
        raise InputError("shape of char_left", case.char_left.shape, "", f"{shape}")
    for name, unit in (("char_activation", "J/mol"), ("char_log10_rate", "")):
        value = getattr(case, name)
        if value is None:
            hint = "take it from the record of the investment"
            raise InputError(name, "missing", "", "given where char_left is", hint)
        require_finite(name, value, unit)
    require_positive("char_activation", case.char_activation, "J/mol")
