"""Names: each value that a forecast draws can be named without the code's own words."""

import re
from dataclasses import replace

import pytest

from pourcast.forecast.names import unknown_name
from pourcast.forecast.unknowns import unknowns
from pourcast.materials import library
from tests.forecast.hand import EXAMPLES, example


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("alloy", list(library().alloys))
def test_each_value_has_a_plain_name_of_its_own(name: str, alloy: str) -> None:
    """Source: our own rule: no word of the code on a page for the caster."""
    book = library()
    plan = example(name)
    said = replace(plan, flask=replace(plan.flask, temperature=None))

    for thinnest in (3e-4, 3e-3):
        values = unknowns(said, book.alloy(alloy), book, thinnest, None)
        named = {value.key: unknown_name(value.key) for value in values.values()}
        assert len(set(named.values())) == len(named)
        assert [
            shown for shown in named.values() if re.search(r"_|\.|fs50|\bk\b|\bcp\b", shown)
        ] == []
