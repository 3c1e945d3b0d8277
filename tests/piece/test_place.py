"""Place: where members stand at the pour."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.piece.place import Placed, along, place, sections
from tests.piece.make import few, part, piece
from tests.strategies import pieces

TIP = np.ones(1)
BASE = np.zeros(1)


def tips(placed: Placed) -> np.ndarray:
    points: np.ndarray = along(placed, TIP)[0][:, 0]
    return points


def test_first_part_hangs_straight_down() -> None:
    """Exact: from the gate at 0 to its length below."""
    (stem,) = place(piece(part(length=0.06)))

    assert along(stem, BASE)[0][0, 0].tolist() == [0.0, 0.0, 0.0]
    assert tips(stem)[0] == pytest.approx(np.array([0.0, 0.0, -0.06]), abs=1e-15)


@few
@given(tilt=st.integers(-90, 90))
def test_tilt_swings_the_tip_about_the_gate(tilt: int) -> None:
    """Exact: L sin to the side and L cos down (trigonometry)."""
    (stem,) = place(piece(part(length=0.06), tilt=tilt))

    want = 0.06 * np.array([math.sin(math.radians(tilt)), 0.0, -math.cos(math.radians(tilt))])
    assert tips(stem)[0] == pytest.approx(want, abs=1e-15)


@few
@given(tilt=st.integers(-60, 60))
def test_tilt_turns_the_piece_as_one(tilt: int) -> None:
    """Property: distances between tips do not change."""
    parts = (part(), part("ray", "stem", count=5, angle=40, bend=50, position=(0.2, 0.9)))
    straight = np.concatenate([tips(p) for p in place(piece(*parts))])
    leaning = np.concatenate([tips(p) for p in place(piece(*parts, tilt=tilt))])

    apart = [
        np.linalg.norm(points[:, None] - points[None], axis=2) for points in (straight, leaning)
    ]
    assert apart[1] == pytest.approx(apart[0], abs=1e-12)


@few
@given(count=st.integers(2, 30), angle=st.integers(0, 180), turn=st.integers(0, 360))
def test_whorl_is_level_and_balanced(count: int, angle: int, turn: int) -> None:
    """Property of symmetry: one height, and sideways offsets that sum to nothing."""
    _, ray = place(piece(part(), part("ray", "stem", count=count, angle=angle, turn=turn)))
    ends = tips(ray)

    assert np.ptp(ends[:, 2]) < 1e-12
    assert np.abs(ends[:, :2].sum(axis=0)).max() < 1e-12


def test_row_is_spaced_evenly() -> None:
    """Exact: five members from 0.2 to 0.8 of 60 mm stand 9 mm apart."""
    _, ray = place(
        piece(
            part(length=0.06),
            part("ray", "stem", count=5, angle=90, position=(0.2, 0.8), turn_step=137.5),
        )
    )

    assert ray.origin[:, 2] == pytest.approx(-0.012 - 0.009 * np.arange(5), abs=1e-15)


def test_child_starts_on_the_surface_of_a_rod() -> None:
    """Exact: half the diameter there, 3 mm at the middle of a taper from 4 to 2 mm."""
    _, ray = place(
        piece(part(width=(0.004, 0.002)), part("ray", "stem", angle=60, turn=25, position=0.5))
    )

    assert math.hypot(*ray.origin[0, :2]) == pytest.approx(0.0015)
    assert math.atan2(-ray.origin[0, 1], ray.origin[0, 0]) == pytest.approx(math.radians(25))


def test_child_starts_on_face_or_edge_of_a_blade() -> None:
    """Exact: half the thickness at no turn, half the width at a quarter turn."""
    leaf = part("leaf", shape="blade", width=0.02, thickness=0.001)
    for turn, want in ((0, 0.0005), (90, 0.01), (180, 0.0005), (10, 0.0005 / math.cos(0.17453293))):
        _, hair = place(piece(leaf, part("hair", "leaf", angle=90, turn=turn, position=0.5)))
        assert math.hypot(*hair.origin[0, :2]) == pytest.approx(want, rel=1e-6)


def test_child_starts_on_the_surface_of_a_lump() -> None:
    """Exact: half axes of the ellipse, at the widest place; 0.7 base, from a gate as wide."""
    rise = math.sqrt(1 - 0.7**2)
    bud = part("bud", shape="lump", length=0.02, width=0.016, thickness=0.01)
    for turn, want in ((0, 0.005), (90, 0.008)):
        child = part("hair", "bud", angle=90, turn=turn, position=rise / (1 + rise))
        _, hair = place(piece(bud, child, gate=0.02))
        assert math.hypot(*hair.origin[0, :2]) == pytest.approx(want)


def test_part_at_no_angle_goes_on_from_the_tip() -> None:
    """Exact: no step to the side."""
    _, more = place(piece(part(length=0.06), part("more", "stem", length=0.02)))

    assert more.origin[0] == pytest.approx(np.array([0.0, 0.0, -0.06]), abs=1e-15)
    assert tips(more)[0] == pytest.approx(np.array([0.0, 0.0, -0.08]), abs=1e-15)


def test_negative_angle_is_the_angle_on_the_other_side() -> None:
    """Property: as half a turn more."""
    left = place(piece(part(), part("ray", "stem", angle=-50, position=0.4)))[1]
    right = place(piece(part(), part("ray", "stem", angle=50, turn=180, position=0.4)))[1]

    assert left.origin == pytest.approx(right.origin, abs=1e-15)
    assert tips(left) == pytest.approx(tips(right), abs=1e-15)


def test_members_multiply_along_the_line() -> None:
    """Exact: 3 rays, each with 4 hairs, each with 2 tips."""
    placed = place(
        piece(
            part(),
            part("ray", "stem", count=3, angle=60),
            part("hair", "ray", count=4, angle=60),
            part("tip", "hair", count=2, angle=60),
        )
    )

    assert [p.members for p in placed] == [1, 3, 12, 24]
    assert placed[2].parent_member.tolist() == [0] * 4 + [1] * 4 + [2] * 4


def test_coat_thickens_both_sides_and_lengthens_a_free_tip() -> None:
    """Exact: 0.2 mm on a leaf of 10 by 0.5 by 30 mm."""
    (leaf,) = place(
        piece(part(shape="blade", width=0.01, thickness=0.0005, length=0.03, coat=0.0002))
    )

    assert leaf.width == pytest.approx((0.0104, 0.0104))
    assert leaf.thickness == pytest.approx((0.0009, 0.0009))
    assert leaf.length == pytest.approx(0.0302)


def test_coat_does_not_lengthen_a_part_that_goes_on_or_is_joined() -> None:
    """Property of the rule: there is no free tip to coat."""
    stem, more, thread = place(
        piece(
            part(coat=0.0002),
            part("more", "stem", length=0.02),
            part("thread", "stem", angle=60, position=0.2, coat=0.0002, tip_on="more"),
        )
    )

    assert stem.length == 0.06
    assert more.length == 0.02
    assert thread.length == 0.06


def test_lump_begins_with_the_section_of_its_parent() -> None:
    """Exact: a bud of 8 mm on a tip of 2 mm, both coated with 0.1 mm."""
    _, bud = place(
        piece(
            part(width=0.002, coat=0.0001),
            part("bud", "stem", shape="lump", width=0.008, length=0.01, coat=0.0001),
        )
    )

    assert sections(bud, BASE)[0][0] == pytest.approx(0.0022)


@few
@given(drawn=pieces())
def test_every_place_is_a_number(drawn: object) -> None:
    """Property: nothing that can be drawn leads to a place that is none."""
    for p in place(drawn):  # type: ignore[arg-type]
        assert np.isfinite(along(p, np.linspace(0, 1, 5))[0]).all()
