"""Elementary functions against tables and against those of the system."""

import math

import numpy as np
import pytest

from pourcast.kernels import kernel
from pourcast.pour.elementary import exponential, logarithm, whole_groups

NEAR = 4e-15  # of the value; eighteen times the last place of a number


@kernel
def _each(numbers: np.ndarray, powers: np.ndarray, logarithms: np.ndarray) -> None:
    """Fill both functions in one loop, which the compiler takes several numbers at a time."""
    for place in range(numbers.size):
        powers[place] = exponential(numbers[place])
        logarithms[place] = logarithm(abs(numbers[place]))


def test_both_agree_with_the_printed_tables() -> None:
    """Published: e, √e, ln 2 and ln 10 in Abramowitz and Stegun (1964), table 1.1."""
    assert exponential(1.0) == pytest.approx(2.718_281_828_459_045, rel=NEAR)
    assert exponential(0.5) == pytest.approx(1.648_721_270_700_128, rel=NEAR)
    assert logarithm(2.0) == pytest.approx(0.693_147_180_559_945, rel=NEAR)
    assert logarithm(10.0) == pytest.approx(2.302_585_092_994_045, rel=NEAR)


def test_both_agree_with_the_system_over_their_range() -> None:
    """Python's own are right to the last place but one; exp loses a place for each 2ⁿ in it."""
    chance = np.random.default_rng(1)
    numbers = np.concatenate([chance.uniform(-3, 3, 999), chance.uniform(-690, 690, 1000)])
    powers, logarithms = np.empty(numbers.size), np.empty(numbers.size)

    _each(numbers, powers, logarithms)

    off = np.abs(powers / np.exp(numbers) - 1.0)
    assert off[:999].max() < NEAR
    assert off.max() < 2e-13
    miss = np.abs(logarithms - np.log(np.abs(numbers)))
    assert (miss / np.maximum(np.abs(np.log(np.abs(numbers))), 1.0)).max() < NEAR


def test_powers_of_two_and_one_are_exact() -> None:
    assert exponential(0.0) == 1.0
    assert logarithm(1.0) == 0.0
    assert logarithm(1024.0) == pytest.approx(10.0 * math.log(2.0), rel=2e-16)


def test_a_nan_comes_out_as_a_nan() -> None:
    """A nan must be seen where it is born; read as bits it would pass for a number."""
    assert math.isnan(exponential(math.nan))
    assert math.isnan(logarithm(math.nan))


def test_beyond_its_room_the_power_is_held() -> None:
    assert exponential(-1e9) == pytest.approx(math.exp(-700.0), rel=2e-13)
    assert exponential(1e9) == pytest.approx(math.exp(700.0), rel=2e-13)


@pytest.mark.parametrize(("count", "want"), [(0, 0), (1, 4), (4, 4), (5, 8), (32, 32)])
def test_whole_groups_round_up(count: int, want: int) -> None:
    assert whole_groups(count) == want
