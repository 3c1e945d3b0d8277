"""As chosen: inches and decimal commas in what is read, and nowhere else.

25.4 mm to the inch is exact: NIST SP 811 (2008), appendix B.8.
"""

import pytest

from pourcast.page.as_chosen import Chosen, page_as_chosen, text_as_chosen, tree_as_chosen
from tests.outside.record import record

INCHES = Chosen(lengths="in")
COMMA = Chosen(decimal="comma")
BOTH = Chosen(lengths="in", decimal="comma")


def test_inch_is_exact() -> None:
    told = text_as_chosen("25.4\u00a0mm", INCHES)
    record(
        stage="page",
        claim="25.4 mm told in inches",
        source="NIST SP 811 (2008), appendix B.8",
        got=float(told.split("\u00a0")[0]),
        want=1.0,
        unit="in",
        tolerance=0.0,
        kind="table",
    )
    assert told == "1\u00a0in"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("0.7 to 1.2 mm", "0.0276 to 0.0472 in"),
        ("3 × 5 mm", "0.118 × 0.197 in"),
        ("−3.0\u00a0mm", "−0.118\u00a0in"),
        ("tips 3 to 9: 0.8 mm", "tips 3 to 9: 0.0315 in"),
        ("12 mm² and 4 mm³", "12 mm² and 4 mm³"),
        ("5 mm/min", "5 mm/min"),
        ("a 12 mmm way", "a 12 mmm way"),
        ("at 07:30 mm", "at 07:30 mm"),
        ("196 g at 1100 °C", "196 g at 1100 °C"),
    ],
)
def test_lengths(text: str, told: str) -> None:
    assert text_as_chosen(text, INCHES) == told


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("0.85 of 1.5", "0,85 of 1,5"),
        ("pourcast 0.1.0", "pourcast 0.1.0"),
        ("fern_crozier.toml:12", "fern_crozier.toml:12"),
        ("ends with 3.", "ends with 3."),
        ("1.5.2026", "1.5.2026"),
        ("−0.5", "−0,5"),
        ("film3.2 stays", "film3.2 stays"),
    ],
)
def test_decimal_comma(text: str, told: str) -> None:
    assert text_as_chosen(text, COMMA) == told


def test_own_names_stay() -> None:
    assert text_as_chosen("Fern 1.5 mm is 1.5 mm thin", BOTH, ["Fern 1.5 mm"]) == (
        "Fern 1.5 mm is 0,0591 in thin"
    )


def test_only_what_is_read_of_a_page() -> None:
    page = (
        '<script>let a = 1.5;</script><p title="2.54 mm" data-x="2.54 mm">2.54&nbsp;mm</p>'
        '<input value="1.5 mm"><textarea>1.5 mm</textarea><path d="M1.5 2.5"/>'
        "<style>a{width:1.5em}</style><!-- 1.5 mm -->"
    )

    told = page_as_chosen(page, BOTH)

    assert 'title="0,1 in" data-x="2.54 mm">0,1\u00a0in</p>' in told
    for kept in ("let a = 1.5;", 'value="1.5 mm"', ">1.5 mm</textarea>", "M1.5 2.5", "1.5em"):
        assert kept in told
    assert "<!-- 1.5 mm -->" in told


def test_usual_choice_changes_nothing() -> None:
    assert page_as_chosen("<p>1.5 mm</p>", Chosen()) == "<p>1.5 mm</p>"


def test_tree() -> None:
    assert tree_as_chosen({"a": ["25.4 mm", 3, True, None]}, BOTH) == {"a": ["1 in", 3, True, None]}
