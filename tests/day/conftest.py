"""One case of a day for all tests of this folder: making it takes a while."""

from pathlib import Path

import pytest

from pourcast.day.case import DayCase, day_case
from pourcast.sheet import read_plan

EXAMPLE = Path(__file__).parents[2] / "examples" / "sea_holly.toml"


@pytest.fixture(scope="session")
def case() -> DayCase:
    """Return the day of a sea holly head in a kiln turned by hand, with few particles."""
    plan = read_plan(EXAMPLE.read_text(encoding="utf-8"), file=EXAMPLE.name)
    return day_case(plan, particles=48, threads=1)
