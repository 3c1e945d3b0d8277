"""What a run reaches: a test file that does not come by a mutant may be left out, no other."""

import threading
from dataclasses import replace
from pathlib import Path

import pytest

import pourcast
from pourcast.materials import library
from pourcast.melt.charge import wax_factor
from tests.mutation.equations import places, wrong_equations
from tests.mutation.reach import function_at, noted

SOURCE = """
LIMIT = 2.5

class Pot:
    depth: float = 1.5

    def fill(self, level=3.5):
        def inner(x):
            return [y * 4.5 for y in x]
        return inner(level) + 5.5
"""


@pytest.mark.parametrize(
    ("number", "name"),
    [
        ("2.5", ""),
        ("1.5", ""),
        ("3.5", ""),
        ("4.5", "Pot.fill.<locals>.inner"),
        ("5.5", "Pot.fill"),
    ],
)
def test_a_place_belongs_to_the_innermost_function_that_must_run_for_it(
    number: str, name: str
) -> None:
    """The default of an argument and the top of a module run without a call: any test sees them."""
    names = [found.partition(": ")[2].partition(" ")[0] for found in wrong_equations(SOURCE)]

    assert function_at(SOURCE, *places(SOURCE)[names.index(number)]) == name


def test_what_is_called_and_read_is_noted_in_threads_too() -> None:
    """Values under names of their own: work behind a page of an earlier test may read others."""
    material = library().alloys["si_bronze_c87300"]
    density, latent = (
        replace(material[name], key=f"own.{name}") for name in ("density_20", "latent")
    )

    def work() -> None:
        wax_factor(density.si, 930.0)

    with noted(Path(pourcast.__file__).parent) as reached:
        thread = threading.Thread(target=work)
        thread.start()
        thread.join()
        low = latent.low

    assert "melt/charge.py:wax_factor" in reached
    assert "melt/charge.py:make_up" not in reached
    assert {name for name in reached if name.startswith("own.")} == {
        "own.density_20",
        "own.latent",
    }
    assert material["latent"].low == low
