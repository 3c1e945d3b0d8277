"""The chance of an ending as a smooth function of the unknowns."""

import numpy as np
import pytest
from scipy.optimize import minimize
from scipy.stats import chi2_contingency

from pourcast.learn.emulate import POURS_A_TERM, _tie, emulate
from pourcast.learn.logistic import RIDGE, chance, logistic, worth


def endings(draws: int, seed: int) -> tuple[np.ndarray, dict[str, np.ndarray], np.ndarray]:
    """Draw endings whose logit is 1 + 3 a - 2 b + 1.5 day; the third unknown has no part in it."""
    rng = np.random.default_rng(seed)
    studio = {key: rng.uniform(-1.0, 1.0, draws) for key in ("a", "b", "idle")}
    day = rng.standard_normal((draws, 3))
    logit = 1.0 + 3.0 * studio["a"] - 2.0 * studio["b"] + 1.5 * day[:, 0]
    return rng.random(draws) < 1.0 / (1.0 + np.exp(-logit)), studio, day


def test_known_chances_are_found_again() -> None:
    """Made with a known logit, so that the truth is known.

    Tolerance 0.05: 4 000 endings fit some 15 coefficients, so a chance of 0.5 is off by
    √(15 / 4000) / 2 = 0.03 as a rule.  Found: 0.03 in 1 of 100.
    """
    came, studio, day = endings(4000, 0)

    fitted = emulate(came, studio, day, np.arange(4000))

    logit = 1.0 + 3.0 * studio["a"] - 2.0 * studio["b"] + 1.5 * day[:, 0]
    got = chance(fitted.at(studio, 4000) + fitted.day)
    off = np.abs(got - 1.0 / (1.0 + np.exp(-logit)))
    assert off.mean() < 0.02
    assert np.quantile(off, 0.99) < 0.05
    assert fitted.keys[:2] == ("a", "b")


def test_fit_agrees_with_a_general_one() -> None:
    """Published: the same sum by scipy.optimize.minimize (BFGS).

    Tolerance 1e-4: where it stops.
    """
    came, studio, day = endings(400, 2)
    terms = np.column_stack((np.ones(400), *studio.values(), day))
    pull = np.full(terms.shape[1], RIDGE)
    pull[0] = 0.01 * RIDGE

    def missed(found: np.ndarray) -> float:
        logit = terms @ found
        return float(np.logaddexp(0.0, logit).sum() - logit[came].sum() + 0.5 * pull @ found**2)

    theirs = minimize(missed, np.zeros(terms.shape[1]), options={"gtol": 1e-8}).x

    assert logistic(terms, came.astype(float)) == pytest.approx(theirs, abs=1e-4)


def test_worth_of_a_column_agrees_with_the_table_of_four_fields() -> None:
    """Published: for a column of 0 and 1 beside a constant, z² is Pearson's chi square.

    By scipy (`chi2_contingency` without correction).  Tolerance 1e-4: the ridge on the
    constant.
    """
    rng = np.random.default_rng(3)
    column = (rng.random(300) < 0.4).astype(float)
    came = rng.random(300) < 0.3 + 0.2 * column
    table = [[int(np.sum((column == x) & (came == y))) for y in (False, True)] for x in (0, 1)]
    matrix = np.ones((300, 1))

    fitted = logistic(matrix, came.astype(float))
    got = worth(column[:, None], matrix, fitted, came.astype(float))

    theirs = chi2_contingency(table, correction=False).statistic
    assert got[0] ** 2 == pytest.approx(theirs, rel=1e-4)


def test_column_that_says_nothing_new_is_worth_nothing() -> None:
    rng = np.random.default_rng(5)
    ending = (rng.random(200) < 0.5).astype(float)
    inside = np.column_stack((np.ones(200), rng.random(200)))
    asked = np.column_stack((np.full(200, 3.0), 2.0 * inside[:, 1] - 1.0))

    assert worth(asked, inside, logistic(inside, ending), ending).tolist() == [0.0, 0.0]


def test_weak_unknown_is_found_beside_strong_ones() -> None:
    """Made so that the strong ones hide it: alone it goes with the ending by luck's measure.

    Its logit is 1.2 at most, theirs 12 and 8.  Found in 20 of 20 samples; by its plain
    correlation with the ending, at the same 2.5 spreads, it would be in 7.
    """
    found = 0
    for seed in range(20):
        rng = np.random.default_rng(seed)
        studio = {key: rng.uniform(-1.0, 1.0, 1500) for key in ("a", "b", "weak")}
        logit = 12.0 * studio["a"] + 8.0 * studio["b"] + 1.2 * studio["weak"]
        came = rng.random(1500) < 1.0 / (1.0 + np.exp(-logit))
        fitted = emulate(came, studio, np.zeros((1500, 1)), np.arange(1))
        found += "weak" in fitted.keys

    assert found >= 15


def test_rare_ending_is_given_few_terms() -> None:
    """Nine pours of 1500 went another way: one term at most, however well others fit them."""
    rng = np.random.default_rng(6)
    studio = {str(number): rng.uniform(-1.0, 1.0, 1500) for number in range(30)}
    came = np.zeros(1500, dtype=bool)
    came[:9] = True

    fitted = emulate(came, studio, rng.standard_normal((1500, 10)), np.arange(1))

    assert len(fitted.terms) <= 1


def test_unknown_without_a_part_in_it_is_mostly_left_out() -> None:
    """A worth of 2.5 spreads comes by luck in 1.2 of 100 samples, in each of some rounds.

    At most 4 of 40.  Found: 4; of 400 samples 8.
    """
    taken = sum("idle" in emulate(*endings(600, seed), np.arange(9)).keys for seed in range(40))

    assert taken <= 4


@pytest.mark.parametrize("same", [True, False])
def test_ending_that_is_always_the_same_hangs_on_nothing(same: bool) -> None:
    """600 pours of one ending: the chance of the other is below 1 in 100."""
    _, studio, day = endings(600, 1)

    fitted = emulate(np.full(600, same), studio, day, np.arange(5))

    got = chance(fitted.at(studio, 600)[:, None] + fitted.day[None, :])
    assert fitted.keys == ()
    assert np.all(np.abs(got - float(same)) < 0.01)


def test_bend_of_an_ending_is_followed() -> None:
    """Made with the logit 2 + 3 a - 4 a²; a straight line is off by 0.1 on the mean.

    Tolerance 0.03, as above.  Found: 0.005 on the mean.
    """
    rng = np.random.default_rng(4)
    studio = {"a": rng.uniform(-1.0, 1.0, 4000)}
    truth = 1.0 / (1.0 + np.exp(-(2.0 + 3.0 * studio["a"] - 4.0 * studio["a"] ** 2)))

    fitted = emulate(rng.random(4000) < truth, studio, np.zeros((4000, 1)), np.arange(1))

    off = np.abs(chance(fitted.at(studio, 4000)) - truth)
    assert off.mean() < 0.03


def test_tie_of_two_columns_is_their_correlation() -> None:
    """Published: Pearson's r, by numpy.corrcoef.  Both columns lie off their zero.  To rounding."""
    rng = np.random.default_rng(5)
    one = rng.normal(3.0, 1.0, 50)
    other = 0.5 * one + rng.normal(7.0, 1.0, 50)

    assert _tie(one, other) == pytest.approx(np.corrcoef(one, other)[0, 1], rel=1e-12)


def test_no_more_terms_are_taken_than_the_rarer_ending_bears() -> None:
    """Kept rule: so many pours of the rarer ending for each term, however many columns tell.

    30 pours of the rarer ending, and ten unknowns that all tell: six terms at the most.
    """
    rng = np.random.default_rng(6)
    studio = {f"u{number}": rng.uniform(-1.0, 1.0, 600) for number in range(10)}
    told = np.sum([*studio.values()], axis=0)
    came = told > np.sort(told)[-31]

    fitted = emulate(came, studio, np.zeros((600, 0)), np.arange(600))

    assert 0 < len(fitted.terms) <= came.sum() // POURS_A_TERM
