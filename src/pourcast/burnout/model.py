"""The block in the kiln, the matter in its cavity, and how both come out.

A draw is one burnout with one set of the values that nobody knows exactly.
Times count from the moment when the block goes into the kiln.
"""

import math
from dataclasses import dataclass
from typing import Literal

from pourcast import units as si

Wall = Literal["solid", "perforated", "bare"]
"""What stands round the block: a closed steel wall, one with holes, or nothing."""

State = Literal["dry", "fresh", "soaked"]
"""Of the original as it is invested; soaked: in spirit or water."""

NEAR = 15.0
"""Of the core from the casting temperature, K; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KilnStep:
    """One step of the kiln curve: go to a temperature, then hold.

    Parameters
    ----------
    temperature : float [K]
    ramp : float or None [K/s]
        None: as fast as the kiln can.
    hold : float [s]
    """

    temperature: si.Kelvin
    ramp: si.KelvinPerSecond | None
    hold: si.Second


@dataclass(frozen=True, slots=True, kw_only=True)
class Kiln:
    """The kiln and what the caster means to do with it.

    Parameters
    ----------
    volume : float or None [m³]
    power : float or None [W]
    air_changes : float or None [1/s]
    control : {"hand", "programmed"}
    steps : tuple of KilnStep
        Empty: the usual curve of a flask of this size.
    flasks : int
        Masses that share the air of the kiln, this one counted.
    dial_top : int or None
        Highest place of the dial; None: not said.
    dial_step : float [-]
        From one place of the dial to the next; 0.5: between two numbers it has a half.
    """

    volume: si.CubicMetre | None = None
    power: si.Watt | None = None
    air_changes: si.PerSecond | None = None
    control: Literal["hand", "programmed"] = "hand"
    steps: tuple[KilnStep, ...] = ()
    flasks: int = 1
    dial_top: int | None = None
    dial_step: si.Ratio = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Original:
    """What the caster knows of the original's matter beside its measures.

    Parameters
    ----------
    state : {"dry", "fresh", "soaked"} or None
        None: not said.
    holds : tuple of str
        Keys of `Library.matter`: what is in it or on it beside plant and wax.
    drying_time : float or None [s]
        Since it was picked; None: not said.
    """

    state: State | None = None
    holds: tuple[str, ...] = ()
    drying_time: si.Second | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """Temperature of the kiln air over the day; straight between its points.

    Parameters
    ----------
    name : str
        As the caster reads it: "as written", "usual", "shortest", "logged".
    time : array [s], shape (points,)
        From 0, rising.
    temperature : array [K], shape (points,)
    """

    name: str
    time: si.Seconds
    temperature: si.Kelvins


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockCase:
    """The block as it goes into the kiln; arrays have shape (draws,) unless said.

    Parameters
    ----------
    radius, height : float [m]
        Of the block, inside the flask.
    wall : {"solid", "perforated", "bare"}
    wall_thickness : float [m]
        Of the steel; not used where the block is bare.
    wall_heat : float [J/(m³·K)]
        Of the steel: density times specific heat, mean of 20 to 700 °C.
    gate_diameter : float [m]
        Of the open way into the cavity once the wax is out.
    piece_radius : float [m]
        Mean distance of the original's matter from the axis.
    set_density : float [kg/m³]
        Of the set block without its free water, gypsum in it.
    gypsum : float [kg/m³]
        Mass of gypsum in a volume of the set block.
    porosity : float [-]
        Of the burnt block.
    free_water : array [kg/m³]
        Water in the pores as it goes into the kiln.
    wet_conductivity, set_conductivity : array [W/(m·K)]
        Pores full of water; dry, with gypsum.
    burnt_conductivity_at : array [K], shape (conductivities,)
    burnt_conductivity : array [W/(m·K)], shape (draws, conductivities)
    burnt_specific_heat_at : array [K], shape (heats,)
    burnt_specific_heat : array [J/(kg·K)], shape (draws, heats)
    gypsum_specific_heat : array [J/(kg·K)]
    first_heat : array [J/kg]
        Of gypsum to hemihydrate and steam, over mass of gypsum.
    second_heat : array [J/kg]
        Of hemihydrate to soluble anhydrite and steam, over mass of hemihydrate.
    permeability : array [m²]
        Of the dry block.
    wet_permeability : array [m²]
        To gas, where the pores are full of water.
    tensile_strength : array [Pa]
    youngs_modulus : array [Pa]
    expansion : array [1/K]
        Linear, of the block outside the inversions of silica.
    emissivity : array [-]
        Of the outer face and the walls of the kiln, both together.
    convection : array [W/(m²·K)]
        From the air of the kiln to the face.
    kiln_error : array [K]
        True temperature of the air at the block less that which was read.
    start_temperature : array [K]
    air_pressure : array [Pa]
        Outside.
    open_share : array or None [-]
        Share of the side of a perforated flask that is holes; None: as if it were bare.
    hole_diameter : array or None [m]
        Of a perforated flask; None: steam finds its holes without a way round.
    contact_conductance : float [W/(m²·K)]
        From steel to block.
    flask_gap : array or None [m]
        Between steel and block, by which steam gets to the ends; None: none.
    cristobalite_growth, quartz_growth : float [-]
        Linear, of the block, as the silica in it goes through its inversion.
    """

    radius: si.Metre
    height: si.Metre
    wall: Wall
    wall_thickness: si.Metre
    wall_heat: si.JoulePerCubicMetreKelvin
    gate_diameter: si.Metre
    piece_radius: si.Metre
    set_density: si.KilogramPerCubicMetre
    gypsum: si.KilogramPerCubicMetre
    porosity: si.Ratio
    free_water: si.KilogramsPerCubicMetre
    wet_conductivity: si.WattsPerMetreKelvin
    set_conductivity: si.WattsPerMetreKelvin
    burnt_conductivity_at: si.Kelvins
    burnt_conductivity: si.WattsPerMetreKelvin
    burnt_specific_heat_at: si.Kelvins
    burnt_specific_heat: si.JoulesPerKilogramKelvin
    gypsum_specific_heat: si.JoulesPerKilogramKelvin
    first_heat: si.JoulesPerKilogram
    second_heat: si.JoulesPerKilogram
    permeability: si.SquareMetres
    wet_permeability: si.SquareMetres
    tensile_strength: si.Pascals
    youngs_modulus: si.Pascals
    expansion: si.PerKelvins
    emissivity: si.Ratios
    convection: si.WattsPerSquareMetreKelvin
    kiln_error: si.Kelvins
    start_temperature: si.Kelvins
    air_pressure: si.Pascals
    open_share: si.Ratios | None = None
    hole_diameter: si.Metres | None = None
    contact_conductance: si.WattPerSquareMetreKelvin = math.inf
    flask_gap: si.Metres | None = None
    cristobalite_growth: si.Ratio = 0.0
    quartz_growth: si.Ratio = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatDays:
    """Heat and water of the block over the day, draw by draw.

    Parameters
    ----------
    time : array [s], shape (moments,)
        Moments that are kept; the calculation is finer.
    kiln : array [K], shape (draws, moments)
        Air at the block.
    wall : array [K], shape (draws, moments)
        Outer face of the block.
    piece : array [K], shape (draws, moments)
        At the radius of the original's matter.
    core : array [K], shape (draws, moments)
        On the axis.
    free_water, bound_water : array [-], shape (draws, moments)
        Left in the whole block, over what there was.
    dry_radius : array [m], shape (draws, moments)
        Outside it the pores hold no liquid water; the radius of the block at
        the start, 0 when all is dry.
    overpressure : array [Pa], shape (draws, moments)
        Highest pressure of steam in the pores, over the air outside.
    stress : array [-], shape (draws, moments)
        Highest tensile stress, of steam and of uneven heat, over the strength.
    dry_at : array [s], shape (draws,)
        No free water is left; not a number where some is at the end of the day.
    inversion_time : array [s], shape (draws, 2)
        In which wall and core pass the change of cristobalite and that of quartz
        on the way up; not a number where they do not.
    cooled_through : array of int, shape (draws, 2)
        Times that the core fell through each of the two before the end of the curve.
    heat_taken : array [J], shape (draws,)
        By the block, in all.
    """

    time: si.Seconds
    kiln: si.Kelvins
    wall: si.Kelvins
    piece: si.Kelvins
    core: si.Kelvins
    free_water: si.Ratios
    bound_water: si.Ratios
    dry_radius: si.Metres
    overpressure: si.Pascals
    stress: si.Ratios
    dry_at: si.Seconds
    inversion_time: si.Seconds
    cooled_through: si.Integers
    heat_taken: si.Joules


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Block of one draw in section, at chosen moments; the field of the picture.

    Parameters
    ----------
    time : array [s], shape (moments,)
    radius : array [m], shape (columns,)
        Middles of the cells, from the axis.
    depth : array [m], shape (rows,)
        Middles of the cells, from the face with the gate.
    temperature : array [K], shape (moments, rows, columns)
    free_water : array [kg/m³], shape (moments, rows, columns)
    overpressure : array [Pa], shape (moments, rows, columns)
    """

    time: si.Seconds
    radius: si.Metres
    depth: si.Metres
    temperature: si.Kelvins
    free_water: si.KilogramsPerCubicMetre
    overpressure: si.Pascals


@dataclass(frozen=True, slots=True, kw_only=True)
class Matter:
    """What lies in the cavity when the block goes into the kiln.

    Parameters
    ----------
    dry_mass : array [kg], shape (draws, members)
        Of the original without its water, ash counted; 0 for wax.
    water : array [kg], shape (draws, members)
    char_yield : array [-], shape (draws, members)
        Char, ash counted, over dry mass.
    ash_fraction : array [-], shape (draws, members)
        Of the dry mass.
    half_thickness : array [m], shape (members,)
        Half of the smaller way across its thickest place, which burns last.
    member_part : array of int, shape (members,)
        Index of the part.
    wax : array [kg], shape (draws,)
        Button, wax parts and coats.
    wax_melt_end, wax_boil_start, wax_boil_end : array [K], shape (draws,)
    wax_ash : array [-], shape (draws,)
        Over its mass.
    wax_oxygen : array [-], shape (draws,)
        Mass of oxygen that burns a unit mass of it.
    wax_soak : array [-], shape (draws,)
        Share of the molten wax that soaks into the block and does not run out.
    wax_char : array [-] or None, shape (draws,)
        Char that boiling wax leaves, over its mass; None: it leaves none.
    wax_melt_density : array [kg/m³] or None, shape (draws,)
    wax_viscosity : array [Pa·s] or None, shape (draws,)
        Of the melt.  Where one of the two is None, wax runs out as it melts.
    room_radius : float or None [m]
        Of the room in which the matter lies; None: by the mean over the draws
        (`pourcast.burnout.fate_pack.matter_radius`).  Draws that are followed a few at a
        time name it, so that it is that of all of them.
    """

    dry_mass: si.Kilograms
    water: si.Kilograms
    char_yield: si.Ratios
    ash_fraction: si.Ratios
    half_thickness: si.Metres
    member_part: si.Integers
    wax: si.Kilograms
    wax_melt_end: si.Kelvins
    wax_boil_start: si.Kelvins
    wax_boil_end: si.Kelvins
    wax_ash: si.Ratios
    wax_oxygen: si.Ratios
    wax_soak: si.Ratios
    wax_char: si.Ratios | None = None
    wax_melt_density: si.KilogramsPerCubicMetre | None = None
    wax_viscosity: si.PascalSeconds | None = None
    room_radius: si.Metre | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Burning:
    """How matter turns to char and char burns; arrays have shape (draws,).

    Parameters
    ----------
    pyrolysis_start, pyrolysis_end : array [K]
    dry_oxygen : array [-]
        Mass of oxygen that burns a unit mass of dry original, vapour and char.
    char_activation : array [J/mol]
    char_log10_rate : array [-]
        Logarithm to base 10 of the rate in 1/s at ``char_rate_oxygen``.
    char_rate_oxygen : float [-]
        Mole fraction of oxygen at which that rate holds.
    char_order : array [-]
        Order of the rate in oxygen.
    oxygen_diffusivity : array [m²/s]
        Of oxygen in air at 293.15 K and one atmosphere.
    diffusivity_exponent : array [-]
        Power of the temperature with which it grows.
    tortuosity : array [-]
        By which the pores of the block slow it.
    ash_bulk_density : array [kg/m³]
    kiln_volume : float [m³]
    air_changes : array [1/s]
        Volumes of the kiln that come in each second, measured at room temperature.
    flasks : int
        Masses like this one in the kiln.
    char_density : array [kg/m³] or None
        Of a piece of char, pores counted.
    char_openness : array [-] or None
        Diffusivity of oxygen in char over that in free air.  Where one of the two is
        None, every part burns as if it were fine powder.
    """

    pyrolysis_start: si.Kelvins
    pyrolysis_end: si.Kelvins
    dry_oxygen: si.Ratios
    char_activation: si.JoulesPerMole
    char_log10_rate: si.Ratios
    char_rate_oxygen: si.Ratio
    char_order: si.Ratios
    oxygen_diffusivity: si.SquareMetresPerSecond
    diffusivity_exponent: si.Ratios
    tortuosity: si.Ratios
    ash_bulk_density: si.KilogramsPerCubicMetre
    kiln_volume: si.CubicMetre
    air_changes: si.PerSeconds
    flasks: int
    char_density: si.KilogramsPerCubicMetre | None = None
    char_openness: si.Ratios | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fate:
    """What becomes of wax and original over the day, draw by draw.

    Parameters
    ----------
    time : array [s], shape (moments,)
        Those of `HeatDays`.
    wax : array [kg], shape (draws, moments)
        Left in cavity and block.
    dry_mass : array [kg], shape (draws, moments)
        Of the original, not yet turned to char and vapour.
    char : array [kg], shape (draws, moments)
        Carbon left in the cavity, without ash; that of soaked-in wax counted.
    kiln_oxygen : array [-], shape (draws, moments)
        Mole fraction in the air of the kiln.
    supply : array [-], shape (draws, moments)
        What rules the burning of char: 0 its chemistry, 1 the way of the oxygen.
    wax_gone_at : array [s], shape (draws,)
        Not a number where wax is left at the end of the day.
    clean_at : array [s], shape (draws,)
        When the char fell below ``clean_below``; not a number where it did not.
    clean_below : float [kg]
    char_left : array [kg], shape (draws, members)
        At the end of the day, carbon alone.
    ash : array [kg], shape (draws, members)
    ash_volume : array [m³], shape (draws,)
        As it lies loose.
    oxygen_used : array [kg], shape (draws,)
        By all masses in the kiln.
    wax_drained : array [-], shape (draws,)
        Share of the wax that ran out of the gate.
    """

    time: si.Seconds
    wax: si.Kilograms
    dry_mass: si.Kilograms
    char: si.Kilograms
    kiln_oxygen: si.Ratios
    supply: si.Ratios
    wax_gone_at: si.Seconds
    clean_at: si.Seconds
    clean_below: si.Kilogram
    char_left: si.Kilograms
    ash: si.Kilograms
    ash_volume: si.CubicMetres
    oxygen_used: si.Kilograms
    wax_drained: si.Ratios


@dataclass(frozen=True, slots=True, kw_only=True)
class BurnoutCase:
    """All that the burnouts of one forecast start from.

    Parameters
    ----------
    block : BlockCase
    matter : Matter
    burning : Burning
    curve : Curve
    """

    block: BlockCase
    matter: Matter
    burning: Burning
    curve: Curve


@dataclass(frozen=True, slots=True, kw_only=True)
class BurnoutResult:
    """How the burnouts of one forecast end.

    Parameters
    ----------
    curve : Curve
    heat : HeatDays
    fate : Fate
    ready_at : array [s], shape (draws,)
        From here to the end of the curve the core lies within `NEAR` of the
        temperature that the curve ends in; not a number where it does not get there.
    flask_temperature : array [K], shape (draws,)
        Of the block at the original's matter at the end of the curve.
    """

    curve: Curve
    heat: HeatDays
    fate: Fate
    ready_at: si.Seconds
    flask_temperature: si.Kelvins
