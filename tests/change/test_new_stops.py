"""New stops: which of them a change is refused for, without a pour."""

from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from pourcast.change import judge
from pourcast.change.model import Lever, Refused
from pourcast.change.pours import Poured
from pourcast.change.shape_levers import shape_levers
from tests.change.test_lever_steps import ask_of
from tests.forecast.hand import example

HOLES, CHAR = ("freeze/holes", "Holes."), ("burnout/char", "Char.")


@pytest.mark.parametrize(
    ("made", "refused"), [((HOLES,), ""), ((CHAR,), "Char."), ((HOLES, CHAR), "Char.")]
)
def test_a_stop_before_the_filling_refuses_and_one_after_it_is_revealed(
    monkeypatch: pytest.MonkeyPatch, made: tuple[tuple[str, str], ...], refused: str
) -> None:
    """House rule: no pour of the plan came whole, so nobody had heard of its freezing."""
    plan = example("larch_twig")
    lever = next(each for each in shape_levers(ask_of(plan)) if isinstance(each, Lever))
    monkeypatch.setattr(judge, "stops_and_watches", lambda *_: (dict(made), {}))
    never_whole = SimpleNamespace(whole=np.zeros(4, dtype=bool))
    ground = cast(Any, SimpleNamespace(stops={}, watches={}, ends=never_whole))
    tried = Poured(levers=(lever,), plan=lever.plan, layout=cast(Any, None))

    told = judge.judged(ground, tried)

    if refused:
        assert isinstance(told, Refused)
        assert told.reason == refused
    else:
        assert isinstance(told, Poured)
        assert told.reveals == ("Holes.",)
