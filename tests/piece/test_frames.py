"""Directions and arcs against the circle."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.piece import frames
from tests.piece.make import few

DOWN, SIDE = frames.gate_frame(0.0)
ANGLES = st.floats(-3.0, 3.0)


def end_of_arc(length: float, bend: float, share: float = 1.0) -> np.ndarray:
    place, _, _ = frames.arc(
        np.zeros((1, 3)), DOWN[None], SIDE[None], length, bend, np.array([share])
    )
    end: np.ndarray = place[0, 0]
    return end


def test_straight_part_ends_its_length_below() -> None:
    """Exact: no bend."""
    assert end_of_arc(0.05, 0.0) == pytest.approx(np.array([0.0, 0.0, -0.05]), abs=1e-15)


def test_quarter_turn_ends_a_radius_down_and_a_radius_out() -> None:
    """Exact: a quarter of a circle of radius 2 L / π (Euclid III)."""
    radius = 2 * 0.05 / math.pi

    assert end_of_arc(0.05, math.pi / 2) == pytest.approx(
        np.array([radius, 0.0, -radius]), abs=1e-15
    )


def test_half_turn_ends_a_diameter_away() -> None:
    """Exact: chord of half a circle, 2 L / π, square to the start."""
    assert end_of_arc(0.05, math.pi) == pytest.approx(
        np.array([2 * 0.05 / math.pi, 0.0, 0.0]), abs=1e-15
    )


def test_whole_turn_comes_back() -> None:
    """Exact: a closed circle."""
    assert end_of_arc(0.05, 2 * math.pi) == pytest.approx(np.zeros(3), abs=1e-16)


def test_all_places_lie_on_one_circle() -> None:
    """Exact: at the distance L / bend from the centre, which lies to the side of the base."""
    centre = np.array([0.05 / 2.0, 0.0, 0.0])

    for share in np.linspace(0, 1, 11):
        apart = np.linalg.norm(end_of_arc(0.05, 2.0, float(share)) - centre)
        assert apart == pytest.approx(0.05 / 2.0, rel=1e-12)


@few
@given(bend=st.floats(-60.0, 60.0))
def test_many_small_chords_come_to_the_length(bend: float) -> None:
    """Property: the arc keeps its length; 4 000 chords fall short by (bend/4000)²/24 at most."""
    share = np.linspace(0, 1, 4001)
    place, _, _ = frames.arc(np.zeros((1, 3)), DOWN[None], SIDE[None], 0.05, bend, share)

    steps = np.linalg.norm(np.diff(place[0], axis=0), axis=1).sum()
    assert steps == pytest.approx(0.05, rel=60**2 / 4000**2 / 24 + 1e-12)


@few
@given(tilt=ANGLES, turn=ANGLES, angle=ANGLES, bend=ANGLES)
def test_frames_stay_square_and_of_length_one(
    tilt: float, turn: float, angle: float, bend: float
) -> None:
    """Property: a turned frame is a frame."""
    direction, side = frames.gate_frame(tilt)
    outward = frames.away(direction[None], side[None], np.array([turn]))
    way, its_side = frames.branch(direction[None], outward, angle)
    _, far, far_side = frames.arc(np.zeros((1, 3)), way, its_side, 0.1, bend, np.array([0.7]))

    for d, u in ((way[0], its_side[0]), (far[0, 0], far_side[0, 0])):
        assert np.dot(d, d) == pytest.approx(1.0)
        assert np.dot(u, u) == pytest.approx(1.0)
        assert np.dot(d, u) == pytest.approx(0.0, abs=1e-12)


@few
@given(turn=ANGLES, angle=st.floats(0.0, 3.0))
def test_branch_makes_its_angle_with_the_parent(turn: float, angle: float) -> None:
    """Property: cosine of the angle is the product of the directions."""
    outward = frames.away(DOWN[None], SIDE[None], np.array([turn]))
    way, _ = frames.branch(DOWN[None], outward, angle)

    assert float(way[0] @ DOWN) == pytest.approx(math.cos(angle), abs=1e-12)


def test_bend_turns_away_from_the_parent() -> None:
    """Exact: an angle of 30° and a bend of 60° end square to the parent."""
    outward = frames.away(DOWN[None], SIDE[None], np.zeros(1))
    way, side = frames.branch(DOWN[None], outward, math.radians(30))
    _, far, _ = frames.arc(np.zeros((1, 3)), way, side, 0.1, math.radians(60), np.ones(1))

    assert far[0, 0] == pytest.approx(np.array([1.0, 0.0, 0.0]), abs=1e-15)


def test_quarter_turn_about_the_parent_is_square_to_its_side() -> None:
    """Exact: d × u of a frame that looks down with its side to +x is -y."""
    outward = frames.away(DOWN[None], SIDE[None], np.array([math.pi / 2]))

    assert outward[0] == pytest.approx(np.array([0.0, -1.0, 0.0]), abs=1e-15)


@few
@given(a=st.tuples(ANGLES, ANGLES, ANGLES), b=st.tuples(ANGLES, ANGLES, ANGLES))
def test_cross_agrees_with_numpy(a: tuple[float, ...], b: tuple[float, ...]) -> None:
    """Computed: numpy.cross."""
    first, second = np.array(a), np.array(b)

    assert frames.cross(first, second) == pytest.approx(np.cross(first, second), abs=1e-12)
