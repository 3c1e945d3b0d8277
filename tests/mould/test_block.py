"""Place of the piece in the flask, and the slurry round it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.mould.block import depth, far_cover, fill_volume, wall_gap
from tests.mould.cases import button, flask, measures


def test_depth_is_button_and_hanging_piece() -> None:
    """Exact: 15 mm of button and 60 mm of piece are 75 mm."""
    assert depth(measures(lowest=-0.06), button(0.015)) == pytest.approx(0.075, rel=1e-12)


def test_piece_that_only_rises_does_not_make_the_button_shorter() -> None:
    """Exact: with nothing under the gate the depth is the height of the button."""
    assert depth(measures(lowest=0.01), button(0.015)) == 0.015


def test_cover_is_what_the_flask_has_left() -> None:
    """Exact: 100 mm of flask less 75 mm of depth less 5 mm of head room."""
    left = far_cover(measures(), button(), flask(), head_room=0.005)

    assert left == pytest.approx(0.020, rel=1e-9)


def test_wall_is_half_the_flask_less_the_reach() -> None:
    """Exact: 38 mm less 25 mm."""
    assert wall_gap(measures(reach=0.025), flask()) == pytest.approx(0.013, rel=1e-9)


def test_too_small_flask_gives_a_negative_wall_and_cover() -> None:
    small = flask(diameter=0.04, height=0.06)

    assert wall_gap(measures(), small) == pytest.approx(-0.005, rel=1e-9)
    assert far_cover(measures(), button(), small) == pytest.approx(-0.015, rel=1e-9)


def test_fill_is_the_cylinder_less_piece_and_button() -> None:
    """Exact: π/4 · 7.6² · 10 cm³ less 14 cm³, by hand 439.6 cm³."""
    assert fill_volume(measures(), flask()) == pytest.approx(439.65e-6, rel=1e-4)


@given(
    diameter=st.floats(0.05, 0.3),
    height=st.floats(0.08, 0.4),
    scale=st.floats(0.5, 2.0),
)
def test_fill_grows_with_the_cube_of_size(diameter: float, height: float, scale: float) -> None:
    before = fill_volume(
        measures(volume=4e-6, button_volume=2e-6), flask(diameter=diameter, height=height)
    )

    after = fill_volume(
        measures(volume=4e-6 * scale**3, button_volume=2e-6 * scale**3),
        flask(diameter=diameter * scale, height=height * scale),
    )

    assert after == pytest.approx(before * scale**3, rel=1e-9)


@given(head_room=st.floats(0.0, 0.05))
def test_head_room_takes_its_cylinder_from_the_fill(head_room: float) -> None:
    taken = fill_volume(measures(), flask()) - fill_volume(measures(), flask(), head_room=head_room)

    assert taken == pytest.approx(math.pi / 4 * 0.076**2 * head_room, abs=1e-15)


def test_piece_larger_than_the_flask_is_refused_with_a_cure() -> None:
    with pytest.raises(InputError, match="larger flask"):
        fill_volume(measures(volume=1e-3), flask())


@pytest.mark.parametrize("head_room", [-0.001, 0.1, math.nan])
def test_head_room_outside_the_flask_is_refused(head_room: float) -> None:
    with pytest.raises(InputError, match="head_room"):
        fill_volume(measures(), flask(), head_room=head_room)


@pytest.mark.parametrize("size", [0.0, -0.1, math.inf])
def test_flask_without_size_is_refused(size: float) -> None:
    with pytest.raises(InputError, match="inside_diameter"):
        wall_gap(measures(), flask(diameter=size))
    with pytest.raises(InputError, match="flask height"):
        far_cover(measures(), button(), flask(height=size))
