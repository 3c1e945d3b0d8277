"""Gas: the air ahead of the metal, and how it leaves through the block.

Model.  Air in a pocket and in the pores is an ideal gas at the temperature of
the mould.  It leaves by Darcy flow through the block; for a piece of passage
of length l and radius a = girth / 2π, while the pressure has spread a
distance δ into the block, its volume times pressure falls by

    d(pV)/dt = -(K/μ) S (p² - p_pore²)/2,   S = 2π l / ln(1 + δ/a)       (1)

plus 2πa for each closed end and for the moving front (half a sphere).  A vent
of diameter d and length L takes π d⁴/(128 μ L) in place of K S/μ.  The front of pressure
moves as δ = √(4 K p t / (φ μ)), no farther than the radius that the piece needs.

The pump draws at the wall of the flask: at side and end of a perforated one,
at the end of a solid one, while the top face of the block stays at the air.
Long after pump on, p² is harmonic between these faces; `steady_share` is how
much of the drop from the air to the pump is felt at a depth on the axis.

Left out: slip of gas in small pores (the block passes 1.2 to 1.8 times more,
an estimate: errs to the side of trapped gas), gas of sulphate that breaks up
without char (errs to the hopeful side), air drawn past the rim.  Gas of char that is left
is worked out in `pourcast.pour.char`.

Sources: Darcy (1856); air viscosity Sutherland (1893), constants from memory;
air pressure over the sea: ISO 2533 (1975); series for the cylinder: Carslaw
and Jaeger (1959), 8.3.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.errors import require_between, require_not_negative, require_positive
from pourcast.kernels import kernel, small_kernel

# Zeros of the Bessel function J0 and J1 there; Abramowitz and Stegun (1964), table 9.5.
_ZEROS = (2.404_825_56, 5.520_078_11, 8.653_727_91, 11.791_534_44, 14.930_917_71)
_J1 = (0.519_147_50, -0.340_264_81, 0.271_452_30, -0.232_459_83, 0.206_546_43)


def air_viscosity(temperature: si.Kelvins) -> si.PascalSeconds:
    """Return the viscosity of air [Pa·s].

    Parameters
    ----------
    temperature : array [K], any shape
        > 0.

    Returns
    -------
    array [Pa·s], shape of ``temperature``

    Raises
    ------
    InputError
        If a temperature is not above 0.
    """
    require_positive("temperature", temperature, "K")
    return np.asarray(
        1.716e-5 * (temperature / 273.15) ** 1.5 * (273.15 + 110.4) / (temperature + 110.4)
    )


def air_pressure_at(altitude: si.Metre) -> si.Pascal:
    """Return the usual air pressure at a height over the sea [Pa].

    Parameters
    ----------
    altitude : float [m]
        -500 to 6000.

    Returns
    -------
    float [Pa]

    Raises
    ------
    InputError
        If the altitude is outside its limits.
    """
    require_between("altitude", altitude, "m", -500.0, 6000.0)
    return float(101_325.0 * (1.0 - 0.0065 * altitude / 288.15) ** 5.255_88)


def vent_conductance(
    diameter: si.Metre, length: si.Metre, viscosity: si.PascalSecond
) -> si.CubicMetrePerPascalSecond:
    """Return what a vent passes [m³/(Pa·s)].

    Parameters
    ----------
    diameter, length : float [m]
    viscosity : float [Pa·s]
        Of the gas in it.

    Returns
    -------
    float [m³/(Pa·s)]
        Slow flow in a round tube; a short wide vent passes less than this.
    """
    require_not_negative("vent diameter", diameter, "m")
    require_positive("vent length", length, "m")
    return math.pi * diameter**4 / (128.0 * viscosity * length)


def steady_share(
    depth: si.Metres, radius: si.Metre, block_depth: si.Metre, *, perforated: bool
) -> si.Ratios:
    """Return how much of the vacuum is felt at a depth, long after pump on [-].

    Parameters
    ----------
    depth : array [m], any shape
        Below the top face of the block, on its axis; 0 to ``block_depth``.
    radius : float [m]
        Of the block.
    block_depth : float [m]
        From its top face to its end.
    perforated : bool
        True: drawn on at side and end; False: at the end alone.

    Returns
    -------
    array [-], shape of ``depth``
        Share of the drop of p²: 0 at the top face, 1 at the pump.

    Raises
    ------
    InputError
        If a size is not above 0 or a depth lies outside the block.
    """
    require_positive("radius", radius, "m")
    require_positive("block_depth", block_depth, "m")
    require_between("depth", depth, "m", 0.0, block_depth)
    if not perforated:
        return np.asarray(depth / block_depth)
    total = np.zeros_like(np.asarray(depth, dtype=float))
    for zero, slope in zip(_ZEROS, _J1, strict=True):
        full = zero * block_depth / radius
        rest = zero * (block_depth - depth) / radius
        # sinh(rest)/sinh(full), written so that it does not overflow.
        ratio = np.exp(rest - full) * (1.0 - np.exp(-2.0 * rest)) / (1.0 - math.exp(-2.0 * full))
        total += 2.0 / (zero * slope) * ratio
    # Five terms ring near the top face, where the exact share is small.
    return np.asarray(np.clip(1.0 - total, 0.0, 1.0))


def relaxation_time(
    porosity: si.Ratios,
    viscosity: si.PascalSeconds,
    permeability: si.SquareMetres,
    pressure: si.Pascals,
    radius: si.Metre,
    block_depth: si.Metre,
    *,
    perforated: bool,
) -> si.Seconds:
    """Return the time in which the pores come within 1/e of the pump [s].

    Parameters
    ----------
    porosity : array [-], any shape
    viscosity : array [Pa·s]
        Of the gas.
    permeability : array [m²]
    pressure : array [Pa]
        Mean between the air and the pump.
    radius, block_depth : float [m]
    perforated : bool

    Returns
    -------
    array [s]
        φ μ / (K p) over the first eigenvalue: (2.405/R)² + (π/H)² for a cylinder drawn
        on at side and end and open at the top, (π/H)² for one with a tight wall.
    """
    eigenvalue = (math.pi / block_depth) ** 2
    if perforated:
        eigenvalue += (_ZEROS[0] / radius) ** 2
    return np.asarray(porosity * viscosity / (permeability * pressure * eigenvalue))


@small_kernel
def pores_squared(share: si.Ratio, pores: si.Pascal, air: si.Pascal) -> si.Ratio:
    """Return the square of the pressure in the pores at a place, in Pa² [-].

    Parameters
    ----------
    share : float [-]
        Of the vacuum that is felt there, from `steady_share`.
    pores : float [Pa]
        Where all of the vacuum is felt.
    air : float [Pa]
        Outside.

    Returns
    -------
    float [-]
        p² falls from the air to the pores in proportion to ``share``; pores
        over the air have that pressure everywhere.
    """
    return pores * pores + (1.0 - share) * max(air * air - pores * pores, 0.0)


@kernel
def spread_depth(
    permeability: si.SquareMetre,
    porosity: si.Ratio,
    viscosity: si.PascalSecond,
    pressure: si.Pascal,
    time: si.Second,
    farthest: si.Metre,
) -> si.Metre:
    """Return how far pressure has spread into the block, δ of equation 1 [m].

    Parameters
    ----------
    permeability : float [m²]
    porosity : float [-]
    viscosity : float [Pa·s]
    pressure : float [Pa]
    time : float [s]
        Since the metal began to press; >= 0.
    farthest : float [m]

    Returns
    -------
    float [m]
    """
    return min(math.sqrt(4.0 * permeability * pressure * time / (porosity * viscosity)), farthest)


@kernel
def pocket_pressure(
    held: si.Joule,
    volume_after: si.CubicMetre,
    leak: si.CubicMetrePerPascalSecond,
    step: si.Second,
) -> si.Pascal:
    """Return the pressure of a pocket at the end of a step [Pa].

    Solves (pV)₁ = (pV)₀ - ½ step · leak · (p₁² - p_out²), the implicit form of equation 1.

    Parameters
    ----------
    held : float [J]
        (pV)₀ + ½ step · leak · p_out²: what the pocket holds at the start of the step, and what
        comes in through the block in it.
    volume_after : float [m³]
        At the end of the step; > 0.
    leak : float [m³/(Pa·s)]
        K S / μ and vents; >= 0.
    step : float [s]

    Returns
    -------
    float [Pa]
    """
    root = math.sqrt(volume_after * volume_after + 2.0 * step * leak * held)
    return 2.0 * held / (volume_after + root)
