"""Metal that is part solid when the pour ends: until when it was fed."""

import numpy as np
import pytest

from pourcast.freeze.solve import solve
from tests.freeze.cases import freeze_case, poured
from tests.pour.cases import bar, case


@pytest.mark.parametrize("solid", [0.72, 0.8, 0.95])
def test_what_set_during_the_pour_was_shut_when_it_passed_the_share_that_stops_feeding(
    solid: float,
) -> None:
    """By hand: filled after 1 s, solid to a share 4 s later, shut at 0.7 of solid.

    Metal that sets evenly from the moment that it arrived passes 0.7 after 4 s · 0.7 / share.
    Tolerance 1e-6 s: arithmetic.
    """
    want = 1.0 + 4.0 * 0.7 / solid
    network = bar(0.05, 2e-3, 1)
    pour = case(network)
    freezing = freeze_case(pour, feed_stop=0.7)
    points = np.array([0.0, 0.5, 0.7, 0.9, 1.0])
    metal = pour.metal
    knots = np.array(
        [
            metal.liquidus[0],
            metal.half_solid[0],
            freezing.seventy_solid[0],
            freezing.ninety_solid[0],
            metal.solidus[0],
        ]
    )
    shape = (metal.density.size, network.length.size)
    ended = poured(
        network,
        pour,
        fill_time=np.full(shape, 1.0),
        temperature=np.full(shape, np.interp(solid, points, knots)),
        solid_fraction=np.full(shape, solid),
        end_time=np.full(shape[0], 5.0),
    )

    got = solve(network, freezing, ended).feed_stop_time

    assert got[0, 0] == pytest.approx(want, abs=1e-6)
