"""What a gauge makes of the chance that every part fills.

That thin parts want the vacuum is common practice, no source.
"""

from dataclasses import replace

import pytest

from pourcast import units as si
from pourcast.day.case import DayCase
from pourcast.day.fill_now import FillNow, fill_now
from pourcast.errors import InputError
from pourcast.forecast.solve import forecast
from pourcast.page.words_pour_day import fill_now_told
from pourcast.sheet.model import Assist
from pourcast.speech import Speech

DRAWS = 60


def test_under_the_vacuum_of_the_plan_it_is_the_chance_of_the_forecast(case: DayCase) -> None:
    """House rule: one number for one question, on every page."""
    planned = case.plan.assist.vacuum or 0.0
    told = forecast(case.plan, draws=DRAWS, rng=case.ready.seed)

    found = fill_now(case, planned, draws=DRAWS)

    assert found.chance == found.as_planned == told.outcomes.whole
    assert found.chance > 0.0


def test_the_lower_the_gauge_the_fewer_pours_fill(case: DayCase) -> None:
    """Common practice, no source: spines and bracts are lost first when the seal leaks."""
    chances = [
        fill_now(case, si.to_si(shown, "kPa"), draws=DRAWS).chance for shown in (60.0, 20.0, 2.0)
    ]

    assert chances[0] > chances[1] > chances[2]


def test_by_gravity_there_is_no_gauge(case: DayCase) -> None:
    by_gravity = replace(case, plan=replace(case.plan, assist=Assist(kind="gravity")))

    with pytest.raises(InputError, match="poured by gravity"):
        fill_now(by_gravity, 50e3, draws=DRAWS)


def test_less_than_nothing_is_refused(case: DayCase) -> None:
    with pytest.raises(InputError, match="gauge"):
        fill_now(case, -1.0, draws=DRAWS)


def test_both_chances_are_told_in_the_unit_of_the_gauge() -> None:
    found = FillNow(shown=50_795.8, planned=84_659.7, chance=0.414, as_planned=1.0)

    assert fill_now_told(found, Speech(gauge="inHg")) == (
        "With 15 inHg on the gauge every part fills in 41 of 100 pours, with the 25 inHg of the "
        "plan in over 99."
    )
