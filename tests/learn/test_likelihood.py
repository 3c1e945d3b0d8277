"""How well a set of unknowns explains what was seen."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given

from pourcast.errors import InputError
from pourcast.learn.bank import bank_of
from pourcast.learn.emulate import Emulator
from pourcast.learn.likelihood import (
    ODD,
    Emulators,
    PourTold,
    Told,
    measured_likelihood,
    pour_likelihood,
    with_odd_days,
)
from pourcast.learn.model import Measured, PartSeen, PourSeen
from tests.learn.studios import plans
from tests.strategies_learn import measureds, part_seens


@cache
def _pool() -> Emulators:
    """Return the emulators of 200 pours by gravity."""
    return Emulators(bank_of(plans()[2], 200, seed=0, day_seed=1))


PLACES = {"a": np.array([-1.0, 0.0, 1.0])}


def emulator(slope: float, day: list[float]) -> Emulator:
    """Return one whose logit is ``slope`` times a, plus that of the day."""
    return Emulator(keys=("a",), terms=((0,),), studio=np.array([0.0, slope]), day=np.array(day))


def test_parts_that_fail_together_for_one_cold_day_count_about_as_one() -> None:
    """By hand: four parts that are whole on good days alone, half of the days: chance ½.

    Taken one by one they would be ½⁴ = 0.0625.
    """
    part = Told(least=emulator(0.0, [30.0, -30.0]), more=None)
    told = PourTold(name="x", parts=(part,) * 4, sure=1.0)

    got = pour_likelihood(told, PLACES, 3)

    assert got == pytest.approx(0.5, rel=1e-9)


def test_being_unsure_pulls_every_chance_to_a_half() -> None:
    """By hand: 0.8 × 1 + 0.1 and 0.8 × 0 + 0.1, see equation 1."""
    sure = Told(least=emulator(30.0, [0.0]), more=None)

    got = pour_likelihood(PourTold(name="x", parts=(sure,), sure=0.8), PLACES, 3)

    assert got == pytest.approx([0.1, 0.5, 0.9], rel=1e-9)


def test_no_single_pour_can_rule_out_a_studio() -> None:
    """By hand: the least that is left is ODD times the mean of the book."""
    got = with_odd_days(np.array([0.0, 1.0]), 0.4)

    assert got == pytest.approx([0.4 * ODD, 1.0 - ODD + 0.4 * ODD], rel=1e-12)


def test_ending_between_two_is_the_difference_of_both() -> None:
    """By hand at a = 0: half reach it, and half of the days go on to more."""
    part = Told(least=emulator(30.0, [30.0]), more=emulator(30.0, [30.0, -30.0]))

    got = pour_likelihood(PourTold(name="x", parts=(part,), sure=1.0), PLACES, 3)

    assert got[1] == pytest.approx(0.5, abs=1e-3)


@given(measureds())
def test_measurement_is_explained_best_by_its_own_value(measured: Measured) -> None:
    drawn = measured.value * np.exp(measured.error * np.array([-2.0, -1.0, 0.0, 1.0, 2.0]))

    got = measured_likelihood(measured, drawn)

    assert got == pytest.approx(np.exp([-2.0, -0.5, 0.0, -0.5, -2.0]), rel=1e-9)


@given(part_seens("twig"))
def test_anything_that_may_be_seen_has_a_chance(part: PartSeen) -> None:
    held = _pool()
    told = held.told(PourSeen(name="x", plan=plans()[2], parts=(part,), sure=0.95))
    keys = told.keys
    places = {key: np.linspace(-1.0, 1.0, 5) for key in keys}

    got = pour_likelihood(told, places, 5)

    assert np.all(got > 0.0)
    assert np.all(got <= 1.0)


def test_stranger_among_the_parts_and_a_guess_that_is_none_are_refused() -> None:
    held = _pool()
    stranger = PourSeen(name="x", plan=plans()[2], parts=(PartSeen(name="wing", full=True),))
    with pytest.raises(InputError, match="twig"):
        held.told(stranger)
    with pytest.raises(InputError, match="sure"):
        held.told(PourSeen(name="x", plan=plans()[2], parts=(), sure=0.5))
