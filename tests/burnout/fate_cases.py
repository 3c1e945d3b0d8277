"""Days and matter made by hand, for the tests of wax, original and ash."""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import BlockCase, Burning, HeatDays, Matter, Wall
from pourcast.materials import library

HOUR = 3600.0
FLASKS = {"127x178": (0.0635, 0.178), "100x150": (0.05, 0.15), "75x100": (0.0375, 0.1)}
"""Radius and height [m]."""


def celsius(degrees: float) -> float:
    return degrees + si.ZERO_CELSIUS


def values(draws: int, number: float) -> si.Floats:
    return np.full(draws, number)


def block(draws: int = 1, *, size: str = "75x100", wall: Wall = "perforated") -> BlockCase:
    """Return a block of a 40:100 mix with a gate of 5 mm; every draw alike."""
    book = library().investment
    thermal, chemistry = book["thermal"], book["chemistry"]
    at = ("200", "400", "600", "700", "900")
    warm = (20, 100, 200, 300, 400, 500, 600, 700)
    radius, height = FLASKS[size]
    mix = book["wp_40"]
    powder = mix["powder_per_litre"].si
    hemihydrate = powder * book["gypsum_silica"]["hemihydrate_fraction"].si
    return BlockCase(
        radius=radius,
        height=height,
        wall=wall,
        wall_thickness=2e-3,
        wall_heat=7850.0 * 560.0,
        gate_diameter=5e-3,
        piece_radius=0.35 * radius,
        set_density=mix["set_dry_density"].si,
        gypsum=hemihydrate * (1.0 + chemistry["hydration_water"].si),
        porosity=mix["burnt_porosity"].si,
        free_water=values(draws, powder * mix["free_water"].si),
        wet_conductivity=values(draws, thermal["k_wet_20"].si),
        set_conductivity=values(draws, thermal["k_set_dry_20"].si),
        burnt_conductivity_at=np.array([celsius(float(name)) for name in at]),
        burnt_conductivity=np.tile([thermal[f"k_burnt_{name}"].si for name in at], (draws, 1)),
        burnt_specific_heat_at=np.array([celsius(name) for name in warm]),
        burnt_specific_heat=np.tile([thermal[f"cp_burnt_{name}"].si for name in warm], (draws, 1)),
        gypsum_specific_heat=values(draws, thermal["cp_gypsum"].si),
        first_heat=values(draws, chemistry["heat_gypsum_to_hemihydrate"].si),
        second_heat=values(draws, chemistry["heat_hemihydrate_to_soluble_anhydrite"].si),
        permeability=values(draws, book["flow"]["permeability_burnt"].si),
        wet_permeability=values(draws, book["flow"]["permeability_wet"].si),
        tensile_strength=values(draws, 0.48e6),
        youngs_modulus=values(draws, 3e9),
        expansion=values(draws, 6e-6),
        emissivity=values(draws, 0.77),
        convection=values(draws, 8.0),
        kiln_error=values(draws, 0.0),
        start_temperature=values(draws, 293.15),
        air_pressure=values(draws, si.STANDARD_ATMOSPHERE),
        open_share=values(draws, library().kiln["wall_open_share"].si),
        hole_diameter=values(draws, library().kiln["wall_hole"].si),
    )


def matter(
    draws: int = 1,
    *,
    dry: float = 15e-3,
    wax: float = 0.0,
    half: Sequence[float] = (2e-3,),
    organ: str = "woody_stem",
) -> Matter:
    """Return an original whose dry mass is shared evenly by its members."""
    plant, casting = library().plants[organ], library().waxes["casting"]
    members = len(half)
    each = np.full((draws, members), dry / members)
    return Matter(
        dry_mass=each,
        water=0.1 * each,
        char_yield=np.full((draws, members), plant["char_yield"].si),
        ash_fraction=np.full((draws, members), plant["ash"].si),
        half_thickness=np.array(half),
        member_part=np.zeros(members, dtype=np.int64),
        wax=values(draws, wax),
        wax_melt_end=values(draws, casting["melt_end"].si),
        wax_boil_start=values(draws, casting["boil_off_start"].si),
        wax_boil_end=values(draws, casting["boil_off_end"].si),
        wax_ash=values(draws, casting["ash"].si),
        wax_oxygen=values(draws, casting["oxygen_need"].si),
        wax_soak=values(draws, casting["soak_share"].si),
        wax_char=values(draws, casting["char_share"].si),
        wax_melt_density=values(draws, casting["density_melt"].si),
        wax_viscosity=values(draws, casting["viscosity_80"].si),
    )


def burning(
    draws: int = 1, *, litres: float = 60.0, changes: float = 15.0, flasks: int = 1
) -> Burning:
    """Return the middle values of the records, in a kiln with its vents open."""
    kiln, plants = library().kiln, library().plants["general"]
    return Burning(
        pyrolysis_start=values(draws, plants["pyrolysis_start"].si),
        pyrolysis_end=values(draws, plants["pyrolysis_end"].si),
        dry_oxygen=values(draws, plants["oxygen_need_dry"].si),
        char_activation=values(draws, kiln["char_E"].si),
        char_log10_rate=values(draws, kiln["char_log10_A"].si + 0.5 * math.log10(0.20)),
        char_rate_oxygen=0.20,
        char_order=values(draws, kiln["char_order_O2"].si),
        oxygen_diffusivity=values(draws, kiln["D_O2_air_20"].si),
        diffusivity_exponent=values(draws, kiln["D_exponent"].si),
        tortuosity=values(draws, library().investment["flow"]["tortuosity"].si),
        ash_bulk_density=values(draws, plants["ash_bulk_density"].si),
        kiln_volume=litres * 1e-3,
        air_changes=values(draws, changes / HOUR),
        flasks=flasks,
        char_density=values(draws, kiln["char_density"].si),
        char_openness=values(draws, kiln["char_openness"].si),
    )


def day(
    *points: tuple[float, float], draws: int = 1, radius: float = 0.0375, every: float = 300.0
) -> HeatDays:
    """Return a day in which the whole block has the temperature of the kiln; hours and °C."""
    hours, degrees = np.array(points).T
    count = max(2, round(hours[-1] * HOUR / every) + 1)
    time = np.linspace(0.0, hours[-1] * HOUR, count)
    kiln = np.tile(np.interp(time, hours * HOUR, degrees + si.ZERO_CELSIUS), (draws, 1))
    return alike(time, kiln, kiln, kiln, radius)


def alike(
    time: si.Seconds, kiln: si.Kelvins, wall: si.Kelvins, piece: si.Kelvins, radius: float
) -> HeatDays:
    """Return a day with these temperatures whose block dries as the matter passes 100 °C."""
    draws = kiln.shape[0]
    wet = np.where(piece <= 374.0, 1.0, 0.0)
    return HeatDays(
        time=time,
        kiln=kiln,
        wall=wall,
        piece=piece,
        core=piece,
        free_water=wet,
        bound_water=wet,
        dry_radius=radius * wet,
        overpressure=np.zeros_like(kiln),
        stress=np.zeros_like(kiln),
        dry_at=np.zeros(draws),
        inversion_time=np.full((draws, 2), np.nan),
        cooled_through=np.zeros((draws, 2), dtype=np.int64),
        heat_taken=np.zeros(draws),
    )


def lagging(
    radius: float, dry_hour: float, *points: tuple[float, float], every: float = 300.0
) -> HeatDays:
    """Return a day whose core boils until an hour and then follows the kiln.

    It follows with the slowest part of the series of a cylinder, R²/5.783 α (Carslaw and
    Jaeger 1959, 7.6), α of the burnt block.
    """
    plain = day(*points, radius=radius, every=every)
    diffusivity = 0.42 / (1237.0 * 1050.0)
    relaxing = radius**2 / (5.783 * diffusivity)
    kiln = plain.kiln[0]
    piece = np.minimum(kiln, 373.15)
    for moment in range(1, kiln.size):
        if plain.time[moment] > dry_hour * HOUR:
            share = 1.0 - np.exp(-every / relaxing)
            piece[moment] = piece[moment - 1] + share * (kiln[moment] - piece[moment - 1])
    return alike(plain.time, plain.kiln, plain.kiln, piece[None, :], radius)


def slimmer(whole: Matter, share: float) -> Matter:
    """Return the same matter with a share of its mass."""
    return replace(whole, dry_mass=share * whole.dry_mass, water=share * whole.water)
