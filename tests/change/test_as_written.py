"""As written: a difference is told in the unit that each sheet says it in."""

from dataclasses import replace

import pytest

from pourcast.change.as_written import as_the_sheets_say, as_written
from pourcast.change.compare import differences
from pourcast.change.compared import Comparison, PlanFigures
from pourcast.page.words_compare import difference
from pourcast.sheet import read_plan
from tests.change.small import text_of


def _said(one: str, other: str) -> list[str]:
    figures = PlanFigures(name="x", chance=0.5, causes={}, metal=0.1, powder=0.5, stops=())
    plain = Comparison(
        one=figures,
        other=figures,
        differences=tuple(differences(read_plan(one), read_plan(other))),
        gain=0.0,
        standard_error=0.0,
        parts=(),
        alone=((), ()),
        draws=2,
        seed=0,
    )
    return [difference(each) for each in as_the_sheets_say(plain, one, other).differences]


def _with(text: str, was: str, now: str) -> str:
    assert text.count(was) == 1
    return text.replace(was, now)


@pytest.mark.parametrize(
    ("first", "second", "told"),
    [
        ('vacuum = "24 inHg"', 'vacuum = "20 inHg"', "vacuum: 24 inHg against 20 inHg"),
        ('vacuum = "24 inHg"', "vacuum_kPa = 70", "vacuum: 24 inHg against 70 kPa"),
        ("vacuum_kPa = 60", 'vacuum_kPa = "24  inHg"', "vacuum: 60 kPa against 24 inHg"),
        ("vacuum_kPa = 60", "vacuum_kPa = 70", "vacuum: 60 against 70 kPa"),
        ("vacuum_kPa = 60", 'vacuum_kPa = "70"', "vacuum: 60 against 70 kPa"),
    ],
)
def test_a_vacuum_is_told_as_each_sheet_says_it(first: str, second: str, told: str) -> None:
    text = text_of("sea_holly")
    (line,) = [each.split("#")[0].strip() for each in text.splitlines() if "vacuum_kPa" in each]

    assert _said(_with(text, line, first), _with(text, line, second)) == [told]


def test_kiln_steps_and_tapers_are_told_as_written() -> None:
    text = """
[[kiln.step]]
to = "300 F"
[[part]]
name = "stem"
diameter = ["5/32 in", "7/64 in"]
length_mm = "2 1/4 in"
[[part]]
name = "leaf"
thickness_mm = [0.5, "0.02 in"]
[[vent]]
on = "leaf"
length = "1 in"
"""

    assert as_written(text) == {
        "kiln.step.1.to_C": "300 F",
        "part.stem.length_mm": "2 1/4 in",
        "part.stem.diameter_mm": "5/32 in to 7/64 in",
        "part.leaf.thickness_mm": "0.5 mm to 0.02 in",
        "vent.leaf.length_mm": "1 in",
    }


def test_json_keeps_the_unit_of_the_key() -> None:
    """The document of a comparison is made before, from the plain figures."""
    text = text_of("sea_holly")
    (line,) = [each.split("#")[0].strip() for each in text.splitlines() if "vacuum_kPa" in each]
    other = read_plan(_with(text, line, 'vacuum = "20 inHg"'))

    (found,) = differences(replace(read_plan(text)), other)

    assert (found.key, found.unit) == ("assist.vacuum_kPa", "kPa")
    assert found.other == "67.7278"
