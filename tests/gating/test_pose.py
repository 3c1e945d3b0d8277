"""Turning and leaning a piece: against the piece file that says the same, and plain shapes."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.gating.leans import pose_edits
from pourcast.gating.outline import button_points, surface_points
from pourcast.gating.pose import FINEST, MOST_TILT, Poser, best_pose, freed_pose, rotation
from pourcast.mould.traps import air_traps
from pourcast.piece.measure import measure
from pourcast.piece.model import Piece
from pourcast.piece.network import build
from pourcast.sheet import read_plan
from pourcast.sheet.edit import edited
from tests.gating.shelf import NAMES, text_of
from tests.outside.record import record
from tests.piece.make import few, part, piece
from tests.strategies import pieces

TURNS = st.integers(0, 359).map(math.radians)
TILTS = st.integers(0, 20).map(math.radians)


def poser_of(made: Piece) -> Poser:
    """Return what says how a piece stands."""
    return Poser(made, build(made))


def posed(made: Piece, turn: float, tilt: float) -> Piece:
    """Return the piece turned and leaned as its file would say it."""
    parts = tuple(
        replace(each, turn=each.turn + turn) if each.parent == "button" else each
        for each in made.parts
    )
    return replace(made, parts=parts, button=replace(made.button, tilt=tilt))


@few
@given(pieces(), TURNS, TILTS)
def test_turned_points_are_those_of_the_piece_that_says_so(
    made: Piece, turn: float, tilt: float
) -> None:
    """Equation (1) of the pose against the shapes built anew, point by point."""
    got = poser_of(made).points(turn, tilt)

    want, _ = surface_points(posed(made, turn, tilt))
    assert np.abs(got - want).max() < 1e-12


@few
@given(pieces())
def test_outline_holds_the_piece_and_little_more(made: Piece) -> None:
    """Held against `pourcast.piece.measure`, which looks at the true sections.

    The polygon round a round section stands 1.96 % of its half out, at most.
    """
    network = build(made)
    points, part_of = surface_points(made)
    measures = measure(made, network)

    reach, lowest = np.hypot(points[:, 0], points[:, 1]).max(), points[:, 2].min()
    half = 0.5 * max(network.width.max(), network.thickness.max())
    ends = np.concatenate([network.start_position, network.end_position])
    assert np.hypot(ends[:, 0], ends[:, 1]).max() <= reach + 2e-3 * half
    assert reach <= measures.reach + 0.03 * half
    assert lowest == pytest.approx(measures.lowest, abs=0.03 * half)
    assert set(part_of.tolist()) == set(range(len(made.parts)))


@pytest.mark.parametrize("name", NAMES)
def test_edits_of_a_pose_read_back_as_that_pose(name: str) -> None:
    """Tilt and turn are written to 0.1°, which moves the end of a 130 mm piece by 0.23 mm."""
    text = text_of(name)
    plan = read_plan(text)
    poser = poser_of(plan.piece)
    want = poser.at(math.radians(70.0), math.radians(12.0))

    got = poser_of(read_plan(edited(text, pose_edits(plan.piece, want))).piece).planned

    assert got.reach == pytest.approx(want.reach, abs=2.3e-4)
    assert got.depth == pytest.approx(want.depth, abs=2.3e-4)
    assert got.rising == want.rising
    assert got.tilt == pytest.approx(want.tilt, abs=1e-12)


def test_straight_rod_that_leans_is_put_upright() -> None:
    """Geometry: a rod at 11.459° to the button fits best leaned back by as much.

    Reach is then half its diameter, 2.5 mm.  The search ends at 0.2°, which on 60 mm is
    0.2 mm, and a degree of lean must win 0.02 mm.  Found: leaned by 11.56°, 2.66 mm.
    """
    made = piece(part(length=0.06, width=0.005, angle=11.459))
    made = replace(made, button=replace(made.button, diameter=0.004))

    got = best_pose(poser_of(made), lambda reach, _: -reach)

    record("gating", "lean that puts a rod upright", "geometry",
           math.degrees(got.tilt), 11.459, "°", 0.3, kind="closed form")  # fmt: skip
    assert math.degrees(got.tilt) == pytest.approx(11.459, abs=0.3)
    assert got.reach == pytest.approx(2.5e-3, abs=2.5e-4)


def test_pose_of_the_file_stays_where_nothing_is_won() -> None:
    made = piece(part(length=0.06))

    got = best_pose(poser_of(made), lambda reach, _: -reach)

    assert got == poser_of(made).planned


def test_search_keeps_within_its_lean() -> None:
    """A rod at 45° would want 45°; no more than 20° are given."""
    made = piece(part(length=0.06, angle=45.0))

    got = best_pose(poser_of(made), lambda reach, _: -reach)

    assert MOST_TILT - FINEST <= got.tilt <= MOST_TILT


@few
@given(pieces(), TURNS, TILTS)
def test_undersides_near_level_are_those_of_the_mould(
    made: Piece, turn: float, tilt: float
) -> None:
    """Held against `pourcast.mould.traps` on the piece built anew: the same rule of 15°."""
    moved = posed(made, turn, tilt)

    got = poser_of(made).at(turn, tilt).level_area

    want = air_traps(build(moved), 1e-3).area
    near = [got]
    if got != pytest.approx(want, rel=1e-9, abs=1e-12):
        # A face within rounding of 15° may count on one side and not on the other: the area
        # lies between the least and the most of poses that are a hair away, any way round.
        hair = 1e-7
        for step in range(8):
            way = turn + step * math.pi / 4.0
            near += [
                poser_of(made).at(way, hair).level_area if tilt == 0.0 else got,
                poser_of(made)
                .at(turn + hair * math.cos(way), tilt + hair * abs(math.sin(way)))
                .level_area,
                poser_of(made).at(turn + hair * math.cos(way), max(tilt - hair, 0.0)).level_area,
            ]
    assert min(near) * (1.0 - 1e-9) - 1e-12 <= want <= max(near) * (1.0 + 1e-9) + 1e-12


def test_level_leaf_is_freed_by_a_lean_of_15_degrees() -> None:
    """Geometry: a leaf that stands level is 15° from level when its base leans by 15°.

    The grid has steps of 2.5°: 15° or, if rounding keeps it level there, 17.5°.  Found: 15.0°.
    """
    leaf = part("leaf", "stem", shape="blade", length=0.02, width=0.01, thickness=0.0005,
                position=0.9, angle=90.0)  # fmt: skip
    made = piece(part(length=0.05), leaf)
    poser = poser_of(made)

    got = freed_pose(poser, lambda *_: True)

    assert poser.planned.level_area == pytest.approx(2e-4, rel=1e-6)
    assert got.level_area == 0.0
    assert math.degrees(got.tilt) == pytest.approx(16.25, abs=1.3)


@given(TURNS, TILTS, TILTS)
def test_rotation_keeps_lengths_and_its_own_lean(turn: float, tilt: float, start: float) -> None:
    got = rotation(turn, tilt, start)

    assert np.abs(got @ got.T - np.eye(3)).max() < 1e-12
    down = got @ np.array([math.sin(start), 0.0, -math.cos(start)])
    assert down == pytest.approx([math.sin(tilt), 0.0, -math.cos(tilt)], abs=1e-12)


def test_rim_of_the_button_is_drawn_round() -> None:
    made = piece(part())

    far = np.hypot(*button_points(made.button)[:, :2].T)

    assert (far >= 0.015).all()
    assert far.max() < 0.01502


def test_search_over_few_points_sees_what_all_points_say() -> None:
    """Geometry: directions 6° and 5° apart miss 1 - cos 3.9° = 0.24 %, at most; 0.3 % let pass.

    600 bent hairs, which have more points than the search looks at, long above and short
    below: a look from one height would miss the long ones.
    """
    made = piece(
        part("stem", length=0.06, width=0.004),
        part("long", "stem", position=(0.05, 0.1), count=300, turn_step=137.5, angle=90.0,
             length=0.03, width=0.0005, bend=10.0),
        part("short", "stem", position=(0.9, 0.95), count=300, turn_step=137.5, angle=90.0,
             length=0.02, width=0.0005, bend=10.0),
    )  # fmt: skip
    poser = poser_of(made)

    for turn in (0.0, 1.0, 4.0):
        for tilt in (0.0, 0.1, MOST_TILT):
            rough, exact = poser.rough_size(turn, tilt), poser.size(turn, tilt)
            assert exact[0] * 0.997 <= rough[0] <= exact[0] * (1 + 1e-12)
            assert exact[1] * 0.997 <= rough[1] <= exact[1] * (1 + 1e-12)


def test_turn_is_added_to_that_of_each_part_on_the_button() -> None:
    """By hand: parts at 40° and 350° turned by 30° stand at 70° and 20°; the leaf stays."""
    made = piece(
        part("stem", turn=40.0),
        part("stem 2", turn=350.0, angle=20.0),
        part("leaf", "stem", turn=10.0, angle=30.0),
    )
    pose = poser_of(made).at(math.radians(30.0), 0.1)

    found = {edit.path[1]: edit.value for edit in pose_edits(made, pose)}

    assert found["stem"] == pytest.approx(70.0, abs=1e-9)
    assert found["stem 2"] == pytest.approx(20.0, abs=1e-9)
    assert "leaf" not in found
