"""Fresh slurry: how it stiffens with age and water, and how fast it rises."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.mould.fresh import froth_speed, grown, growth_from, rise_speed, water_factor


def one(value: float) -> np.ndarray:
    """Return an array of one number."""
    return np.array([value])


def test_the_yield_stress_grows_with_age() -> None:
    """Measured, trend: the drag on a ball in bentonite grows with the time after mixing.

    Source: a conference abstract of 2003.  The law is that of the records: constant
    until t₁, then e-fold in t_c.
    """
    ages = np.array([0.0, 360.0, 510.0, 660.0])

    got = grown(np.full(4, 5.0), ages, np.full(4, 360.0), np.full(4, 150.0))

    assert got == pytest.approx([5.0, 5.0, 5.0 * math.e, 5.0 * math.e**2])


@pytest.mark.parametrize(
    ("water", "factor"), [(0.38, 1.4), (0.40, 1.0), (0.42, 0.75), (0.39, math.sqrt(1.4))]
)
def test_less_water_makes_a_stiffer_slurry(water: float, factor: float) -> None:
    """By definition: the factors of the records, straight in the logarithm between them."""
    assert water_factor(water, one(1.4), one(0.75))[0] == pytest.approx(factor)


def test_the_slurry_stiffens_in_its_last_three_minutes() -> None:
    """By definition: t₁ is 3 min before it must be still, and never under 1 s."""
    assert growth_from(np.array([540.0, 100.0])) == pytest.approx([360.0, 1.0])


def test_the_surface_and_the_froth_move_by_their_height() -> None:
    """By definition: 120 mm in 40 s are 3 mm/s; froth of 2.5 volumes climbs 180 mm in 15 s."""
    assert rise_speed(0.12, one(40.0))[0] == pytest.approx(3e-3)
    assert froth_speed(0.12, one(2.5), one(15.0))[0] == pytest.approx(12e-3)


@given(st.floats(0.2, 1.0), st.floats(0.2, 1.0))
def test_more_water_never_stiffens(water: float, other: float) -> None:
    """By definition: the factor falls with water."""
    low, high = sorted((water, other))

    assert water_factor(low, one(1.4), one(0.75))[0] >= water_factor(high, one(1.4), one(0.75))[0]


@given(st.floats(0.0, 2000.0), st.floats(0.0, 2000.0))
def test_slurry_never_thins_with_age(age: float, other: float) -> None:
    """By definition: (1) never falls, and never overflows."""
    low, high = sorted((age, other))

    first, last = (grown(one(5.0), one(a), one(300.0), one(10.0))[0] for a in (low, high))

    assert 5.0 <= first <= last < math.inf


def test_what_is_no_slurry_is_refused() -> None:
    """House rule: a stated limit is a kept limit."""
    with pytest.raises(InputError, match="growth_time"):
        grown(one(5.0), one(1.0), one(1.0), one(0.0))
    with pytest.raises(InputError, match="age"):
        grown(one(5.0), one(-1.0), one(1.0), one(1.0))
    with pytest.raises(InputError, match="water_to_powder"):
        water_factor(0.1, one(1.4), one(0.75))
    with pytest.raises(InputError, match="stiff_factor"):
        water_factor(0.4, one(0.0), one(0.75))
    with pytest.raises(InputError, match="froth_rise"):
        froth_speed(0.1, one(1.0), one(1.0))
    with pytest.raises(InputError, match="pour_time"):
        rise_speed(0.1, one(0.0))
