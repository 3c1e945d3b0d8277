"""Room of the oxygen's way: shape factors against closed forms, and how the room shrinks."""

import math

import pytest

from pourcast.burnout import oxygen_room
from pourcast.burnout.oxygen_room import rooms, shape_factor
from pourcast.errors import InputError
from tests.burnout.fate_cases import FLASKS, block


def test_block_that_is_nearly_all_room_is_two_flat_layers() -> None:
    """Exact limit: A/l above and below in a tube with a tight wall.  Tolerance 1 %, the grid."""
    radius, height, top, bottom = 0.05, 0.15, 0.02, 0.11

    got = shape_factor(radius, height, 0.99 * radius, top, bottom, open_side=False)

    want = math.pi * radius**2 * (1.0 / top + 1.0 / (height - bottom))
    assert got == pytest.approx(want, rel=0.01)


@pytest.mark.parametrize("share", [0.1, 0.3, 0.6])
def test_each_further_length_adds_what_a_long_cylinder_takes(share: float) -> None:
    """Exact: 2π/ln(R/r) for each length; ends cancel in a difference.  Tolerance 1 %, the grid."""
    radius = 0.05
    short = shape_factor(radius, 0.4, share * radius, 0.1, 0.3, open_side=True)

    long = shape_factor(radius, 0.8, share * radius, 0.1, 0.7, open_side=True)

    assert long - short == pytest.approx(0.4 * 2.0 * math.pi / -math.log(share), rel=0.01)


@pytest.mark.parametrize("open_side", [False, True])
@pytest.mark.parametrize("size", FLASKS)
def test_finer_grid_changes_little(
    size: str, open_side: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Convergence: grids two and three times as fine; the first misses the last by under 1 %.

    The field has edges, at which the order is below 2: what is asked is that the
    second difference is at most half of the first.
    """
    radius, height = FLASKS[size]
    found = []
    for fine in (1, 2, 3):
        monkeypatch.setattr(oxygen_room, "_COLUMNS", 16 * fine)
        monkeypatch.setattr(oxygen_room, "_ROWS", (5 * fine, 16 * fine, 5 * fine))
        found.append(
            shape_factor.__wrapped__(
                radius, height, 0.3 * radius, 0.15 * height, height - 0.5 * radius,
                open_side=open_side,
            )
        )  # fmt: skip

    assert found[0] == pytest.approx(found[2], rel=0.01)
    assert abs(found[1] - found[0]) > 2.0 * abs(found[2] - found[1])


def test_room_of_the_char_shrinks_to_the_middle() -> None:
    """Definition: the last char lies half way; a closed side lets it shrink in length alone."""
    for wall in ("solid", "bare"):
        own = block(wall=wall)
        found = rooms(own, 0.01)
        least, whole = found[0], found[-1]
        assert whole[1] < least[1] < 0.5 * own.height < least[2] < whole[2]
        assert whole[0] == pytest.approx(0.01)
        assert least[0] == pytest.approx(0.01 if wall == "solid" else 0.01 * 0.01 ** (1 / 3))


def test_room_that_does_not_fit_is_refused() -> None:
    with pytest.raises(InputError, match="room between the matter and the wall"):
        shape_factor(0.05, 0.15, 0.05, 0.02, 0.11, open_side=True)
    with pytest.raises(InputError, match="cover under the matter"):
        shape_factor(0.05, 0.15, 0.01, 0.02, 0.15, open_side=True)
