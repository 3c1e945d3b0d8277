"""Steam: what water in the pores of the block needs to boil, and how its steam gets out.

Liquid water and its steam in one pore stand at the pressure of saturation (1).
Heats of water and steam are straight in the temperature,

    liquid h = c_w (T - T0),   steam h = h_0 + c_v (T - T0)                 (2)

so that the heat of boiling falls as they part.  Steam flows by Darcy's law; for
an ideal gas the square of the pressure falls along its way by

    d(p²)/dx = -2 μ R T j / (M K)                                           (3)

with j the mass flow through unit area.  While the block gives off little steam,
kiln air comes into its pores against the flow.  The share of steam, x, grows from 0 at the
face with the flow over the diffusion on the way, j x/(ρ D).  With (3) that is

    x = 1 - exp(-(p² - p_air²) K M / (2 μ R T ρ D))                         (4)

where ρ D of the pores is that of free gas times porosity to the power 4/3.

Left out: slip of gas in small pores, which lets out 1.2 to 1.8 times more steam
(estimate; pressures err high), and moist air in the kiln, with which (4) is too
low and gypsum loses its water a little too early.

Sources: saturation: Wagner and Pruss (1993), J. Phys. Chem. Ref. Data 22, 783.
Viscosity: straight line through the steam tables of IAPWS at one atmosphere,
from memory, within 1 % from 100 to 700 °C.  Diffusion in air: Massman (1998),
Atmos. Environ. 32, 1111, from memory.  Power 4/3: Millington and Quirk (1961),
Trans. Faraday Soc. 57, 1200, from memory.
"""

import math

from pourcast import units as si
from pourcast.kernels import small_kernel

GAS = 461.523  # J/(kg·K), of water vapour, CODATA 2018 over 18.01528 g/mol
BASE = 298.15  # K, where heats are counted from; 25 °C as in tables of formation
LIQUID_HEAT = 4190.0  # J/(kg·K), water 20 to 100 °C, from memory
STEAM_HEAT = 2000.0  # J/(kg·K), steam 100 to 400 °C, from memory
BOILING = 373.124  # K, of water at one atmosphere, IAPWS-95
BOILING_HEAT = 2256.5e3  # J/kg, at that temperature, IAPWS-95
STEAM_BASE = BOILING_HEAT + (LIQUID_HEAT - STEAM_HEAT) * (BOILING - BASE)
"""h_0 of equation 2, J/kg: steam over liquid at `BASE`."""

_CRITICAL_TEMPERATURE, _CRITICAL_PRESSURE = 647.096, 22.064e6  # K, Pa, IAPWS
_HOTTEST = 640.0  # K; no liquid is kept in the pores so hot, a trial step may ask


@small_kernel
def saturation_logarithm(temperature: si.Kelvin) -> si.Ratio:
    """Return the logarithm of saturation over critical pressure, equation 1 [-].

    Parameters
    ----------
    temperature : float [K]
        273 to 640; taken as 640 above.

    Returns
    -------
    float [-]
    """
    kelvin = min(temperature, _HOTTEST)
    t = 1.0 - kelvin / _CRITICAL_TEMPERATURE
    root = math.sqrt(t)
    series = (
        -7.85951783 * t
        + 1.84408259 * t * root
        - 11.7866497 * t * t * t
        + 22.6807411 * t * t * t * root
        - 15.9618719 * t * t * t * t
        + 1.80122502 * t * t * t * t * t * t * t * root
    )
    return series * _CRITICAL_TEMPERATURE / kelvin


@small_kernel
def saturation_pressure(temperature: si.Kelvin) -> si.Pascal:
    """Return the pressure at which water boils at a temperature [Pa].

    Parameters
    ----------
    temperature : float [K]
        273 to 640; taken as 640 above.

    Returns
    -------
    float [Pa]
    """
    return _CRITICAL_PRESSURE * math.exp(saturation_logarithm(temperature))


@small_kernel
def saturation_slope(temperature: si.Kelvin) -> si.PerKelvin:
    """Return how fast the logarithm of the saturation pressure grows [1/K].

    Parameters
    ----------
    temperature : float [K]
        273 to 640; taken as 640 above.

    Returns
    -------
    float [1/K]
    """
    kelvin = min(temperature, _HOTTEST)
    t = 1.0 - kelvin / _CRITICAL_TEMPERATURE
    root = math.sqrt(t)
    slope = (
        -7.85951783
        + 1.5 * 1.84408259 * root
        - 3.0 * 11.7866497 * t * t
        + 3.5 * 22.6807411 * t * t * root
        - 4.0 * 15.9618719 * t * t * t
        + 7.5 * 1.80122502 * t * t * t * t * t * t * root
    )
    return -(saturation_logarithm(temperature) + slope) / kelvin


@small_kernel
def steam_viscosity(temperature: si.Kelvin) -> si.PascalSecond:
    """Return the viscosity of steam at one atmosphere [Pa·s].

    Parameters
    ----------
    temperature : float [K]
        300 to 1000.

    Returns
    -------
    float [Pa·s]
    """
    return 4.07e-8 * (temperature - 73.4)


@small_kernel
def vapour_diffusion(temperature: si.Kelvin) -> si.PascalSecond:
    """Return ρ D of vapour in free gas, with ρ that of steam alone [kg/(m·s), Pa·s].

    Parameters
    ----------
    temperature : float [K]

    Returns
    -------
    float [Pa·s]
    """
    # 0.2178 cm²/s at 273.15 K and one atmosphere, power 1.81; over R T the power is 0.81.
    at_zero = 2.178e-5 * si.STANDARD_ATMOSPHERE / (GAS * si.ZERO_CELSIUS)
    return at_zero * math.exp(0.81 * math.log(temperature / si.ZERO_CELSIUS))


@small_kernel
def steam_share(
    pressure: si.Pascal,
    air_pressure: si.Pascal,
    temperature: si.Kelvin,
    permeability: si.SquareMetre,
    open_share: si.Ratio,
) -> si.Ratio:
    """Return the share of steam in the gas of the pores, equation 4 [-].

    Parameters
    ----------
    pressure, air_pressure : float [Pa]
        Of the gas in the pores; outside.
    temperature : float [K]
    permeability : float [m²]
        Of the dry block.
    open_share : float [-]
        Porosity to the power 4/3.

    Returns
    -------
    float [-]
    """
    over = pressure * pressure - air_pressure * air_pressure
    slowness = 2.0 * steam_viscosity(temperature) * GAS * temperature
    return 1.0 - math.exp(
        -over * permeability / (slowness * vapour_diffusion(temperature) * open_share)
    )
