"""Expected information of a test that was not made yet."""

import math

import numpy as np
import pytest

from pourcast.errors import InputError
from pourcast.learn.information import expected_information
from tests.outside.record import record


@pytest.mark.parametrize("noise", [2.0, 1.0, 0.5])
def test_measuring_a_normal_unknown_tells_what_lindley_says(noise: float) -> None:
    """Published: y = x + noise, x of N(0, 1): I = ½ ln(1 + 1/noise²).

    Source: Lindley (1956), Ann. Math. Stat. 27, 986, the linear normal case.  Tolerance
    0.06: 3 000 terms of spread up to 1 have a mean known to 0.02; three of those.
    Found: within 0.03.
    """
    rng = np.random.default_rng(8)
    x = rng.standard_normal(3000)
    y = x + noise * rng.standard_normal(3000)

    got = expected_information(-0.5 * ((y[:, None] - x[None, :]) / noise) ** 2)

    want = 0.5 * math.log(1.0 + 1.0 / noise**2)
    record(
        "learn", f"information of a measurement with noise {noise:g}",
        "Lindley (1956), linear normal case", got, want, "nat", 0.06,
     kind="closed form",)  # fmt: skip
    assert got == pytest.approx(want, abs=0.06)


def test_test_that_always_ends_alike_tells_nothing() -> None:
    assert expected_information(np.zeros((50, 50))) == pytest.approx(0.0, abs=1e-12)


def test_fair_question_that_parts_all_studios_tells_one_bit() -> None:
    """By hand: two endings, each certain in half of the studios: ln 2."""
    half = np.arange(40) < 20
    alike = half[:, None] == half[None, :]

    got = expected_information(np.log(np.where(alike, 1.0, 1e-300)))

    assert got == pytest.approx(math.log(2.0), rel=1e-12)


def test_table_that_is_not_square_is_refused() -> None:
    with pytest.raises(InputError, match="square"):
        expected_information(np.zeros((3, 4)))
