"""Weights, holds and kilns of a day, by hand: each rule is our own, each sum is exact."""

import math
from dataclasses import replace

import numpy as np
import pytest

from pourcast.burnout.model import KilnStep
from pourcast.day.futures import one_future
from pourcast.day.kilns import FROM_DAY_TO_DAY, known_before, plain_kiln
from pourcast.day.renew import softening
from pourcast.materials import library

HOUR, ROOM = 3600.0, 293.15


@pytest.mark.parametrize(("likelier", "want"), [(10.0, math.log(2.0 + math.sqrt(3.0)) / 10.0),
                                                (1.0, 1.0)])  # fmt: skip
def test_weights_are_softened_until_so_many_particles_stand(likelier: float, want: float) -> None:
    """Closed form: of two, (1 + y)² / (1 + y²) stand, y the power of their ratio.

    One and a half stand at y = 2 - √3, and where more stand anyway nothing is softened.
    """
    assert softening(np.array([0.0, -likelier]), 1.5) == pytest.approx(want, abs=1e-9)


@pytest.mark.parametrize("pace", [1.0, 0.5])
def test_a_kiln_a_little_under_its_hold_still_has_all_of_it_to_do(pace: float) -> None:
    """By hand: at 60 K/h the last 5 K are 5 minutes, at half the pace 10; then the hold."""
    step = KilnStep(temperature=973.15, ramp=60.0 / HOUR, hold=2.0 * HOUR)

    curve = one_future((step,), np.array([0.0]), np.array([968.15]), pace=pace)

    assert curve.time.tolist() == pytest.approx([0.0, 300.0 / pace, 300.0 / pace + 2.0 * HOUR])
    assert curve.temperature.tolist() == [968.15, 973.15, 973.15]


def test_a_kiln_of_an_earlier_day_is_known_as_well_as_it_keeps_from_day_to_day() -> None:
    """Errors that have nothing to do with each other add up by their squares."""
    records = plain_kiln(library().kiln, 5, ROOM)
    sure = replace(records, readings=40, covariance=np.zeros_like(records.covariance))

    values, covariance = known_before(sure)

    assert np.sqrt(np.diag(covariance)) == pytest.approx(FROM_DAY_TO_DAY * values)
    assert np.array_equal(known_before(records)[1], records.covariance)
