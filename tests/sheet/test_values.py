"""Single keys: each fault is told with file, line, key, value and cure."""

import pytest

from pourcast.materials import library
from pourcast.sheet.keys import KILN_STEP, LISTS, SECTIONS, bare
from pourcast.sheet.takes import Keys
from tests.sheet.small import SMALL, changed, said

LENGTH = "it must be a length such as 12 mm, 3/16 in or 2 ft 3 in"


@pytest.mark.parametrize(
    ("old", "new", "want"),
    [
        # numbers
        (
            "= 100\n",
            "= 0\n",
            "7: flask.height_mm: is 0 mm; it must be 0.001 to 3000 mm; look for "
            "a wrong unit; a size is never 0",
        ),
        ("= 100\n", "= -100\n", f"7: flask.height_mm: is -100 mm; {LENGTH}; it cannot be negative"),
        (
            "= 100\n",
            '= "4 m"\n',
            '7: flask.height_mm: is "4 m" (4000 mm); it must be 0.001 to '
            "3000 mm; look for a wrong unit; a size is never 0",
        ),
        (
            "= 100\n",
            "= nan\n",
            f"7: flask.height_mm: is nan mm; {LENGTH}; the number is too large, or not a number",
        ),
        (
            "= 100\n",
            "= inf\n",
            f"7: flask.height_mm: is inf mm; {LENGTH}; the number is too large, or not a number",
        ),
        (
            "= 100\n",
            f"= 1{'0' * 400}\n",
            "7: flask.height_mm: is a number of over 30 figures mm; "
            f"{LENGTH}; the number is too large",
        ),
        (
            "= 100\n",
            "= true\n",
            "7: flask.height_mm: is true; it must be a length, as a number in mm",
        ),
        (
            "= 100\n",
            "= [100]\n",
            "7: flask.height_mm: is [100]; it must be a length, as a number in mm",
        ),
        (
            "= 100\n",
            "= {a = 1}\n",
            "7: flask.height_mm: is a table; it must be a length, as a number in mm",
        ),
        (
            "= 100\n",
            "= 2020-01-01\n",
            "7: flask.height_mm: is 2020-01-01; it must be a length, as a number in mm",
        ),
        (
            "= 100\n",
            '= "100 g"\n',
            f'7: flask.height_mm: is "100 g"; {LENGTH}; g is a unit of mass',
        ),
        (
            "= 100\n",
            '= "100 mmm"\n',
            f'7: flask.height_mm: is "100 mmm"; {LENGTH}; did you mean mm?',
        ),
        (
            "_mm = 100\n",
            " = 100\n",
            "7: flask.height: is 100 without a unit; it must be a text "
            "with its unit, or stand beside the key height_mm",
        ),
        (
            "= 100\n",
            '= 100\nheight = "4 in"\n',
            "8: flask.height: stands beside height_mm; it must stand once; keep one",
        ),
        (
            "= 1120",
            "= 1500",
            "4: metal.pour_temperature_C: is 1500 °C; it must be 100 to 1400 °C; "
            'read in Fahrenheit it is written with its unit, such as "2000 F"',
        ),
        (
            "height_mm = 100",
            "height_mm = 100\ntemperature_F = 1150",
            '8: flask.temperature_F: is not a key of this place; write temperature = "1150 F"',
        ),
        (
            "[assist]",
            "[[kiln.step]]\nto_C = 700\nramp_F_per_h = 180\n[assist]",
            '11: kiln.step 1.ramp_F_per_h: is not a key of this place; write ramp = "180 F/h"',
        ),
        (
            "= 1120",
            '= "3000 F"',
            '4: metal.pour_temperature_C: is "3000 F"; it must '
            'be 212 to 2552 °F; read in Fahrenheit it is written with its unit, such as "2000 F"',
        ),
        (
            "= 1120",
            '= "1120 C 20 C"',
            '4: metal.pour_temperature_C: is "1120 C 20 C"; it must be '
            "a temperature such as 760 °C or 1400 °F; write one number with one unit",
        ),
        (
            "= 70\n",
            "= 101.5\n",
            "11: assist.vacuum_kPa: is 101.5 kPa; it must be 0.001 to 101.4 "
            "kPa; count it down from the air outside; the whole air at sea level is 101.3 kPa or "
            "29.9 inHg",
        ),
        (
            "= 70\n",
            "= 70\nseal = 1.2\n",
            "12: assist.seal: is 1.2; it must be 0 to 1; 1 is a tight seal, 0 none",
        ),
        # shares and tapers of a part
        (
            "at = 0.5",
            "at = 1.5",
            "24: part 2 (leaf).at: is 1.5; it must be 0 to 1; 0 is the base "
            "of the part that it grows on, 1 its tip",
        ),
        (
            "at = 0.5",
            "at = [0.5, -1]",
            "24: part 2 (leaf).at 2: is -1; it must be a ratio such as "
            "0.40, 40 % or 40:100; it cannot be negative",
        ),
        (
            "[6, 1]",
            "[6, 1, 0]",
            "28: part 2 (leaf).width_mm: is a list of 3; it must be one "
            "number, or two as in [start, end]",
        ),
        (
            "[6, 1]",
            "[6, 0]",
            "28: part 2 (leaf).width_mm 2: is 0 mm; it must be 0.001 to 3000 mm; "
            "look for a wrong unit; a pointed tip has a width too, such as 0.1 mm",
        ),
        (
            "count = 3",
            "count = 1000000",
            "25: part 2 (leaf).count: is 1000000; it must be a whole number, 1 to 2000",
        ),
        (
            "count = 3",
            "count = true",
            "25: part 2 (leaf).count: is true; it must be a whole number, 1 to 2000",
        ),
        (
            "[metal]",
            "vent = [1]\n[metal]",
            "2: vent: must be sections of their own; write [[vent]] with double brackets",
        ),
        (
            "count = 3",
            "count = 0",
            "25: part 2 (leaf).count: is 0; it must be a whole number, 1 to 2000",
        ),
        (
            "count = 3",
            "count = 2.5",
            "25: part 2 (leaf).count: is 2.5; it must be a whole number, 1 to 2000",
        ),
        # choices, flags, texts
        (
            '"perforated"',
            '"perforted"',
            '8: flask.wall: is "perforted"; it must be "solid" or '
            '"perforated"; did you mean perforated?',
        ),
        (
            '"blade"',
            '"balde"',
            '26: part 2 (leaf).shape: is "balde"; it must be "rod", "blade" or '
            '"lump"; did you mean blade?',
        ),
        ('"blade"', "3", '26: part 2 (leaf).shape: is 3; it must be "rod", "blade" or "lump"'),
        (
            'name = "Twig"',
            'name = "Twig"\ninvented = "yes"',
            '2: invented: is "yes"; it must be true or false; without quotes',
        ),
        ('"Twig"', '" "', '1: name: is " "; it must be a text in quotes; nothing is written'),
        ('"Twig"', "3", "1: name: is 3; it must be a text in quotes"),
        (
            '"Twig"',
            '"a\\nb"',
            "1: name: holds a control character; it must stand on one line, without tabs",
        ),
        (
            '"Twig"',
            f'"{"a" * 121}"',
            "1: name: has 121 characters; it must have at most 120; put more into the note",
        ),
        # names of records
        (
            '"C87300"',
            '"C8730"',
            '3: metal.alloy: is "C8730"; it must be the name of an alloy, by '
            'its key or designation; did you mean "C87300" or "C87200" or "C85700"?',
        ),
        (
            '"C87300"',
            "87300",
            "3: metal.alloy: is 87300; it must be the name of an alloy, by its key or designation",
        ),
        (
            '"herb_stem"',
            '"herbstem"',
            '20: part 1 (stem).material: is "herbstem"; it must be the '
            "name of a plant, insect or wax record; did you mean herb_stem? Known: leaf, petal, "
            "herb_stem, woody_stem, seed_head, cone, moss, insect, casting, sprue, beeswax",
        ),
        (
            '"herb_stem"',
            '"general"',
            '20: part 1 (stem).material: is "general"; it must be the '
            "name of a plant, insect or wax record; known: leaf, petal, herb_stem, woody_stem, "
            "seed_head, cone, moss, insect, casting, sprue, beeswax",
        ),
        (
            "[button]",
            '[button]\nmaterial = "leaf"',
            '13: button.material: is "leaf"; it must be '
            "the name of a wax; known: casting, sprue, beeswax",
        ),
        (
            "[assist]",
            '[investment]\npowder = "gypsum"\n[assist]',
            "10: investment.powder: is "
            '"gypsum"; it must be the name of an investment powder; did you mean gypsum_silica? '
            "Known: gypsum_silica",
        ),
        # the original, and what is in it
        (
            "[assist]",
            '[original]\nstate = "dryed"\n[assist]',
            '10: original.state: is "dryed"; it must be "dry", "fresh" or "soaked"; '
            "did you mean dry?",
        ),
        (
            "[assist]",
            '[original]\nholds = [\n "wire",\n "bome"]\n[assist]',
            '12: original.holds 2: is "bome"; it must be a word for matter in or on an original; '
            "did you mean bone?",
        ),
        (
            "[assist]",
            '[original]\nholds = ["soil", "florist wires"]\n[assist]',
            '10: original.holds 2: is "florist wires"; it must be a word for matter in or on an '
            "original; did you mean florist_wire?",
        ),
        (
            "[assist]",
            '[original]\nholds = ["bone", "giant hogwed"]\n[assist]',
            '10: original.holds 2: is "giant hogwed"; it must be a word for matter in or on an '
            "original; did you mean giant hogweed?",
        ),
        (
            "[assist]",
            "[original]\nholds = [3]\n[assist]",
            "10: original.holds 1: is 3; it must be a word for matter in or on an original; "
            f"known: {', '.join(library().matter)}",
        ),
        (
            "[assist]",
            '[original]\nholds = "wire"\n[assist]',
            '10: original.holds: is "wire"; it must be a list of words, as in ["wire", "bone"]; '
            'write ["wire"]',
        ),
        (
            "[assist]",
            f"[original]\nholds = [{', '.join(['1'] * 51)}]\n[assist]",
            "10: original.holds: is a list of 51; it must be of at most 50",
        ),
        (
            "[assist]",
            "[original]\ndays_dried = 36501\n[assist]",
            "10: original.days_dried: is 36501 days; it must be 0 to 36500 days",
        ),
        (
            "[assist]",
            '[original]\ndays_dried = "3 mm"\n[assist]',
            '10: original.days_dried: is "3 mm"; it must be a time such as 90 min or 2 h 30 min; '
            "mm is a unit of length",
        ),
        (
            "[assist]",
            "[kiln]\nflasks = 0\n[assist]",
            "10: kiln.flasks: is 0; it must be a whole number, 1 to 100",
        ),
        (
            "[button]",
            '[button]\ntop = "shut"',
            '13: button.top: is "shut"; it must be "open" or "covered"',
        ),
        # keys and sections that are not known
        (
            "length_mm = 18",
            "lenght_mm = 18\nlength_mm = 18",
            "27: part 2 (leaf).lenght_mm: is not a key of this place; did you mean length_mm?",
        ),
        (
            "[flask]",
            "[flask]\nalloy = 1",
            "6: flask.alloy: is not a key of this place; it belongs to [metal]",
        ),
        (
            "[flask]",
            "[flask]\nleads_to = 1",
            "6: flask.leads_to: is not a key of this place; it belongs to [[vent]]",
        ),
        (
            "[flask]",
            "[flask]\nnote = 'x'",
            "6: flask.note: is not a key of this place; it belongs "
            "to the top of the file, before the first section",
        ),
        (
            "[flask]",
            "[flask]\nzzz = 1",
            "6: flask.zzz: is not a key of this place; known here: "
            "inside_diameter_mm, height_mm, wall, wall_mm, temperature_C",
        ),
        (
            "[metal]",
            "zzz = 1\n[metal]",
            "2: zzz: is not a key of this place; known here: name, invented, note",
        ),
        (
            "[assist]",
            "[klin]\nkW = 2\n[assist]",
            "9: klin: is not a section of a piece file; did you mean kiln?",
        ),
        (
            "[assist]",
            "[zzz]\n[assist]",
            "9: zzz: is not a section of a piece file; known: metal, "
            "flask, investment, assist, kiln, button, original, measured, studio, part, vent",
        ),
        (
            "[assist]",
            "[scan]\nfile = 'x.stl'\n[assist]",
            "9: scan: names a file that is not at hand here; here the parts must stand as "
            "[[part]]; pourcast take reads it and writes them",
        ),
        (
            "[assist]",
            "[photo]\n[assist]",
            "9: photo: names a file that is not at hand here; here the parts must stand as "
            "[[part]]; pourcast take reads it and writes them",
        ),
        (
            "[assist]",
            "[kiln.step]\nto_C = 100\n[assist]",
            "9: kiln.step: must be sections of their own; write [[kiln.step]] with double brackets",
        ),
        (
            "[assist]",
            "[[kiln.step]]\nhold_h = 1\n[assist]",
            "9: kiln.step 1.to_C: is missing; it takes a temperature, as a number in °C",
        ),
        (
            "[assist]",
            "[vent]\n[assist]",
            "9: vent: must be sections of their own; write [[vent]] with double brackets",
        ),
        (
            "[assist]",
            "[[kiln]]\n[assist]",
            "9: kiln: must be one section; write [kiln] with single brackets, once",
        ),
        # what is missing
        (
            "pour_temperature_C = 1120\n",
            "",
            "2: metal.pour_temperature_C: is missing; it takes a temperature, as a number in °C",
        ),
        ('name = "Twig"\n', "", "1: name: is missing; it takes a text in quotes"),
        (
            '[metal]\nalloy = "C87300"\npour_temperature_C = 1120\n',
            "",
            "1: metal: the section "
            "[metal] is missing; it must give alloy, pour_temperature_C; copy the section from an "
            "example or from a new sheet",
        ),
        (
            "length_mm = 18\n",
            "",
            "21: part 2 (leaf).length_mm: is missing; it takes a length, as a number in mm",
        ),
    ],
)
def test_a_fault_is_told_with_its_line_key_value_and_cure(old: str, new: str, want: str) -> None:
    """Source: the form of a message is our own; lines counted by hand."""
    assert said(changed(old, new)) == [f"twig.toml:{want}"]


def test_all_faults_of_a_file_come_together_in_the_order_of_its_lines() -> None:
    """Source: our own rule; one fault in each of six sections."""
    text = SMALL
    for old, new in (
        ('"Twig"', '""'),
        ("= 1120", "= 9"),
        ("= 100\n", "= -1\n"),
        ("= 70\n", "= 170\n"),
        ("height_mm = 20", "hieght_mm = 20"),
        ('"leaf"\nat', '"laef"\nat') if '"leaf"\nat' in text else ("at = 0.5", "at = 5"),
    ):
        text = changed(old, new, text)

    lines = said(text)

    places = [int(line.split(":")[1]) for line in lines]
    assert places == sorted(places)
    assert [line.split(": ")[1] for line in lines] == [
        "name",
        "metal.pour_temperature_C",
        "flask.height_mm",
        "assist.vacuum_kPa",
        "button.height_mm",
        "button.hieght_mm",
        "part 2 (leaf).at",
    ]


def test_a_section_of_parts_that_is_missing_is_told_once() -> None:
    """Source: our own rule."""
    assert said(SMALL[: SMALL.index("[[part]]")]) == [
        "twig.toml:1: part: there is none; a piece must have at least one; begin with [[part]]"
    ]


def test_a_file_of_many_faults_is_still_told_in_full() -> None:
    """Source: our own rule: did-you-mean stops after 200 searches, the list does not."""
    text = SMALL + "".join(f"lenght_mm{place} = 1\n" for place in range(300))

    lines = said(text)

    assert len(lines) == 300
    assert sum("did you mean" in line for line in lines) == 200


@pytest.mark.parametrize("keys", [*SECTIONS.values(), *LISTS.values(), KILN_STEP])
def test_no_key_without_its_unit_is_the_name_of_another(keys: Keys) -> None:
    """Source: our own rule, or a text with a unit could be read as something else."""
    assert len({name for key in keys for name in (key, bare(key))}) == len(keys) + sum(
        bare(key) != key for key in keys
    )
