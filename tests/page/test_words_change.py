"""Words of what to change first: the figure, its noise and its cost in one sentence."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings

from pourcast.change.compared import Comparison
from pourcast.change.model import Change, Cost, Lever, PartMove, Ranking, TrialPour
from pourcast.page import words_change as words
from tests.forecast.hand import example
from tests.strategies_change import changes, comparisons, rankings

SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example]

PLAN = example("sea_holly")
VENT = Lever(
    kind="vent",
    moved="vents",
    act="Vent tips 3 to 9",
    before="0",
    after="9",
    unit="wires",
    edits=(),
    plan=PLAN,
    cost=Cost(words="nine wax wires and their stubs to clean", risk="They may rob thin work."),
)


def change(
    after: float, error: float, levers: tuple[Lever, ...] = (VENT,), before: float = 0.62
) -> Change:
    return Change(
        levers=levers,
        chance_before=before,
        chance_after=after,
        gain=after - before,
        standard_error=error,
        draws=400,
    )


def ranking(*made: Change, chance: float = 0.62) -> Ranking:
    return Ranking(
        plan=PLAN, chance=chance, changes=made, draws=400, seed=0, complete=True, looked_at=3
    )


def test_the_answer_is_the_best_change_with_its_cost() -> None:
    """House rule: the figure, and what it costs, in words first."""
    said = words.first(ranking(change(0.81, 0.02)))

    assert said == (
        "Vent tips 3 to 9: 62 to 81 in 100; costs nine wax wires and their stubs to clean."
    )


def test_a_gain_smaller_than_its_noise_says_so() -> None:
    """House rule: within the noise; the limit is twice the standard error."""
    assert (
        words.sentence(change(0.66, 0.021))
        == "Vent tips 3 to 9: 62 to 66 in 100, within the noise."
    )
    assert "costs" in words.sentence(change(0.66, 0.019))
    assert words.first(ranking(change(0.66, 0.021))).startswith("No single change within reach")


def test_harm_is_told_as_harm() -> None:
    assert words.sentence(change(0.40, 0.02)) == "Vent tips 3 to 9: 62 to 40 in 100. Do not."
    assert words.verdict(change(0.40, 0.02)) == "harms"
    assert words.gain(change(0.40, 0.02)) == "−22 ± 4"


def test_where_nearly_all_come_out_there_is_nothing_to_change() -> None:
    assert words.first(ranking(change(1.0, 0.0), chance=0.9975)) == (
        "Nothing: over 99 of 100 pours come out whole as it is planned."
    )


def test_several_levers_are_one_sentence() -> None:
    coat = replace(VENT, act="Coat the bracts", cost=Cost(time=1800.0, metal=0.004))
    three = change(0.9, 0.01, (VENT, coat, replace(VENT, act="Pump deeper", cost=Cost())))

    assert words.acts(three) == "Vent tips 3 to 9, coat the bracts and pump deeper"
    assert words.sentence(three).endswith(
        "costs nine wax wires and their stubs to clean; about 30 min of work; 4 g more metal."
    )


def test_parts_are_told_only_beyond_their_noise() -> None:
    moves = (
        PartMove(name="spine", before=0.5, after=0.8, standard_error=0.03),
        PartMove(name="bract", before=0.5, after=0.52, standard_error=0.03),
    )

    said = words.part_moves(replace(change(0.81, 0.02), parts=moves))

    assert said == "In 100 pours every one fills: “spine” 50 to 80."
    assert words.part_gain(moves[0]) == "+30 ± 6"
    assert words.part_gain(moves[1]) == "within the noise"


@pytest.mark.parametrize(("worth", "told"), [(0.10, "and then the change"), (0.01, "would not")])
def test_a_trial_is_worth_it_or_not(worth: float, told: str) -> None:
    trial = TrialPour(
        specimen="the small one", chance_trial=0.6, without=0.6, with_trial=0.6 + worth,
        standard_error=0.01, spread_taken=0.3, draws=400,
    )  # fmt: skip

    assert told in words.trial(trial)
    assert "30 in 100 of the spread" in words.trial(trial)


@settings(max_examples=40, deadline=None, suppress_health_check=SLOW)
@given(changes())
def test_no_sentence_ever_calls_a_gain_where_there_is_none(made: Change) -> None:
    said = words.sentence(made)

    assert ("within the noise" in said) == (not made.beyond_noise)
    assert ("Do not." in said) == (made.beyond_noise and made.gain < 0.0)
    assert said.endswith(".")
    assert "\n" not in said


@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
@given(rankings())
def test_every_ranking_has_an_answer(made: Ranking) -> None:
    assert words.first(made).endswith(".")
    assert len(words.refused(made)) == len(made.refused)


@settings(max_examples=25, deadline=None)
@given(comparisons())
def test_every_comparison_has_an_answer(said: Comparison) -> None:
    told = words.compared(said)

    assert ("within the noise" in told) == (not said.beyond_noise)
    if said.beyond_noise:
        assert ("second plan is better" in told) == (said.gain > 0.0)


def test_pours_of_a_change_that_was_left_behind_are_told() -> None:
    """Ours to keep: a row counted on fewer pours is never told as one of all of them."""
    kept = change(0.81, 0.02)
    all_alike, one_behind = ranking(kept), ranking(kept, replace(kept, draws=100))

    assert words.poured(all_alike) == "400 pours with the same draws for each change"
    assert "the first 100 or more alone" in words.poured(one_behind)
    assert words.poured(one_behind) in words.rests_on(one_behind)
