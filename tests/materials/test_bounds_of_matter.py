"""Values of plants, waxes, coats, kiln and air against laws and handbooks of others."""

import math
import re

import pytest

from pourcast.materials import library
from tests.outside.record import Kind, record

GAS = 8.314462618  # J/(mol·K), CODATA 2018
ATMOSPHERE = 101_325.0  # Pa


def _near(
    claim: str, source: str, got: float, want: float, unit: str, share: float, kind: Kind
) -> None:
    record("materials", claim, source, got, want, unit, share * want, kind=kind)
    assert got == pytest.approx(want, rel=share)


def test_dry_plant_matter_conducts_as_wood_of_its_density() -> None:
    """Published: FPL Wood Handbook (2010), equation 4-7, oven-dry: k = 0.01864 + 0.1941 G.

    From memory.  G from 0.25, soft stems, to 0.5, woody scales: 0.067 to 0.116 W/(m·K).
    """
    got = library().plants["general"]["k_dry"].si
    low, high = (0.01864 + 0.1941 * density for density in (0.25, 0.5))

    record(
        "materials", "conductivity of dry plant matter", "FPL Wood Handbook (2010), from memory",
        got, 0.5 * (low + high), "W/(m·K)", 0.5 * (high - low), kind="table",
    )  # fmt: skip
    assert low <= got <= high


def test_dry_plant_matter_takes_up_heat_as_wood() -> None:
    """Published: FPL Wood Handbook (2010), equation 4-16a: 0.1031 + 0.003867 T, kJ/(kg·K).

    From memory; between 20 and 100 °C.
    """
    got = library().plants["general"]["cp_dry"].si
    low, high = (103.1 + 3.867 * kelvin for kelvin in (293.15, 373.15))

    record(
        "materials", "specific heat of dry plant matter", "FPL Wood Handbook (2010), from memory",
        got, 0.5 * (low + high), "J/(kg·K)", 0.5 * (high - low), kind="table",
    )  # fmt: skip
    assert low <= got <= high


def test_cell_walls_weigh_what_the_handbook_says() -> None:
    """Published: FPL Wood Handbook (2010): about 1.54 of any wood, from memory.  5 %."""
    got = library().plants["general"]["cell_wall_density"].si

    _near("density of dry cell walls", "FPL Wood Handbook (2010), from memory",
          got, 1540.0, "kg/m³", 0.05, "table")  # fmt: skip


def test_air_dry_matter_holds_the_water_of_wood_in_a_room() -> None:
    """Published: FPL Wood Handbook (2010), table 4-2, from memory.

    At 21 °C: 6.2 % of the dry mass at 30 % humidity, 12 % at 65 %.
    """
    got = library().plants["general"]["water_of_dry"].si

    record(
        "materials", "water of air-dry matter", "FPL Wood Handbook (2010), from memory",
        got, 0.091, "kg/kg dry", 0.029, kind="table",
    )  # fmt: skip
    assert 0.062 <= got <= 0.12


def test_insect_shell_is_as_dense_as_hardened_cuticle() -> None:
    """Published: Vincent and Wegst (2004), Arthropod Struct. Dev. 33, 187: 1200 to 1300.

    From memory; tolerance 5 % beyond.
    """
    got = library().plants["insect"]["cuticle_density"].si

    assert 0.95 * 1200.0 <= got <= 1.05 * 1300.0


@pytest.mark.parametrize("organ", ["leaf", "petal", "herb_stem", "woody_stem", "seed_head", "moss"])
def test_no_organ_is_denser_than_its_walls_and_water(organ: str) -> None:
    """Bound: volumes of cell wall, 1540 kg/m³, and of water added; an organ holds air beside."""
    kept = library().plants[organ]
    water = kept["water"].si
    most = 1.0 / (water / 998.2 + (1.0 - water) / 1540.0)

    assert kept["density_fresh"].si <= most
    assert kept["density_fresh"].high <= 1540.0


@pytest.mark.parametrize(
    ("wax", "key", "low", "high"),
    [
        ("casting", "k", 0.20, 0.27),  # paraffin 0.21 to 0.26, CRC Handbook, from memory
        ("casting", "cp_solid", 2100.0, 2900.0),  # paraffin, CRC Handbook, from memory
        ("casting", "cp_liquid", 2100.0, 2900.0),  # paraffin, from memory
        ("casting", "latent", 100e3, 220e3),  # paraffins without resin 200 to 220, from memory
        ("sprue", "latent", 100e3, 220e3),
        ("beeswax", "latent", 160e3, 200e3),  # 177 kJ/kg, from memory
        ("casting", "density_melt", 760.0, 880.0),  # paraffin 760 to 790, resin more, from memory
    ],
)
def test_waxes_hold_heat_as_paraffins_do(wax: str, key: str, low: float, high: float) -> None:
    """Published: handbook ranges of paraffins, each beside its row."""
    got = library().waxes[wax][key].si

    record(
        "materials", f"{key} of {wax} wax", "handbook ranges of paraffin, from memory",
        got, 0.5 * (low + high), "SI", 0.5 * (high - low), kind="table",
    )  # fmt: skip
    assert low <= got <= high


def test_wax_gives_the_heat_of_its_formula() -> None:
    """Closed form: C25H52 + 38 O2 from heats of formation, water as vapour; CRC, from memory.

    CO2 -393.5, H2O -241.8, solid pentacosane about -780 kJ/mol.  Tolerance 6 %: resins burn less.
    """
    paraffin = 25 * 12.011 + 52 * 1.008
    want = 1e6 * (25 * 393.5 + 26 * 241.8 - 780.0) / paraffin
    got = library().waxes["casting"]["heat_of_combustion"].si

    _near("heat of combustion of wax", "heats of formation, CRC Handbook, from memory",
          got, want, "J/kg", 0.06, "closed form")  # fmt: skip


def test_shellac_leaves_no_more_ash_than_its_standard_allows() -> None:
    """Standard: ASTM D237, orange shellac, ash 1 % at most, from memory."""
    ash = library().coatings["shellac_ash"]

    assert 0.0 < ash.low < ash.high <= 1.0


def test_oxygen_spreads_in_air_as_fuller_has_it() -> None:
    """Closed form: Fuller, Schettler and Giddings (1966), volumes 16.3 and 19.7, from memory.

    Tolerance 6 %: the correlation misses by 5 %.
    """
    pair = 2.0 / (1.0 / 31.999 + 1.0 / 28.966)
    want = (
        1e-4 * 0.00143 * 293.15**1.75
        / (1.01325 * math.sqrt(pair) * (16.3 ** (1 / 3) + 19.7 ** (1 / 3)) ** 2)
    )  # fmt: skip
    kiln = library().kiln

    _near("diffusivity of oxygen in air at 20 °C", "Fuller et al. (1966), from memory",
          kiln["D_O2_air_20"].si, want, "m²/s", 0.06, "closed form")  # fmt: skip
    assert kiln["D_exponent"].si == pytest.approx(1.75, rel=0.05)


def test_air_is_an_ideal_gas_of_its_parts() -> None:
    """Closed form: ideal gas, 28.966 g/mol, 20.946 % of oxygen (ISO 2533, from memory).  1 %."""
    kiln = library().kiln
    density = ATMOSPHERE * 28.966e-3 / (GAS * 293.15)
    oxygen = 0.20946 * 31.999 / 28.966

    _near("density of air at 20 °C", "ideal gas", kiln["air_density_20"].si, density, "kg/m³",
          0.01, "closed form")  # fmt: skip
    _near("oxygen in air by mass", "ISO 2533, from memory", kiln["oxygen_in_air"].si, oxygen,
          "kg/kg", 0.01, "closed form")  # fmt: skip


def test_steel_of_flasks_holds_heat_as_the_fire_code_has_it() -> None:
    """Standard: EN 1993-1-2, specific heat of carbon steel, from memory; mean of 20 to 700 °C.

    Tolerance 12 %: the code counts the peak at 735 °C in early.
    """

    def heat(degrees: float) -> float:
        if degrees < 600.0:
            return 425.0 + 0.773 * degrees - 1.69e-3 * degrees**2 + 2.22e-6 * degrees**3
        return 666.0 + 13002.0 / (738.0 - degrees)

    steps = [20.0 + 680.0 * (one + 0.5) / 500 for one in range(500)]
    want = sum(heat(one) for one in steps) / len(steps)
    kiln = library().kiln

    _near("specific heat of steel, 20 to 700 °C", "EN 1993-1-2, from memory",
          kiln["flask_steel_heat"].si, want, "J/(kg·K)", 0.12, "table")  # fmt: skip
    _near("density of steel", "EN 1991-1-1: 77 to 78.5 kN/m³, from memory",
          kiln["flask_steel_density"].si, 77.75e3 / 9.80665, "kg/m³", 0.02, "table")  # fmt: skip


def test_water_boils_off_with_the_heat_of_the_tables() -> None:
    """Published: IAPWS-95, 2256.5 kJ/kg at 1 atm, from memory.  0.5 %."""
    _near("heat of boiling water", "IAPWS-95, from memory", library().kiln["water_latent_heat"].si,
          2.2565e6, "J/kg", 5e-3, "table")  # fmt: skip


def test_the_controller_errs_as_its_thermocouple_may() -> None:
    """Standard: IEC 60584-1, type K, class 2: 0.75 % of the degrees, from memory; at 730 °C."""
    _near("error of a controller", "IEC 60584-1, from memory",
          library().kiln["controller_error"].value, 0.0075 * 730.0, "K", 0.12, "table")  # fmt: skip


def test_a_caster_is_taken_at_his_word_on_the_changes_of_air() -> None:
    """By construction: a factor on what is told is 1 where nothing is known against it.

    Its range goes as far down as up, in ratio, within 10 %.
    """
    factor = library().kiln["air_changes_factor"]

    assert factor.si == pytest.approx(1.0, abs=1e-9)
    assert math.sqrt(factor.low * factor.high) == pytest.approx(1.0, rel=0.1)


def test_regression_order_in_oxygen_is_that_in_which_the_rate_was_fitted() -> None:
    """Units: a rate per bar^n is only right with a pressure to the same power n."""
    kiln = library().kiln
    told = kiln["char_log10_A"].condition
    assert told is not None
    found = re.search(r"per bar\^(\d\.\d+)", told)
    assert found is not None

    assert kiln["char_order_O2"].si == pytest.approx(float(found[1]), abs=1e-9)


def test_silica_changes_its_crystal_where_mineralogy_has_it() -> None:
    """Published: Deer, Howie and Zussman, from memory: 573 °C and 200 to 275 °C."""
    growth = library().investment["expansion"]

    assert growth["T_quartz"].si - 273.15 == pytest.approx(573.0, abs=2.0)
    assert 200.0 <= growth["T_cristobalite"].si - 273.15 <= 275.0


def test_nothing_keeps_more_than_all_and_no_pump_draws_more_than_the_air() -> None:
    """Definition of a share, and of a vacuum below one atmosphere of 101 325 Pa."""
    kiln = library().kiln

    assert kiln["free_water_kept"].si_high <= 1.0
    assert kiln["wall_open_share"].si_high <= 1.0
    assert kiln["vacuum_assist"].si_high <= ATMOSPHERE
    assert library().investment["fresh"]["debubble_vacuum"].si_high <= ATMOSPHERE
