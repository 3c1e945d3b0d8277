"""Way of the oxygen: walls and holes, streams, diffusivity."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.burnout.oxygen_room import ROOM_SHARES
from pourcast.burnout.oxygen_way import (
    against_stream,
    block_ways,
    diffusivity_at,
    hole_layer,
    way_at,
)
from pourcast.materials import library
from tests.burnout.fate_cases import FLASKS, block, values
from tests.outside.record import record


@pytest.mark.parametrize("size", FLASKS)
def test_more_open_walls_let_more_through(size: str) -> None:
    """Order, without a number: solid, perforated, bare, from the first char to the last.

    What counts is the resistance on the mean, since the last char lies elsewhere:
    behind a closed side on a disc, else in a small room in the middle.
    """
    pores, none = values(1, 0.26), values(1, 0.0)
    layer = hole_layer(values(1, 0.2), values(1, 0.01), 2e-3, pores)

    ways = {
        "solid": block_ways(block(size=size, wall="solid"), 0.015, none, pores)[0],
        "perforated": block_ways(block(size=size, wall="perforated"), 0.015, layer, pores)[0],
        "bare": block_ways(block(size=size, wall="bare"), 0.015, none, pores)[0],
    }

    mean = {wall: np.trapezoid(1.0 / way, ROOM_SHARES) for wall, way in ways.items()}
    assert mean["solid"] > 1.5 * mean["perforated"]
    assert mean["perforated"] > mean["bare"]
    assert (ways["perforated"] < ways["bare"]).all()
    for way in ways.values():
        assert (np.diff(way) > 0.0).all()


def test_holes_that_are_no_holes_hold_nothing_back_but_their_depth() -> None:
    """Exact limit of equation 2: a wall that is all hole is a layer of free gas."""
    layer = hole_layer(values(1, 1.0), values(1, 0.01), 2e-3, values(1, 0.25))

    assert layer[0] == pytest.approx(2e-3 * 0.25)


def test_a_few_far_holes_are_discs_in_a_wide_face() -> None:
    """Published: a disc on a half space takes 4 D a, Crank, Mathematics of Diffusion (1975).

    From memory.  Share 10⁻⁶, so that no hole feels the next.  Tolerance 0.2 %: 1.5 √s.
    """
    share, hole = 1e-6, 0.01

    layer = hole_layer(values(1, share), values(1, hole), 0.0, values(1, 0.25))

    area_of_one = math.pi * (0.5 * hole) ** 2 / share
    assert area_of_one / layer[0] == pytest.approx(4.0 * 0.5 * hole, rel=2e-3)


def test_way_is_straight_between_its_shares() -> None:
    shares, ways = np.array(ROOM_SHARES), np.array([[1.0, 2.0, 3.0, 5.0, 9.0]])

    got = [way_at(left, 0, shares, ways) for left in (0.0, 0.01, 0.35, 0.75, 1.0, 1.1)]

    assert got == pytest.approx([1.0, 1.0, 4.0, 7.0, 9.0, 9.0])


def test_diffusivity_at_the_freezing_point_is_that_of_the_handbook() -> None:
    """From memory: oxygen in air at 0 °C, 1.78·10⁻⁵ m²/s, Perry's handbook.

    Tolerance 5 %: the record spans that.  Found: 1 % low.
    """
    kiln = library().kiln

    got = diffusivity_at(273.15, 101_325.0, kiln["D_O2_air_20"].si, kiln["D_exponent"].si)

    record("burnout", "oxygen in air at 0 °C", "Perry, from memory", 1e5 * got, 1.78, "10⁻⁵ m²/s",
           0.09, kind="table")  # fmt: skip
    assert got == pytest.approx(1.78e-5, rel=0.05)


def test_stream_holds_oxygen_off_as_stefan_says() -> None:
    """Computed outside: oxygen that diffuses in against the stream, in 2000 layers.

    The flux that ends in a mole fraction of 1 outside.  Tolerance 0.1 %: the layers.
    """
    conductance, stream, layers = 2e-4, 3e-4, 2000

    def outside(flux: float) -> float:
        x = 0.0
        for _ in range(layers):
            # Diffusion inwards less what the stream carries outwards is the flux.
            middle = x + 0.5 * (flux + stream * x) / (conductance * layers)
            x += (flux + stream * middle) / (conductance * layers)
        return x

    got = against_stream(conductance, stream)

    assert outside(got) == pytest.approx(1.0, rel=1e-3)
    assert against_stream(conductance, 0.0) == conductance


@given(conductance=st.floats(1e-9, 1e-2), stream=st.floats(0.0, 1.0))
def test_more_stream_never_lets_more_through(conductance: float, stream: float) -> None:
    """Property."""
    here = against_stream(conductance, stream)

    assert 0.0 <= against_stream(conductance, 1.5 * stream) <= here * (1.0 + 1e-9)
    assert here <= conductance
