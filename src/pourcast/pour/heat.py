"""Heat: how fast metal in a passage cools, and how solid it is.

Model: the section is one temperature (Biot number under 0.1 for d < 3 mm).
Heat leaves through the face of the mould and soaks into the block,

    q = (T - T_mould) / (1/h + R),   R = (a/k) ln(1 + √(π α τ)/a)      (1)

with a = girth / 2π and τ the time that the face has been in touch.  R is the
half-space law for short times and tends to the log law of a cylinder.  It
lies up to 4 % over the exact flux of a cylinder held at one temperature.

The heat content H (J/kg, 0 at the liquidus, hotter is positive) gives
temperature and solid fraction along two straight pieces: liquidus to the
temperature of solid fraction 0.5, and from there to the solidus.

Left out: recalescence, and heat that one leaf sends to the next through
the block (errs to the cold side in dense heads).

Source: Carslaw and Jaeger (1959), Conduction of Heat in Solids, 13.5, for the
exact flux that (1) is held against; (1) itself joins the two limits.
"""

import math
from typing import NamedTuple

from pourcast import units as si
from pourcast.kernels import kernel, small_kernel
from pourcast.pour.elementary import logarithm


class Curve(NamedTuple):
    """How a metal freezes.

    Parameters
    ----------
    liquidus, half_solid, solidus : float [K]
        Falling, or the same.
    specific_heat : float [J/(kg·K)]
        Of the liquid.
    latent_heat : float [J/kg]
    """

    liquidus: si.Kelvin
    half_solid: si.Kelvin
    solidus: si.Kelvin
    specific_heat: si.JoulePerKilogramKelvin
    latent_heat: si.JoulePerKilogram


@kernel
def temperature_of(
    heat: si.JoulePerKilogram,
    curve: Curve,
) -> si.Kelvin:
    """Return the temperature at a heat content [K].

    Parameters
    ----------
    heat : float [J/kg]
        0 at the liquidus, positive above.
    curve : Curve

    Returns
    -------
    float [K]
    """
    # A sum over the pieces and no choice of one, so that loops can take several at once.
    upper = curve.specific_heat * (curve.liquidus - curve.half_solid) + 0.5 * curve.latent_heat
    lower = curve.specific_heat * (curve.half_solid - curve.solidus) + 0.5 * curve.latent_heat
    gone = -heat
    first = min(max(gone, 0.0), upper) * ((curve.liquidus - curve.half_solid) / upper)
    second = min(max(gone - upper, 0.0), lower) * ((curve.half_solid - curve.solidus) / lower)
    apart = min(gone, 0.0) + max(gone - upper - lower, 0.0)
    return curve.liquidus - first - second - apart / curve.specific_heat


@kernel
def solid_fraction_of(
    heat: si.JoulePerKilogram,
    curve: Curve,
) -> si.Ratio:
    """Return the solid fraction at a heat content [-].

    Parameters
    ----------
    heat : float [J/kg]
    curve : Curve

    Returns
    -------
    float [-]
        0 to 1.
    """
    upper = curve.specific_heat * (curve.liquidus - curve.half_solid) + 0.5 * curve.latent_heat
    lower = curve.specific_heat * (curve.half_solid - curve.solidus) + 0.5 * curve.latent_heat
    first = min(max(-heat, 0.0) / upper, 1.0)
    second = min(max(-heat - upper, 0.0) / lower, 1.0)
    return 0.5 * (first + second)


@kernel
def heat_at_solid_fraction(
    solid_fraction: si.Ratio,
    curve: Curve,
) -> si.JoulePerKilogram:
    """Return the heat content at a solid fraction; inverse of `solid_fraction_of` [J/kg].

    Parameters
    ----------
    solid_fraction : float [-]
        0 to 1.
    curve : Curve

    Returns
    -------
    float [J/kg]
        0 or less.
    """
    upper = curve.specific_heat * (curve.liquidus - curve.half_solid) + 0.5 * curve.latent_heat
    if solid_fraction <= 0.5:
        return -2.0 * solid_fraction * upper
    lower = curve.specific_heat * (curve.half_solid - curve.solidus) + 0.5 * curve.latent_heat
    return -upper - (2.0 * solid_fraction - 1.0) * lower


@small_kernel
def soaking(rate: si.PerSecond, age: si.Second) -> si.Ratio:
    """Return ln(1 + √(π α τ)/a) of equation 1 [-].

    Parameters
    ----------
    rate : float [1/s]
        π α / a².
    age : float [s]
        Time that the face has been in touch with metal; >= 0.

    Returns
    -------
    float [-]
    """
    # Not log1p: the miss is 1e-16, and it stands beside a 1.
    return logarithm(1.0 + math.sqrt(rate * age))


@small_kernel
def soaking_rate(radius: si.Metre, diffusivity: si.SquareMetrePerSecond) -> si.PerSecond:
    """Return π α / a², the rate that `soaking` takes [1/s].

    Parameters
    ----------
    radius : float [m]
        Girth over 2π; > 0.
    diffusivity : float [m²/s]
        Of the mould.

    Returns
    -------
    float [1/s]
    """
    return math.pi * diffusivity / (radius * radius)
