"""Burnout study: what the search for the shortest curve is given to search with."""

import pytest

from pourcast.errors import SolveError
from pourcast.forecast import burnout_study
from pourcast.forecast.prepare import Prepared, prepare
from pourcast.forecast.shortest_curve import SEARCH_DRAWS
from pourcast.sheet.model import Plan
from tests.forecast.hand import example


@pytest.mark.parametrize(("asked", "searched"), [(6, 6), (SEARCH_DRAWS + 15, SEARCH_DRAWS)])
def test_a_search_takes_the_first_draws_and_no_more_than_it_needs(
    monkeypatch: pytest.MonkeyPatch, asked: int, searched: int
) -> None:
    """House rule: first draws stay the first, and a curve that is found is told of all.

    The search itself is put away: only what it is handed is looked at.
    """
    seen: list[Prepared] = []

    def stopped(_: Plan, ready: Prepared, **__: object) -> None:
        seen.append(ready)
        raise SolveError("search of the test", 1, 0.0)

    monkeypatch.setattr(burnout_study, "shortest_curve", stopped)
    every = prepare(example("sea_holly"), None, asked, 0)

    with pytest.raises(SolveError):
        burnout_study.study(example("sea_holly"), which="shortest", draws=asked)

    (ready,) = seen
    assert ready.scale.shape[0] == searched
    assert (ready.scale == every.scale[:searched]).all()
    for name, values in ready.drawn.items():
        assert (values == every.drawn[name][:searched]).all(), name
