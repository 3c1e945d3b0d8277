"""Cup: volume of a cone and a cylinder, and the level that a volume gives."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.pour.cup import level_of, volume_at

RADII = st.floats(1e-3, 0.1)


def test_a_cone_to_the_rim_holds_the_volume_of_its_frustum() -> None:
    """Published: π h (R² + R r + r²)/3, exact; a spout as wide as the rim is a cylinder."""
    cone = math.pi * 0.03 / 3.0 * (0.02**2 + 0.02 * 0.005 + 0.005**2)

    assert volume_at(0.03, 0.005, 0.02, 0.03) == pytest.approx(cone, rel=1e-12)
    assert volume_at(0.02, 0.01, 0.01, 0.03) == pytest.approx(math.pi * 0.01**2 * 0.02, rel=1e-12)


def test_metal_over_the_rim_stands_in_a_cylinder() -> None:
    """By hand: 10 mm over a rim of 20 mm radius add π · 0.02² · 0.01."""
    to_the_rim = volume_at(0.03, 0.005, 0.02, 0.03)

    got = volume_at(0.04, 0.005, 0.02, 0.03)

    assert got - to_the_rim == pytest.approx(math.pi * 0.02**2 * 0.01, rel=1e-12)


@given(level=st.floats(0.0, 0.2), gate=RADII, rim=RADII, height=st.floats(5e-3, 0.1))
def test_the_level_of_a_volume_is_the_level_it_came_from(
    level: float, gate: float, rim: float, height: float
) -> None:
    """Round trip, to 1 µm: a cone with a slope under 1e-6 is taken as a cylinder."""
    back = level_of(volume_at(level, gate, rim, height), gate, rim, height)

    assert back == pytest.approx(level, abs=1e-6)


def test_an_empty_cup_has_no_level() -> None:
    assert volume_at(0.0, 0.005, 0.02, 0.03) == 0.0
    assert level_of(0.0, 0.005, 0.02, 0.03) == pytest.approx(0.0, abs=1e-12)


@given(volume=st.floats(0.0, 1e-4), more=st.floats(1e-7, 1e-4))
def test_more_metal_never_stands_lower(volume: float, more: float) -> None:
    low = level_of(volume, 0.005, 0.02, 0.03)
    high = level_of(volume + more, 0.005, 0.02, 0.03)

    assert high > low
