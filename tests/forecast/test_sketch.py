"""Sketch: percentiles from counts, held against sorting all numbers.

Outside: `numpy.percentile`, which keeps every number.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.forecast.sketch import merged, sketch, spread_of

STEP = 2.0**-12  # relative width of a step; the middle is at most half of it away, twice over

numbers = st.lists(
    st.one_of(st.just(0.0), st.just(1.0), st.floats(1e-9, 1e9)), min_size=1, max_size=200
)


@given(numbers)
def test_percentiles_agree_with_sorting(values: list[float]) -> None:
    """Tolerance: one step of the counts for each of the two numbers between which it lies."""
    want = np.percentile(values, [10, 50, 90])

    got = spread_of(sketch(np.array(values)))

    assert got is not None
    for mine, theirs in zip((got.p10, got.p50, got.p90), want.tolist(), strict=True):
        # Between two numbers far apart the way is taken from each with its own error.
        largest = max(value for value in values if value <= max(theirs, min(values)) * 2 + 1e-300)
        assert abs(mine - theirs) <= STEP * max(largest, theirs) + 1e-300 or (
            abs(mine - theirs) <= STEP * max(values)
        )


@given(numbers, numbers, numbers)
def test_the_order_and_the_size_of_the_blocks_do_not_matter(
    one: list[float], two: list[float], three: list[float]
) -> None:
    a, b, c = (sketch(np.array(values)) for values in (one, two, three))
    at_once = sketch(np.array(one + two + three))

    for made in (merged(merged(a, b), c), merged(c, merged(b, a))):
        assert np.array_equal(made.step, at_once.step)
        assert np.array_equal(made.count, at_once.count)
        assert spread_of(made) == spread_of(at_once)


def test_what_is_full_stays_full() -> None:
    """A share of exactly 1 is told as 1, not as the middle of its step."""
    told = spread_of(sketch(np.ones(50)))

    assert told is not None
    assert (told.p10, told.p50, told.p90) == (1.0, 1.0, 1.0)


def test_a_million_numbers_need_little_room() -> None:
    """4096 steps at most for each doubling: 1 to 100 are under 7 doublings."""
    many = np.random.default_rng(0).uniform(1.0, 100.0, 1_000_000)

    assert sketch(many).step.size <= 7 * 4096


def test_no_numbers_have_no_percentile() -> None:
    assert spread_of(sketch(np.empty(0))) is None


@pytest.mark.parametrize("bad", [-1.0, float("nan")])
def test_numbers_that_cannot_be_counted_are_refused(bad: float) -> None:
    with pytest.raises(InputError, match="numbers of a sketch"):
        sketch(np.array([1.0, bad]))
