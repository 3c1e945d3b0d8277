"""Flasks in the caster's words."""

import pytest

from pourcast.errors import InputError
from pourcast.gating.shelf import flask_of_book, read_flask


@pytest.mark.parametrize(
    ("text", "inside", "height", "wall"),
    [
        ("76 x 127", 76.0, 127.0, "solid"),
        ("76x127", 76.0, 127.0, "solid"),
        ("76 × 127 perforated", 76.0, 127.0, "perforated"),
        ("3 x 5 in", 76.2, 127.0, "solid"),
        ("3 in x 127 mm", 76.2, 127.0, "solid"),
        ("2 1/2 x 4 in Solid", 63.5, 101.6, "solid"),
        ("7.6 cm x 12.7 cm", 76.0, 127.0, "solid"),
        ("3000 mm x 3 m", 3000.0, 3000.0, "solid"),
    ],
)
def test_sizes_are_read_as_they_are_said(
    text: str, inside: float, height: float, wall: str
) -> None:
    """Published: an inch is 25.4 mm (international inch of 1959), exact."""
    got = read_flask(text, wall="solid")

    assert got.inside_diameter * 1e3 == pytest.approx(inside, rel=1e-9)
    assert got.height * 1e3 == pytest.approx(height, rel=1e-9)
    assert got.wall == wall


@pytest.mark.parametrize(
    "text", ["", "76", "wide x tall", "76 x", "0 x 127", "-3 x 4", "9 x 9 m", "76 x 3001"]
)
def test_what_is_no_size_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(InputError, match="as in"):
        read_flask(text, wall="solid")


def test_line_of_the_book_keeps_its_name_and_count() -> None:
    got = flask_of_book("old one", inside_diameter_mm=76, height_mm=127, wall="solid", count=3)

    assert (got.name, got.count, got.wall_thickness) == ("old one", 3, 0.002)
    assert got.inside_diameter == pytest.approx(0.076, rel=1e-12)
