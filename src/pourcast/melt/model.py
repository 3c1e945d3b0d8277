"""The charge: what the caster has, and what is to be weighed out."""

from dataclasses import dataclass

from pourcast import units as si


@dataclass(frozen=True, slots=True, kw_only=True)
class Charge:
    """The metal that the caster means to pour.

    Parameters
    ----------
    alloy : str
        Key of an alloy record.
    pour_temperature : float [K]
        Read in the pot just before the pour.
    on_hand : float or None [kg]
        New metal on hand; None: not said.
    returns : float or None [kg]
        Old sprues and buttons on hand; None: not said.
    poured : float or None [kg]
        What the caster will weigh out; None: as advised.
    """

    alloy: str
    pour_temperature: si.Kelvin
    on_hand: si.Kilogram | None = None
    returns: si.Kilogram | None = None
    poured: si.Kilogram | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalAccount:
    """What to weigh out, with its spread.

    Parameters
    ----------
    cavity_volume : float [m³]
        Piece and button.
    button_volume : float [m³]
    metal, metal_low, metal_high : float [kg]
        To melt: middle of the draws, and their 5th and 95th percentile.
    piece_metal : float [kg]
        Of it, in the piece.
    button_metal : float [kg]
        Of it, in the button.
    lost_metal : float [kg]
        Of it, to skimming and splash.
    new_metal, return_metal : float [kg]
        How to make up the charge from what is on hand.
    short_by : float [kg]
        What is missing on hand; 0: enough, or not said.
    wax_equivalent : float [kg]
        Mass of a wax of the same volume as the piece.
    wax_factor : float [-]
        Mass of metal over mass of wax of the same volume, both solid.
    """

    cavity_volume: si.CubicMetre
    button_volume: si.CubicMetre
    metal: si.Kilogram
    metal_low: si.Kilogram
    metal_high: si.Kilogram
    piece_metal: si.Kilogram
    button_metal: si.Kilogram
    lost_metal: si.Kilogram
    new_metal: si.Kilogram
    return_metal: si.Kilogram
    short_by: si.Kilogram
    wax_equivalent: si.Kilogram
    wax_factor: si.Ratio
