"""What the pour starts from, draw by draw, and how it ends.

A draw is one pour with one set of the values that nobody knows exactly.
"""

from dataclasses import dataclass
from typing import Literal

from pourcast import units as si

Cause = Literal["capillary", "cold", "choke", "gas", "head", "no_metal"]

FULL, COLD, CHOKE, CAPILLARY, GAS, HEAD, NO_METAL = 0, 1, 2, 3, 4, 5, 6
CAUSES: tuple[Cause, ...] = ("cold", "choke", "capillary", "gas", "head", "no_metal")
"""Name of the causes 1, 2, ... in their order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Metal:
    """The liquid metal; each array has shape (draws,).

    Parameters
    ----------
    density : array [kg/m³]
    viscosity : array [Pa·s]
        At the liquidus.
    surface_tension : array [N/m]
    contact_angle : array [rad]
        On the burnt mould, through the metal.
    film_factor : array [-]
        By which the oxide skin multiplies the entry pressure.
    liquidus, half_solid, solidus : array [K]
        Solid fraction 0, 0.5 and 1.
    specific_heat : array [J/(kg·K)]
        Of the liquid.
    latent_heat : array [J/kg]
    conductivity : array [W/(m·K)]
        Of the liquid.
    tip_stop : array [-]
        Solid fraction at which a running tip stops.
    choke_stop : array [-]
        Solid fraction at which a filled passage closes.
    temperature : array [K]
        Of the metal as it stands in the cup.
    """

    density: si.KilogramsPerCubicMetre
    viscosity: si.PascalSeconds
    surface_tension: si.NewtonsPerMetre
    contact_angle: si.Radians
    film_factor: si.Ratios
    liquidus: si.Kelvins
    half_solid: si.Kelvins
    solidus: si.Kelvins
    specific_heat: si.JoulesPerKilogramKelvin
    latent_heat: si.JoulesPerKilogram
    conductivity: si.WattsPerMetreKelvin
    tip_stop: si.Ratios
    choke_stop: si.Ratios
    temperature: si.Kelvins


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """The burnt mould and the air in it; each array has shape (draws,).

    Parameters
    ----------
    temperature : array [K]
    interface_heat_transfer : array [W/(m²·K)]
        From metal to mould face.
    conductivity : array [W/(m·K)]
    diffusivity : array [m²/s]
    permeability : array [m²]
    porosity : array [-]
    air_pressure : array [Pa]
        Outside; of the place and the day.
    vacuum : array [Pa]
        Below the air outside, at the wall of the flask, when the pump has
        drawn for long; 0 for a gravity pour.
    pump_time : array [s]
        In which the vacuum comes within 1/e of its end.
    lead_time : array [s]
        From pump on to pour.
    wall : {"solid", "perforated"}
    radius, depth, cover : float [m]
        Of the block; from its top face to the lowest point of the piece;
        block over that point.
    piece_radius, piece_height : float [m]
        Of a cylinder that holds the piece.
    """

    temperature: si.Kelvins
    interface_heat_transfer: si.WattsPerSquareMetreKelvin
    conductivity: si.WattsPerMetreKelvin
    diffusivity: si.SquareMetresPerSecond
    permeability: si.SquareMetres
    porosity: si.Ratios
    air_pressure: si.Pascals
    vacuum: si.Pascals
    pump_time: si.Seconds
    lead_time: si.Seconds
    wall: Literal["solid", "perforated"]
    radius: si.Metre
    depth: si.Metre
    cover: si.Metre
    piece_radius: si.Metre
    piece_height: si.Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class Stream:
    """How the metal comes, and the shape of the cup.

    Parameters
    ----------
    metal_volume : array [m³], shape (draws,)
        Poured in all.
    pour_rate : array [m³/s], shape (draws,)
    start_head : array [m], shape (draws,)
        Depth of metal in the cup when it starts to run in.
    entry_loss, fork_loss : array [-], shape (draws,)
        Velocity heads lost at the gate and at each fork.
    roughness : array [m], shape (draws,)
        Of the mould face.
    cup_diameter, cup_height, gate_diameter : float [m]
        The cup is a cone from the gate to the rim, and a cylinder above.
    """

    metal_volume: si.CubicMetres
    pour_rate: si.CubicMetresPerSecond
    start_head: si.Metres
    entry_loss: si.Ratios
    fork_loss: si.Ratios
    roughness: si.Metres
    cup_diameter: si.Metre
    cup_height: si.Metre
    gate_diameter: si.Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class PourCase:
    """All that the pours of one forecast start from.

    Parameters
    ----------
    metal : Metal
    block : Block
    stream : Stream
    section_scale : array [-], shape (draws, members)
        By which the width and thickness of each member are multiplied:
        errors of measuring and the difference between like members.
    entry_factor : array [-], shape (draws, members)
        By which the entry pressure of a member is multiplied, for what the
        model leaves out in very thin sections; 1: nothing.
    char_left : array [kg], shape (draws, members), or None
        Carbon that is left on the wall of each member; None: a clean cavity.
    char_activation : array [J/mol], shape (draws,), or None
        Of carbon with the sulphate of the block.
    char_log10_rate : array [-], shape (draws,), or None
        Logarithm to base 10 of its rate in 1/s.  This and ``char_activation``
        are needed where ``char_left`` is given.
    """

    metal: Metal
    block: Block
    stream: Stream
    section_scale: si.Ratios
    entry_factor: si.Ratios
    char_left: si.Kilograms | None = None
    char_activation: si.JoulesPerMole | None = None
    char_log10_rate: si.Ratios | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """How finely the pour is followed; the chances must not depend on it.

    Parameters
    ----------
    share : float [-]
        Most of a segment that the fastest front may cross in one step.  In a taper and to
        narrower passages it goes less far, `pourcast.pour.pace`.
    longest : float [s]
        Longest step.
    growth : float [-]
        By which a step may be longer than the one before.
    lengthening : float [-]
        By which the longest step grows, over the time since the pour began: what is
        slow then goes with the root of the time.
    """

    share: si.Ratio = 0.7
    longest: si.Second = 3e-3
    growth: si.Ratio = 3.0
    lengthening: si.Ratio = 0.010


@dataclass(frozen=True, slots=True, kw_only=True)
class PourResult:
    """How the pours of one forecast end.

    Parameters
    ----------
    filled : array [-], shape (draws, segments)
        Share of the length of each segment that metal reached.
    cause : array of int, shape (draws, segments)
        FULL, or what stopped the metal before or in this segment.
    fill_time : array [s], shape (draws, segments)
        When a segment was full; not a number where it was not.
    temperature : array [K], shape (draws, segments)
        Of the metal in each segment when all fronts have stopped.
    solid_fraction : array [-], shape (draws, segments)
    cold_shut : array of bool, shape (draws, segments)
        Two cold fronts met in this segment.
    metal_left : array [m³], shape (draws,)
        In the cup once all is poured: what the piece did not take.
    end_time : array [s], shape (draws,)
    steps : array of int, shape (draws,)
        Steps that the calculation took.
    char_gas : array [J], shape (draws,), or None
        Pressure times volume of the gas that char gave to the cavity ahead of
        the metal while a front ran; None: not asked for.
    """

    filled: si.Ratios
    cause: si.Integers
    fill_time: si.Seconds
    temperature: si.Kelvins
    solid_fraction: si.Ratios
    cold_shut: si.Booleans
    metal_left: si.CubicMetres
    end_time: si.Seconds
    steps: si.Integers
    char_gas: si.Joules | None = None
