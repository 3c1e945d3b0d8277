"""What the freezing in cells starts from; what it gives stands in `pourcast.freeze.fields`.

Places are those of the network: x and y from the axis of the flask, z up from the
gate.
"""

from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from pourcast import units as si
from pourcast.freeze.quench import FACE_HIGH, FACE_LOW
from pourcast.freeze.solid import Knots

Wall = Literal["solid", "perforated", "bare"]
Top = Literal["open", "covered"]

HOT_LIMITS = (FACE_LOW, FACE_HIGH)
"""K, of the mould face; see `pourcast.freeze.quench`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VoxelMetal:
    """The metal.

    Parameters
    ----------
    density : float [kg/m³]
        One for liquid and solid.
    knots : Knots
        Its freezing curve.
    solid_conductivity, liquid_conductivity : float [W/(m·K)]
    interface_heat_transfer : float [W/(m²·K)]
        From metal to mould face.
    """

    density: si.KilogramPerCubicMetre
    knots: Knots
    solid_conductivity: si.WattPerMetreKelvin
    liquid_conductivity: si.WattPerMetreKelvin
    interface_heat_transfer: si.WattPerSquareMetreKelvin


@dataclass(frozen=True, slots=True, kw_only=True)
class VoxelMould:
    """The burnt investment; its properties by a table over temperature.

    Parameters
    ----------
    density : float [kg/m³]
    temperature : array [K], shape (rows,)
        Rising; outside of it the end values hold.
    conductivity : array [W/(m·K)], shape (rows,)
    specific_heat : array [J/(kg·K)], shape (rows,)
    """

    density: si.KilogramPerCubicMetre
    temperature: si.Kelvins
    conductivity: si.WattsPerMetreKelvin
    specific_heat: si.JoulesPerKilogramKelvin


@dataclass(frozen=True, slots=True, kw_only=True)
class VoxelBlock:
    """The block in its wall, and what stands round it.

    Parameters
    ----------
    radius : float [m]
    top, bottom : float [m]
        Of the block, up from the gate; the bottom is below 0.  The top is the
        rim of the button.
    wall : {"solid", "perforated", "bare"}
        Bare: the flask was taken off.
    wall_thickness : float [m]
        Of the steel; 0 where it is bare.
    open_share : float [-]
        Of a perforated wall that is holes; it takes that much off the steel.
    wall_density : float [kg/m³]
    wall_specific_heat : float [J/(kg·K)]
    gap_heat_transfer : float [W/(m²·K)]
        Between block and steel.
    air_heat_transfer : float [W/(m²·K)]
        Convection from every face in air.
    wall_emissivity, mould_emissivity : float [-]
        Of the steel and of bare investment.
    room : float [K]
        Air and surfaces around.
    in_vacuum : bool
        Side and bottom stand in the vacuum chamber: they radiate, without
        convection.  The top is outside.
    button_top : {"open", "covered"}
    top_emissivity : float [-]
        Of the metal of an open button.
    cover_heat_transfer : float [W/(m²·K)]
        Through fibre or powder on a covered button, to the room.
    """

    radius: si.Metre
    top: si.Metre
    bottom: si.Metre
    wall: Wall
    wall_thickness: si.Metre
    wall_density: si.KilogramPerCubicMetre
    room: si.Kelvin
    open_share: si.Ratio = 0.0
    wall_specific_heat: si.JoulePerKilogramKelvin = 600.0  # near 500 °C, from memory
    gap_heat_transfer: si.WattPerSquareMetreKelvin = 400.0  # estimate
    air_heat_transfer: si.WattPerSquareMetreKelvin = 10.0  # still air, estimate
    wall_emissivity: si.Ratio = 0.8  # scaled steel, from memory
    mould_emissivity: si.Ratio = 0.9  # white mineral surface at long wave, estimate
    in_vacuum: bool = False
    button_top: Top = "open"
    top_emissivity: si.Ratio = 0.45  # melt under a skin, from memory
    cover_heat_transfer: si.WattPerSquareMetreKelvin = 4.0  # 25 mm of fibre, estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class VoxelStart:
    """The moment from which the freezing is followed.

    Parameters
    ----------
    metal : float [K]
        Of the metal in the button, and in every segment where none is given.
    mould : float [K]
    segment_temperature : array or None [K], shape (segments,)
        As the pour left them.
    segment_solid_fraction : array or None [-], shape (segments,)
    filled : array or None [-], shape (segments,)
        Share of each segment that metal reached; below one half it is left out.
    """

    metal: si.Kelvin
    mould: si.Kelvin
    segment_temperature: si.Kelvins | None = None
    segment_solid_fraction: si.Ratios | None = None
    filled: si.Ratios | None = None


def _no_places() -> si.Metres:
    return np.zeros((0, 3))


@dataclass(frozen=True, slots=True, kw_only=True)
class VoxelAsk:
    """What to keep on the way.

    Parameters
    ----------
    section_times : tuple of float [s]
        When the middle section of the block is kept.
    places : array [m], shape (places, 3)
        Where cooling curves are kept, besides the usual places.
    beta : float [-]
        Share by which the metal shrinks on freezing.
    liquid_contraction : float [1/K]
        Share by which the liquid shrinks on cooling.
    stop_fraction : float [-]
        Solid fraction at which metal no longer moves through a place.
    """

    section_times: tuple[si.Second, ...] = (10.0, 60.0, 300.0, 900.0)
    places: si.Metres = field(default_factory=_no_places)
    beta: si.Ratio = 0.048  # estimate; bronzes about 4 to 5 %, from memory
    liquid_contraction: si.PerKelvin = 1e-4  # 1 % in 100 K, estimate
    stop_fraction: si.Ratio = 0.7  # 0.6 to 0.8, estimate
