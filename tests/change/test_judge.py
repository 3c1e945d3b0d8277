"""What a change reveals: a STOP of what comes after the filling, which nobody had heard of yet."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from pourcast.change import judge
from pourcast.change.model import Refused
from pourcast.change.pours import Poured, poured
from pourcast.change.push_levers import push_levers
from pourcast.findings import Finding
from tests.change.small import ask_of, by_kind, ground


def test_what_stops_the_plan_is_told_as_its_forecast_tells_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """House rule: one plan, one number.  Over 70 draws and not over the few of a change."""

    def said(*_: object, draws: int, **__: object) -> SimpleNamespace:
        found = [_stop("shell", f"In {draws} draws."), _stop("leg", "Always.")]
        return SimpleNamespace(findings=tuple(found[: 1 if draws > judge.CHECKED else 2]))

    monkeypatch.setattr(judge, "forecast", said)
    few, many = ground("larch_twig", 20), ground("larch_twig", judge.CHECKED + 10)

    assert sorted(judge.looked_into(few).stops.values()) == ["Always.", "In 20 draws."]
    assert sorted(judge.looked_into(many).stops.values()) == ["Always.", "In 70 draws."]


def _stop(part: str, text: str) -> Finding:
    return Finding(
        stage="freeze",
        key="hot-spot",
        level="STOP",
        text=text,
        part=part,
        source="by hand",
        kind="estimate",
    )


LATER = {"freeze/holes": "One place must shrink without being fed."}


def _judged(monkeypatch: pytest.MonkeyPatch, *, fills: bool) -> Poured | Refused:
    """Return a taller button of the larch, judged where freezing stops it afterwards."""
    base = ground("larch_twig")
    full = np.full_like(base.ends.full, fill_value=fills)
    base = replace(base, stops={}, watches={}, ends=replace(base.ends, full=full))
    (taller,) = by_kind(push_levers(ask_of(base)), "head")
    made = poured(base, (taller,), taller.plan, draws=4)
    assert isinstance(made, Poured)
    monkeypatch.setattr(judge, "stops_and_watches", lambda *_: (LATER, {}))
    return judge.judged(base, made)


def test_what_no_pour_of_the_plan_came_to_is_revealed(monkeypatch: pytest.MonkeyPatch) -> None:
    told = _judged(monkeypatch, fills=False)

    assert isinstance(told, Poured)
    assert told.reveals == tuple(LATER.values())


def test_what_the_plan_did_not_have_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plan that fills was heard: a STOP of its freezing would have been told before."""
    told = _judged(monkeypatch, fills=True)

    assert isinstance(told, Refused)
    assert told.reason == LATER["freeze/holes"]
