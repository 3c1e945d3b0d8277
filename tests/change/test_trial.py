"""Trial: what a trial pour teaches, on cases whose worth is known."""

import numpy as np
import pytest

from pourcast.change.trial import LEAST_DRAWS, classes, taught
from pourcast.forecast.whole import lay_out, pour_ends
from tests.forecast.hand import example


def test_a_trial_that_tells_all_is_worth_all() -> None:
    """Closed form: each of two acts is right in half of the draws; knowing which is worth 1/2.

    Source: value of perfect information, Raiffa and Schlaifer (1961), from memory.
    """
    state = np.arange(400) // 2 % 2 == 0
    actions = np.stack([state, ~state])

    told = taught("twin", state, state.astype(np.int64), actions)

    assert told.without == pytest.approx(0.5)
    assert told.with_trial == 1.0
    assert told.spread_taken == 1.0
    assert told.with_trial - told.without > 2.0 * told.standard_error


def test_a_trial_that_tells_nothing_is_worth_nothing() -> None:
    """An ending that hangs on nothing changes no choice.

    Tolerance: three standard errors; choosing on one half and judging on the other takes
    the flattery of the maximum out.  Found: -0.004 ± 0.008, spread taken 0.
    """
    generator = np.random.default_rng(3)
    actions = generator.random((6, 800)) < 0.5
    ending = generator.integers(0, 8, 800)

    told = taught("twin", actions[0], ending, actions)

    assert abs(told.with_trial - told.without) <= 3.0 * told.standard_error
    assert told.spread_taken <= 0.02


def test_choosing_and_judging_on_the_same_draws_would_flatter() -> None:
    """Six acts alike at 0.5 of 100 draws: the best of them looks like 0.56, and is 0.5.

    Source: mean of the greatest of 6 normal numbers, 1.27 (Tippett 1925, from memory), times
    0.05.  Held: the told chance is within three standard errors, 0.15, of 0.5, on average
    over 40 seeds within 0.024.
    """
    told = []
    for seed in range(40):
        generator = np.random.default_rng(seed)
        actions = generator.random((6, 100)) < 0.5
        whole = np.zeros(100, dtype=bool)
        told.append(taught("twin", whole, np.zeros(100, dtype=np.int64), actions).without)

    assert float(np.mean(told)) == pytest.approx(0.5, abs=0.024)


def test_an_ending_that_says_half_takes_what_the_table_says() -> None:
    """Closed form: outcome right in 3 of 4 draws of each ending: 1 - 4 p (1 - p) = 1/4 is taken."""
    ending = np.arange(800) % 2
    right = np.arange(800) // 2 % 4 != 0
    outcome = np.where(ending == 1, right, ~right)

    told = taught("twin", outcome, ending.astype(np.int64), outcome[None, :])

    assert told.spread_taken == pytest.approx(0.25, abs=0.003)  # 2 classes of 800 draws
    assert told.with_trial == told.without


def test_rare_endings_are_put_together() -> None:
    ends = pour_ends(lay_out(example("larch_twig"), None, 60, 0))

    kinds, counts = np.unique(classes(ends), return_counts=True)

    assert kinds.tolist() == list(range(kinds.size))
    assert (counts < LEAST_DRAWS).sum() <= 1
