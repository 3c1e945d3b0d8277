"""Values of the library against numbers that others measured or assessed."""

import math

import pytest

from pourcast.materials import Value, alloy, library
from tests.outside.record import record

ANDERSON = "Anderson (1860), Elements of Agricultural Chemistry, table of inorganic matters"
VINES = "Vines, table in Atkinson, Elementary Botany"
JOHNSTON = "Johnston, Elements of Agricultural Chemistry and Geology"


def _check(claim: str, source: str, got: float, want: float, unit: str, tolerance: float) -> None:
    record("materials", claim, source, got, want, unit, tolerance, kind="measured")
    assert abs(got - want) <= tolerance, (claim, got, want)


def _holds(value: Value, number: float) -> bool:
    return value.low <= number <= value.high


def _record_held(claim: str, source: str, value: Value, number: float, unit: str) -> None:
    """Record what of the range lies nearest to a measured number: itself, where it is held."""
    nearest = min(max(number, value.low), value.high)
    record("materials", claim, source, nearest, number, unit, 0.0, kind="measured")


@pytest.mark.parametrize(
    ("organ", "matter", "ash", "source"),
    [
        ("leaf", "leaves on average", 13.0, ANDERSON),
        ("leaf", "oak leaves, May", 5.3, ANDERSON),
        ("leaf", "oak leaves, September", 5.5, ANDERSON),
        ("leaf", "hazel leaves, lower figure", 6.1, ANDERSON),
        ("leaf", "hazel leaves, upper figure", 7.0, ANDERSON),
        ("leaf", "willow leaf", 8.2, JOHNSTON),
        ("leaf", "elm leaf", 12.0, JOHNSTON),
        ("leaf", "pine needles (fitted)", 2.0, JOHNSTON),
        ("herb_stem", "clover in flower", 6.83, VINES),
        ("herb_stem", "wheat straw", 5.37, VINES),
        ("seed_head", "peas", 2.88, ANDERSON),
        ("seed_head", "sunflower seed", 3.26, ANDERSON),
        ("seed_head", "linseed", 4.40, ANDERSON),
        ("seed_head", "wheat straw", 5.37, VINES),
        ("seed_head", "wheat grain (fitted)", 1.97, ANDERSON),
        ("woody_stem", "elm wood", 1.9, JOHNSTON),
        ("woody_stem", "poplar wood", 2.0, JOHNSTON),
        ("woody_stem", "beech wood", 0.4, JOHNSTON),
        ("woody_stem", "willow wood", 0.45, JOHNSTON),
        ("woody_stem", "oak wood (fitted)", 0.2, JOHNSTON),
    ],
)
def test_ash_range_holds_the_measured_plant(
    organ: str, matter: str, ash: float, source: str
) -> None:
    """Measured, % of dry mass: tables of the 19th century, read.

    No tolerance: a range that a forecast draws from holds the number or does not.
    Found at first: pine needles, wheat grain and oak wood lay under the low ends 3,
    2 and 0.3; the low ends were moved to hold them, so these three, marked fitted, say
    no more.
    """
    value = library().plants[organ]["ash"]
    claim = f"ash of {matter}, in the range of {organ}"
    _record_held(claim, source, value, ash, "% of dry mass")

    assert _holds(value, ash), (matter, source)


def test_silica_in_the_ash_of_grass_agrees_with_the_table() -> None:
    """Measured: wheat straw 36.25 parts of silica in 53.7 of ash, table of Vines.

    Tolerance 0.6 points: the value is rounded to a whole number.
    """
    got = library().plants["seed_head"]["silica_in_grass_ash"].si * 100.0

    _check("silica in the ash of wheat straw", VINES, got, 100.0 * 36.25 / 53.7, "%", 0.6)


def test_char_range_holds_the_mean_of_seventeen_laboratories() -> None:
    """Measured: char of pine powder at 550 °C in nitrogen, 19.3 %, laboratories 12 to 27 %.

    Source: MaCFP open wood data.  Tolerance 8 points: two standard deviations
    between the laboratories.  Found: 26 %, 6.7 points over their mean; small fast
    samples leave less char than twigs do.
    """
    char = library().plants["woody_stem"]["char_yield"]
    source = "MaCFP open wood data, 17 laboratories"

    for number in (12.0, 19.3, 27.0):
        assert _holds(char, number)
    _check("char of wood, against fine powder", source, char.value, 19.3, "% of dry mass", 8.0)


def test_activation_energy_of_char_holds_the_published_one() -> None:
    """Published: 183 kJ/mol for the step of char, Branca and Di Blasi (2004), Fuel 83, 81.

    Tolerance 20 kJ/mol: fits to one curve with another order scatter that much.
    """
    energy = library().kiln["char_E"]
    source = "Branca and Di Blasi (2004), Fuel 83, 81"

    _check("activation energy of char", source, energy.si / 1e3, 183.0, "kJ/mol", 20.0)
    assert _holds(energy, 183_000.0)


def test_stiffness_range_holds_the_softest_stem_measured() -> None:
    """Measured: dandelion flower stems and leaf stalks, fresh, 3 to 14 MPa.

    Source: Greene and Greene (2015), Aust. J. Bot. 63, 512.  No tolerance: the range
    holds both ends or does not.  Found at first: the green stem began at 30 MPa; its
    low end was moved to hold them.
    """
    plants = library().plants
    source = "Greene and Greene (2015), Aust. J. Bot. 63"
    for organ in ("herb_stem", "leaf"):
        value = plants[organ]["youngs_green"]
        for end, number in (("least", 3e6), ("most", 14e6)):
            nearest = min(max(number, value.si_low), value.si_high) / 1e6
            fitted = " (fitted)" if organ == "herb_stem" else ""
            claim = f"stiffness of a dandelion stem at {end}, in the range of {organ}{fitted}"
            record("materials", claim, source, nearest, number / 1e6, "MPa", 0.0, kind="measured")

            assert value.si_low <= number <= value.si_high, (organ, end)


def test_surface_tension_of_copper_misses_the_sessile_drop_of_1963() -> None:
    """Measured and missed: 1268 mN/m, sessile drop on sapphire in hydrogen.

    Source: Trans. Metall. Soc. AIME (1963), The surface tension of copper by
    optical measurements, abstract; its temperature is not stated there.  Wanted
    within 5 %, and not met.  Found: our 1.348 N/m, levitated drop of Aziz et al. (2014), is
    6.3 % higher, and the low end of the range, 1.28, is 0.9 % higher.  With the
    slope of 2014 the two would agree at 1465 °C only; oxygen in the drop, which
    lowers the value, is the likelier reason, estimate.
    """
    tension = alloy("copper")["surface_tension"]
    source = "Trans. Metall. Soc. AIME (1963), sessile drop"

    claim = "surface tension of copper, drop of 1963"
    record(
        "materials", claim, source, tension.si * 1e3, 1268.0, "mN/m", 0.05 * 1268.0, kind="measured"
    )
    assert tension.si / 1.268 - 1.0 == pytest.approx(0.063, abs=0.001)
    assert tension.si_low / 1.268 - 1.0 == pytest.approx(0.009, abs=0.001)


def test_surface_tension_of_copper_agrees_with_the_levitated_drop() -> None:
    """Published: 1633 - 0.21 T mN/m, 1400 to 1750 K, Aziz, Schmon and Pottlacher (2014).

    High Temp. High Press. 43, 193.  Tolerance 1 mN/m: the law has 4 figures.  The
    melting point lies 42 K under the range of the law.
    """
    copper = alloy("copper")
    source = "Aziz, Schmon and Pottlacher (2014), High Temp. High Press. 43, 193"
    want = 1633.0 - 0.21 * copper["liquidus"].si
    claim = "surface tension of copper at its melting point"

    _check(claim, source, copper["surface_tension"].si * 1e3, want, "mN/m", 1.0)
    assert copper["surface_tension_slope"].si == pytest.approx(-0.21e-3)


@pytest.mark.parametrize(
    ("case", "angle"),
    [
        ("gold on alumina, Mater. Trans. 44 (2003) 2659", 134.0),
        ("mercury on quartz, porosimetry table, low", 132.0),
        ("mercury on quartz, porosimetry table, high", 147.0),
        ("mercury on glass, porosimetry table", 135.0),
        ("mercury on alumina, porosimetry table", 127.0),
        ("mercury on calcite, porosimetry table", 146.0),
        ("copper on silica, from memory, low", 120.0),
        ("copper on silica, from memory, high", 140.0),
        ("copper on alumina, from memory, high", 130.0),
        ("silver on alumina, from memory, low", 120.0),
    ],
)
def test_contact_angle_range_holds_liquids_that_do_not_wet(case: str, angle: float) -> None:
    """Measured on other minerals than burnt gypsum; no measurement on that was found.

    No tolerance: the range holds the angle or does not.
    """
    assert _holds(alloy("C87300")["contact_angle"], angle), case


def test_contact_angle_range_misses_the_lowest_copper_on_alumina() -> None:
    """From memory and missed: copper on alumina from 115°, our range begins at 120°.

    A lower angle lets metal in more easily: the forecast errs to short parts.
    """
    assert not _holds(alloy("C87300")["contact_angle"], 115.0)


def test_heat_of_silicon_bronze_from_1090_to_600_agrees_with_cost_507() -> None:
    """Assessed: 344 kJ/kg for Cu-4Si, COST 507 data base run in pycalphad 0.11.2.

    Tolerance 10 %: the data base is at equilibrium, the alloy freezes cored, and it
    holds manganese as well.  The heat between liquidus and solidus is the latent
    heat and the specific heat of the solid over that range.  Found: 335.0, 2.6 % low.
    """
    metal = alloy("C87300")
    liquidus = metal["liquidus"].value

    got = (
        metal["cp_liquid"].si * (1090.0 - liquidus)
        + metal["latent"].si
        + metal["cp_solid"].si * (liquidus - 600.0)
    ) / 1e3

    _check("heat of Cu-4Si, 1090 to 600 °C", "COST 507 data base", got, 344.0, "kJ/kg", 34.4)


def test_latent_heat_of_silicon_bronze_spans_both_routes() -> None:
    """Assessed 108 kJ/kg, COST 507; sum of fusion and mixing heats 150 kJ/kg.

    Mixing heats: Witusiewicz et al. (2000), J. Alloys Compd. 297, 176.  The plain
    sum of the element latents, 272, is wrong and must stay outside.
    """
    latent = alloy("C87300")["latent"]

    assert latent.si == 108e3
    assert _holds(latent, 150e3)
    assert not _holds(latent, 272e3)


def test_freezing_range_of_silicon_bronze_holds_the_equilibrium_one() -> None:
    """Assessed: liquidus 984 °C, solidus 906 °C, half solid 949, 0.7 solid 933 (COST 507).

    Found: the ranges of liquidus (965 to 985) and fs50 (925 to 950) hold theirs.
    The solidus ends at 905, 1 K short; fs70 ends at 910 and misses 933 by 23 K.  A
    cored casting freezes lower than equilibrium: the fs values are for that.
    """
    metal = alloy("C87300")

    assert _holds(metal["liquidus"], 984.0)
    assert _holds(metal["fs50"], 949.0)
    assert 906.0 - metal["solidus"].high == pytest.approx(1.0)
    assert 933.0 - metal["fs70"].high == pytest.approx(23.0)


@pytest.mark.parametrize(("name", "fraction", "miss"), [("fs50", 0.5, 0), ("fs70", 0.7, 8)])
def test_solid_fraction_agrees_with_the_plain_scheil_law(
    name: str, fraction: float, miss: int
) -> None:
    """Law of Scheil (1942): T = Tm - (Tm - Tl) (1 - fs)^(k - 1), k 0.60 from memory.

    Tm 1084.6 °C, Tl 971 °C.  Tolerance 10 K: k is known to 0.05 and that is worth
    8 K at 0.7.  Found: 935 against 934.7 and 893 against 900.7.  At 0.9 the plain
    law gives 799, 50 K under our 849: there other crystals form and end it.
    """
    melting, liquidus = 1084.6, alloy("C87300")["liquidus"].value
    want = melting - (melting - liquidus) * (1.0 - fraction) ** (0.60 - 1.0)
    got = alloy("C87300")[name].value

    _check(f"temperature of C87300 at {fraction} solid", "Scheil (1942)", got, want, "°C", 10.0)
    assert round(want - got) == miss
    assert _holds(alloy("C87300")[name], want)


def test_sterling_ends_at_the_eutectic_at_the_earliest() -> None:
    """From memory: the silver-copper eutectic is at 779 °C, sterling melts at 893 to 899 °C."""
    sterling = alloy("925")

    assert sterling["solidus"].low == 779.0
    assert _holds(sterling["liquidus"], 893.0)
    assert _holds(sterling["liquidus"], 899.0)


def test_liquid_densities_lie_between_those_of_their_metals() -> None:
    """By volume balance: sterling is 92.5 % silver and 7.5 % copper, ideal mix.

    Liquid silver 9320 and copper 7997 kg/m³ at their melting points, Assael et al.
    (2010, 2012) from memory.  Tolerance 1 %: copper at 896 °C is denser than at its
    melting point by 1.9 %, of which sterling feels 0.15 %.  Found: 9250 against 9275,
    0.3 % low.
    """
    elements = library().elements
    cooling = alloy("925")["liquidus"].value
    parts = {"Ag": 0.925, "Cu": 0.075}

    volume = sum(
        share
        / (
            elements[f"{name}_liquid_density"].si
            + elements[f"{name}_liquid_density_slope"].si
            * (cooling - elements[f"{name}_melting"].value)
        )
        for name, share in parts.items()
    )

    claim = "liquid density of sterling, ideal mix"
    got = alloy("925")["density_liquid"].si
    _check(claim, "Assael et al. (2010, 2012), from memory", got, 1 / volume, "kg/m³", 93.0)


def test_silicon_bronze_conducts_as_the_handbook_says() -> None:
    """Published: silicon bronze A, 30 W/m/K at 0 °C, CRC Handbook.

    Tolerance 10 %: another silicon bronze, 20 K colder.  Found: 28, 7 % low.  The
    law of Smith and Palmer (1935), from memory, 2.39e-8 T sigma + 7.5 gives 31.9 at
    6 % of the conductivity of annealed copper (58 MS/m): in our range of 27 to 32.
    """
    conductivity = alloy("C87300")["k_solid_20"]
    claim = "conductivity of silicon bronze, cold"

    _check(claim, "CRC Handbook, silicon bronze A", conductivity.si, 30.0, "W/(m·K)", 3.0)
    assert _holds(conductivity, 2.39e-8 * 293.15 * 0.06 * 58e6 + 7.5)


def test_effusivity_is_the_root_of_its_three_factors() -> None:
    """By definition: e = sqrt(k rho c) of the block at 40:100 and 600 °C.

    Tolerance 4 %: the specific heat is that at 600 °C, the effusivity is for the
    whole way.  Found: 740 against 765, 3.3 % low.
    """
    investment = library().investment
    thermal = investment["thermal"]

    product = (
        thermal["k_burnt_600"].si
        * investment["wp_40"]["burnt_density"].si
        * thermal["cp_burnt_600"].si
    )

    assert thermal["effusivity_burnt"].si == pytest.approx(math.sqrt(product), rel=0.04)
