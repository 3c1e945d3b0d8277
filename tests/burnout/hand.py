"""Burnouts made by hand: what a day came to, without working it out."""

from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import (
    BlockCase,
    Burning,
    BurnoutCase,
    BurnoutResult,
    Curve,
    Fate,
    HeatDays,
    Matter,
)

HOUR = 3600.0
DRAWS = 20
MEMBERS = 3


def curve(*points: tuple[float, float], name: str = "as written") -> Curve:
    """Return a curve through points of hours and °C."""
    hours, celsius = np.array(points).T
    return Curve(name=name, time=hours * HOUR, temperature=celsius + si.ZERO_CELSIUS)


USUAL = curve((0.0, 20.0), (2.0, 150.0), (5.0, 150.0), (9.0, 730.0), (13.0, 730.0), (15.0, 600.0))


def block(draws: int = DRAWS) -> BlockCase:
    """Return a block of 75 by 100 mm in a perforated flask; every draw alike."""

    def of(value: float) -> si.Floats:
        return np.full(draws, value)

    conductivities = np.array([200.0, 400.0, 600.0, 700.0, 900.0]) + si.ZERO_CELSIUS
    heats = np.array([20.0, 100.0, 200.0, 300.0, 400.0, 500.0, 600.0, 700.0]) + si.ZERO_CELSIUS
    burnt_heat = np.array([733.0, 846.0, 967.0, 1009.0, 1076.0, 1134.0, 1127.0, 1167.0])
    return BlockCase(
        radius=0.0375,
        height=0.1,
        wall="perforated",
        wall_thickness=2e-3,
        wall_heat=7850.0 * 560.0,
        gate_diameter=5e-3,
        piece_radius=8e-3,
        set_density=1331.0,
        gypsum=448.6,
        porosity=0.524,
        free_water=of(433.9),
        wet_conductivity=of(1.0),
        set_conductivity=of(0.5),
        burnt_conductivity_at=conductivities,
        burnt_conductivity=np.tile([0.42, 0.40, 0.42, 0.46, 0.58], (draws, 1)),
        burnt_specific_heat_at=heats,
        burnt_specific_heat=np.tile(burnt_heat, (draws, 1)),
        gypsum_specific_heat=of(1137.0),
        first_heat=of(483e3),
        second_heat=of(211e3),
        permeability=of(1e-13),
        wet_permeability=of(1e-16),
        tensile_strength=of(0.48e6),
        youngs_modulus=of(3e9),
        expansion=of(6e-6),
        emissivity=of(0.77),
        convection=of(8.0),
        kiln_error=of(0.0),
        start_temperature=of(293.15),
        air_pressure=of(101_325.0),
    )


def matter(draws: int = DRAWS, dry: si.Kilogram = 5e-3) -> Matter:
    """Return an original of three members alike, and 20 g of wax."""

    def of(value: float) -> si.Floats:
        return np.full(draws, value)

    each = np.full((draws, MEMBERS), dry / MEMBERS)
    return Matter(
        dry_mass=each,
        water=0.1 * each,
        char_yield=np.full((draws, MEMBERS), 0.28),
        ash_fraction=np.full((draws, MEMBERS), 0.05),
        half_thickness=np.array([4e-3, 1e-3, 0.4e-3]),
        member_part=np.arange(MEMBERS),
        wax=of(20e-3),
        wax_melt_end=of(345.0),
        wax_boil_start=of(523.15),
        wax_boil_end=of(723.15),
        wax_ash=of(2e-4),
        wax_oxygen=of(3.45),
        wax_soak=of(0.15),
    )


def burning(draws: int = DRAWS, flasks: int = 1) -> Burning:
    """Return a kiln of 30 litres whose air changes six times an hour."""

    def of(value: float) -> si.Floats:
        return np.full(draws, value)

    return Burning(
        pyrolysis_start=of(493.15),
        pyrolysis_end=of(723.15),
        dry_oxygen=of(1.3),
        char_activation=of(180e3),
        char_log10_rate=of(10.45),
        char_rate_oxygen=0.20,
        char_order=of(0.5),
        oxygen_diffusivity=of(2e-5),
        diffusivity_exponent=of(1.75),
        tortuosity=of(2.0),
        ash_bulk_density=of(300.0),
        kiln_volume=0.03,
        air_changes=of(6.0 / HOUR),
        flasks=flasks,
    )


def case(of: Curve = USUAL, draws: int = DRAWS, flasks: int = 1) -> BurnoutCase:
    """Return what such a burnout starts from."""
    return BurnoutCase(
        block=block(draws), matter=matter(draws), burning=burning(draws, flasks), curve=of
    )


def result(
    of: Curve = USUAL,
    *,
    wet: int = 0,
    dirty: int = 0,
    cracked: int = 0,
    late: int = 0,
    oxygen: float = 0.15,
    core: si.Kelvins | None = None,
) -> BurnoutResult:
    """Return a good day, but for as many of the draws as are named for each fault."""
    time = np.linspace(0.0, of.time[-1], 61)
    kiln = np.interp(time, of.time, of.temperature)
    alike = np.tile(kiln if core is None else core, (DRAWS, 1))
    dry_at = np.linspace(4.0, 5.0, DRAWS) * HOUR
    dry_at[:wet] = np.nan
    clean_at = np.linspace(10.0, 11.0, DRAWS) * HOUR
    clean_at[:dirty] = np.nan
    left = np.zeros((DRAWS, MEMBERS))
    left[:dirty] = 2e-6
    stress = np.full((DRAWS, time.size), 0.2)
    stress[:cracked, 20] = 1.5
    ready = np.full(DRAWS, of.time[-1] - HOUR)
    ready[:late] = np.nan
    dry_share = np.clip(1.0 - time[None, :] / np.nan_to_num(dry_at, nan=1e9)[:, None], 0.0, 1.0)
    heat = HeatDays(
        time=time,
        kiln=alike,
        wall=alike,
        piece=alike,
        core=alike,
        free_water=dry_share,
        bound_water=dry_share,
        dry_radius=0.0375 * dry_share,
        overpressure=np.full((DRAWS, time.size), 12e3),
        stress=stress,
        dry_at=dry_at,
        inversion_time=np.full((DRAWS, 2), 900.0),
        cooled_through=np.zeros((DRAWS, 2), dtype=np.int64),
        heat_taken=np.full(DRAWS, 1.5e6),
    )
    fate = Fate(
        time=time,
        wax=np.zeros((DRAWS, time.size)),
        dry_mass=np.zeros((DRAWS, time.size)),
        char=np.tile(np.linspace(1e-3, 0.0, time.size), (DRAWS, 1)),
        kiln_oxygen=np.full((DRAWS, time.size), oxygen),
        supply=np.full((DRAWS, time.size), 0.8),
        wax_gone_at=np.full(DRAWS, 6.0 * HOUR),
        clean_at=clean_at,
        clean_below=1e-6,
        char_left=left,
        ash=np.full((DRAWS, MEMBERS), 8e-5),
        ash_volume=np.full(DRAWS, 8e-7),
        oxygen_used=np.full(DRAWS, 20e-3),
        wax_drained=np.full(DRAWS, 0.85),
    )
    return BurnoutResult(
        curve=of,
        heat=heat,
        fate=fate,
        ready_at=ready,
        flask_temperature=np.full(DRAWS, float(of.temperature[-1])),
    )


def hotter(by: si.Kelvin) -> Curve:
    """Return the usual curve with a hotter top."""
    warm = USUAL.temperature.copy()
    warm[3:5] += by
    return replace(USUAL, temperature=warm)
