"""Solid: how much of the metal is solid at a temperature, and what heat that takes.

Model: a freezing curve is five knots, the temperatures at which 0, 50, 70, 90
and 100 % are solid, with straight lines between them.  The heat content H
(J/kg, 0 at the liquidus, hotter is positive) falls from knot to knot by

    ΔH = c ΔT + L Δf,   c = (1 - f) c_liquid + f c_solid at the mid of the two  (1)

and temperature and solid fraction are straight in H between two knots.  Above
the liquidus c is that of the liquid, below the solidus that of the solid.

Where an alloy has no values for 70 and 90 % they are taken from the half-solid
temperature and the solidus in the shares of silicon bronze C87300
(`usual_knots`); an estimate, as the shares of other alloys were not found.

Left out: undercooling and the rise of temperature after it.
"""

from typing import NamedTuple

import numpy as np

from pourcast import units as si
from pourcast.errors import require_not_negative, require_positive
from pourcast.kernels import kernel

LEVELS = (0.0, 0.5, 0.7, 0.9, 1.0)
"""Solid fractions of the knots."""

_SEVENTY, _NINETY = 0.368, 0.754
"""Share of the way from half solid to solidus at 70 and 90 %: of C87300, (935 - 893) / 114
and (935 - 849) / 114 of the values of its record; an estimate for other alloys."""


class Knots(NamedTuple):
    """The freezing curve of one draw, as kernels take it.

    Parameters
    ----------
    liquidus, half, seventy, ninety, solidus : float [K]
        Temperatures of the knots, falling or the same.
    heat_half, heat_seventy, heat_ninety, heat_solidus : float [J/kg]
        Heat content there, 0 at the liquidus, so below 0.
    liquid_heat, solid_heat : float [J/(kg·K)]
        Specific heats.
    """

    liquidus: si.Kelvin
    half: si.Kelvin
    seventy: si.Kelvin
    ninety: si.Kelvin
    solidus: si.Kelvin
    heat_half: si.JoulePerKilogram
    heat_seventy: si.JoulePerKilogram
    heat_ninety: si.JoulePerKilogram
    heat_solidus: si.JoulePerKilogram
    liquid_heat: si.JoulePerKilogramKelvin
    solid_heat: si.JoulePerKilogramKelvin


def usual_knots(half_solid: si.Kelvins, solidus: si.Kelvins) -> tuple[si.Kelvins, si.Kelvins]:
    """Return the temperatures of 70 and 90 % solid of an alloy that has no values for them [K].

    Parameters
    ----------
    half_solid, solidus : array [K], shape (draws,)

    Returns
    -------
    pair of array [K], shape (draws,)
    """
    fall = half_solid - solidus
    return half_solid - _SEVENTY * fall, half_solid - _NINETY * fall


def heats_of(
    temperatures: si.Kelvins,
    liquid_heat: si.JoulesPerKilogramKelvin,
    solid_heat: si.JoulesPerKilogramKelvin,
    latent_heat: si.JoulesPerKilogram,
) -> si.JoulesPerKilogram:
    """Return the heat contents at the knots of many freezing curves, equation 1 [J/kg].

    Parameters
    ----------
    temperatures : array [K], shape (draws, 5)
        Of `LEVELS`; falling, or the same.
    liquid_heat, solid_heat : array [J/(kg·K)], shape (draws,)
        Specific heats.
    latent_heat : array [J/kg], shape (draws,)

    Returns
    -------
    array [J/kg], shape (draws, 5)
        0 at the liquidus, falling.

    Raises
    ------
    InputError
        If a temperature lies over the one before it, or a heat is not above 0.
    """
    fall = -np.diff(temperatures, axis=1)
    require_not_negative("fall of the freezing curve", fall, "K")
    require_positive("specific heat", [liquid_heat, solid_heat], "J/(kg·K)")
    require_positive("latent_heat", latent_heat, "J/kg")
    levels = np.array(LEVELS)
    middle = 0.5 * (levels[1:] + levels[:-1])
    specific = np.outer(liquid_heat, 1.0 - middle) + np.outer(solid_heat, middle)
    steps = specific * fall + np.outer(latent_heat, np.diff(levels))
    return np.concatenate([np.zeros((fall.shape[0], 1)), -np.cumsum(steps, axis=1)], axis=1)


def knots_of(
    temperatures: tuple[si.Kelvin, si.Kelvin, si.Kelvin, si.Kelvin, si.Kelvin],
    liquid_heat: si.JoulePerKilogramKelvin,
    solid_heat: si.JoulePerKilogramKelvin,
    latent_heat: si.JoulePerKilogram,
) -> Knots:
    """Return the freezing curve of one draw, equation 1.

    Parameters
    ----------
    temperatures : tuple of float [K]
        Of `LEVELS`; falling, or the same.
    liquid_heat, solid_heat : float [J/(kg·K)]
        Specific heats.
    latent_heat : float [J/kg]

    Returns
    -------
    Knots

    Raises
    ------
    InputError
        If a temperature lies over the one before it, or a heat is not above 0.
    """
    heats = heats_of(
        np.array([temperatures]),
        np.array([liquid_heat]),
        np.array([solid_heat]),
        np.array([latent_heat]),
    )[0].tolist()
    return Knots(*temperatures, heats[1], heats[2], heats[3], heats[4], liquid_heat, solid_heat)


@kernel
def temperature_at(heat: si.JoulePerKilogram, knots: Knots) -> si.Kelvin:
    """Return the temperature at a heat content [K].

    Parameters
    ----------
    heat : float [J/kg]
    knots : Knots

    Returns
    -------
    float [K]
    """
    if heat <= knots.heat_solidus:
        return knots.solidus + (heat - knots.heat_solidus) / knots.solid_heat
    if heat >= 0.0:
        return knots.liquidus + heat / knots.liquid_heat
    if heat >= knots.heat_half:
        return knots.liquidus + heat / knots.heat_half * (knots.half - knots.liquidus)
    if heat >= knots.heat_seventy:
        share = (heat - knots.heat_half) / (knots.heat_seventy - knots.heat_half)
        return knots.half + share * (knots.seventy - knots.half)
    if heat >= knots.heat_ninety:
        share = (heat - knots.heat_seventy) / (knots.heat_ninety - knots.heat_seventy)
        return knots.seventy + share * (knots.ninety - knots.seventy)
    share = (heat - knots.heat_ninety) / (knots.heat_solidus - knots.heat_ninety)
    return knots.ninety + share * (knots.solidus - knots.ninety)


@kernel
def fraction_at(heat: si.JoulePerKilogram, knots: Knots) -> si.Ratio:
    """Return the solid fraction at a heat content, 0 to 1 [-].

    Parameters
    ----------
    heat : float [J/kg]
    knots : Knots

    Returns
    -------
    float [-]
    """
    if heat <= knots.heat_solidus:
        return 1.0
    if heat >= 0.0:
        return 0.0
    if heat >= knots.heat_half:
        return 0.5 * heat / knots.heat_half
    if heat >= knots.heat_seventy:
        return 0.5 + 0.2 * (heat - knots.heat_half) / (knots.heat_seventy - knots.heat_half)
    if heat >= knots.heat_ninety:
        return 0.7 + 0.2 * (heat - knots.heat_seventy) / (knots.heat_ninety - knots.heat_seventy)
    return 0.9 + 0.1 * (heat - knots.heat_ninety) / (knots.heat_solidus - knots.heat_ninety)


@kernel
def heat_at_fraction(solid_fraction: si.Ratio, knots: Knots) -> si.JoulePerKilogram:
    """Return the heat content at a solid fraction, 0 or less [J/kg].

    Parameters
    ----------
    solid_fraction : float [-]
        0 to 1.
    knots : Knots

    Returns
    -------
    float [J/kg]
    """
    if solid_fraction <= 0.5:
        return solid_fraction / 0.5 * knots.heat_half
    if solid_fraction <= 0.7:
        share = (solid_fraction - 0.5) / 0.2
        return knots.heat_half + share * (knots.heat_seventy - knots.heat_half)
    if solid_fraction <= 0.9:
        share = (solid_fraction - 0.7) / 0.2
        return knots.heat_seventy + share * (knots.heat_ninety - knots.heat_seventy)
    share = (solid_fraction - 0.9) / 0.1
    return knots.heat_ninety + share * (knots.heat_solidus - knots.heat_ninety)


@kernel
def heat_of_state(
    temperature: si.Kelvin, solid_fraction: si.Ratio, knots: Knots
) -> si.JoulePerKilogram:
    """Return the heat content of metal as the pour left it [J/kg].

    Where it is partly solid the fraction counts, not the temperature, since the
    pour draws its curve through fewer knots.

    Parameters
    ----------
    temperature : float [K]
    solid_fraction : float [-]
    knots : Knots

    Returns
    -------
    float [J/kg]
    """
    if solid_fraction <= 0.0:
        return knots.liquid_heat * max(temperature - knots.liquidus, 0.0)
    if solid_fraction >= 1.0:
        return knots.heat_solidus + knots.solid_heat * min(temperature - knots.solidus, 0.0)
    return heat_at_fraction(solid_fraction, knots)


def tables(
    knots: Knots, coldest: si.Kelvin, hottest: si.Kelvin, entries: int = 4096
) -> tuple[si.JoulesPerKilogram, si.Kelvins, si.Ratios]:
    """Return heat content, temperature and solid fraction in even steps of heat.

    Parameters
    ----------
    knots : Knots
    coldest, hottest : float [K]
        Ends of the table; below the solidus and above the liquidus.
    entries : int
        2 or more.

    Returns
    -------
    tuple of array [J/kg], [K] and [-], shape (entries,)
        Heat rises from entry to entry.

    Raises
    ------
    InputError
        If the ends do not hold the freezing curve.
    """
    require_positive("solidus less coldest", knots.solidus - coldest, "K")
    require_positive("hottest less liquidus", hottest - knots.liquidus, "K")
    low = knots.heat_solidus - knots.solid_heat * (knots.solidus - coldest)
    high = knots.liquid_heat * (hottest - knots.liquidus)
    heat = np.linspace(low, high, entries)
    temperature = np.array([temperature_at(value, knots) for value in heat.tolist()])
    solid = np.array([fraction_at(value, knots) for value in heat.tolist()])
    return heat, temperature, solid
