"""Middle: which draw stands for all does not hang on the last bit.

By definition, so no outside number is held against it but the median of numpy.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from pourcast import units as si
from pourcast.materials.middle import first_of_the_nearest


@given(arrays(float, st.integers(2, 30), elements=st.floats(1e-3, 1e3)), st.integers(0, 100))
def test_rounding_moves_nothing(values: si.Floats, seed: int) -> None:
    """A part in 10^13 either way is what another machine rounds otherwise (measured)."""
    rounded = values * (1.0 + 1e-13 * np.random.default_rng(seed).uniform(-1, 1, values.size))

    one, other = (
        first_of_the_nearest(np.abs(each - np.median(each))) for each in (values, rounded)
    )

    # Values that differ by rounding alone may stand for each other.
    assert values[one] == pytest.approx(values[other], rel=1e-9) or one == other


def test_of_an_even_number_the_first_of_the_two_counts() -> None:
    values = np.array([4.0, 1.0, 2.0, 3.0])
    for nudge in (-1e-15, 0.0, 1e-15):
        moved = values + np.array([0.0, 0.0, nudge, 0.0])

        assert first_of_the_nearest(np.abs(moved - np.median(moved))) == 2


def test_draws_that_do_not_count_are_passed_over() -> None:
    assert first_of_the_nearest(np.array([np.nan, 2.0, 1.0])) == 2
    assert first_of_the_nearest(np.full(3, np.nan)) == 0
