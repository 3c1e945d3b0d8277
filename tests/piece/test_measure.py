"""Measure: volume, side and reach of a piece."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.piece.measure import measure
from pourcast.piece.model import Measures, Piece
from pourcast.piece.network import build
from tests.piece.make import few, near, part, piece
from tests.strategies import pieces


def measured(whole: Piece) -> Measures:
    return measure(whole, build(whole))


def test_rod_is_a_cylinder() -> None:
    """Published: π r² L and 2 π r L (Archimedes; CRC Standard Mathematical Tables).  Exact."""
    got = measured(piece(part(length=0.06, width=0.004)))

    assert got.volume == near(math.pi * 0.002**2 * 0.06, rel=1e-12)
    assert got.area == near(math.pi * 0.004 * 0.06, rel=1e-12)
    assert got.thinnest == 0.004
    assert got.lowest == near(-0.06)
    assert got.reach == near(0.002)


def test_blade_is_a_box() -> None:
    """Published: Euclid XI, 33.  Exact."""
    got = measured(piece(part(shape="blade", length=0.05, width=0.02, thickness=0.001)))

    assert got.volume == near(0.05 * 0.02 * 0.001, rel=1e-12)
    assert got.area == near(2 * 0.05 * 0.021, rel=1e-12)
    assert got.reach == near(math.hypot(0.02, 0.001) / 2)


def test_button_is_a_frustum() -> None:
    """Published: π h (R² + R r + r²) / 3 (CRC Standard Mathematical Tables).  Exact."""
    got = measured(piece(part()))

    want = math.pi * 0.02 * (0.015**2 + 0.015 * 0.002 + 0.002**2) / 3
    assert got.button_volume == near(want, rel=1e-12)


def test_coat_of_a_rod_is_a_sleeve_and_a_cap() -> None:
    """Exact: cylinder of 4.4 by 60.2 mm less one of 4 by 60 mm."""
    got = measured(piece(part(length=0.06, width=0.004, coat=0.0002)))

    bare = math.pi * 0.002**2 * 0.06
    assert got.original_volume == near(bare, rel=1e-12)
    assert got.coat_volume == near(math.pi * 0.0022**2 * 0.0602 - bare, rel=1e-9)
    assert got.thinnest == near(0.0044)


def test_level_leaf_hangs_by_half_its_thickness_and_not_by_half_its_width() -> None:
    """Exact: a broad leaf square to the stem lies flat."""
    got = measured(
        piece(
            part(width=0.002),
            part(
                "leaf",
                "stem",
                shape="blade",
                width=0.02,
                thickness=0.001,
                length=0.03,
                angle=90,
                position=0.5,
            ),
        )
    )

    leaf = got.parts[1]
    assert leaf.lowest == near(-0.0305)
    assert leaf.highest == near(-0.0295)
    assert leaf.reach == near(math.hypot(0.031, 0.01))


def test_blade_on_edge_hangs_by_its_corner() -> None:
    """Exact: level, turned by 45°: half of width and thickness, both times √½."""
    blade = part(shape="blade", width=0.02, thickness=0.004, length=0.03, turn=45)
    got = measured(piece(blade, tilt=90))

    assert got.lowest == near(-0.012 * math.sqrt(0.5))


def test_crozier_reaches_as_its_circle() -> None:
    """Exact: radius L / bend about a centre to the side of the gate, and half the rod more.

    Tolerance 0.25 % of the radius: sections at steps of 7.5° may miss 0.2 %.
    """
    radius = 0.3 / math.radians(700)
    got = measured(piece(part(length=0.3, width=0.002, bend=700))).parts[0]

    assert got.lowest == pytest.approx(-radius - 0.001, abs=0.0025 * radius)
    assert got.highest == pytest.approx(radius + 0.001, abs=0.0025 * radius)
    assert got.reach == pytest.approx(2 * radius + 0.001, abs=0.0025 * radius)


def test_slanted_rod_reaches_by_the_corner_of_its_end() -> None:
    """Exact in the plane of the lean: L sin + r cos out, L cos + r sin down, for 30°."""
    got = measured(piece(part(length=0.06, width=0.006), tilt=30))
    sine, cosine = 0.5, math.sqrt(0.75)

    assert got.lowest == near(-(0.06 * cosine + 0.003 * sine))
    corner = 0.06 * sine + 0.003 * cosine
    # The box about the end reaches farther by r² / (2 corner), 0.138 mm; found 0.138 mm.
    assert corner <= got.reach <= corner + 0.003**2 / (2 * corner)


def test_round_bud_is_a_sphere_in_reach_and_depth() -> None:
    """Exact: centre of a sphere of 10 mm that starts at a neck of 3 mm.

    Tolerance 0.1 %: sections at 17 places miss the widest by a little.
    """
    bud = part("bud", "stem", shape="lump", width=0.01, length=0.005 * (1 + math.sqrt(1 - 0.09)))
    got = measured(piece(part(length=0.06, width=0.003), bud)).parts[1]

    assert got.reach == near(0.005, rel=1e-3)
    assert got.lowest == near(-0.06 - bud.length)
    assert got.volume == near(
        math.pi / 6 * 0.01**3 - math.pi * (0.01 - bud.length) ** 2 * (0.015 - 0.01 + bud.length) / 3
    )


@pytest.mark.parametrize(("width", "thickness"), [(0.014, 0.006), (0.006, 0.014)])
def test_flat_lump_on_the_axis_reaches_by_half_its_broad_side(
    width: float, thickness: float
) -> None:
    """Exact: the farthest that a ball pressed flat goes from its own axis, its larger half axis.

    Tolerance 0.2 %: sections at 17 places miss the widest by a little.  Found: 0.002 % low.
    """
    bud = part("bud", "stem", shape="lump", width=width, thickness=thickness, length=0.012)

    got = measured(piece(part(length=0.06, width=0.001), bud)).parts[1]

    assert got.reach == near(0.007, rel=2e-3)


def test_overlap_is_that_of_each_joint() -> None:
    """Exact: four rods square to a stem, π d⁴ / (64 D) each; further terms 0.8 %."""
    got = measured(
        piece(part(width=0.004), part("ray", "stem", count=4, angle=90, position=0.5, width=0.001))
    )

    assert got.joint_overlap == near(4 * math.pi * 0.001**4 / (64 * 0.004), rel=0.01)
    assert got.joint_overlap > 4 * math.pi * 0.001**4 / (64 * 0.004)


@pytest.mark.parametrize("angle", [30.0, 150.0])
def test_rod_that_turns_back_on_a_tip_leans_as_one_that_goes_on(angle: float) -> None:
    """Exact: two hoofs of 2/3 r³ tan 30°, where both rods end in one level face.

    Source: Archimedes, The Method, proposition 11 (from memory).  Tolerance: none but rounding.
    """
    got = measured(piece(part(width=0.004), part("side", "stem", angle=angle, width=0.002)))

    assert got.joint_overlap == near(2 * 2 / 3 * 0.001**3 * math.tan(math.radians(30)))


def test_leaning_blade_has_the_wedge_of_a_round_end_as_large() -> None:
    """Property of the rule: d³ tan β / 6 with π d² / 4 = width times thickness, β of 30°."""
    leaf = part(shape="blade", width=0.02, thickness=0.001)
    vein = part("vein", "stem", shape="blade", width=0.004, thickness=5e-4, angle=60, position=0.5)
    alike = math.sqrt(4 / math.pi * 0.004 * 5e-4)

    got = measured(piece(leaf, vein)).joint_overlap
    assert got == near(alike**3 * math.tan(math.radians(30)) / 6)


def test_straight_joint_has_no_overlap() -> None:
    """Exact: two flat ends."""
    assert measured(piece(part(), part("more", "stem"))).joint_overlap == 0.0


@few
@given(drawn=pieces())
def test_parts_add_up(drawn: Piece) -> None:
    """Property: sums, least and most of the parts."""
    got = measured(drawn)

    assert got.volume == near(sum(part.volume for part in got.parts))
    assert got.area == near(sum(part.area for part in got.parts))
    assert got.thinnest == min(part.thinnest for part in got.parts)
    assert got.lowest == min(part.lowest for part in got.parts)
    assert got.reach == max(part.reach for part in got.parts)
    assert got.volume == near(got.original_volume + got.coat_volume)
    assert got.original_volume > 0
    assert got.joint_overlap >= 0


@few
@given(drawn=pieces(), factor=st.floats(0.5, 3.0))
def test_volume_goes_with_the_cube_of_the_size(drawn: Piece, factor: float) -> None:
    """Property: volumes with the cube, sides with the square, lengths with the size."""
    small, large = measured(drawn), measured(scaled(drawn, factor))

    assert large.volume == near(small.volume * factor**3, rel=1e-9)
    assert large.original_volume == near(small.original_volume * factor**3, rel=1e-9)
    assert large.joint_overlap == near(small.joint_overlap * factor**3, rel=1e-9)
    assert large.area == near(small.area * factor**2, rel=1e-9)
    assert large.reach == near(small.reach * factor, rel=1e-9)
    assert large.lowest == pytest.approx(small.lowest * factor, rel=1e-9, abs=1e-12)


@few
@given(drawn=pieces(), turn=st.floats(0.0, 6.3))
def test_turn_about_the_axis_leaves_the_measures(drawn: Piece, turn: float) -> None:
    """Property: a piece that hangs straight may be turned about its axis."""
    upright = replace(drawn, button=replace(drawn.button, tilt=0.0))
    parts = tuple(
        replace(p, turn=p.turn + turn) if p.parent == "button" else p for p in upright.parts
    )
    before, after = measured(upright), measured(replace(upright, parts=parts))

    assert after.volume == near(before.volume)
    assert after.reach == near(before.reach, rel=1e-6)
    assert after.lowest == pytest.approx(before.lowest, abs=1e-9)


@few
@given(drawn=pieces())
def test_reach_and_depth_hold_the_network(drawn: Piece) -> None:
    """Property: every end of a middle line lies within, to the 0.2 % that arcs may stand out."""
    network = build(drawn)
    got = measure(drawn, network)
    ends = network.end_position

    spare = 0.01 * float(network.length.max())
    assert (ends[:, 0] ** 2 + ends[:, 1] ** 2).max() ** 0.5 <= got.reach + spare
    assert ends[:, 2].min() >= got.lowest - spare


def test_network_of_another_piece_is_refused() -> None:
    """Refusal: its parts have other names."""
    with pytest.raises(InputError, match="network is"):
        measure(piece(part()), build(piece(part("twig"))))


def scaled(whole: Piece, factor: float) -> Piece:
    """Give the same piece, larger in every length."""
    parts = tuple(
        replace(
            p,
            length=p.length * factor,
            width=(p.width[0] * factor, p.width[1] * factor),
            thickness=(p.thickness[0] * factor, p.thickness[1] * factor),
            coat=p.coat * factor,
        )
        for p in whole.parts
    )
    button = replace(
        whole.button,
        diameter=whole.button.diameter * factor,
        height=whole.button.height * factor,
        gate_diameter=whole.button.gate_diameter * factor,
    )
    return replace(whole, parts=parts, button=button, vents=())
