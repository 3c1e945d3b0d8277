"""Room of a feeder: what is left between it and the wall of the flask."""

from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest

from pourcast.forecast.model import Forecast
from pourcast.gating.feeders import _CLEAR_TO, _clearance
from pourcast.mould.checks import LEAST_WALL
from pourcast.mould.gaps import NARROW
from pourcast.piece.network import build
from tests.mould.slurries import FLASK
from tests.piece.make import part, piece


@pytest.mark.parametrize("more", [0.0, 4e-3])
def test_a_rod_at_the_least_wall_is_as_near_as_may_be_and_one_farther_in_is_not(
    more: float,
) -> None:
    """Geometry: a rod of 4 mm beside a flask of 100 mm, with nothing else near it."""
    said = SimpleNamespace(network=build(piece(part())), plan=SimpleNamespace(flask=FLASK))
    line = np.zeros((_CLEAR_TO + 1, 3))
    line[:, 0] = FLASK.inside_diameter / 2 - LEAST_WALL - 0.002 - more

    got = _clearance(cast(Forecast, said), 0, line, 0.002)

    assert got == pytest.approx(NARROW + more)
