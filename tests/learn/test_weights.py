"""Weighted draws: what they are worth, and their percentiles."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from pourcast.errors import InputError, SolveError
from pourcast.learn.weights import effective, normalised, percentile
from tests.outside.record import record


@pytest.mark.parametrize("heavy", [1, 3, 10])
def test_equal_draws_are_worth_their_number_and_others_as_kish_has_it(heavy: int) -> None:
    """Published: n = (Σ w)² / Σ w².  Source: Kish (1965), Survey Sampling, 11.7.

    By hand: of 10 draws of weight 1 and ``heavy`` of weight 4, (10 + 4h)² / (10 + 16h).
    """
    weight = np.concatenate((np.ones(10), np.full(heavy, 4.0)))
    want = (10.0 + 4.0 * heavy) ** 2 / (10.0 + 16.0 * heavy)

    got = effective(weight / weight.sum())

    record(
        "learn", f"worth of 10 draws of weight 1 and {heavy} of weight 4", "Kish (1965), 11.7",
        got, want, "draws", 1e-9,
     kind="closed form",)  # fmt: skip
    assert got == pytest.approx(want, rel=1e-12)
    assert effective(np.full(50, 0.02)) == pytest.approx(50.0, rel=1e-12)


@given(st.lists(st.floats(-700.0, 700.0), min_size=1, max_size=40))
def test_draws_are_worth_one_to_their_number(logarithm: list[float]) -> None:
    weight = normalised(np.array(logarithm))

    assert weight.sum() == pytest.approx(1.0, rel=1e-12)
    assert 1.0 - 1e-9 <= effective(weight) <= len(logarithm) + 1e-9


@pytest.mark.parametrize(("tries", "came"), [(1, 0), (12, 9), (40, 4)])
def test_reweighting_a_chance_by_its_trials_gives_the_exact_answer(tries: int, came: int) -> None:
    """Published: a chance drawn from Beta(2, 2) is Beta(2 + k, 2 + n - k) after k of n came.

    Source: any text on Bayes' rule, such as Gelman et al., Bayesian Data Analysis (1995),
    2.4; percentiles by scipy.stats.  Tolerance 0.01: 40 000 draws worth 4 000 or more
    know a percentile in the tails of a bell of spread 0.2 to 0.2 / √4000 × 2.1 = 0.007.
    Found: within 0.002.
    """
    rng = np.random.default_rng(3)
    chance = rng.beta(2.0, 2.0, 40_000)
    weight = normalised(came * np.log(chance) + (tries - came) * np.log1p(-chance))
    shares = np.array([0.05, 0.5, 0.95])

    got = percentile(chance, weight, shares)

    exact = stats.beta.ppf(shares, 2 + came, 2 + tries - came)
    for share, ours, theirs in zip(shares, got, exact, strict=True):
        record(
            "learn", f"{100 * share:.0f}th percentile of a chance after {came} of {tries}",
            "conjugate beta-binomial, Gelman et al. (1995), 2.4; scipy.stats",
            float(ours), float(theirs), "-", 0.01,
         kind="closed form",)  # fmt: skip
    assert got == pytest.approx(exact, abs=0.01)


def test_percentile_of_equal_draws_is_that_of_numpy() -> None:
    """Agreement with a general library: midpoint rule of Hazen (1914)."""
    values = np.random.default_rng(0).normal(size=101)
    shares = np.array([0.05, 0.3, 0.5, 0.9])

    got = percentile(values, np.full(101, 1 / 101), shares)

    assert got == pytest.approx(np.quantile(values, shares, method="hazen"), rel=1e-9)


def test_nothing_that_explains_what_was_seen_is_refused() -> None:
    with pytest.raises(SolveError):
        normalised(np.full(3, -np.inf))
    with pytest.raises(InputError, match="draws"):
        percentile(np.array([]), np.array([]), np.array([0.5]))
