"""Gypsum: how fast it gives off its water as the block heats, and what heat that takes.

Gypsum gives off three quarters of its water and is hemihydrate, which gives off
the rest and is soluble anhydrite.  With r the share that has not yet taken a step,

    dr/dt = -k √r · (1 - p/p_e),   k = A exp(-E/RT)                         (1)

where p is the pressure of steam in the pores and p_e(T) that at which the step
stands still (van 't Hoff, from the heat of the step and the temperature at which p_e is
one atmosphere).  In its own steam a step therefore waits for a higher
temperature.  The step takes the heat of formation at 25 °C, with steam, and what
the water in it and the steam hold above that.

E is the top of a published span; order and the two A were fitted to the three
temperatures at which a small sample had lost 10, 50 and 90 % of its water, so these
three are no check of (1); the temperatures of the two heat peaks, the heat and
the order of the steps are.

Left out: soluble to insoluble anhydrite, which gives 1.5 % of the heat of the day
back near 400 °C (errs to the cold side); water taken up again from damp air.

Sources: E: Lopez et al. (2015), Mater. Construcc. 65, e061, 61 to 118 kJ/mol.
Fit: gypsum board core, 10 K/min in nitrogen, fire-safety materials data base.
Steps in their own steam: heats and entropies of formation of the NBS Tables
(1982), from memory (gypsum 194.1, hemihydrate 130.5, soluble anhydrite 108.4, steam
188.8 J/(mol·K)): 105.6 and 150 °C at one atmosphere.
"""

import math

from pourcast import units as si
from pourcast.kernels import small_kernel

WATER = 0.20927  # kg of water in unit mass of gypsum, formula weights
FIRST_WATER, SECOND_WATER = 0.75 * WATER, 0.25 * WATER  # given off in the two steps
HEMIHYDRATE = 1.0 - FIRST_WATER  # kg from unit mass of gypsum
ANHYDRITE = 1.0 - WATER

ACTIVATION = 118e3  # J/mol, both steps
_PER_KELVIN = ACTIVATION / si.GAS_CONSTANT  # K
FIRST_RATE, FIRST_AT = 0.01249, 397.0  # 1/s at K; fitted
SECOND_RATE, SECOND_AT = 0.01243, 408.0  # 1/s at K; fitted

_FIRST_STILL, FIRST_LATENT = 378.7, 55.44e3  # K at one atmosphere; J over mol of steam
_SECOND_STILL, SECOND_LATENT = 423.0, 61.2e3

COLD = 320.0  # K; k is under 2e-8 1/s: three hours there take 0.01 % of a step


@small_kernel
def step_rate(temperature: si.Kelvin, rate: si.PerSecond, at: si.Kelvin) -> si.PerSecond:
    """Return k of equation 1 [1/s].

    Parameters
    ----------
    temperature : float [K]
    rate : float [1/s]
        At a temperature.
    at : float [K]
        That temperature.

    Returns
    -------
    float [1/s]
    """
    return rate * math.exp(_PER_KELVIN * (1.0 / at - 1.0 / temperature))


@small_kernel
def first_still(temperature: si.Kelvin) -> si.Pascal:
    """Return the pressure of steam at which gypsum keeps its water [Pa].

    Parameters
    ----------
    temperature : float [K]

    Returns
    -------
    float [Pa]
    """
    return si.STANDARD_ATMOSPHERE * math.exp(
        FIRST_LATENT / si.GAS_CONSTANT * (1.0 / _FIRST_STILL - 1.0 / temperature)
    )


@small_kernel
def second_still(temperature: si.Kelvin) -> si.Pascal:
    """Return the pressure of steam at which hemihydrate keeps its water [Pa].

    Parameters
    ----------
    temperature : float [K]

    Returns
    -------
    float [Pa]
    """
    return si.STANDARD_ATMOSPHERE * math.exp(
        SECOND_LATENT / si.GAS_CONSTANT * (1.0 / _SECOND_STILL - 1.0 / temperature)
    )


@small_kernel
def taken_in(share: si.Ratio, rate: si.PerSecond, time: si.Second) -> si.Ratio:
    """Return the share that takes a step in a time, exact for a rate that holds [-].

    Parameters
    ----------
    share : float [-]
        That has not taken it.
    rate : float [1/s]
        k of equation 1 with its factor of pressure.
    time : float [s]

    Returns
    -------
    float [-]
    """
    root = max(math.sqrt(share) - 0.5 * rate * time, 0.0)
    return share - root * root


@small_kernel
def taken_slope(share: si.Ratio, rate: si.PerSecond, time: si.Second) -> si.Second:
    """Return how the share of `taken_in` grows with the rate [s].

    Parameters
    ----------
    share : float [-]
    rate : float [1/s]
    time : float [s]

    Returns
    -------
    float [s]
    """
    return max(math.sqrt(share) - 0.5 * rate * time, 0.0) * time


@small_kernel
def rate_slope(
    temperature: si.Kelvin, drive: si.Ratio, heat_of_steam: si.JoulePerMole
) -> si.PerKelvin:
    """Return how fast k times its factor of pressure grows, over k [1/K].

    Parameters
    ----------
    temperature : float [K]
    drive : float [-]
        1 - p/p_e of equation 1.
    heat_of_steam : float [J/mol]
        Of the step, over mole of steam.

    Returns
    -------
    float [1/K]
    """
    held = (1.0 - drive) * heat_of_steam / si.GAS_CONSTANT
    return (_PER_KELVIN * drive + held) / (temperature * temperature)
