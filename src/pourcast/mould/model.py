"""The flask, the powder and water, and what they come to."""

from dataclasses import dataclass
from typing import Literal

from pourcast import units as si

Wall = Literal["solid", "perforated"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Flask:
    """The steel flask.

    Parameters
    ----------
    inside_diameter, height : float [m]
    wall : {"solid", "perforated"}
    wall_thickness : float [m]
    temperature : float or None [K]
        Of the mould at the pour; None: not said.
    """

    inside_diameter: si.Metre
    height: si.Metre
    wall: Wall
    wall_thickness: si.Metre
    temperature: si.Kelvin | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """Powder and water as the caster mixes them.

    Parameters
    ----------
    powder : str
        Key of an investment record.
    water_to_powder : float [-]
        Mass of water over mass of powder.
    temperature : float [K]
        Of water and powder.
    """

    powder: str
    water_to_powder: si.Ratio
    temperature: si.Kelvin


@dataclass(frozen=True, slots=True, kw_only=True)
class Powder:
    """The dry powder: gypsum binder and silica.

    Parameters
    ----------
    true_density : float [kg/m³]
        Of the grains, without the air between them.
    hemihydrate_fraction : float [-]
        Mass of the binder, CaSO₄·½H₂O, over mass of powder; the rest is silica.
    hydration_water : float [-]
        Mass of water that sets unit mass of binder to gypsum.
    """

    true_density: si.KilogramPerCubicMetre
    hemihydrate_fraction: si.Ratio
    hydration_water: si.Ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class Mould:
    """What the block comes to.

    Parameters
    ----------
    slurry_volume : float [m³]
        To mix, waste included.
    slurry_density : float [kg/m³]
    powder, water : float [kg]
        To weigh out, waste included.
    waste : float [-]
        Slurry that stays in the bowl, over the slurry that fills the flask.
    powder_per_volume : float [kg/m³]
        Of slurry.
    burnt_porosity : float [-]
    burnt_density : float [kg/m³]
    full_mass : float [kg]
        Of the slurry in the flask.
    wall_gap : float [m]
        Least block between the piece and the steel; negative: the piece does not fit.
    far_cover : float [m]
        Block over the far end of the piece.
    depth : float [m]
        From the rim of the flask down to the lowest point of the piece.
    """

    slurry_volume: si.CubicMetre
    slurry_density: si.KilogramPerCubicMetre
    powder: si.Kilogram
    water: si.Kilogram
    waste: si.Ratio
    powder_per_volume: si.KilogramPerCubicMetre
    burnt_porosity: si.Ratio
    burnt_density: si.KilogramPerCubicMetre
    full_mass: si.Kilogram
    wall_gap: si.Metre
    far_cover: si.Metre
    depth: si.Metre
