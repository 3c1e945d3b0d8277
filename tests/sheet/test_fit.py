"""Sections together: what cannot be meant is a fault."""

import pytest

from tests.sheet.small import SMALL, changed, said

VENT = '[[vent]]\non = "{}"\ndiameter_mm = 1\nlength_mm = 20\nleads_to = "{}"\n'


@pytest.mark.parametrize(
    ("old", "new", "want"),
    [
        (
            "[6, 1]",
            "[1, 80]",
            "28: part 2 (leaf).width_mm: comes to 80 mm across; it must be less "
            "than the flask, 76 mm; take a wider flask, or look for a wrong unit",
        ),
        (
            "[6, 1]\n",
            "[75.7, 1]\ncoat_mm = 0.15\n",
            "28: part 2 (leaf).width_mm: comes to 76 mm "
            "across; it must be less than the flask, 76 mm; take a wider flask, or look for a "
            "wrong unit",
        ),
        (
            "= 30\nheight",
            "= 76\nheight",
            "13: button.diameter_mm: is 76 mm; it must be less than "
            "the flask, 76 mm; take a wider flask or a smaller button",
        ),
        (
            "= 100\n",
            "= 20\n",
            "7: flask.height_mm: is 20 mm; it must be more than the button, "
            "20 mm; take a taller flask or a lower button",
        ),
        (
            "[button]",
            "[button]\ngate_diameter_mm = 31",
            "13: button.gate_diameter_mm: is 31 mm; it "
            "must be at most the diameter of the button, 30 mm; the button is widest at its rim",
        ),
        (
            '"rod"\nlength_mm = 30\ndiameter_mm = [4, 3]',
            '"lump"\nlength_mm = 30\ndiameter_mm = 4',
            "12: button.gate_diameter_mm: is missing; it must be given where the first part is a "
            "lump; measure the wax where the piece begins",
        ),
        (
            "vacuum_kPa = 70\n",
            "",
            "9: assist.vacuum_kPa: is missing; it must be given where kind = "
            '"vacuum"; read the gauge with the flask on, in kPa below the air',
        ),
        (
            'kind = "vacuum"',
            'kind = "gravity"',
            "11: assist.vacuum_kPa: is 70 kPa, but the metal "
            'goes in by gravity; write kind = "vacuum", or leave the vacuum out',
        ),
        (
            'kind = "vacuum"\n',
            "",
            "10: assist.vacuum_kPa: is 70 kPa, but the metal goes in by "
            'gravity; write kind = "vacuum", or leave the vacuum out',
        ),
        (
            'kind = "vacuum"',
            'kind = "vaccum"',
            '10: assist.kind: is "vaccum"; it must be "gravity" or "vacuum"; did you mean vacuum?',
        ),
        (
            "[button]",
            "[studio]\nair_pressure_kPa = 69\n[button]",
            "11: assist.vacuum_kPa: is 70 "
            "kPa; it must be at most the air of that day, 69 kPa; read the gauge from the air down",
        ),
    ],
)
def test_what_does_not_go_together_is_told_with_line_value_and_cure(
    old: str, new: str, want: str
) -> None:
    """Source: geometry, and no vacuum is deeper than the air; lines counted by hand."""
    assert said(changed(old, new)) == [f"twig.toml:{want}"]


def test_a_vent_must_leave_from_a_part_that_is_there() -> None:
    """Source: our own rule."""
    assert said(SMALL + VENT.format("laef", "air")) == [
        'twig.toml:32: vent 1.on: is "laef"; it must be the name of a part; did you mean leaf?'
    ]


def test_a_part_has_one_vent() -> None:
    """Source: our own rule: the record of a vent is for every member of its part."""
    assert said(SMALL + 2 * VENT.format("leaf", "air")) == [
        'twig.toml:37: vent 2.on: is "leaf", as that of another vent is; a part must have at most '
        "one; every member of the part has a vent already"
    ]


def test_a_vent_cannot_lead_to_a_vacuum_that_is_not_there() -> None:
    """Source: our own rule."""
    by_gravity = changed('kind = "vacuum"\nvacuum_kPa = 70\n', "")

    assert said(by_gravity + VENT.format("leaf", "vacuum")) == [
        'twig.toml:33: vent 1.leads_to: is "vacuum", but there is none; it must be "air"; '
        'for a vacuum write kind = "vacuum" in [assist]'
    ]
