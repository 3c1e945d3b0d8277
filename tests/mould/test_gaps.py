"""Gaps to the flask and between parts, against geometry worked out by hand."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.mould.gaps import LOOK, _least_distances, neighbour_gaps, wall_gaps
from pourcast.mould.limbs import limbs, way_from_gate
from pourcast.piece.model import Network, Part
from pourcast.piece.network import build
from tests.outside.record import record
from tests.piece.make import few, part, piece
from tests.strategies import networks


def network(*parts: Part) -> Network:
    """Return the network of parts."""
    return build(piece(*parts))


def test_a_level_rod_leaves_the_rest_of_the_radius() -> None:
    """By hand: 50 mm less 40 mm of rod; its end reaches half a thickness further at the rim.

    The corner of a square end counts, so 0.5 mm are taken off for a rod of 1 mm.
    """
    found = network(part(length=0.04, width=1e-3, angle=90.0))

    assert wall_gaps(found, limbs(found), 0.1)[0] == pytest.approx(9.5e-3)


def test_two_parallel_rods_stand_their_distance_less_a_thickness_apart() -> None:
    """By hand: arms that leave a stem 3 mm apart, 1 mm thick, have 2 mm of mould between them."""
    found = network(
        part("stem", length=0.05, width=2e-3),
        part("upper", "stem", length=0.02, width=1e-3, position=0.50, angle=90.0),
        part("lower", "stem", length=0.02, width=1e-3, position=0.56, angle=90.0),
    )

    gap, neighbour, narrow = neighbour_gaps(found, limbs(found))

    assert gap[1] == pytest.approx(2e-3, rel=1e-6)
    assert neighbour[1] == 2
    assert neighbour[2] == 1
    assert narrow == ()


def test_rods_that_nearly_touch_are_told() -> None:
    """By hand: 1.5 mm apart and 1 mm thick leave 0.5 mm, under the 1 mm of the trade."""
    found = network(
        part("stem", length=0.05, width=2e-3),
        part("arm", "stem", count=2, length=0.02, width=1e-3, position=(0.50, 0.53), angle=90.0,
             turn_step=0.0),
    )  # fmt: skip

    (gap,) = neighbour_gaps(found, limbs(found))[2]

    assert (gap.part, gap.other, gap.pairs) == ("arm", "arm", 1)
    assert gap.distance == pytest.approx(0.5e-3, rel=1e-6)


def test_blades_are_as_wide_as_they_are() -> None:
    """By hand: leaves of 8 mm, moved 12 mm apart along their width, leave 4 mm between edges.

    Face to face, 3 mm apart and 0.3 mm thick, they leave 2.7 mm.
    """
    found = network(
        part("stem", length=0.05, width=2e-3),
        part("leaf", "stem", shape="blade", count=2, length=0.02, width=8e-3, thickness=0.3e-3,
             position=(0.40, 0.46), angle=90.0, turn_step=0.0),
    )  # fmt: skip
    assert found.across is not None
    first, second = (found.member == member for member in (1, 2))
    beside = found.start_position.copy(), found.end_position.copy()
    for ends, old in zip(beside, (found.start_position, found.end_position), strict=True):
        ends[second] = old[first] + 12e-3 * found.across[first]
    moved = replace(found, start_position=beside[0], end_position=beside[1])

    assert neighbour_gaps(found, limbs(found))[0][1] == pytest.approx(2.7e-3, rel=1e-6)
    assert neighbour_gaps(moved, limbs(moved))[0][1] == pytest.approx(4e-3, rel=1e-6)


def test_what_forks_wide_is_no_web() -> None:
    """House rule: a child and its parent, and two that fork by 60°, are near by nature."""
    found = network(
        part("stem", length=0.03, width=2e-3),
        part("arm", "stem", count=2, length=0.02, width=1e-3, position=1.0, angle=30.0),
    )

    assert neighbour_gaps(found, limbs(found))[2] == ()


def test_thick_arms_that_fork_are_near_by_nature() -> None:
    """By hand: arms of 3 mm that fork by 30° are within 1 mm of each other 5 mm from the fork.

    Their lines are 3.6 mm apart there, from 1.0 mm where they start; the way along the
    piece is 10 mm, under three times that.
    """
    found = network(
        part("stem", length=0.03, width=4e-3),
        part("arm", "stem", count=2, length=0.02, width=3e-3, position=1.0, angle=15.0),
    )

    assert neighbour_gaps(found, limbs(found))[2] == ()


def test_a_leaf_that_lies_along_its_stem_is_a_web() -> None:
    """By hand: a leaf that turns back along its stem at 5° stays within 1 mm for long."""
    found = network(
        part("stem", length=0.05, width=2e-3),
        part("leaf", "stem", length=0.02, width=1e-3, position=0.9, angle=178.0),
    )

    narrow = neighbour_gaps(found, limbs(found))[2]

    assert [(gap.part, gap.other) for gap in narrow] == [("stem", "leaf")]


def test_the_way_from_the_gate_is_the_sum_of_the_lengths() -> None:
    """By hand: half of a stem of 40 mm, then half of an arm of 20 mm."""
    found = network(
        part("stem", length=0.04, width=2e-3),
        part("arm", "stem", length=0.02, width=1e-3, position=0.5, angle=90.0),
        part("bud", "arm", length=0.005, width=1e-3, position=0.5, angle=90.0),
    )

    assert way_from_gate(found, limbs(found)) == pytest.approx([0.0, 0.02, 0.03])


def test_least_distance_of_two_lines_is_that_of_bounded_least_squares() -> None:
    """Reference library: `scipy.optimize.lsq_linear` on 300 pairs of lines in any direction.

    Tolerance 1e-9 of a line's length: both are exact but for rounding.  Twenty of the pairs pass
    each other between their ends, where the angle of the two counts.
    """
    optimize = pytest.importorskip("scipy.optimize")
    p, q, u, v = np.random.default_rng(7).normal(size=(4, 300, 3))
    start, end = np.concatenate([p, q]), np.concatenate([p + u, q + v])
    ones = np.arange(300)

    found, on_one, on_other = _least_distances(start, end, ones, ones + 300)

    want = [
        np.sqrt(2.0 * optimize.lsq_linear(np.stack([a, -b], axis=1), d, (0.0, 1.0), tol=1e-14).cost)
        for a, b, d in zip(u, v, q - p, strict=True)
    ]
    worst = int(np.abs(found - want).argmax())
    record("mould", "least distance of two skew lines", "scipy.optimize.lsq_linear with bounds",
           found[worst], want[worst], "", 1e-9, kind="reference library")  # fmt: skip
    assert found == pytest.approx(want, abs=1e-9)
    inside = (on_one > 0.0) & (on_one < 1.0) & (on_other > 0.0) & (on_other < 1.0)
    assert inside.sum() == 20


@few
@given(networks())
def test_gaps_are_mutual_and_not_negative(found: Network) -> None:
    """By definition: whoever is nearest to another has one at least as near."""
    gap, neighbour, narrow = neighbour_gaps(found, limbs(found))
    near = neighbour >= 0

    assert (gap[near] >= 0.0).all()
    assert (gap[near] <= LOOK).all()
    assert np.isinf(gap[~near]).all()
    assert (gap[neighbour[near]] <= gap[near]).all()
    assert all(pair.distance < 1e-3 for pair in narrow)


@few
@given(networks(), st.floats(-math.pi, math.pi))
def test_gaps_do_not_depend_on_how_the_piece_is_turned(found: Network, turn: float) -> None:
    """By definition: a turn about the axis of the flask changes no distance.

    Tolerance 1e-9 m: rounding; pairs right at the limits of what counts may go either
    way, so only gaps that are known in both are held.
    """
    cosine, sine = math.cos(turn), math.sin(turn)
    turned = np.array([[cosine, sine, 0.0], [-sine, cosine, 0.0], [0.0, 0.0, 1.0]])
    assert found.across is not None
    other = replace(
        found,
        start_position=found.start_position @ turned,
        end_position=found.end_position @ turned,
        across=found.across @ turned,
    )

    first, second = (neighbour_gaps(n, limbs(n))[0] for n in (found, other))

    both = np.isfinite(first) & np.isfinite(second)
    assert (np.abs(first[both] - second[both]) > 1e-9).sum() <= 0.1 * both.sum()
    assert wall_gaps(other, limbs(other), 0.1) == pytest.approx(
        wall_gaps(found, limbs(found), 0.1), abs=1e-12
    )
