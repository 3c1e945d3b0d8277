"""Values of the library against tables of open packages, formula weights and units."""

import math
import re

import pytest

from pourcast.materials import alloy, library
from tests.outside.record import Kind, record

CRC = "CRC Handbook tables of the open package chemicals"
PERRY = "Perry Handbook table 2-151 of the open package chemicals"
NUMBERS = {  # CAS registry numbers, ASM and CRC lists
    "Cu": "7440-50-8",
    "Sn": "7440-31-5",
    "Ag": "7440-22-4",
    "Al": "7429-90-5",
    "Zn": "7440-66-6",
    "Pb": "7439-92-1",
    "Si": "7440-21-3",
}
GYPSUM, HEMIHYDRATE, ANHYDRITE = 172.171, 145.149, 136.141  # g/mol, IUPAC 2013 weights
WATER, OXYGEN = 18.0153, 31.9988  # g/mol, IUPAC 2013 weights
THERMOCHEMICAL_CALORIE = 4.184  # J, by definition


def _check(
    claim: str,
    source: str,
    got: float,
    want: float,
    unit: str,
    tolerance: float,
    kind: Kind = "table",
) -> None:
    record("materials", claim, source, got, want, unit, tolerance, kind=kind)
    assert abs(got - want) <= tolerance, (claim, got, want)


@pytest.mark.parametrize("element", NUMBERS)
def test_elements_melt_as_the_handbook_says(element: str) -> None:
    """Published: CRC tables in the open package chemicals.

    Tolerance 0.05 K and 0.1 %: our records are rounded to 0.01 °C and 4 figures.
    """
    chemicals = pytest.importorskip("chemicals")
    number, elements = NUMBERS[element], library().elements
    heat = chemicals.Hfus(number) / chemicals.MW(number)

    melting = elements[f"{element}_melting"].si
    latent = elements[f"{element}_latent"].si / 1e3

    claim = f"melting point of {element}"
    _check(claim, CRC, melting, chemicals.Tm(number), "K", 0.05)
    _check(f"latent heat of {element}", CRC, latent, heat, "kJ/kg", 1e-3 * heat)


@pytest.mark.parametrize(("key", "element"), [("copper", "Cu"), ("fine_silver", "Ag")])
def test_pure_metals_among_the_alloys_agree_with_the_handbook(key: str, element: str) -> None:
    """Published: CRC tables in the open package chemicals; wanted within 2 %.

    Found: within 0.05 %.
    """
    chemicals = pytest.importorskip("chemicals")
    number, metal = NUMBERS[element], alloy(key)

    assert metal["liquidus"].si == pytest.approx(chemicals.Tm(number), rel=0.02)
    assert metal["solidus"].si == metal["liquidus"].si
    latent = 1e3 * chemicals.Hfus(number) / chemicals.MW(number)
    assert metal["latent"].si == pytest.approx(latent, rel=0.02)


def test_zinc_boils_as_the_handbook_says() -> None:
    """Published: CRC tables in the open package chemicals.  Tolerance 2 K: sources differ."""
    chemicals = pytest.importorskip("chemicals")

    got, want = library().elements["Zn_boiling"].si, chemicals.Tb(NUMBERS["Zn"])

    _check("boiling point of Zn", CRC, got, want, "K", 2.0)


def _perry(number: str, phase: str, temperature: float) -> float:
    """Return the molar heat capacity in J/(mol·K)."""
    capacity = pytest.importorskip("chemicals.heat_capacity")
    law = capacity.Cp_dict_PerryI[number][phase]
    calories = (
        law["Const"]
        + law["Lin"] * temperature
        + law["Quadinv"] / temperature**2
        + law["Quad"] * temperature**2
    )
    return float(THERMOCHEMICAL_CALORIE * calories)


def test_specific_heat_of_gypsum_and_copper_agree_with_perry() -> None:
    """Published: Perry table 2-151.  Tolerance 0.5 %: our records have 3 figures.

    The law of copper is a straight line, so its mean from 20 °C to the melting
    point is its value half-way.
    """
    copper = alloy("copper")
    halfway = 0.5 * (293.15 + copper["solidus"].si)
    cases = {
        "gypsum": (library().investment["thermal"]["cp_gypsum"], "10101-41-4", "c", 300.0, GYPSUM),
        "solid copper": (copper["cp_solid"], NUMBERS["Cu"], "c", halfway, 63.546),
        "liquid copper": (copper["cp_liquid"], NUMBERS["Cu"], "l", 1400.0, 63.546),
    }

    for name, (value, number, phase, temperature, weight) in cases.items():
        want = 1e3 * _perry(number, phase, temperature) / weight
        _check(f"specific heat of {name}", PERRY, value.si, want, "J/(kg·K)", 5e-3 * want)


@pytest.mark.parametrize("degrees", [400, 500, 600, 700])
def test_specific_heat_of_the_block_is_that_of_its_minerals(degrees: int) -> None:
    """Published: Perry table 2-151, burnt mass 28.7 % CaSO4, the rest silica.

    From 30 % hemihydrate in the powder.  Tolerance 8 %: all silica is taken as
    cristobalite here, half of it is quartz, which holds up to 15 % more under its
    inversion at 573 °C.
    """
    burnt_binder = 0.30 * ANHYDRITE / HEMIHYDRATE
    binder = burnt_binder / (burnt_binder + 0.70)
    kelvin = degrees + 273.15
    want = 1e3 * (
        binder * _perry("7778-18-9", "c", kelvin) / ANHYDRITE
        + (1.0 - binder) * _perry("7631-86-9", "c", kelvin) / 60.084
    )

    got = library().investment["thermal"][f"cp_burnt_{degrees}"].si

    claim = f"specific heat of the burnt block at {degrees} °C"
    _check(claim, PERRY, got, want, "J/(kg·K)", 0.08 * want)


def test_water_in_gypsum_follows_from_formula_weights() -> None:
    """Exact: CaSO4·2H2O holds 2 and CaSO4·½H2O takes up 1.5 waters.

    Tolerance 1e-5: 5 figures.  A plaster maker's guide says about 18 parts to 100:
    0.186 is within 0.01 of it.
    """
    chemistry = library().investment["chemistry"]
    source = "formula weights, IUPAC 2013"

    in_gypsum, taken_up = chemistry["water_in_gypsum"].si, chemistry["hydration_water"].si

    _check("water in gypsum", source, in_gypsum, 2 * WATER / GYPSUM, "kg/kg", 1e-5)
    _check("water that sets", source, taken_up, 1.5 * WATER / HEMIHYDRATE, "kg/kg", 1e-5)
    assert taken_up == pytest.approx(0.18, abs=0.01)


def test_heat_to_dry_gypsum_agrees_with_the_fire_data() -> None:
    """Measured: 3.24 MJ per kg of water lost, gypsum board core, 10 K/min in nitrogen.

    Source: fire-safety materials data base of a fire research institute, gypsum
    core, first run.  Tolerance 0.4: straight base line, fillers.  Found: 3.08 for
    the first step, 2.91 to insoluble anhydrite, 3.16 to soluble.
    """
    chemistry = library().investment["chemistry"]
    source = "fire-safety materials data base, gypsum board core"
    first = chemistry["heat_gypsum_to_hemihydrate"].si / (1.5 * WATER / GYPSUM) / 1e6
    whole = chemistry["heat_gypsum_to_anhydrite_total"].si / (2.0 * WATER / GYPSUM) / 1e6

    _check("heat of drying gypsum, first step", source, first, 3.24, "MJ/kg water", 0.4, "measured")
    _check("heat of drying gypsum, whole", source, whole, 3.24, "MJ/kg water", 0.4, "measured")


def test_steps_of_drying_add_up_to_the_whole() -> None:
    """Exact: first law; per kg of gypsum, steps weighed by formula weights.

    Tolerance 1 %: each heat is rounded to 1 kJ/kg.
    """
    chemistry = library().investment["chemistry"]

    steps = (
        chemistry["heat_gypsum_to_hemihydrate"].si
        + chemistry["heat_hemihydrate_to_soluble_anhydrite"].si * HEMIHYDRATE / GYPSUM
        + chemistry["heat_soluble_to_insoluble"].si * ANHYDRITE / GYPSUM
    )

    assert steps == pytest.approx(chemistry["heat_gypsum_to_anhydrite_total"].si, rel=0.01)


@pytest.mark.parametrize("parts", [38, 40, 42])
def test_mix_follows_from_the_volume_balance(parts: int) -> None:
    """Exact: powder and water keep their volumes; water 998.2 kg/m³ at 20 °C (CRC Handbook).

    Tolerance 1e-4: 6 figures, powder density with 5.
    """
    ratio = parts / 100.0
    investment = library().investment
    mix, powder = investment[f"wp_{parts}"], investment["gypsum_silica"]
    volume = 1.0 / powder["powder_true_density"].si + ratio / 998.2  # m³ for 1 kg of powder

    assert mix["slurry_density"].si == pytest.approx((1.0 + ratio) / volume, rel=1e-4)
    assert mix["powder_per_litre"].si == pytest.approx(1.0 / volume, rel=1e-4)
    assert mix["water_per_litre"].si == pytest.approx(ratio / volume, rel=1e-4)
    binder = powder["hemihydrate_fraction"].si
    free = ratio - binder * 1.5 * WATER / HEMIHYDRATE
    assert mix["free_water"].si == pytest.approx(free, rel=1e-4)
    left = 1.0 - binder * 0.5 * WATER / HEMIHYDRATE  # kg burnt from 1 kg of powder
    assert mix["burnt_density"].si == pytest.approx(left / volume, rel=1e-4)
    set_dry = 1.0 + binder * 1.5 * WATER / HEMIHYDRATE
    assert mix["set_dry_density"].si == pytest.approx(set_dry / volume, rel=1e-4)
    silica = 0.5 * (1.0 - binder)
    solids = binder * ANHYDRITE / HEMIHYDRATE / 2960 + silica / 2650 + silica / 2330
    assert mix["burnt_porosity"].si == pytest.approx(1.0 - solids / volume, abs=1e-3)


def test_porosity_of_the_burnt_block_agrees_with_the_measurement() -> None:
    """Measured: 52.5 % vacuum mixed, 53.9 % hand mixed, J. Dent. 17 (1989).

    Tolerance 2 points: another powder.  Found: 52.4 %.  Not independent: the
    hemihydrate share was chosen with this number in sight.
    """
    got = 100.0 * library().investment["wp_40"]["burnt_porosity"].si

    _check(
        "porosity of the burnt block at 40:100",
        "J. Dent. 17 (1989)",
        got,
        52.5,
        "%",
        2.0,
        "measured",
    )


@pytest.mark.parametrize("key", sorted(library().alloys))
def test_wax_factor_is_the_ratio_of_densities(key: str) -> None:
    """Exact: metal over wax of 950 kg/m³, and 970 and 920 for the ends.  Tolerance: 6 figures."""
    factor, density = alloy(key)["wax_factor"], alloy(key)["density_20"]

    assert factor.si == pytest.approx(density.si / 950.0, rel=1e-5)
    assert factor.si_low == pytest.approx(density.si / 970.0, rel=1e-5)
    assert factor.si_high == pytest.approx(density.si / 920.0, rel=1e-5)


def test_units_of_the_data_sheets_were_turned_right() -> None:
    """Exact: °F, lb/in³, Btu/h/ft/F and inch per foot of the sources, NIST SP 811 factors.

    Tolerance: half of the last figure that our record keeps (0.5 K, 10 kg/m³,
    0.5 W/m/K, 0.005 %).
    """
    turned = 0
    for value in library().find("alloys."):
        first = value.source.partition(";")[0]
        if value.kind != "published":
            continue
        for pattern, factor, offset, tolerance in (
            (r": (\d+) F$", 5 / 9, -32.0, 0.56),
            (r": (0\.\d+) lb/in3$", 0.45359237 / 0.0254**3, 0.0, 10.0),
            (r": ([\d.]+) Btu/h/ft/F", 1.730735, 0.0, 0.5),
        ):
            found = re.search(pattern, first)
            if found:
                want = factor * (float(found[1]) + offset)
                assert value.value == pytest.approx(want, abs=tolerance), value.key
                turned += 1
    assert turned >= 20
    assert alloy("C87300")["contraction_solid"].value == pytest.approx(100 / 48, abs=0.005)
    assert alloy("C87300")["cp_solid_20"].si == pytest.approx(0.09 * 4186.8, abs=0.5)


def test_oxygen_needs_follow_from_the_formulas() -> None:
    """Exact: C25H52 + 38 O2, C + O2, C6H10O5 + 6 O2; IUPAC weights.

    Tolerance 0.1 %: 3 to 4 figures.  Cellulose, 1.184, is the low end for plants.
    """
    paraffin = 25 * 12.011 + 52 * 1.008
    cellulose = 6 * 12.011 + 10 * 1.008 + 5 * 15.999
    kept = library()

    wax = kept.waxes["casting"]["oxygen_need"].si
    carbon = kept.kiln["oxygen_need_carbon"].si
    plant = kept.plants["general"]["oxygen_need_dry"]

    assert wax == pytest.approx(38 * OXYGEN / paraffin, rel=1e-3)
    assert carbon == pytest.approx(OXYGEN / 12.011, rel=1e-3)
    assert plant.si_low == pytest.approx(6 * OXYGEN / cellulose, abs=0.005)


def test_steam_takes_the_room_that_the_tables_give_it() -> None:
    """Published: IAPWS-97 in the open package chemicals, water at 20 °C to steam at 1 atm.

    Tolerance 0.2 %: 3 figures; 0.05 K over the boiling point to stay on the side of steam.
    """
    chemicals = pytest.importorskip("chemicals")
    want = chemicals.iapws97_rho(293.15, 101_325.0) / chemicals.iapws97_rho(373.17, 101_325.0)

    got = library().limits["steam_volume_ratio"].si

    _check("volume of steam over that of water", "IAPWS-97", got, want, "", 2e-3 * want)


@pytest.mark.parametrize("key", ["copper", "pewter", "si_bronze_c87300"])
def test_viscosity_law_gives_the_value_at_the_liquidus(key: str) -> None:
    """Assael et al. (2010), J. Phys. Chem. Ref. Data 39, 033105: copper 4.0, tin at 295 °C 1.57.

    Coefficients from memory.  Tolerance 3 %: values are rounded to 2 figures.
    """
    metal = alloy(key)

    law = 10.0 ** (metal["visc_a"].si + metal["visc_b"].si / metal["liquidus"].si)

    assert metal["viscosity_liquidus"].value == pytest.approx(law, rel=0.03)


def test_viscosity_of_sterling_lies_under_the_law_of_silver() -> None:
    """Smithells, from memory, and missed: 0.4532 exp(22.2 kJ/mol / RT) gives 4.45 at 896 °C.

    Found: our estimate, 4.3, is 3.3 % lower; its range, 3.6 to 5.0, holds the law.
    """
    metal = alloy("925")

    law = 0.4532 * math.exp(22.2e3 / (8.314_462_618 * metal["liquidus"].si))

    assert metal["viscosity_liquidus"].value / law - 1.0 == pytest.approx(-0.033, abs=0.001)
    assert metal["viscosity_liquidus"].low < law < metal["viscosity_liquidus"].high
