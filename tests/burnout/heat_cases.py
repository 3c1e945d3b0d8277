"""Blocks and curves that the tests of heat and water are made from."""

from typing import Any

import numpy as np

from pourcast.burnout import columns as c
from pourcast.burnout.block_pack import burnt_tables
from pourcast.burnout.model import BlockCase, Curve
from pourcast.materials import library
from pourcast.mould.model import Powder
from pourcast.mould.slurry import (
    burnt_porosity,
    free_water,
    powder_per_volume,
    slurry_density,
)

SIZES = {
    "127x178": (0.0635, 0.178),
    "100x150": (0.050, 0.150),
    "75x100": (0.0375, 0.100),
}
"""Radius and height [m] of the flasks of the plan."""


def block(draws: int = 1, **changes: Any) -> BlockCase:
    """Return a bare block of 40:100 with the values of the tables, with changes by name."""
    book = library().investment
    thermal, chemistry, flow = book["thermal"], book["chemistry"], book["flow"]
    powder = Powder(
        true_density=book["gypsum_silica"]["powder_true_density"].si,
        hemihydrate_fraction=book["gypsum_silica"]["hemihydrate_fraction"].si,
        hydration_water=chemistry["hydration_water"].si,
    )
    packed = powder_per_volume(powder, 0.40)
    water = packed * free_water(powder, 0.40)
    conductivity = (200, 400, 600, 700, 900)
    heats = (20, 100, 200, 300, 400, 500, 600, 700)

    def each(value: float) -> np.ndarray[Any, np.dtype[np.float64]]:
        return np.full(draws, value)

    def table(name: str, celsius: tuple[int, ...]) -> np.ndarray[Any, np.dtype[np.float64]]:
        return np.tile([thermal[f"{name}_{at}"].si for at in celsius], (draws, 1))

    values: dict[str, Any] = {
        "radius": 0.0635,
        "height": 0.178,
        "wall": "bare",
        "wall_thickness": 0.002,
        "wall_heat": 7850.0 * 560.0,
        "gate_diameter": 0.008,
        "piece_radius": 0.02,
        "set_density": slurry_density(powder, 0.40) - water,
        "gypsum": packed * powder.hemihydrate_fraction * (1.0 + powder.hydration_water),
        "porosity": burnt_porosity(powder, 0.40),
        "free_water": each(water),
        "wet_conductivity": each(thermal["k_wet_20"].si),
        "set_conductivity": each(thermal["k_set_dry_20"].si),
        "burnt_conductivity_at": np.array(conductivity) + 273.15,
        "burnt_conductivity": table("k_burnt", conductivity),
        "burnt_specific_heat_at": np.array(heats) + 273.15,
        "burnt_specific_heat": table("cp_burnt", heats),
        "gypsum_specific_heat": each(thermal["cp_gypsum"].si),
        "first_heat": each(chemistry["heat_gypsum_to_hemihydrate"].si),
        "second_heat": each(chemistry["heat_hemihydrate_to_soluble_anhydrite"].si),
        "permeability": each(flow["permeability_burnt"].si),
        "wet_permeability": each(flow["permeability_wet"].si),
        "tensile_strength": each(4.0e6 * 0.12),
        "youngs_modulus": each(book["strength"]["youngs_dry"].si),
        "expansion": each(book["expansion"]["outside_inversions"].si),
        "emissivity": each(1.0 / (1.0 / 0.9 + 1.0 / 0.85 - 1.0)),
        "convection": each(8.0),
        "kiln_error": each(0.0),
        "start_temperature": each(293.15),
        "air_pressure": each(101_325.0),
    }
    unknown = set(changes) - set(BlockCase.__slots__)
    if unknown:
        raise KeyError(unknown)
    for name, value in changes.items():
        is_array = isinstance(values.get(name), np.ndarray) and not isinstance(value, np.ndarray)
        values[name] = np.full_like(values[name], value) if is_array else value
    return BlockCase(**values)


def flask(size: str, **changes: Any) -> BlockCase:
    """Return a block of a flask of the plan."""
    radius, height = SIZES[size]
    return block(**{"radius": radius, "height": height, **changes})


def curve(*points: tuple[float, float]) -> Curve:
    """Return a curve through points of hours and degrees Celsius."""
    hours, celsius = zip(*points, strict=True)
    return Curve(
        name="as written",
        time=3600.0 * np.array(hours, dtype=float),
        temperature=np.array(celsius, dtype=float) + 273.15,
    )


RAMP = curve((0, 20), (6, 730), (13, 730))
"""Six hours to 730 °C, then held."""

STEPPED = curve(
    (0, 20), (1, 150), (3, 150), (4.5, 370), (6, 370), (7.5, 730), (10.5, 730), (13, 600)
)
"""Holds at 150, 370 and 730 °C, then down to 600 °C."""


def hold(celsius: float, hours: float) -> Curve:
    """Return a kiln that is taken to a temperature in a quarter of an hour and held there."""
    return curve((0, 20), (0.25, celsius), (hours, celsius))


def plain(
    conductivity: float = 0.5,
    heat: float = 1000.0,
    density: float = 1300.0,
    draws: int = 1,
    **changes: Any,
) -> BlockCase:
    """Return a long dry block of one conductivity and one heat, with next to no gypsum."""
    values: dict[str, Any] = {
        "radius": 0.05,
        "height": 5e4,
        "set_density": density,
        "gypsum": 1e-6,
        "free_water": 0.0,
        "wet_conductivity": conductivity,
        "set_conductivity": conductivity,
        "burnt_conductivity_at": np.array([300.0]),
        "burnt_conductivity": np.full((draws, 1), conductivity),
        "burnt_specific_heat_at": np.array([300.0]),
        "burnt_specific_heat": np.full((draws, 1), heat),
        "emissivity": 0.0,
        "convection": 25.0,
    }
    return block(draws, **{**values, **changes})


def first_burnt(case: BlockCase) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Return heat, specific heat and conductivity of the burnt block of the first draw."""
    heats, conducts = burnt_tables(case)
    burnt = np.zeros((3, c.ENTRIES))
    burnt[c.SPECIFIC_HEAT], burnt[c.CONDUCTIVITY] = heats[0], conducts[0]
    burnt[c.HEAT, 1:] = np.cumsum(0.5 * c.SPACING * (heats[0, 1:] + heats[0, :-1]))
    return burnt
