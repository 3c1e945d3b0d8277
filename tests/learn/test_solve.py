"""What a studio learns: from one outcome up, with odd days, and without claiming too much."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast.forecast.solve import forecast
from pourcast.learn.for_plan import for_plan
from pourcast.learn.model import Learnt, Measured, PartSeen, PourSeen
from pourcast.learn.solve import learn
from tests.forecast.hand import example
from tests.learn.studios import INFORMED, OUTCOMES, Studios, plans, studios
from tests.outside.record import record


def small(told: list[PourSeen], *, seed: int = 0, threads: int = 1) -> Learnt:
    """Learn with few pours and few draws."""
    return learn(told, seed=seed, bank=300, draws=1500, threads=threads)


def outcome(plan: int, *, full: bool, name: str = "x") -> PourSeen:
    """Return a pour of which every part is whole, or none."""
    parts = tuple(PartSeen(name=part, full=full) for part in ("stem", "floret", "twig"))
    return PourSeen(name=name, plan=plans()[plan], parts=parts)


def covered(made: Studios, draws: int) -> tuple[dict[str, int], dict[str, float]]:
    """Return how many intervals hold the truth, and how much they narrowed on the mean."""
    held = dict.fromkeys(made.truth, 0)
    narrow = dict.fromkeys(made.truth, 0.0)
    count = len(made.told)
    for studio in range(count):
        found = made.learn(studio, draws)
        for key, truth in made.truth.items():
            low, high = made.interval(found, key)
            held[key] += int(low <= truth[studio] <= high)
            narrow[key] += made.narrowed(found, key) / count
    return held, narrow


def test_made_up_studios_are_learnt_without_claiming_too_much() -> None:
    """Truth known: 20 studios of 20 pours with the real model; 90 % intervals.

    15 of 20 or more: a share of 0.9 gives fewer in 1 of 100 such tests (binomial), and 4
    unknowns are looked at.  The study of 100 is below.  Found: 16 to 18.
    """
    held, narrow = covered(studios(20, bank=600, seed=41), 1000)

    assert {key: held[key] for key in INFORMED if held[key] < 15} == {}
    assert narrow["pour.film_factor"] > 0.3
    assert narrow["investment.flow.permeability_burnt"] > 0.2


@pytest.mark.long
@pytest.mark.parametrize("burnt", [False, True], ids=["kiln not told", "burnout followed"])
def test_intervals_of_a_hundred_studios_hold_the_truth_85_to_95_times(burnt: bool) -> None:
    """The bar: 100 studios of 20 pours each, 90 % intervals hold the truth 85 to 95 times.

    Truth drawn from the book, pours with the real model on draws that are not in the bank.
    For one unknown a share of 0.9 falls outside 85 to 95 in 8 of 100 such studies by luck.
    Found: film 88, heat into the wall 92, very thin ways 88, permeability 93; where the
    burnout is followed 87, 92, 89, 93.  The range of the book itself holds 88 to 91 truths of
    400 such studios.
    """
    held, narrow = covered(studios(100, bank=1500, seed=2026, burnt=burnt), 2000)

    what = " whose burnout is followed" if burnt else ""
    for key in INFORMED:
        record(
            "learn", f"truths of {key} in the 90 % intervals of 100 made-up studios{what}",
            "truth drawn, real pours", held[key], 90.0, "of 100", 5.0, kind="by construction",
        )  # fmt: skip
    assert {key: held[key] for key in INFORMED if not 85 <= held[key] <= 95} == {}
    assert narrow["pour.film_factor"] > 0.4


@pytest.mark.long
def test_kiln_and_char_keep_the_range_of_the_book_where_outcomes_say_nothing_of_them() -> None:
    """No outcome of 20 pours parts a clean cavity from one that is not quite: little is learnt.

    Each interval narrows or widens by less than a tenth, and over all of them the truth is in
    90 of 100, tolerance 4: 14 unknowns of 100 studios, and what they share.  Found: 89.5.
    """
    held, narrow = covered(studios(100, bank=1500, seed=2026, burnt=True), 1000)

    kiln = [key for key in held if key.startswith("kiln.")]
    assert "kiln.char_E" in kiln
    assert max(abs(narrow[key]) for key in kiln) < 0.1
    assert float(np.mean([held[key] for key in kiln])) == pytest.approx(90.0, abs=4.0)


def test_more_outcomes_narrow_more() -> None:
    """On the mean of 8 studios; one outcome tells something already."""
    made = studios(8, bank=300, seed=5)
    key = "pour.film_factor"

    def mean(outcomes: int) -> float:
        return float(np.mean([made.narrowed(made.learn(s, 1000, outcomes), key) for s in range(8)]))

    one, five, all_ = mean(1), mean(5), mean(OUTCOMES)
    assert 0.0 < one < five < all_


def test_one_outcome_moves_what_it_speaks_of_the_right_way() -> None:
    """Thin florets under vacuum that stay empty speak for a film or a thin-section factor."""
    short = small([outcome(0, full=False)])
    whole = small([outcome(0, full=True)])

    middle = {
        name: {each.key: each.after.middle for each in found.values}
        for name, found in (("short", short), ("whole", whole))
    }
    for key in ("pour.thin_section_factor", "pour.film_factor"):
        assert middle["short"][key] > middle["whole"][key]
    assert short.outcomes == 1
    assert short.calibration is not None
    assert short.calibration.overrides[0].source == "learnt here from 1 outcome and 0 tests"


def test_one_odd_day_does_not_outweigh_ten_others() -> None:
    """Ten pours that came out whole and one that was lost, as when the pump fails."""
    good = [outcome(2, full=True, name=str(n)) for n in range(10)]
    alone = small(good)
    with_odd = small([*good, outcome(2, full=False, name="the pump")])

    def film(found: Learnt) -> float:
        return next(v.after.middle for v in found.values if v.key == "pour.film_factor")

    before = next(v.before.middle for v in alone.values if v.key == "pour.film_factor")
    assert film(alone) < before
    assert film(with_odd) < 0.5 * (before + film(alone))
    odd = with_odd.odd["11: the pump"]
    assert odd > max(chance for name, chance in with_odd.odd.items() if "pump" not in name)


def test_one_outcome_plainly_against_the_forecast_is_named_once_and_claims_no_more() -> None:
    """Source of nothing: our own words; the stem of this plan fills in each pour of the bank."""
    parts = (PartSeen(name="stem", full=False, half_of_members=False),)
    seen = PourSeen(name="teasel, poured 2026-03-01", plan=plans()[0], parts=parts)

    found = small([seen])

    (against,) = found.against
    assert (against.part, against.full) == ("stem", False)
    assert against.chance_full >= 0.95
    (told,) = [each for each in found.findings if each.text.startswith("Odd in ")]
    assert told.text.startswith(
        "Odd in teasel, poured 2026-03-01: “stem” did not fill, which by the book of values "
        "fills in over 99 of 100 pours. One casting cannot say whether that was luck"
    )
    assert told.level == "WATCH"


def test_outcome_that_the_forecast_leaves_open_is_not_called_odd() -> None:
    """By the limit set by hand: 1 in 20."""
    for full in (True, False):
        found = small([outcome(1, full=full)])

        named = {each.part for each in found.against}
        chances = {each.part: each.chance_full for each in found.against}
        assert "twig" not in named
        assert all(abs(full - chances[part]) >= 0.95 for part in named)
        assert len([each for each in found.findings if each.text.startswith("Odd in ")]) <= 1


def test_a_fan_is_made_to_come_short_and_is_not_called_odd() -> None:
    parts = (PartSeen(name="stem", full=False),)
    seen = PourSeen(name="fan", plan=plans()[0], parts=parts, is_test=True)

    assert small([seen]).against == ()


def test_measurement_takes_its_place_beside_outcomes() -> None:
    """A pull-down that is known to 8 % leaves 90 % within 1.645 × 0.08 on each side.

    By hand; the odd day widens it: 5 % of the weight keep the range of the book.  Tolerance
    a third.  Found: 0.15.
    """
    test = Measured(
        key="investment.flow.permeability_burnt",
        value=2e-13, error=0.08, relative=True, name="pull-down",
    )  # fmt: skip

    found = learn([], [test], draws=4000)

    value = found.values[0]
    assert value.key == test.key
    assert value.after.middle == pytest.approx(2e-13, rel=0.03)
    half = 0.5 * np.log(value.after.high / value.after.low)
    assert half == pytest.approx(1.645 * 0.08, rel=1 / 3)
    assert (found.outcomes, found.tests) == (0, 1)


def test_nothing_seen_is_nothing_learnt() -> None:
    found = learn([])

    assert found.calibration is None
    assert found.values == ()
    assert "nothing to learn from" in found.findings[0].text


def test_same_seed_gives_the_same_answer_on_any_number_of_threads() -> None:
    told = [outcome(2, full=False)]

    assert small(told, seed=3, threads=1) == small(told, seed=3, threads=2)


def test_forecast_takes_what_was_learnt_and_says_so() -> None:
    """A plan by gravity has no use for the thin-section factor, and does not fail over it."""
    found = small([outcome(0, full=False), outcome(2, full=False)])
    assert found.calibration is not None
    assert "pour.thin_section_factor" in [each.key for each in found.calibration.overrides]
    plan = plans()[2]

    held = for_plan(found.calibration, plan)

    assert held is not None
    assert "pour.thin_section_factor" not in [each.key for each in held.overrides]
    said = forecast(plan, held, draws=60)
    assert said.calibration == found.calibration.name
    assert said.chance_all <= forecast(plan, draws=60).chance_all


def test_calibration_of_nothing_that_a_plan_draws_is_none() -> None:
    found = small([outcome(0, full=False)])
    assert found.calibration is not None
    only = [e for e in found.calibration.overrides if e.key == "pour.thin_section_factor"]
    alone = replace(found.calibration, overrides=tuple(only))

    assert for_plan(alone, example("larch_twig")) is None
    assert for_plan(None, example("larch_twig")) is None


def test_burnt_plan_is_learnt_from_with_its_kiln() -> None:
    plan = example("fern_crozier")
    parts = tuple(PartSeen(name=part.name, full=True) for part in plan.piece.parts)

    found = learn([PourSeen(name="x", plan=plan, parts=parts)], bank=100, draws=500)

    assert any(value.key.startswith("kiln.") for value in found.values)
