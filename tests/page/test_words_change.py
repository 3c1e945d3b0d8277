"""Words of what to change first: the figure, its noise and its cost in one sentence."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings

from pourcast.change.model import Change, Cost, Lever, PartMove, Ranking, TrialPour
from pourcast.page import words_change as words
from pourcast.page.render import render
from tests.forecast.hand import example
from tests.page import sample
from tests.page.reader import Page
from tests.strategies_change import changes, rankings

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
    assert ("Do not." in said) == (made.harms and not made.cures and not made.puts_right)
    assert said.endswith(".")
    assert "\n" not in said


@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
@given(rankings())
def test_every_ranking_has_an_answer(made: Ranking) -> None:
    assert words.first(made).endswith(".")
    assert len(words.refused(made)) == len(made.refused)


def test_pours_of_a_change_that_was_left_behind_are_told() -> None:
    """Ours to keep: a row counted on fewer pours is never told as one of all of them."""
    kept = change(0.81, 0.02)
    all_alike, one_behind = ranking(kept), ranking(kept, replace(kept, draws=100))

    assert words.poured(all_alike) == "400 pours with the same draws for each change"
    assert "fewer (100 or more) for one" in words.poured(one_behind)
    assert words.poured(one_behind) in words.rests_on(one_behind)


def shared(*made: Change) -> tuple[Change, ...]:
    """Return changes that stand in one place of a table."""
    return tuple(replace(each, by_luck=0.01, place=1) for each in made)


def test_rows_that_cannot_be_told_apart_say_so() -> None:
    """House rule: rows of one place are as good as each other; a plainly lesser one is not."""
    one, other = shared(change(0.81, 0.02), change(0.79, 0.02))
    lesser = replace(one, place=3)

    notes = [note for _, note in words.rows((one, other, lesser))]

    assert "as good as the one above, as far as 400 pours can tell; nine wax wires" in notes[1]
    assert "as good" not in notes[0] + notes[2]


def test_the_page_says_as_good_as_where_the_terminal_does() -> None:
    """House rule: page and terminal say the same of two rows."""
    one, other = shared(change(0.81, 0.02), change(0.79, 0.02))
    luck = replace(change(0.63, 0.02), by_luck=1.0, place=3)

    said = Page(render(sample.forecast(), ranking(one, other, luck))).text

    assert said.count("as good as the one above, as far as 400 pours can tell") == 1
    assert "within the noise; nine wax wires" in said


def test_what_is_plainly_wrong_is_told_with_what_wins_most() -> None:
    """House rule: the repair first with its own figure, the greatest gain beside it."""
    lever = replace(VENT, act="Flask 400 °C hotter", plainly=True, cost=Cost())
    repair = replace(
        change(0.66, 0.03, (lever,)), by_luck=1.0, rights=("Flask at 250 °C; 620 is usual. So.",)
    )

    said = words.first(ranking(repair, *shared(change(0.81, 0.02))))

    assert said == (
        "Flask 400 °C hotter: 62 to 66 in 100, within the noise. It puts right what is out of "
        "the usual: Flask at 250 °C; 620 is usual. Next: Vent tips 3 to 9, 62 to 81 in 100 by "
        "itself."
    )
    assert repair not in words.idle([replace(repair, gain=0.0, standard_error=0.0)])


def test_what_still_stops_the_plan_is_told() -> None:
    mends = replace(change(0.70, 0.02), mends=("The flask is low. Why.",))
    made = replace(ranking(mends), stops=("The flask is low. Why.", "The metal is cold. So."))

    said = words.first(made)

    assert "It takes away what stops the plan: The flask is low." in said
    assert "This still stops the plan: The metal is cold." in said


def test_harm_that_a_stop_asks_for_is_no_harm_to_avoid() -> None:
    lever = replace(VENT, plainly=True, cost=Cost(words="no more work"))
    made = replace(change(0.40, 0.02, (lever,)), mends=("The flask is hot.",))

    said = words.sentence(made)

    assert made.cures
    assert "fewer fill by it, and it is to be done all the same" in said
    assert not replace(made, levers=(VENT,)).cures


def test_two_changes_do_not_cost_work_and_none_at_once() -> None:
    """House rule: a sentence does not say against itself."""
    cooler = replace(VENT, act="Metal 30 °C cooler", cost=Cost(words="no more work"))
    flask = replace(VENT, cost=Cost(words="no more work; the kiln ends elsewhere"))

    assert change(0.9, 0.01, (VENT, cooler, flask)).cost.words == (
        "nine wax wires and their stubs to clean; the kiln ends elsewhere"
    )
    assert change(0.9, 0.01, (flask,)).cost.words == "no more work; the kiln ends elsewhere"
    assert change(0.9, 0.01, (cooler, cooler)).cost.words == "no more work"
