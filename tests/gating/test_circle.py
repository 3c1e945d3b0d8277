"""Enclosing circles against plane geometry, and against all circles of two and three points."""

import math
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from pourcast.errors import InputError
from pourcast.gating.circle import enclosing_circle, reach_about_axis
from tests.outside.record import record

_COORDINATES = st.integers(-50, 50).map(lambda n: n / 1000.0)
_POINTS = st.lists(st.tuples(_COORDINATES, _COORDINATES), min_size=1, max_size=9).map(np.array)


@pytest.mark.parametrize(
    ("name", "corners", "radius"),
    [
        ("equilateral triangle of side 7", [(0, 0), (7, 0), (3.5, 7 * math.sqrt(0.75))], 4.0415),
        ("unit square", [(0, 0), (1, 0), (1, 1), (0, 1)], 0.7071),
        ("triangle of 3, 4, 5", [(0, 0), (3, 0), (0, 4)], 2.5),
        ("triangle of 5, 5, 6", [(0, 0), (6, 0), (3, 4)], 3.125),
        ("flat triangle of 10, 6, 5", [(0, 0), (10, 0), (5.55, 2.2775)], 5.0),
        ("three in a line", [(0, 0), (1, 0), (4, 0)], 2.0),
    ],
)
def test_known_circles(name: str, corners: list[tuple[float, float]], radius: float) -> None:
    """Published: circumradius a/√3, half the diagonal, half the hypotenuse, abc/4K.

    Source: Euclid's Elements IV 5; half the longest side where the triangle is obtuse
    (Jung 1901, from memory).  Tolerance 5e-5: the numbers have 5 figures.  Found: within 4e-5.
    """
    got = enclosing_circle(np.array(corners)).radius

    record(
        "gating",
        f"circle round a {name}",
        "Euclid IV 5; Jung 1901",
        got,
        radius,
        "-",
        5e-5,
        kind="closed form",
    )
    assert got == pytest.approx(radius, abs=5e-5)


def test_regular_polygon_has_its_own_circle_wherever_it_lies() -> None:
    """Published: the corners of a regular polygon lie on one circle (Euclid IV 13)."""
    turn = np.linspace(0.0, 2.0 * math.pi, 17, endpoint=False)
    corners = np.column_stack([0.3 + 0.02 * np.cos(turn), -0.1 + 0.02 * np.sin(turn)])

    got = enclosing_circle(corners)

    assert (got.x, got.y) == pytest.approx((0.3, -0.1), abs=1e-12)
    assert got.radius == pytest.approx(0.02, rel=1e-12)


def test_one_point_is_its_own_circle() -> None:
    got = enclosing_circle(np.array([[0.01, 0.02, 0.5]]))

    assert (got.x, got.y, got.radius) == (0.01, 0.02, 0.0)


@given(_POINTS)
def test_circle_is_the_smallest_of_all_that_two_or_three_points_make(
    points: NDArray[np.float64],
) -> None:
    """Each circle on two or three of the points that holds them all is tried, one by one."""
    got = enclosing_circle(points)

    apart = np.hypot(points[:, 0] - got.x, points[:, 1] - got.y)
    assert apart.max() <= got.radius + 1e-12
    assert got.radius == pytest.approx(_by_trying(points), abs=1e-12)


def _by_trying(points: NDArray[np.float64]) -> float:
    places = np.unique(points, axis=0)
    if len(places) == 1:
        return 0.0
    best = math.inf
    for size in (2, 3):
        for chosen in combinations(places, size):
            if size == 2:
                middle = (chosen[0] + chosen[1]) / 2
            else:
                sides = np.array([chosen[1] - chosen[0], chosen[2] - chosen[0]])
                if abs(np.linalg.det(sides)) < 1e-12:
                    continue
                middle = chosen[0] + np.linalg.solve(sides, (sides**2).sum(axis=1) / 2)
            radius = math.dist(middle, chosen[0])
            if np.hypot(*(places - middle).T).max() <= radius + 1e-12:
                best = min(best, radius)
    return best


def test_reach_is_the_farthest_from_the_axis() -> None:
    points = np.array([[3e-3, 4e-3, 0.0], [1e-3, 1e-3, 9e-2]])

    assert reach_about_axis(points) == pytest.approx(5e-3, rel=1e-12)


@pytest.mark.parametrize("points", [np.zeros((0, 2)), np.zeros(3), np.array([[np.nan, 0.0]])])
def test_what_is_no_set_of_points_is_refused(points: NDArray[np.float64]) -> None:
    with pytest.raises(InputError, match="points"):
        enclosing_circle(points)
