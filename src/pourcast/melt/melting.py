"""Melting: how much heat does a charge take, and how many minutes is that?

Metal is warmed to its solidus, melts over a span of temperature, and is warmed on:

    Q/m = c_s (T_s - T_0) + L + c_s (T_m - T_s) + c_l (T_p - T_m)            (1)

with solidus T_s, liquidus T_m, pour temperature T_p, and the specific heats of solid
and liquid.  Over the span in which it melts the heat of the solid counts, as the
records count it: their latent heat is without it.  A furnace that has warmed a mass
to its pour temperature in a known time gives heat at

    P = Q / (t - t_0)                                                        (2)

t_0 is what furnace and crucible take before the metal warms; with two melts or more
of different mass it comes out of a straight line through them.

Left out: that a furnace gives less as the metal nears its own heat (a large charge
takes longer than (2) says: hopeful), and a furnace still hot from a melt before
(shorter: on the late side).

Source: heat balance, Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, ch. 1.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_not_negative, require_positive


@dataclass(frozen=True, slots=True, kw_only=True)
class Melt:
    """One melt as a furnace's own log has it.

    Parameters
    ----------
    mass : float [kg]
    time : float [s]
        From lighting to metal at its pour temperature.
    """

    mass: si.Kilogram
    time: si.Second


@dataclass(frozen=True, slots=True, kw_only=True)
class Furnace:
    """What a furnace does.

    Parameters
    ----------
    power : float [W]
        That reaches the metal.
    warming : float [s]
        Before it does.
    melts : int
        Of the log that this rests on.
    """

    power: si.Watt
    warming: si.Second
    melts: int


def heat_to_pour(
    *,
    start: si.Kelvin,
    solidus: si.Kelvin,
    liquidus: si.Kelvin,
    pour: si.Kelvin,
    solid_heat: si.JoulePerKilogramKelvin,
    liquid_heat: si.JoulePerKilogramKelvin,
    latent: si.JoulePerKilogram,
) -> si.JoulePerKilogram:
    """Return the heat that a unit mass takes from cold to its pour temperature, equation (1).

    Parameters
    ----------
    start, solidus, liquidus, pour : float [K]
        Rising.
    solid_heat, liquid_heat : float [J/(kg·K)]
        > 0.
    latent : float [J/kg]
        > 0.

    Returns
    -------
    float [J/kg]

    Raises
    ------
    InputError
        If the temperatures do not rise, or a heat is not above 0.
    """
    for what, value, unit in (
        ("solid_heat", solid_heat, "J/(kg·K)"),
        ("liquid_heat", liquid_heat, "J/(kg·K)"),
        ("latent", latent, "J/kg"),
    ):
        require_positive(what, value, unit)
    if not 0.0 < start <= solidus <= liquidus <= pour:
        shown = f"{start:g}, {solidus:g}, {liquidus:g}, {pour:g}"
        raise InputError("start, solidus, liquidus and pour", shown, "K", "rising")
    return solid_heat * (liquidus - start) + latent + liquid_heat * (pour - liquidus)


def furnace_of(melts: Sequence[Melt], heat: si.JoulePerKilogram) -> Furnace:
    """Return what a furnace does by its own log, equation (2).

    Parameters
    ----------
    melts : sequence of Melt
        One or more, of one metal to one pour temperature.
    heat : float [J/kg]
        From `heat_to_pour`.

    Returns
    -------
    Furnace
        ``warming`` is 0 where the log cannot tell it.

    Raises
    ------
    InputError
        If there is no melt, or a number is not above 0.
    """
    if not melts:
        raise InputError("melts of the furnace", "none", "", "one or more")
    require_positive("heat", heat, "J/kg")
    for melt in melts:
        require_positive("mass of a melt", melt.mass, "kg")
        require_positive("time of a melt", melt.time, "s")
    mass = np.array([melt.mass for melt in melts])
    time = np.array([melt.time for melt in melts])
    off = mass - mass.mean()
    spread = float(off @ off)
    each = float(off @ time) / spread if spread > 0.0 else 0.0
    warming = float(time.mean()) - each * float(mass.mean())
    if each <= 0.0 or warming < 0.0:
        # Masses too alike, or times that fall as the mass grows: a line says nothing.
        each, warming = float(time.sum() / mass.sum()), 0.0
    return Furnace(power=heat / each, warming=warming, melts=len(melts))


def melt_time(furnace: Furnace, mass: si.Kilogram, heat: si.JoulePerKilogram) -> si.Second:
    """Return how long a charge takes from lighting to its pour temperature.

    Parameters
    ----------
    furnace : Furnace
    mass : float [kg]
        > 0.
    heat : float [J/kg]
        > 0.

    Returns
    -------
    float [s]

    Raises
    ------
    InputError
        If a number is outside its limits.
    """
    require_positive("mass", mass, "kg")
    require_positive("heat", heat, "J/kg")
    require_positive("power of the furnace", furnace.power, "W")
    require_not_negative("warming of the furnace", furnace.warming, "s")
    return furnace.warming + mass * heat / furnace.power


def crucible_share(
    mass: si.Kilogram, density: si.KilogramPerCubicMetre, room: si.CubicMetre
) -> si.Ratio:
    """Return the share of a crucible that a charge fills once it is liquid.

    Parameters
    ----------
    mass : float [kg]
    density : float [kg/m³]
        Of the liquid.
    room : float [m³]
        Of the crucible to its brim.

    Returns
    -------
    float [-]
        Over 1: it does not hold it.

    Raises
    ------
    InputError
        If a number is not above 0.
    """
    require_positive("mass", mass, "kg")
    require_positive("density", density, "kg/m³")
    require_positive("room of the crucible", room, "m³")
    return mass / density / room
