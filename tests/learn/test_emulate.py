"""The chance of an ending as a smooth function of the unknowns."""

import numpy as np
import pytest

from pourcast.learn.emulate import chance, emulate


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


def test_unknown_without_a_part_in_it_is_mostly_left_out() -> None:
    """A tie of 2.5 spreads comes by luck in 1.2 of 100 samples; at most 4 of 40.  Found: 3."""
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
