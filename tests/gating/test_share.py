"""Several pieces in one flask: plain pieces whose gaps are counted by hand."""

import math

import numpy as np
import pytest
from hypothesis import given

from pourcast.errors import InputError
from pourcast.gating.share import LEAST_GAP, SharedFlask, in_flask, share
from pourcast.gating.share_checks import shared_findings
from tests.gating.shelf import SHELF, plan_with, steel
from tests.piece.make import few, part, piece
from tests.strategies_gating import shared_flasks

ROD = plan_with(piece(part(length=0.06)))
"""A button of 30 mm with a thin rod: a circle of 15 mm."""


def test_two_alike_need_what_a_hand_count_says() -> None:
    """Hand count: 4 · 15 + 6 + 2 · 10 = 86 mm inside; 0.1 % of the button for its polygon."""
    found = share([ROD, ROD], SHELF)

    assert found.needed_diameter == pytest.approx(0.086, abs=1e-4)
    assert found.flask.name == "100 x 150"


def test_two_alike_have_as_much_block_between_as_beside() -> None:
    """Hand count: in 100 mm, (100 - 2 · 30) / 3 = 13.33 mm at each of three places."""
    found = share([ROD, ROD], [steel(100, 150)])

    assert found.wall == pytest.approx(0.040 / 3, abs=1e-4)
    assert found.gap == pytest.approx(found.wall, abs=1e-6)
    assert found.cover == pytest.approx(0.070, abs=1e-5)
    assert shared_findings(found)[0].level == "GOOD"


def test_three_alike_need_what_a_hand_count_says() -> None:
    """Hand count: (15 + 3)(1 + 2/√3) - 3 + 10 = 45.78 mm, twice that inside."""
    found = share([ROD, ROD, ROD], SHELF)

    want = 2 * (18 * (1 + 2 / math.sqrt(3)) - 3 + 10) / 1e3
    assert found.needed_diameter == pytest.approx(want, abs=1e-4)


def test_too_narrow_a_flask_is_a_stop() -> None:
    """Hand count: in 76 mm with 6 mm between them the wall is 38 - 18 - 15 = 5 mm."""
    found = share([ROD, ROD], [steel(76, 127)])

    told = shared_findings(found)[0]
    assert found.wall == pytest.approx(0.005, abs=1e-4)
    assert told.level == "STOP"
    assert "They need 86 mm inside" in told.text


def test_walls_between_least_and_usual_are_watched() -> None:
    """Hand count: in 80 mm the wall is 40 - 18 - 15 = 7 mm."""
    found = share([ROD, ROD], [steel(80, 127)])

    assert found.wall == pytest.approx(0.007, abs=1e-4)
    assert shared_findings(found)[0].level == "WATCH"


def test_longest_piece_decides_the_cover() -> None:
    """Hand count: button 20 and rod 100 in 127 mm leave 7 mm."""
    long = plan_with(piece(part(length=0.1)))

    found = share([ROD, long], [steel(100, 127)])

    assert found.cover == pytest.approx(0.007, abs=1e-5)


@few
@given(shared_flasks())
def test_all_of_it_can_be_told(shared: SharedFlask) -> None:
    assert all("nan" not in kept.text for kept in shared_findings(shared))


def test_gap_is_never_under_the_least() -> None:
    found = in_flask(np.array([0.02, 0.012, 0.01]), 0.05, steel(60, 100), ("a", "b", "c"))

    assert found.gap >= LEAST_GAP - 1e-9
    assert found.wall < 0.006


def test_one_piece_and_thirteen_are_refused() -> None:
    for count in (1, 13):
        with pytest.raises(InputError, match="pieces in one flask"):
            share([ROD] * count, SHELF)
    with pytest.raises(InputError, match="flasks on the shelf"):
        share([ROD, ROD], [])
