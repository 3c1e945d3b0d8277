"""What is told of a day: how sure of a clean cavity is good news, and what else is said then."""

from types import SimpleNamespace
from typing import cast

import pytest

from pourcast.day.checks import _clean
from pourcast.day.model import DayForecast


@pytest.mark.parametrize("ended", [None, 3600.0])
@pytest.mark.parametrize(
    ("chance", "level"),
    [(1.0, "GOOD"), (0.95, "GOOD"), (0.8, "WATCH"), (0.6, "WATCH"), (0.3, "STOP"), (0.0, "STOP")],
)
def test_only_a_cavity_that_is_clean_nearly_always_is_good_news(
    chance: float, level: str, ended: float | None
) -> None:
    """Reason: clean in every draw is as good as it gets, in fewer than half it is likelier foul.

    Where it is not good the caster is sent to look and smell; common practice, no source.
    """
    told = _clean(cast(DayForecast, SimpleNamespace(chance_clean=chance, ended=ended)))

    assert told.level == level
    assert told.value == pytest.approx(100.0 * chance)
    assert ("look at the gate, smell it" in told.text) is (level != "GOOD")
    assert ("left the kiln" in told.text) is (ended is not None)
