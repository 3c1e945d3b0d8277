"""Scores: by hand, against published numbers, and by ways that do not share the code."""

import math
from dataclasses import asdict, replace
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest

from pourcast.book.scores import EDGES, Trial, brier, interval, logarithmic, score
from pourcast.errors import InputError
from tests.book.strategies import trials
from tests.outside.record import record

TEN_DAYS = [
    (0.7, False),
    (0.9, True),
    (0.8, True),
    (0.4, True),
    (0.2, False),
    (0.0, False),
    (0.0, False),
    (0.0, False),
    (0.0, False),
    (0.1, False),
]
"""Chances of rain and whether it rained, from memory of Brier (1950), table 1."""


def held(pairs: list[tuple[float, bool]], draws: int = 400) -> list[Trial]:
    return [Trial(chance=chance, draws=draws, came=came) for chance, came in pairs]


def test_score_agrees_with_the_table_of_1950() -> None:
    """Published: P = 0.19 for ten forecasts of rain, Brier (1950), table 1.

    Chances and result are from memory; they fit each other.  His sum counts rain
    and no rain, so it is twice ours.  Tolerance 1e-12: the sum is exact in
    decimals.  Found: 0.19 to rounding.
    """
    found = 2.0 * brier(held(TEN_DAYS))

    record(
        "book",
        "score of ten forecasts of rain, both sides counted",
        "Brier (1950), Mon. Weather Rev. 78, 1, table 1 (from memory)",
        found,
        0.19,
        "-",
        1e-12,
        kind="table",
    )
    assert found == pytest.approx(0.19, abs=1e-12)


def test_tornado_forecasts_of_1884_score_as_was_counted() -> None:
    """Counted: 2803 forecasts of tornadoes with what came; 96.6 % were right.

    Source: Finley (1884), Am. Meteorol. J. 1, 85, in the table of Murphy (1996), Weather
    Forecast. 11, 3: of 100 "yes" 28 came, of 2703 "no" 23 came.  To say "no" each time would
    have been right in 98.2 % (Gilbert 1884, told there), so the skill is below 0.  Tolerance
    0.05 %: the shares are printed to three figures.  Found: 96.611 % and 98.181 %.  These are
    no castings: forecasts of castings with their outcomes were looked for and not found.
    """
    said = [
        Trial(chance=chance, draws=1, came=came, times=times)
        for chance, came, times in (
            (1.0, True, 28),
            (1.0, False, 72),
            (0.0, True, 23),
            (0.0, False, 2680),
        )
    ]

    found = score(said)

    for claim, got, want in (
        ("forecasts of tornadoes that were right", 1.0 - found.brier, 0.966),
        ("days and places without a tornado", 1.0 - found.base_rate, 0.982),
    ):
        record("book", claim, "Finley (1884), counted; Murphy (1996), Weather Forecast. 11, 3",
               100.0 * got, 100.0 * want, "%", 0.05, kind="measured")  # fmt: skip
        assert got == pytest.approx(want, abs=5e-4)
    assert found.skill is not None
    assert found.skill < 0.0
    assert [each.share_came for each in found.classes] == [23 / 2703, 0.28]


def test_terms_of_1973_by_hand() -> None:
    """By hand, Murphy (1973): ten forecasts of 0.2 and 0.8, five each.

    Of the 0.2 one came, of the 0.8 three.  B = (1·0.64 + 4·0.04 + 3·0.04 + 2·0.64)
    / 10 = 0.22.  R = (5·0 + 5·0.2²) / 10 = 0.02.  o = 0.4, S = (5·0.2² + 5·0.2²)
    / 10 = 0.04.  U = 0.24.  0.02 - 0.04 + 0.24 = 0.22, skill = 1 - 0.22/0.24 = 1/12.
    """
    pairs = [(0.2, k < 1) for k in range(5)] + [(0.8, k < 3) for k in range(5)]

    made = score(held(pairs))

    assert made.brier == pytest.approx(0.22, abs=1e-12)
    assert made.reliability == pytest.approx(0.02, abs=1e-12)
    assert made.resolution == pytest.approx(0.04, abs=1e-12)
    assert made.uncertainty == pytest.approx(0.24, abs=1e-12)
    assert made.within_classes == pytest.approx(0.0, abs=1e-12)
    assert made.skill == pytest.approx(1 / 12, abs=1e-12)
    assert [(each.forecasts, each.came) for each in made.classes] == [(5, 1), (5, 3)]


def test_logarithmic_score_by_hand() -> None:
    """By hand: 20 pours, 0.9 that came: q = 18.5/21; 0.0 that came: q = 0.5/21."""
    made = logarithmic(held([(0.9, True), (0.0, True)], draws=20))

    assert made == pytest.approx(-(math.log(18.5 / 21) + math.log(0.5 / 21)) / 2, abs=1e-12)


def test_certain_forecast_that_is_wrong_has_a_finite_score() -> None:
    """Krichevsky and Trofimov (1981): n pours without a miss leave half a pour."""
    wrong = logarithmic(held([(1.0, False)], draws=400))

    assert wrong == pytest.approx(math.log(802), abs=1e-12)
    assert logarithmic(held([(1.0, False)], draws=10_000)) > wrong


@given(kept=trials())
def test_terms_add_up_to_the_score(kept: list[Trial]) -> None:
    """Stephenson, Coelho and Jolliffe (2008): (6) holds for any classes, to rounding."""
    made = score(kept)
    terms = made.reliability - made.resolution + made.uncertainty + made.within_classes

    assert terms == pytest.approx(made.brier, abs=1e-12)
    assert sum(each.forecasts for each in made.classes) == len(kept)
    assert all(each.low <= each.mean_chance <= each.high for each in made.classes)


@given(kept=trials())
def test_score_agrees_with_exact_fractions(kept: list[Trial]) -> None:
    """The same sums in whole numbers, worked out another way: no rounding, no squares of ours."""
    exact = sum(
        (
            Fraction(trial.chance) ** 2
            if not trial.came
            else 1 - 2 * Fraction(trial.chance) + Fraction(trial.chance) ** 2
        )
        for trial in kept
    ) / len(kept)

    assert brier(kept) == pytest.approx(float(exact), abs=1e-12)


@given(kept=trials())
def test_logarithmic_score_agrees_with_the_likelihood(kept: list[Trial]) -> None:
    """By the product of what was said of what happened, and its logarithm to the base 2."""
    said = [
        (trial.draws * (trial.chance if trial.came else 1 - trial.chance) + 0.5) / (trial.draws + 1)
        for trial in kept
    ]
    other = -np.mean(np.log2(said)) * np.log(2.0)

    assert logarithmic(kept) == pytest.approx(other, rel=1e-9)


@given(kept=trials(), times=st.lists(st.integers(1, 5), min_size=60, max_size=60))
def test_trial_that_counts_several_times_is_so_many_trials(
    kept: list[Trial], times: list[int]
) -> None:
    """Like forecasts are kept as one with a count; the scores may not tell."""
    counted = [replace(each, times=count) for each, count in zip(kept, times, strict=False)]
    one_by_one = [each for each, count in zip(kept, times, strict=False) for _ in range(count)]

    first, second = asdict(score(counted)), asdict(score(one_by_one))
    for ours, theirs in zip(first.pop("classes"), second.pop("classes"), strict=True):
        assert ours == pytest.approx(theirs, abs=1e-12)
    assert first == pytest.approx(second, abs=1e-12)


@given(base=st.integers(1, 9), draws=st.integers(1, 1000))
def test_saying_the_base_rate_each_time_has_no_skill(base: int, draws: int) -> None:
    """By (7): B is then o (1 - o)."""
    pairs = [(base / 10, k < base) for k in range(10)]

    assert score(held(pairs, draws)).skill == pytest.approx(0.0, abs=1e-12)


def test_own_chance_is_the_best_to_say() -> None:
    """Brier (1950): no gain by saying other than one thinks; a search over all chances."""
    truth = 0.7
    came = [(k < 70) for k in range(100)]
    said = [k / 100 for k in range(101)]
    for rule in (brier, logarithmic):
        scores = [rule(held([(chance, each) for each in came], draws=10**6)) for chance in said]
        assert said[int(np.argmin(scores))] == pytest.approx(truth, abs=1e-12)


@pytest.mark.parametrize(("came", "of"), [(0, 1), (1, 1), (0, 12), (7, 12), (12, 12), (395, 400)])
def test_interval_agrees_with_a_reference_library(came: int, of: int) -> None:
    """Published: Wilson's interval of scipy (`binomtest`), to rounding of 1e-9."""
    theirs = binomtest(came, of).proportion_ci(confidence_level=0.8, method="wilson")

    low, high = interval(came, of)

    if (came, of) == (7, 12):
        record(
            "book",
            "upper end of the 80 % interval of 7 of 12",
            "scipy, binomtest, Wilson's interval",
            high,
            float(theirs.high),
            "-",
            1e-9,
            kind="reference library",
        )
    assert (low, high) == pytest.approx((theirs.low, theirs.high), abs=1e-9)


def test_chance_on_an_edge_belongs_to_the_class_above_and_one_to_the_last() -> None:
    made = score(held([(0.2, True), (0.95, True), (1.0, True), (0.0, False)]))

    assert [(each.low, each.forecasts) for each in made.classes] == [(0.0, 1), (0.2, 1), (0.95, 2)]


def test_skill_is_not_told_where_all_came() -> None:
    assert score(held([(0.9, True)])).skill is None


@pytest.mark.parametrize(("chance", "draws"), [(-0.1, 1), (1.1, 1), (float("nan"), 1), (0.5, 0)])
def test_trial_that_cannot_be_is_refused(chance: float, draws: int) -> None:
    with pytest.raises(InputError):
        Trial(chance=chance, draws=draws, came=True)


@pytest.mark.parametrize("edges", [(), (0.0,), (0.0, 0.5), (0.1, 1.0), (0.0, 0.5, 0.5, 1.0)])
def test_edges_that_leave_a_gap_are_refused(edges: tuple[float, ...]) -> None:
    with pytest.raises(InputError, match="edges"):
        score(held([(0.5, True)]), edges)


def test_no_forecast_has_no_score() -> None:
    for rule in (brier, logarithmic, score):
        with pytest.raises(InputError, match="forecasts with an outcome"):
            rule([])
    assert EDGES[0] == 0.0
