"""From weighted draws to a value with two ends, and back through the rule of the draws."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from scipy import stats

from pourcast.learn.axes import is_in_logarithm, transformed
from pourcast.learn.squeeze import LEANS, Ends, ends_of, narrowed, range_by_the_book, range_learnt
from pourcast.materials import Value, library
from pourcast.materials.draws import quantile
from tests.strategies_learn import values_with_a_range

SHARES = np.array([0.05, 0.5, 0.95])


def as_drawn(value: Value, ends: Ends) -> Value:
    """Return the value as a forecast puts it in."""
    return replace(value, value=ends.value, low=ends.low, high=ends.high, kind=ends.kind)


def equal(drawn: np.ndarray) -> np.ndarray:
    """Return equal weights."""
    return np.full(drawn.size, 1 / drawn.size)


@given(values_with_a_range())
def test_narrow_bell_is_drawn_again_with_its_median_and_its_interval(value: Value) -> None:
    """The rule of the draws, run backwards: exact where no end is cut off.

    A normal bell in the middle of the range, its spread 3 % of it, as 2 001 equal draws.
    A leaning law is nearer to a bell than a flat one.
    """
    low, high = transformed(value, np.array([value.si_low, value.si_high])).tolist()
    bell = stats.norm.ppf((np.arange(2001) + 0.5) / 2001)
    steps = 0.5 * (low + high) + 0.03 * (high - low) * bell
    drawn = np.exp(steps) if is_in_logarithm(value.si_low, value.si_high) else steps
    learnt = range_learnt(value, drawn, equal(drawn))

    ends = ends_of(value, drawn, equal(drawn))

    again = as_drawn(value, ends)
    assert ends.kind == "computed"
    assert value.low <= again.low <= again.value <= again.high <= value.high
    got = range_by_the_book(again)
    assert (got.low, got.middle, got.high) == pytest.approx(
        (learnt.low, learnt.middle, learnt.high), rel=1e-6
    )


def test_value_of_which_little_was_learnt_stays_as_flat_as_it_was() -> None:
    """Else it would look surer than it is: leaning ends would take 24 % off its interval.

    By hand: draws flat between 1 and 2 with the median at 1.5.
    """
    value = library().pour["film_factor"]
    drawn = np.linspace(1.0, 2.0, 4001)

    ends = ends_of(value, drawn, equal(drawn))

    assert ends.kind == "estimate"
    assert (ends.low, ends.value, ends.high) == pytest.approx((1.0, 1.5, 2.0), abs=1e-3)


@given(values_with_a_range())
def test_range_of_the_book_is_told_as_nothing_learnt(value: Value) -> None:
    drawn = quantile(value, (np.arange(20_001) + 0.5) / 20_001)
    before = range_by_the_book(value)

    after = range_learnt(value, drawn, equal(drawn))

    less, moved = narrowed(value, before, after)
    assert less == pytest.approx(0.0, abs=1e-3)
    assert moved == pytest.approx(0.0, abs=1e-3)


def test_end_that_is_cut_off_at_the_book_costs_a_little_of_the_interval() -> None:
    """What the module says is lost: a half bell against the low end, from 1.0 on.

    The law is flat here, so at most a tenth of the lower side is lacking.  Found: 0.007 of it.
    """
    value = library().pour["film_factor"]
    drawn = 1.0 + 0.1 * np.abs(stats.norm.ppf((np.arange(4001) + 0.5) / 4001))
    learnt = range_learnt(value, drawn, equal(drawn))

    again = range_by_the_book(as_drawn(value, ends_of(value, drawn, equal(drawn))))

    assert again.middle == pytest.approx(learnt.middle, rel=1e-6)
    lost = (again.low - learnt.low) / (learnt.middle - 1.0)
    assert -1e-6 <= lost <= 0.1


def test_range_too_narrow_for_the_logarithm_is_squeezed_as_it_is_drawn() -> None:
    """Rule 4 of the draws: a logarithm only where high is over 3 times low."""
    value = library().investment["flow"]["permeability_burnt"]
    bell = 1e-13 * (1.0 + 0.1 * stats.norm.ppf((np.arange(4001) + 0.5) / 4001))
    learnt = range_learnt(value, bell, equal(bell))

    ends = ends_of(value, bell, equal(bell))

    assert ends.high < 3.0 * ends.low
    assert ends.value - ends.low == pytest.approx((ends.value - learnt.low) / LEANS, rel=1e-9)
    got = quantile(as_drawn(value, ends), SHARES)
    assert got == pytest.approx([learnt.low, learnt.middle, learnt.high], rel=1e-9)
