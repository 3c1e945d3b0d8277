"""The library: what it refuses, what it holds, how it is asked."""

import re

import pytest

from pourcast.errors import SourceError
from pourcast.materials import alloy, library
from pourcast.materials.load import FILES, parse
from pourcast.materials.model import Value

GOOD = {
    "value": "2.0",
    "low": "1.0",
    "high": "3.0",
    "unit": '"mm"',
    "kind": '"published"',
    "source": '"Young 1805, Phil. Trans. R. Soc. 95"',
}


def _file(**changes: str | None) -> str:
    fields = {**GOOD, **changes}
    record = ", ".join(f"{name} = {text}" for name, text in fields.items() if text is not None)
    return f'[wax]\nname = "Wax"\nwidth = {{ {record} }}\n'


def _all_values() -> list[Value]:
    return library().find("")


def test_a_whole_record_is_read() -> None:
    """By definition of the file form; mm to m is the SI prefix."""
    group = parse("waxes", "waxes.toml", _file(condition='"at rest"'))

    value = group.materials["wax"]["width"]

    assert (value.key, value.name, value.owner) == ("waxes.wax.width", "width", "waxes.wax")
    assert (value.si_low, value.si, value.si_high) == pytest.approx((1e-3, 2e-3, 3e-3))
    assert (value.condition, value.note) == ("at rest", "")


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        ({"value": None}, "value is missing"),
        ({"low": None}, "low is missing"),
        ({"high": None}, "high is missing"),
        ({"unit": None}, "unit is missing"),
        ({"kind": None}, "kind is missing"),
        ({"source": None}, "source is missing"),
        ({"colour": '"red"'}, "colour is not a field"),
        ({"unit": '"furlong"'}, 'unit "furlong" is not known'),
        ({"unit": "3"}, "unit is not a text"),
        ({"note": "3"}, "note is not a text"),
        ({"value": "0.5"}, "0.5 is not within 1.0 to 3.0"),
        ({"value": "3.5"}, "3.5 is not within 1.0 to 3.0"),
        ({"low": "4.0"}, "2.0 is not within 4.0 to 3.0"),
        ({"value": "nan"}, "nan is not a finite number"),
        ({"high": "inf"}, "inf is not a finite number"),
        ({"value": "true"}, "True is not a finite number"),
        ({"value": '"2"'}, "'2' is not a finite number"),
        ({"source": '" "'}, "source is empty"),
        ({"kind": '"hearsay"'}, 'kind "hearsay" is not one of'),
        ({"source": '"standard tables"'}, "names nothing that can be checked"),
        ({"source": '"alloy table 240 (470 F)"'}, "names nothing that can be checked"),
        ({"source": '"alloy sheet, 1780 F"'}, "names nothing that can be checked"),
        ({"source": '"sheet 167"'}, "names nothing that can be checked"),
        ({"source": '"Young 1805, from memory"'}, "from memory"),
        ({"source": '"handbook of 1992 as remembered"'}, "from memory"),
    ],
)
def test_a_record_that_lacks_something_is_refused(
    changes: dict[str, str | None], fault: str
) -> None:
    """House rule: value, range, unit, kind and source, or it is not used."""
    with pytest.raises(SourceError, match=re.escape(fault)) as caught:
        parse("waxes", "waxes.toml", _file(**changes))

    assert str(caught.value).startswith("waxes.toml: waxes.wax.width: ")


@pytest.mark.parametrize(
    "source",
    [
        "Young 1805, Phil. Trans. R. Soc. 95",
        "ISO 7490",
        "29 CFR 1910.1000 Table Z-1",
        "CRC Handbook",
        "Perry Handbook Table 2-151",
        "alloy data sheet C95400: 1900 F",
        "alloy data sheet 356.0",
        "article PMC11876593",
    ],
)
def test_a_source_that_can_be_looked_up_may_be_published(source: str) -> None:
    """House rule: year, standard, handbook, data sheet or archive number."""
    group = parse("waxes", "waxes.toml", _file(source=f'"{source}"'))

    assert group.materials["wax"]["width"].source == source


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("[wax\n", "pouring.toml: "),
        ("[wax]\nwidth = 3\n", "pouring.toml: wax: name is missing"),
        ('[wax]\nname = "Wax"\nwidth = 3\n', "pouring.toml: pour.wax.width: 3 is not a record"),
        (_file() + _file(), "pouring.toml: "),
        (
            '[[facts]]\nid = "dust"\ntext = "x"\nkind = "published"\nsource = "a maker"\n',
            "pouring.toml: facts.dust: kind is published",
        ),
    ],
)
def test_a_file_that_cannot_be_read_is_refused_with_its_name(text: str, fault: str) -> None:
    """House rule: the message says which file."""
    with pytest.raises(SourceError, match=re.escape(fault)):
        parse("pour", "pouring.toml", text)


def test_every_file_of_the_package_passes_and_none_is_empty() -> None:
    """House rule; the table the records came from has 616, then 18 for the pour, 37 for the finish.

    A record that is added makes the count larger, none may be lost.
    """
    values = _all_values()

    assert set(library().groups) == set(FILES)
    assert len(library().groups) == len(FILES)
    for group in FILES:
        assert library().groups[group].materials or library().groups[group].matter
    assert len(values) >= 671
    assert len({value.key for value in values}) == len(values)


def test_a_group_that_is_not_there_is_not_found() -> None:
    """By definition of a mapping."""
    assert "glazes" not in library().groups


def test_no_source_points_at_something_a_reader_cannot_find() -> None:
    """House rule: no word of our own papers, no host, no place on a disk."""
    banned = re.compile(r"project|as remembered|\bbrief\b|\bas above\b|https?:|www\.")
    for value in _all_values():
        for text in (value.source, value.condition, value.note):
            assert not banned.search(text), value.key


def test_what_is_said_from_memory_is_marked_so() -> None:
    """House rule: published means that somebody can look it up."""
    for value in _all_values():
        if value.kind == "from memory":
            assert re.search(r"from memory|year not noted", value.source), value.key
        if value.kind == "common practice":
            assert re.search(r"common practice|trade|as C87300", value.source), value.key


def test_fume_words_of_all_alloys_lead_to_limits() -> None:
    """By definition: a word without a limit would show the caster nothing."""
    kept = library()

    for material in kept.alloys.values():
        assert material.fume, material.key
        assert set(material.fume) <= set(kept.fume_limits)
    for names in kept.fume_limits.values():
        assert names
        assert all(name in kept.limits for name in names)


def test_lead_and_zinc_are_flagged() -> None:
    """Common practice, no source: C83600 holds 5 % of lead and of zinc, C85700 35 % of zinc."""
    assert "lead" in alloy("C83600").flag
    assert "zinc" in alloy("C85700").flag
    assert {"lead", "zinc_oxide"} <= set(alloy("C83600").fume)
    assert {"lead", "zinc_oxide"} <= set(alloy("C85700").fume)
    assert alloy("C83600").flag.startswith("NOT ")
    assert alloy("C85700").flag.startswith("NOT ")


def test_every_hazard_of_the_trade_has_its_fact() -> None:
    """Common practice, no source: list of hazards of the design of this program."""
    wanted = {"silica_dust", "metal_fume", "moisture", "burnout_fumes", "sulphide_patina"}
    wanted |= {"so2", "quench_steam", "compressed_air", "ppe", "respirator"}

    facts = library().facts

    assert wanted <= set(facts)
    assert not any(re.search(r"\bsafe\b", fact.text) for fact in facts.values())


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("si_bronze_c87300", "si_bronze_c87300"),
        ("C87300", "si_bronze_c87300"),
        ("c87300", "si_bronze_c87300"),
        ("UNS C87300", "si_bronze_c87300"),
        ("uns c87300", "si_bronze_c87300"),
        ("CuSn10", "sn_bronze_cusn10"),
        ("C90700", "sn_bronze_cusn10"),
        ("EN CuSn12", "sn_bronze_cusn12"),
        ("925", "sterling_925"),
        ("999", "fine_silver"),
        ("A356.0", "al_a356"),
        ("AC-42000", "al_a356"),
        ("ac 42000", "al_a356"),
        ("C-87300", "si_bronze_c87300"),
        ("Sterling silver Ag-7.5Cu", "sterling_925"),
    ],
)
def test_an_alloy_is_found_by_each_of_its_names(text: str, key: str) -> None:
    """UNS and EN designations, common practice of the trade."""
    assert alloy(text).key == key


def test_no_two_alloys_share_a_name() -> None:
    """By definition: a designation that two records carry would pick one by chance."""
    for material in library().alloys.values():
        written = [part.partition("(")[0].strip() for part in material.designation.split(",")]
        for name in filter(None, [material.key, material.name, *written]):
            assert alloy(name) is material


def test_an_alloy_that_is_not_there_is_refused_with_what_comes_near() -> None:
    """House rule: the error says what to change."""
    with pytest.raises(SourceError, match='no alloy "C8730"; did you mean "C87300"'):
        alloy("C8730")
    with pytest.raises(SourceError, match=r'no alloy "unobtainium"$'):
        alloy("unobtainium")


def test_a_key_that_is_not_there_is_refused_with_what_comes_near() -> None:
    """House rule: the error says what to change."""
    with pytest.raises(SourceError, match='has no value "latnt"; did you mean "latent"'):
        alloy("C87300")["latnt"]


def test_find_gives_one_value_for_a_whole_key_and_many_for_a_part() -> None:
    """By definition of the search."""
    kept = library()

    whole = kept.find("Alloys.Si_bronze_C87300.latent")
    also_a_beginning = kept.find("kiln.char_E")
    beginning = kept.find("kiln.")
    part = kept.find("contact_angle")

    assert [value.key for value in whole] == ["alloys.si_bronze_c87300.latent"]
    assert [value.key for value in also_a_beginning] == ["kiln.char_E"]
    assert {value.key for value in beginning} == {f"kiln.{name}" for name in kept.kiln}
    assert len(part) == len(kept.alloys)
    with pytest.raises(SourceError, match="did you mean"):
        kept.find("alloys.si_bronze_c87300.latnt")


def test_the_keys_that_stages_ask_for_are_there() -> None:
    """By definition: keys are kept for good."""
    kept = library()

    assert kept.powders == ("gypsum_silica",)
    assert "leaf" in kept.organs
    assert "general" not in kept.organs
    assert kept.elements["Cu_melting"].unit == "degC"
    assert kept.pour["film_factor"].value == 1.3
    assert kept.investment["wp_40"]["slurry_density"].si == 1765.0
    assert kept.waxes["casting"]["density"].si == 950.0
    assert kept.coatings["wax_dip_thickness"].si == pytest.approx(2.5e-4)
    assert kept.investment["flow"].path == "investment.flow"
    assert kept.kiln.path == "kiln"
    for material in kept.alloys.values():
        for name in ("density_20", "density_liquid", "liquidus", "solidus", "latent", "cp_solid",
                     "cp_liquid", "k_solid_hot", "k_liquid", "viscosity_liquidus", "pour",
                     "surface_tension", "contact_angle", "shrink_solidification"):  # fmt: skip
            assert name in material, material.key
        assert material["yield_strength"].unit == "MPa", material.key
        assert material["youngs"].unit == "GPa", material.key
    for name in ("hand_brush", "wheel", "water_gauge", "blast_gauge", "light_gauge", "saw_rate"):
        assert name in kept.finish
