"""Where a rod ends whose end lies under the feet of others, and where two make a kink."""

import math

import numpy as np
import pytest

from pourcast.scan.ends import crossing, hidden_tip
from pourcast.scan.lines import Line, line_through


def straight(base: list[float], ahead: list[float], length: float) -> Line:
    """Return the line from a place along a direction, in millimetres."""
    way = np.array(ahead) / np.linalg.norm(ahead)
    steps = np.linspace(0.0, length, 12)[:, None]
    return line_through(1e-3 * (base + steps * way), np.ones(12), beyond=5e-3, toward=way)


@pytest.mark.parametrize("seen", [18.0, 19.7])
@pytest.mark.parametrize("angle", [28.0, 50.0])
def test_a_stem_ends_where_the_rays_of_its_whorl_begin(angle: float, seen: float) -> None:
    """Closed form: rays on the end face of a stem of 3 mm at 20 mm, its surface seen nearly there.

    Tolerance 0.1 mm, a step of the line.
    """
    lean, radius = math.radians(angle), 1.5
    rays = []
    for turn in np.linspace(0.0, 2 * math.pi, 6)[:-1]:
        out = [math.cos(turn) * math.sin(lean), math.sin(turn) * math.sin(lean), math.cos(lean)]
        base = [radius * out[0], radius * out[1], 20.0]
        rays.append(straight(base, out, 15.0))
    stem_ = straight([0, 0, 0], [0, 0, 1], 18.0)

    assert hidden_tip(stem_, 1e-3 * radius, 1e-3 * seen, rays) == pytest.approx(20e-3, abs=1.5e-4)
    # One alone may lean in from anywhere; and what is seen is not taken away.
    assert hidden_tip(stem_, 1e-3 * radius, 18e-3, rays[:1]) == 18e-3
    assert hidden_tip(stem_, 1e-3 * radius, 20.2e-3, rays) == 20.2e-3


def test_what_leaves_at_the_side_moves_no_tip() -> None:
    stem_ = straight([0, 0, 0], [0, 0, 1], 20.0)
    side = [straight([1.5 * x, 0, 12.0], [x, 0, 1], 10.0) for x in (-1.0, 1.0)]

    assert hidden_tip(stem_, 1.5e-3, 20e-3, side) == 20e-3


@pytest.mark.parametrize("angle", [25.0, 60.0, 100.0])
def test_two_rods_in_a_row_kink_where_their_lines_cross(angle: float) -> None:
    """Closed form: lines in one plane that cross at 12 mm; the ends that are seen stop short.

    Tolerance 0.01 mm: the lines are drawn through places.
    """
    turn = math.radians(angle)
    out = [math.sin(turn), 0.0, math.cos(turn)]
    first = straight([0, 0, 0], [0, 0, 1], 11.0)
    second = straight([2.0 * out[0], 0.0, 12.0 + 2.0 * out[2]], out, 9.0)

    found = crossing(first, second)

    assert found is not None
    assert found[0] == pytest.approx(12e-3, abs=1e-5)
    assert found[1] == pytest.approx(-2e-3, abs=1e-5)
    assert found[2] == pytest.approx(math.cos(turn), abs=1e-6)


@pytest.mark.parametrize("angle", [0.0, 5.0, 12.0])
def test_two_rods_that_go_nearly_straight_on_have_no_kink(angle: float) -> None:
    """Reason: lines that hardly turn cross anywhere; the place would say nothing."""
    turn = math.radians(angle)
    out = [math.sin(turn), 0.0, math.cos(turn)]

    assert crossing(straight([0, 0, 0], [0, 0, 1], 11.0), straight([0, 0, 12], out, 9.0)) is None
