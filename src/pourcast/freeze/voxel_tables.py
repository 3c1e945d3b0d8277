"""Tables: what a kernel of the voxel solver needs of metal and mould.

Metal.  With H the heat content of a volume (J/m³, 0 at the coldest entry), the
temperature T(H) and the potential

    F(H) = ∫ k dT,   k = f k_solid + (1 - f) k_liquid                         (1)

stand in one table with even steps of H; F is 0 at the solidus, so that the sums of
the kernels stay small.  The heat flux is the gradient of F, whatever k does.

Mould.  With u = ∫ c dT / c₀ from the temperature at the start (K, c₀ the specific
heat there), heat content and flux are

    E = ρ c₀ u,   flux = ρ c₀ grad Φ,   Φ(u) = ∫ k dT / (ρ c₀)                (2)

Φ(u) and T(u) are polynomials of the fifth degree, fitted to the table of k and c;
where both are the same at all temperatures they are straight and exact.

Left out: heat of reactions in the mould, and its gas.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_positive
from pourcast.freeze.solid import LEVELS, heat_at_fraction, tables
from pourcast.freeze.voxel_model import VoxelMetal, VoxelMould
from pourcast.freeze.voxel_types import (
    Heat,
    Heats,
    JoulePerCubicMetreKelvin,
    Potentials,
    TableSingle,
)

SOLID = len(LEVELS) - 1
"""Place of the solidus in `MetalTable.levels`."""

STOP = len(LEVELS)
"""Place of the stop fraction there."""

ENTRIES = 4096
DEGREE = 5
COLDEST = 250.0  # K; below any room

_FIT_POINTS = 2001
_MOST_MISS = 0.3  # of the conductivity, anywhere in the range; more: the table has a step


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalTable:
    """The metal by its heat content.

    Parameters
    ----------
    step : float [J/m³]
        From entry to entry.
    table : array [by column], shape (entries, 4), single precision
        F, its rise to the next entry, T, its rise to the next entry.
    heat : array [J/m³], shape (entries,)
    temperature : array [K], shape (entries,)
    potential : array [W/m], shape (entries,)
    levels : array [J/m³], shape (6,)
        Heat content at the solid fractions of `pourcast.freeze.solid.LEVELS` and,
        last, at the stop fraction.
    fastest : float [m²/s]
        Largest dF/dH of the solid and of the liquid.
    least_capacity : float [J/(m³·K)]
        Least dH/dT.
    """

    step: Heat
    table: TableSingle
    heat: Heats
    temperature: si.Kelvins
    potential: Potentials
    levels: Heats
    fastest: si.SquareMetrePerSecond
    least_capacity: JoulePerCubicMetreKelvin

    def heat_at(self, temperature: si.Kelvins) -> Heats:
        """Return the heat content at temperatures.

        Parameters
        ----------
        temperature : array [K]

        Returns
        -------
        array [J/m³], shape of ``temperature``
        """
        return np.interp(temperature, self.temperature, self.heat)

    def temperature_at(self, heat: Heats) -> si.Kelvins:
        """Return the temperature at heat contents.

        Parameters
        ----------
        heat : array [J/m³]

        Returns
        -------
        array [K], shape of ``heat``
        """
        return np.interp(heat, self.heat, self.temperature)


@dataclass(frozen=True, slots=True, kw_only=True)
class MouldFit:
    """The mould by its scaled heat content u, equation 2.

    Parameters
    ----------
    start : float [K]
        Where u is 0.
    capacity : float [J/(m³·K)]
        ρ c₀.
    potential : array [by column], shape (5,)
        Φ = Σ potential[i] u^(i + 1), in m²/s·K.
    warmth : array [by column], shape (5,)
        T = start + Σ warmth[i] u^(i + 1), in K.
    fastest : float [m²/s]
        Largest dΦ/du.
    """

    start: si.Kelvin
    capacity: JoulePerCubicMetreKelvin
    potential: si.Table
    warmth: si.Table
    fastest: si.SquareMetrePerSecond

    def temperature_at(self, content: si.Kelvins) -> si.Kelvins:
        """Return the temperature at a scaled heat content.

        Parameters
        ----------
        content : array [K]

        Returns
        -------
        array [K], shape of ``content``
        """
        return np.asarray(self.start + np.polynomial.Polynomial([0.0, *self.warmth])(content))


def metal_table(metal: VoxelMetal, hottest: si.Kelvin, stop_fraction: si.Ratio) -> MetalTable:
    """Return the table of a metal, equation 1.

    Parameters
    ----------
    metal : VoxelMetal
    hottest : float [K]
        Of the metal at the start; the table goes on above it.
    stop_fraction : float [-]

    Returns
    -------
    MetalTable

    Raises
    ------
    InputError
        If a value is not above 0 or the freezing curve starts below 250 K.
    """
    require_positive("density", metal.density, "kg/m³")
    require_positive("solid_conductivity", metal.solid_conductivity, "W/(m·K)")
    require_positive("liquid_conductivity", metal.liquid_conductivity, "W/(m·K)")
    require_positive("interface_heat_transfer", metal.interface_heat_transfer, "W/(m²·K)")
    knots = metal.knots
    top = max(hottest, knots.liquidus) + 20.0
    heat, temperature, solid = tables(knots, COLDEST, top, ENTRIES)
    low = float(heat[0])
    content = metal.density * (heat - low)
    conductivity = solid * metal.solid_conductivity + (1.0 - solid) * metal.liquid_conductivity
    mean = 0.5 * (conductivity[1:] + conductivity[:-1])
    potential = np.concatenate([[0.0], np.cumsum(mean * np.diff(temperature))])
    potential -= np.interp(metal.density * (knots.heat_solidus - low), content, potential)
    step = float(content[1] - content[0])
    table = np.zeros((ENTRIES, 4), dtype=np.float32)
    table[:, 0], table[:-1, 1] = potential, np.diff(potential)
    table[:, 2], table[:-1, 3] = temperature, np.diff(temperature)
    fractions = (*LEVELS, stop_fraction)
    return MetalTable(
        step=step,
        table=table,
        heat=content,
        temperature=temperature,
        potential=potential,
        levels=metal.density
        * (np.array([heat_at_fraction(fraction, knots) for fraction in fractions]) - low),
        fastest=float(np.diff(potential).max()) / step,
        least_capacity=step / float(np.diff(temperature).max()),
    )


def mould_fit(
    mould: VoxelMould, start: si.Kelvin, lowest: si.Kelvin, hottest: si.Kelvin
) -> MouldFit:
    """Return the polynomials of a mould, equation 2.

    Parameters
    ----------
    mould : VoxelMould
    start : float [K]
        Of the mould.
    lowest, hottest : float [K]
        Range that the mould can come to.

    Returns
    -------
    MouldFit

    Raises
    ------
    InputError
        If a value is not above 0, the temperatures do not rise, or the table has a
        step that the polynomial cannot follow.
    """
    require_positive("mould density", mould.density, "kg/m³")
    require_positive("mould conductivity", mould.conductivity, "W/(m·K)")
    require_positive("mould specific_heat", mould.specific_heat, "J/(kg·K)")
    require_positive("hottest less lowest", hottest - lowest, "K")
    if mould.temperature.size > 1:
        require_positive("step of the mould's table", np.diff(mould.temperature), "K")
    grid = np.linspace(min(lowest, start), max(hottest, start), _FIT_POINTS)
    heat = np.interp(grid, mould.temperature, mould.specific_heat)
    conductivity = np.interp(grid, mould.temperature, mould.conductivity)
    reference = float(np.interp(start, mould.temperature, mould.specific_heat))
    capacity = mould.density * reference
    content = _integral(grid, heat / reference, start)
    carried = _integral(grid, conductivity / capacity, start)
    warmth, potential = np.zeros(DEGREE), np.zeros(DEGREE)
    if np.ptp(heat) == 0.0 and np.ptp(conductivity) == 0.0:
        warmth[0], potential[0] = 1.0, float(conductivity[0]) / capacity
    else:
        warmth, potential = _fitted(content, grid - start), _fitted(content, carried)
    slope = _slope(content, potential)
    miss = np.abs(slope * heat / reference * capacity / conductivity - 1.0).max()
    if miss > _MOST_MISS or slope.min() <= 0.0 or _slope(content, warmth).min() <= 0.0:
        raise InputError(
            "mould conductivity",
            "a table with a step",
            "",
            "smooth over temperature",
            f"The fit misses it by {100 * miss:.0f} %; spread the step over more kelvins.",
        )
    return MouldFit(
        start=start,
        capacity=capacity,
        potential=potential,
        warmth=warmth,
        fastest=float(slope.max()),
    )


def _integral(grid: si.Kelvins, value: si.Floats, start: si.Kelvin) -> si.Floats:
    summed = np.concatenate([[0.0], np.cumsum(0.5 * (value[1:] + value[:-1]) * np.diff(grid))])
    return np.asarray(summed - np.interp(start, grid, summed))


def _fitted(content: si.Floats, wanted: si.Floats) -> si.Floats:
    scale = float(np.abs(content).max())
    powers = (content[:, None] / scale) ** np.arange(1, DEGREE + 1)
    found = np.linalg.lstsq(powers, wanted, rcond=None)[0]
    return np.asarray(found / scale ** np.arange(1, DEGREE + 1))


def _slope(content: si.Floats, coefficients: si.Floats) -> si.Floats:
    return np.asarray(np.polynomial.Polynomial([0.0, *coefficients]).deriv()(content))
