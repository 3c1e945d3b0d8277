"""Cuts: where a part is cut, and how finely."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.piece import cuts
from tests.piece.make import few

SHARES = st.lists(st.floats(0.0, 1.0), max_size=30)


def test_child_within_two_per_cent_shares_a_cut() -> None:
    """Property of the rule, from the base on: 0.315 shares with 0.30, 0.345 with 0.33."""
    places = [0.345, 0.30, 0.315, 0.33, 0.01, 0.985]

    assert cuts.stops(places).tolist() == [0.0, 0.30, 0.33, 1.0]


@few
@given(places=SHARES)
def test_stops_stand_apart_and_miss_no_place(places: list[float]) -> None:
    """Property: no two cuts nearer than 2 %, no place farther than 2 % from one."""
    stops = cuts.stops(places)

    assert np.diff(stops).min() >= cuts.SHARED
    for place in places:
        assert np.abs(stops - place).min() < cuts.SHARED


@few
@given(places=SHARES, length=st.floats(1e-3, 0.5), bend=st.floats(-60.0, 60.0))
def test_steps_keep_their_rules(places: list[float], length: float, bend: float) -> None:
    """Property: stops are kept; at least 3 steps; more than 12 only for stops or bend."""
    stops = cuts.stops(places)
    longest, most = cuts.steps(length, bend, 1.5e-3)
    cut = cuts.between(stops, longest, most)

    count = len(cut) - 1
    assert np.all(np.diff(cut) > 0)
    assert set(stops.tolist()) <= set(cut.tolist())
    assert 3 <= count <= max(12, len(stops) - 1, math.ceil(abs(bend) / math.radians(30)))


def test_long_straight_part_has_eight_steps() -> None:
    """Property of the rule: 1/8 of the length is longer than 1.5 mm."""
    longest, most = cuts.steps(0.08, 0.0, 1.5e-3)

    assert cuts.between(cuts.stops([]), longest, most) == pytest.approx(np.arange(9) / 8)


def test_short_part_has_three_steps() -> None:
    """Property of the rule: 2 mm would need two steps of 1.5 mm."""
    longest, most = cuts.steps(0.002, 0.0, 1.5e-3)

    assert cuts.between(cuts.stops([]), longest, most) == pytest.approx(np.arange(4) / 3)


def test_crozier_turns_thirty_degrees_in_a_step_at_most() -> None:
    """Property of the rule: 700° need 24 steps."""
    longest, most = cuts.steps(0.3, math.radians(700), 1.5e-3)

    assert len(cuts.between(cuts.stops([]), longest, most)) == 24 + 1


def test_many_stops_leave_no_room_for_more_steps() -> None:
    """Property of the rule: 15 children evenly along make 16 steps, none cut again."""
    stops = cuts.stops(np.arange(1, 16) / 16)

    assert cuts.between(stops, 1 / 32, 12) == pytest.approx(np.arange(17) / 16)


def test_nearest_finds_the_nearest() -> None:
    """Exact."""
    got = cuts.nearest(np.array([0.0, 0.3, 1.0]), np.array([0.29, 0.66, 0.0]))

    assert got.tolist() == [1, 2, 0]
