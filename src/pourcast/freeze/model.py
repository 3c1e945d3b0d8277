"""What freezing starts from beyond the pour, and what it comes to, draw by draw."""

from dataclasses import dataclass
from typing import Literal

from pourcast import units as si
from pourcast.pour.model import PourCase

Top = Literal["open", "covered"]

BUTTON, NOWHERE = -1, -2
"""Stand for a segment: the button; no metal, or no way for it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FreezeCase:
    """All that the freezing of one forecast starts from; each array has shape (draws,).

    Parameters
    ----------
    pour : PourCase
        Metal, block and cup of the same draws.
    seventy_solid, ninety_solid : array [K]
        Temperatures of 70 and 90 % solid; see `pourcast.freeze.solid.usual_knots`.
    solid_specific_heat : array [J/(kg·K)]
    solid_conductivity : array [W/(m·K)]
        Near the solidus.
    shrinkage : array [-]
        Volume that the metal loses on freezing, over that of the liquid.
    liquid_contraction : array [1/K]
        Volume that the liquid loses for each kelvin.
    feed_stop : array [-]
        Solid fraction at which metal stops moving between the crystals.
    gap_heat_transfer : array [W/(m²·K)]
        From metal to mould face when it is solid and stands off.
    room_temperature : array [K]
    top : {"open", "covered"}
        Of the button, while it freezes.
    top_heat_transfer : array [W/(m²·K)]
        From the top of the button to the room, without radiation.
    top_emissivity : array [-]
    flask_heat_transfer : array [W/(m²·K)]
        From the outside of the flask to the room, without radiation.
    flask_emissivity : array [-]
    burst_temperature : array [K]
        Of the block, below which it no longer bursts off in water.
    vacuum_hold : array or None [s]
        For which the pump draws from the start of the pour; None: not said, or no pump.
    """

    pour: PourCase
    seventy_solid: si.Kelvins
    ninety_solid: si.Kelvins
    solid_specific_heat: si.JoulesPerKilogramKelvin
    solid_conductivity: si.WattsPerMetreKelvin
    shrinkage: si.Ratios
    liquid_contraction: si.PerKelvins
    feed_stop: si.Ratios
    gap_heat_transfer: si.WattsPerSquareMetreKelvin
    room_temperature: si.Kelvins
    top: Top
    top_heat_transfer: si.WattsPerSquareMetreKelvin
    top_emissivity: si.Ratios
    flask_heat_transfer: si.WattsPerSquareMetreKelvin
    flask_emissivity: si.Ratios
    burst_temperature: si.Kelvins
    vacuum_hold: si.Seconds | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FreezeSteps:
    """How finely the freezing is followed.

    Parameters
    ----------
    first : float [s]
    growth : float [-]
        Of each step over the one before; above 1.
    longest : float [s]
        Where the calculation ends, whatever is still hot.
    """

    first: si.Second = 0.06
    growth: si.Ratio = 1.2
    longest: si.Second = 7200.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FreezeResult:
    """How the castings of one forecast freeze; times count from the start of the pour.

    Not a number stands for what does not happen, or not within the time followed.

    Parameters
    ----------
    freeze_time, feed_stop_time : array [s], shape (draws, segments)
        When a segment is all solid; when metal no longer moves through it.
    button_freeze_time, button_feed_stop_time : array [s], shape (draws,)
        Of the slice of the button that is last.
    last : array of int, shape (draws,)
        Segment that is solid last; `BUTTON`, also where a segment outlives it by less than 5 %.
    lack : array [m³], shape (draws, segments)
        What a pool that was cut off still had to shrink, at the thickest
        segment of it, the hot spot.
    cut_time : array [s], shape (draws, segments)
        When the pool of a hot spot was cut off; 0: it never had a way to the button.
    neck : array of int, shape (draws, segments)
        Of a hot spot: the segment whose closing cut it off, `BUTTON`, or `NOWHERE`.
    pool : array of int, shape (draws, segments)
        Hot spot that a segment drew on last; `BUTTON` where that is the button,
        `NOWHERE` where there is no metal.
    pool_volume : array [m³], shape (draws, segments)
        Of the pool of a hot spot when it was cut off; 0 elsewhere.
    all_solid : array [s], shape (draws,)
        When the piece and the button are solid.
    button_below : array [s], shape (draws,)
        When the middle of the button is the margin of `pourcast.freeze.quench` below the solidus.
    button_dark : array [s], shape (draws,)
        When the hottest place of the button no longer glows.
    quench_from, quench_to : array [s], shape (draws,)
        First and last moment for the quench.
    above_760, above_900 : array [s], shape (draws,)
        For how long the mould face beside the button is hotter than 760 and 900 °C.
    face_peak : array [K], shape (draws,)
        Hottest that the mould face beside the button gets.
    heat_given : array [J], shape (draws,)
        By the metal, in the time that was followed.
    heat_missing : array [J], shape (draws,)
        Of it, what neither mould nor room received; rounding.
    steps : array of int, shape (draws,)
    """

    freeze_time: si.Seconds
    feed_stop_time: si.Seconds
    button_freeze_time: si.Seconds
    button_feed_stop_time: si.Seconds
    last: si.Integers
    lack: si.CubicMetres
    cut_time: si.Seconds
    neck: si.Integers
    pool: si.Integers
    pool_volume: si.CubicMetres
    all_solid: si.Seconds
    button_below: si.Seconds
    button_dark: si.Seconds
    quench_from: si.Seconds
    quench_to: si.Seconds
    above_760: si.Seconds
    above_900: si.Seconds
    face_peak: si.Kelvins
    heat_given: si.Joules
    heat_missing: si.Joules
    steps: si.Integers


@dataclass(frozen=True, slots=True, kw_only=True)
class HotSpot:
    """The worst place of a part that is cut off from the button while it still shrinks.

    Parameters
    ----------
    part : str
    segment : int
        Where it is over the draws most of all.
    chance : float [-]
        Share of the draws in which some place of the part lacks enough to be told.
    count : int
        Such places of the part in one casting, the middle of those draws.
    lack : float [m³]
        Of the largest of them, the middle of those draws.
    total : float [m³]
        Of all of them together, the middle of those draws.
    cut_time, close_time : float [s]
        When it is cut off, and when metal stops moving in it; middle of those draws.
    neck : str
        Part whose closing cuts it off most often; "button" where that is the
        button, "" where there never was a way.
    draw : int
        A draw in which it lacks about as much as said.
    modulus : float [m]
        Casting modulus of all that draws on it, in that draw.
    """

    part: str
    segment: int
    chance: si.Ratio
    count: int
    lack: si.CubicMetre
    total: si.CubicMetre
    cut_time: si.Second
    close_time: si.Second
    neck: str
    draw: int
    modulus: si.Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class Feeder:
    """A wax rod from a hot spot to the button that would feed it.

    Parameters
    ----------
    segment : int
        Hot spot that it starts at.
    part : str
        Name of the part that it starts on.
    length : float [m]
        Straight from the hot spot to the floor of the button.
    diameter_by_modulus : float [m]
        Whose casting modulus is 1.2 times that of the hot spot.
    diameter_by_model : float [m]
        That closes as late as the hot spot by this forecast.
    diameter : float [m]
        The larger of the two.
    """

    segment: int
    part: str
    length: si.Metre
    diameter_by_modulus: si.Metre
    diameter_by_model: si.Metre
    diameter: si.Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class Pools:
    """The pools of one casting; one row a pool.

    Parameters
    ----------
    owner : array of int, shape (places,)
        Pool that a place belonged to when it closed; -1: the place is not there.
    peak : array of int, shape (pools,)
        Place that closes last.
    cut_time : array [s], shape (pools,)
        -1 where it was never parted from the pool that holds it.
    bridge : array of int, shape (pools,)
        Place whose closing cut it off; -1 where none did.
    parent : array of int, shape (pools,)
        Pool that fed it until then; -1 where none did.
    volume : array [m³], shape (pools,)
        Of its places when it was cut off, of all of them where it never was.
    fed : array of bool, shape (pools,)
        It holds a feeder.
    """

    owner: si.Integers
    peak: si.Integers
    cut_time: si.Seconds
    bridge: si.Integers
    parent: si.Integers
    volume: si.CubicMetres
    fed: si.Booleans
