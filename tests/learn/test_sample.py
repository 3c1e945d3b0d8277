"""Sampling: draws that are moved to where they are worth much give the same answer."""

import numpy as np
import pytest
from scipy import stats

from pourcast.errors import InputError
from pourcast.learn.sample import ENOUGH, normal_share, sample
from pourcast.learn.weights import percentile
from tests.outside.record import record

ALL = np.arange(4)


def measured(error: float, at: float) -> "object":
    """Return ln L of a normal measurement of the first axis and of the sum of the next two."""

    def log_likelihood(share: np.ndarray) -> np.ndarray:
        z = stats.norm.ppf(np.clip(share, 1e-12, 1.0 - 1e-12))
        first = ((z[:, 0] - at) / error) ** 2
        return np.asarray(-0.5 * first - 0.5 * ((z[:, 1] + z[:, 2] - 1.0) / error) ** 2)

    return log_likelihood


@pytest.mark.parametrize(("error", "at"), [(1.0, 0.5), (0.2, 1.0), (0.05, 2.0)])
def test_normal_unknown_that_is_measured_has_the_textbook_answer(error: float, at: float) -> None:
    """Published: N(0, 1) measured with error e at y is N(y / (1 + e²), e² / (1 + e²)).

    Source: Gelman et al., Bayesian Data Analysis (1995), 2.6.  The sum of two such
    unknowns, spread 2, goes the same way with 2 in the place of 1.  Tolerance a tenth of
    the spread: 4 000 draws worth 1 000 or more know the mean to 1/√1000, a percentile to
    about twice that.  Found: within 0.09 of the spread.
    """
    found = sample(measured(error, at), 4, ALL, 4000, np.random.default_rng(5))  # type: ignore[arg-type]

    z = stats.norm.ppf(np.clip(found.share, 1e-12, 1.0 - 1e-12))
    shares = np.array([0.05, 0.5, 0.95])
    for name, drawn, start, seen in (
        ("one unknown", z[:, 0], 1.0, at),
        ("a sum of two", z[:, 1] + z[:, 2], 2.0, 1.0),
    ):
        mean = seen * start / (start + error**2)
        spread = np.sqrt(start * error**2 / (start + error**2))
        got = percentile(drawn, found.weight, shares)
        exact = stats.norm.ppf(shares, mean, spread)
        record(
            "learn", f"95th percentile of {name} measured with error {error:g}",
            "conjugate normal, Gelman et al. (1995), 2.6", float(got[2]), float(exact[2]), "-",
            0.1 * spread,
         kind="closed form",)  # fmt: skip
        assert got == pytest.approx(exact, abs=0.1 * spread)
    # Nothing was seen of the fourth.
    untouched = percentile(z[:, 3], found.weight, shares)
    assert untouched == pytest.approx(stats.norm.ppf(shares), abs=0.15)
    assert found.effective >= ENOUGH * 4000


def test_draws_are_moved_only_where_they_must_be() -> None:
    easy = sample(measured(3.0, 0.0), 4, ALL, 2000, np.random.default_rng(1))  # type: ignore[arg-type]
    hard = sample(measured(0.02, 2.5), 4, ALL, 2000, np.random.default_rng(1))  # type: ignore[arg-type]

    assert easy.rounds == 0
    assert easy.effective == easy.first_effective
    assert hard.rounds > 0
    assert hard.first_effective < 30.0 < hard.effective


def test_share_of_a_normal_is_that_of_a_library() -> None:
    """Agreement with scipy.stats; Abramowitz and Stegun (1964), 26.2."""
    z = np.linspace(-6.0, 6.0, 49).reshape(7, 7)

    assert normal_share(z) == pytest.approx(stats.norm.cdf(z), rel=1e-12, abs=1e-15)


def test_too_few_draws_are_refused() -> None:
    with pytest.raises(InputError, match="draws"):
        sample(measured(1.0, 0.0), 4, ALL, 5, np.random.default_rng(0))  # type: ignore[arg-type]
