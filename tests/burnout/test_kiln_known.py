"""A kiln that an earlier day knows: how much of that day still holds today."""

import numpy as np
import pytest

from pourcast.burnout.kiln import Body, air_of
from pourcast.burnout.kiln_fit import DAY_TO_DAY, fit_kiln
from tests.strategies_kiln import ROOM

HOUR = 3600.0
TRUE = Body(
    loss=1.0 / (5.0 * HOUR),
    glow=0.0,
    settings=np.array([0.0, 1.0, 2.0, 3.0]),
    heating=np.array([0.0, 50.0, 110.0, 230.0]) / HOUR,
    room=ROOM,
)


def test_place_that_today_does_not_use_is_as_sure_as_the_change_from_day_to_day() -> None:
    """Statistics: a belief that no reading touches stays as it is; Bard (1974), ch. 5.

    Yesterday used three places of the dial and was read so well that its own error is nothing.
    Today uses the second alone.  The first and the third are then known to what a kiln
    differs from one day to the next, a share of their heating; the second and the loss better.
    Tolerance 1e-4 of it: yesterday's noise of 1e-4 K.
    """
    rng = np.random.default_rng(1)
    time = np.arange(0.0, 12.0 * HOUR + 1.0, 900.0)
    dial = np.repeat([1.0, 2.0, 3.0, 2.0, 0.0, 1.0], 9)[: time.size]
    read = air_of(TRUE, time, dial, ROOM) + 1e-4 * rng.standard_normal(time.size)
    before = fit_kiln(time, read, dial, room=ROOM)
    time, dial = time[:17], np.full(17, 2.0)
    read = air_of(TRUE, time, dial, ROOM) + rng.standard_normal(time.size)

    found = fit_kiln(time, read, dial, room=ROOM, known=before)

    unused = found.heating_error[[1, 3]]
    assert unused == pytest.approx(DAY_TO_DAY * TRUE.heating[[1, 3]], rel=1e-4)
    assert found.heating_error[2] < 0.9 * DAY_TO_DAY * TRUE.heating[2]
    assert found.loss_error < DAY_TO_DAY * TRUE.loss
