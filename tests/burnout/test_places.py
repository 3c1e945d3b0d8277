"""Places of a dial: which there are, and how they are said. House rules."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.burnout.places import place_told, places_of
from pourcast.cli.signs import plain_signs
from pourcast.day.typed import typed
from pourcast.errors import InputError


@given(top=st.integers(1, 100), step=st.sampled_from((0.1, 0.2, 0.25, 0.3, 0.5, 1.0)))
def test_off_and_the_top_are_places_and_none_are_further_apart_than_a_step(
    top: int, step: float
) -> None:
    places = places_of(float(top), step)

    assert (places[0], places[-1]) == (0.0, float(top))
    assert np.diff(places).min() > 0.0
    assert np.diff(places).max() <= step + 1e-9


def test_whole_places_are_the_numbers_of_the_dial() -> None:
    assert places_of(5.0, 1.0).tolist() == [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]
    assert places_of(2.0, 0.25).size == 9


@pytest.mark.parametrize(("top", "step"), [(0.0, 1.0), (5.0, 0.0), (5.0, 1.5), (5.0, np.nan)])
def test_a_dial_that_cannot_be_is_refused(top: float, step: float) -> None:
    with pytest.raises(InputError):
        places_of(top, step)


@given(quarters=st.integers(0, 400))
def test_what_the_advice_says_can_be_typed_back(quarters: int) -> None:
    place = quarters / 4.0

    assert typed(f"turned to {place_told(place)}", unit="").setting == place


@pytest.mark.parametrize(
    ("line", "place"),
    [
        ("turned to 2 1/2", 2.5),
        ("turned to 2,5", 2.5),
        ("turned to 2 ½ 16:40", 2.5),
        ("dial 1/4", 0.25),
        ("set at 3¾ 5 min ago", 3.75),
    ],
)
def test_a_half_place_may_be_typed_as_one_writes_it(line: str, place: float) -> None:
    assert typed(line, unit="").setting == place


def test_without_the_sign_a_half_is_a_decimal_and_never_a_power() -> None:
    assert plain_signs("turn to 2½, then ½", "ascii") == "turn to 2.5, then .5"
    assert plain_signs("W·s½", "ascii") == "W s^0.5"
