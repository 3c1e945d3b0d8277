"""A small piece, so that a sweep of it takes a moment; its measures are invented."""

from functools import cache

from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan
from pourcast.sweep.model import Sweep
from pourcast.sweep.over import read_over

TEXT = """# Measures are invented for the tests.
name = "Small spray"

[metal]
alloy = "C87300"
pour_temperature_C = 1120

[flask]
inside_diameter_mm = 76
height_mm = 100
wall = "perforated"
temperature_C = 600

[assist]
kind = "vacuum"
vacuum_kPa = 10

[button]
diameter_mm = 34
height_mm = 20

[[part]]
name = "stem"
on = "button"
shape = "rod"
length_mm = 20
diameter_mm = 3
material = "herb_stem"

[[part]]
name = "spine.long"
on = "stem"
at = [0.4, 1.0]
count = 4
shape = "rod"
length_mm = 9
diameter_mm = 0.8
angle_deg = 50
material = "leaf"
"""


@cache
def plan() -> Plan:
    """Return the plan of the small piece."""
    return read_plan(TEXT)


def sweep(*over: str, draws: int = 60, seed: int = 0, text: str = TEXT) -> Sweep:
    """Return a sweep of the small piece."""
    axes = tuple(read_over(each, read_plan(text)) for each in over)
    return Sweep(text=text, axes=axes, draws=draws, seed=seed)
