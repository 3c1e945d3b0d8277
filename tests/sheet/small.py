"""A small sheet without fault, and what a changed one comes to."""

import pytest

from pourcast.errors import SheetError
from pourcast.sheet import read_plan

SMALL = """\
name = "Twig"
[metal]
alloy = "C87300"
pour_temperature_C = 1120
[flask]
inside_diameter_mm = 76
height_mm = 100
wall = "perforated"
[assist]
kind = "vacuum"
vacuum_kPa = 70
[button]
diameter_mm = 30
height_mm = 20
[[part]]
name = "stem"
shape = "rod"
length_mm = 30
diameter_mm = [4, 3]
material = "herb_stem"
[[part]]
name = "leaf"
on = "stem"
at = 0.5
count = 3
shape = "blade"
length_mm = 18
width_mm = [6, 1]
thickness_mm = 0.5
material = "leaf"
"""

FILE = "twig.toml"


def changed(old: str, new: str, text: str = SMALL) -> str:
    """Return a sheet with one text put in the place of another, which must stand in it once."""
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
    return text.replace(old, new)


def said(text: str) -> list[str]:
    """Return the lines of the error that reading a text raises."""
    with pytest.raises(SheetError) as caught:
        read_plan(text, file=FILE)
    return str(caught.value).split("\n")
