"""Values held by laws and by numbers of others: a wrong one does not go unseen.

What the mutation run let through (docs/mutation.md) is held here wherever somebody else's
number exists.
"""

import math

import pytest

from pourcast.materials import library
from tests.outside.record import record

LIQUID = {
    "Ag": 9320.0, "Al": 2375.0, "Cu": 8000.0, "Fe": 7015.0, "Mn": 5950.0, "Pb": 10660.0,
    "Sb": 6483.0, "Si": 2570.0, "Sn": 6980.0, "Zn": 6575.0,
}  # fmt: skip
"""Densities of liquid elements at their melting points, kg/m³: Crawley (1974), Int. Metall. Rev.
19, 32, and Smithells Metals Reference Book, from memory."""

KSI = 6.894757e6
"""A thousand pounds-force to the square inch, Pa."""

SPECIFIC_HEAT = {
    "Ag": 235.0, "Al": 897.0, "Cu": 385.0, "Fe": 449.0, "Mn": 479.0, "Pb": 129.0,
    "Sb": 207.0, "Si": 712.0, "Sn": 228.0, "Zn": 388.0,
}  # fmt: skip
"""Of the solid elements at 25 °C, J/(kg·K): CRC Handbook of Chemistry and Physics, from memory."""

COMPOSITION = {
    "si_bronze_c87300": {"Cu": 0.95, "Si": 0.04, "Mn": 0.01},
    "si_bronze_c87200": {"Cu": 0.92, "Si": 0.04, "Zn": 0.04},
    "sn_bronze_cusn10": {"Cu": 0.90, "Sn": 0.10},
    "sn_bronze_cusn12": {"Cu": 0.88, "Sn": 0.12},
    "red_brass_c83600": {"Cu": 0.85, "Sn": 0.05, "Pb": 0.05, "Zn": 0.05},
    "yellow_brass_c85700": {"Cu": 0.63, "Zn": 0.35, "Sn": 0.01, "Pb": 0.01},
    "al_bronze_c95400": {"Cu": 0.85, "Fe": 0.04, "Al": 0.11},
    "sterling_925": {"Ag": 0.925, "Cu": 0.075},
    "fine_silver": {"Ag": 1.0},
    "copper": {"Cu": 1.0},
    "pewter": {"Sn": 0.92, "Sb": 0.07, "Cu": 0.01},
    "al_a356": {"Al": 0.93, "Si": 0.07},
}
"""Nominal shares by mass of the standards EN 1982, UNS and EN 611, from memory."""


@pytest.mark.parametrize("alloy", COMPOSITION)
def test_liquid_density_is_about_that_of_its_elements(alloy: str) -> None:
    """Volumes of the liquid elements added; Crawley (1974) and Smithells, from memory.

    Tolerance 4 %: liquids take up less room together, most of all copper with aluminium
    (7 % there) and silicon.
    """
    got = library().alloys[alloy]["density_liquid"].si
    want = 1.0 / sum(share / LIQUID[of] for of, share in COMPOSITION[alloy].items())
    may_miss = 0.07 if alloy == "al_bronze_c95400" else 0.04

    record(
        "materials", f"density of liquid {alloy} from its elements",
        "Crawley (1974) and Smithells, from memory; volumes added",
        got, want, "kg/m³", may_miss * want, kind="table",
    )  # fmt: skip
    assert got == pytest.approx(want, rel=may_miss)


@pytest.mark.parametrize("alloy", COMPOSITION)
def test_specific_heat_of_the_hot_solid_follows_its_elements(alloy: str) -> None:
    """Law of Neumann and Kopp on the CRC Handbook, from memory.

    Metals take up more when hot: copper 1.17 times as much at 1000 K as at 25 °C (NIST-JANAF,
    from memory).  So between 1 and 1.22 times the sum at 25 °C.
    """
    got = library().alloys[alloy]["cp_solid"].si
    cold = sum(share * SPECIFIC_HEAT[of] for of, share in COMPOSITION[alloy].items())

    record(
        "materials", f"specific heat of hot solid {alloy} from its elements at 25 °C",
        "Neumann-Kopp on the CRC Handbook, from memory",
        got, 1.11 * cold, "J/(kg·K)", 0.11 * cold, kind="table",
    )  # fmt: skip
    assert cold <= got <= 1.22 * cold


def test_no_emissivity_is_above_one_and_no_share_above_all() -> None:
    """Definition: nothing shines more than a black body; nothing holds more than itself."""
    book = library()
    groups = [book.freeze, book.kiln, *book.plants.values(), *book.waxes.values()]
    seen = 0
    for group in groups:
        for key, value in group.values.items():
            if "emissivity" in key or key in ("water", "ash"):
                seen += 1
                assert 0.0 < value.low <= value.high
                whole = 100.0 if "%" in value.unit else 1.0
                assert value.high <= whole, key
    assert seen > 15


def test_an_oxidised_button_shines_as_cuprous_oxide_does() -> None:
    """Published: McAdams, Heat Transmission, table of emissivities, from memory.

    Cuprous oxide at 800 to 1100 °C: 0.66 to 0.54.  Tolerance: that span about its middle, and
    as much again for a skin that is not all oxide.
    """
    got = library().freeze["button_top_emissivity"].si

    record(
        "materials", "emissivity of the top of the button", "McAdams, from memory: cuprous oxide",
        got, 0.60, "-", 0.12, kind="table",
    )  # fmt: skip
    assert got == pytest.approx(0.60, abs=0.12)


def test_the_flask_gives_heat_to_the_air_as_an_upright_plate() -> None:
    """Closed form: McAdams, Nu = 0.59 Ra^(1/4), upright plate, laminar, from memory.

    A flask of 150 mm and 700 K in air of 293 K; air at 497 K from the CRC Handbook, from memory:
    0.0407 W/(m·K), 3.8e-5 m²/s, Pr 0.684.  Tolerance 20 %: flasks of 100 to 250 mm.
    """
    height, hot, cold = 0.15, 700.0, 293.0
    viscosity, prandtl, conductivity = 3.8e-5, 0.684, 0.0407
    film = 0.5 * (hot + cold)
    rayleigh = 9.81 * (hot - cold) / film * height**3 * prandtl / viscosity**2
    want = 0.59 * rayleigh**0.25 * conductivity / height
    got = library().freeze["flask_heat_transfer"].si

    record(
        "materials", "heat from the flask to still air", "McAdams, upright plate, from memory",
        got, want, "W/(m²·K)", 0.2 * want, kind="closed form",
    )  # fmt: skip
    assert got == pytest.approx(want, rel=0.2)


def test_heat_by_radiation_in_the_kiln_is_that_of_stefan_and_boltzmann() -> None:
    """Closed form: 4 ε σ T³ at 600 °C, CODATA 2018, with the 0.9 that the record names."""
    want = 4.0 * 0.9 * 5.670374419e-8 * 873.15**3
    got = library().kiln["h_radiation_600"].si

    record(
        "materials", "heat by radiation at 600 °C", "Stefan-Boltzmann, CODATA 2018",
        got, want, "W/(m²·K)", 1e-3 * want, kind="closed form",
    )  # fmt: skip
    assert got == pytest.approx(want, rel=1e-3)


def test_energy_of_char_is_near_that_of_other_carbons() -> None:
    """Published: Smith (1982), 19th Symp. Combust. 1045: 179.4 kJ/mol over many carbons.

    From memory.  Tolerance 10 %: chars of plants scatter about it.
    """
    got = library().kiln["char_E_thermogravimetric"].si

    record(
        "materials", "activation energy of char in air", "Smith (1982), from memory",
        got / 1e3, 179.4, "kJ/mol", 17.9, kind="measured",
    )  # fmt: skip
    assert got == pytest.approx(179.4e3, rel=0.1)


def test_metal_stops_feeding_where_its_crystals_touch() -> None:
    """Published: Campbell, Castings (2003), chapter 7, from memory: at about 0.68 of solid."""
    got = library().freeze["feed_stop_solid_fraction"].si

    record(
        "materials", "solid share at which metal stops moving", "Campbell (2003), from memory",
        got, 0.68, "-", 0.1, kind="table",
    )  # fmt: skip
    assert got == pytest.approx(0.68, abs=0.1)


def test_a_room_is_as_warm_as_standards_take_it() -> None:
    """Standard: ISO 1, reference temperature 20 °C; tolerance 5 K, a workshop."""
    assert library().freeze["room_temperature"].si == pytest.approx(293.15, abs=5.0)


@pytest.mark.parametrize(
    ("organ", "low", "high"),
    [("leaf", 0.6, 0.9), ("petal", 0.8, 0.95), ("herb_stem", 0.7, 0.92), ("moss", 0.6, 0.92),
     ("woody_stem", 0.4, 0.6), ("insect", 0.55, 0.75)],
)  # fmt: skip
def test_water_of_fresh_organs_lies_where_physiology_has_it(
    organ: str, low: float, high: float
) -> None:
    """Published: Larcher, Physiological Plant Ecology (2003), table of water contents, from memory.

    Insects: Hadley (1994), Water Relations of Terrestrial Arthropods, from memory.
    """
    got = library().plants[organ]["water"].si
    middle = 0.5 * (low + high)

    record(
        "materials", f"water of fresh {organ}", "Larcher (2003); Hadley (1994), from memory",
        got, middle, "kg/kg", middle - low, kind="table",
    )  # fmt: skip
    assert low <= got <= high


@pytest.mark.parametrize(
    ("wax", "low", "high"),
    [("beeswax", 950.0, 970.0), ("casting", 880.0, 980.0), ("sprue", 880.0, 980.0)],
)
def test_waxes_without_filler_are_lighter_than_water(wax: str, low: float, high: float) -> None:
    """Published: CRC Handbook, beeswax 950 to 970, paraffin 880 to 920 kg/m³, from memory.

    Resins make a wax for casting heavier, but not as heavy as water.
    """
    assert low <= library().waxes[wax]["density"].si <= high


def test_beeswax_melts_where_the_food_standard_has_it() -> None:
    """Standard: E 901, melting range 62 to 65 °C, from memory; tolerance 2 K."""
    wax = library().waxes["beeswax"]

    assert wax["melt_start"].si - 273.15 == pytest.approx(62.0, abs=2.0)
    assert wax["melt_end"].si - 273.15 == pytest.approx(65.0, abs=2.0)


def test_no_wax_is_left_to_boil_above_the_longest_paraffin() -> None:
    """Published: boiling point of tetracontane, C40, 525 °C (CRC Handbook, from memory)."""
    assert library().waxes["casting"]["boil_off_end"].high <= 525.0


def test_resins_of_coats_are_no_heavier_than_they_are() -> None:
    """Published: CRC Handbook and Merck Index, from memory.

    Shellac 1035 to 1140 kg/m³, tolerance 3 %; lacquers lie between acrylic resin, 1050, and
    cellulose nitrate, 1400.
    """
    coats = library().coatings

    assert 0.97 * 1035.0 <= coats["density_shellac"].si <= 1.03 * 1140.0
    assert 1050.0 <= coats["density_lacquer"].si <= 1400.0


def test_gypsum_has_lost_its_water_before_the_next_change_of_its_crystal() -> None:
    """Published: DTA of gypsum (Földvári 2011, from memory).

    The second loss ends by some 250 °C at 10 K/min, and soluble anhydrite turns insoluble from
    some 330 °C on.
    """
    end = library().investment["chemistry"]["T_step2_end"]

    assert 200.0 <= end.si - 273.15 <= 290.0
    assert end.high <= 330.0
    assert math.isfinite(end.low)


@pytest.mark.parametrize(
    ("alloy", "least", "typical"),
    [
        ("si_bronze_c87300", 18.0, 25.0),
        ("si_bronze_c87200", 18.0, 25.0),
        ("red_brass_c83600", 14.0, 17.0),
        ("yellow_brass_c85700", 14.0, 18.0),
        ("al_bronze_c95400", 30.0, 35.0),
    ],
)
def test_a_casting_yields_between_the_least_of_the_standard_and_the_typical_bar(
    alloy: str, least: float, typical: float
) -> None:
    """Table: ASTM B584 and B148, least, and alloy sheets, typical, in ksi, from memory.

    Both are of bars cast in sand; a small casting is not counted on for more than the typical one.
    """
    got = library().alloys[alloy]["yield_strength"].si

    middle, half = 0.5 * (least + typical) * KSI, 0.5 * (typical - least) * KSI
    record(
        "materials", f"yield strength of cast {alloy}",
        "ASTM B584, B148 and alloy sheets, from memory",
        got / 1e6, middle / 1e6, "MPa", half / 1e6, kind="table",
    )  # fmt: skip
    assert least * KSI <= got <= typical * KSI


def test_the_usual_peak_lies_below_the_heat_at_which_char_breaks_the_gypsum() -> None:
    """Table: CaSO4 + C = CaO + SO2 + CO gives gas of 1 bar each where ΔH = T ΔS.

    Enthalpies and entropies at 25 °C: CRC Handbook of Chemistry and Physics, from memory;
    taken as the same at all temperatures, which is worth some 20 K here.
    """
    enthalpy = 1e3 * (-635.1 - 296.8 - 110.5 + 1434.5)  # J/mol: CaO, SO2, CO less CaSO4
    entropy = 38.1 + 248.2 + 197.7 - 106.5 - 5.7  # J/(mol·K): less graphite too
    limits = library().investment["limits"]

    breaks = enthalpy / entropy
    assert breaks == pytest.approx(782.0 + 273.15, abs=2.0)
    assert limits["burnout_peak_default"].si < breaks
    assert limits["burnout_peak_hard_stop"].si < breaks
