"""Small geometry of a scan by closed forms: bodies, grids, windings, borders and the picture."""

import math
import re
from dataclasses import replace
from typing import Any, cast

import numpy as np
import pytest
import trimesh

from pourcast.scan.cuts import _bodies
from pourcast.scan.ends import Body
from pourcast.scan.lines import centred
from pourcast.scan.model import Field, Scanned, ScannedPart
from pourcast.scan.picture import check_picture
from pourcast.scan.poses import Pose, _half_section
from pourcast.scan.reach import unite
from pourcast.scan.share import TORN, WINDING, grid_of, mended
from tests.scan.make import record
from tests.scan.test_cuts import foot
from tests.scan.test_ends import straight
from tests.scan.test_lines import LENGTH, RADIUS, surface, through

X, Y, Z = np.eye(3)


@pytest.mark.parametrize("height", [1.0, 5.0, 9.0])
def test_a_rod_that_tapers_holds_what_a_truncated_cone_holds(height: float) -> None:
    """Closed form: from 2 mm to 1 mm in radius over 10 mm, at a height 2 - z/10."""
    body = Body(line=straight([0, 0, 0], [0, 0, 1], 10.0), start=0.0, tip=10e-3, base=2e-3,
                end=1e-3, half_width=2e-3, normal=X, broad=Y, kind="rod")  # fmt: skip
    radius = 2.0 - 0.1 * height

    held = body.holds(1e-3 * np.array([[radius - 0.02, 0, height], [0, radius + 0.02, height]]))

    assert held.tolist() == [True, False]


def test_a_grid_reaches_beyond_the_mesh_on_every_side() -> None:
    """By hand: a box of 3.1 by 4 by 5 mm in cells of 0.5 mm has two whole cells about it."""
    mesh = record(trimesh.creation.box((3.1, 4.0, 5.0)))

    origin, cells = grid_of(mesh, 0.5e-3)

    assert origin == pytest.approx(1e-3 * np.array([-3.0, -3.0, -3.5]))
    assert cells.tolist() == [12, 12, 14]


def test_by_winding_a_box_along_the_grid_fills_its_own_cells() -> None:
    """Exact: a closed surface winds once about each place in it, and about none beside it."""
    mesh = record(trimesh.creation.box((4.0, 4.0, 4.0)))
    origin, cells = grid_of(mesh, 1e-3)
    whole = np.zeros(tuple(cells), dtype=np.float32)
    whole[2:-2, 2:-2, 2:-2] = 1.0
    torn = Field(share=whole, origin=origin, cell=1e-3, bad_lines=0.5 * (WINDING + TORN),
                 by_winding=False)  # fmt: skip

    told = mended(torn, mesh)

    assert told.by_winding
    assert np.array_equal(told.share, whole)


@pytest.mark.parametrize(("angle", "rods"), [(0.0, 1), (8.0, 1), (25.0, 2), (60.0, 2)])
def test_two_bodies_in_a_row_are_one_rod_only_if_they_go_straight_on(
    angle: float, rods: int
) -> None:
    """House: two bodies of 10 mm of a rod of 1 mm; a kink of more than 14° parts them."""
    _, pieces, slices = foot([1.0] * 20, [1.0] * 20, bodies=[0] * 10 + [1] * 10)
    middle = pieces.middle.copy()
    turn = math.radians(angle)
    middle[10:] = middle[9] + 1e-3 * np.arange(1, 11)[:, None] * (
        math.sin(turn) * X + math.cos(turn) * Z
    )

    assert len(_bodies(np.arange(20), replace(pieces, middle=middle), slices)) == rods


def part(**changes: object) -> ScannedPart:
    """Return a rod of 94 mm from the origin upwards."""
    rod = ScannedPart(name="stem", parent=-1, shape="rod",
                      line=np.linspace([0.0, 0.0, 0.0], [0.0, 0.0, 94e-3], 20),
                      length=94e-3, width=(2e-3, 2e-3), thickness=(2e-3, 2e-3), across=X,
                      widest=2e-3, volume=3e-7, seen_volume=3e-7, length_error=1e-4,
                      thickness_error=1e-4, walls_read=1.0, hollow=False)  # fmt: skip
    return replace(rod, **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize("turn", [0.0, 30.0, 45.0, 90.0])
def test_what_grows_on_a_lump_begins_on_its_ellipse(turn: float) -> None:
    """Closed form: (x / a)² + (y / b)² = 1 at the middle of a lump of 6 by 4 mm."""
    lump = Pose(at=0.0, angle=0.0, turn=0.0, bend=0.0, origin=np.zeros(3), direction=Z, side=X,
                part=part(shape="lump", width=(6e-3, 6e-3), thickness=(4e-3, 4e-3)),
                base=1e-3, tip=1e-3)  # fmt: skip
    way = math.cos(math.radians(turn)) * X + math.sin(math.radians(turn)) * Y

    out = _half_section(lump, 0.5, way, X, Z, 0.5 * math.pi)

    x, y = out * way[:2]
    assert (x / 2e-3) ** 2 + (y / 3e-3) ** 2 == pytest.approx(1.0, rel=1e-9)


def test_neighbours_of_one_kind_have_one_root_and_what_belongs_to_nothing_has_none() -> None:
    """By hand: six cells in a row of the kinds 0 0 - 1 1 0, each with its own number before."""
    grid = np.array([-1, 0, 1, 2, 3, 4, 5, -1])
    root = np.arange(6)

    unite(np.arange(1, 7), grid, np.array([0, 0, -1, 1, 1, 0]), np.array([-1, 1]), root)

    assert root.tolist() == [0, 0, 2, 3, 3, 5]


@pytest.mark.parametrize("moved", [0.0, 0.2])
def test_the_picture_is_as_tall_as_its_frame_wherever_the_scan_lies(moved: float) -> None:
    """By hand: 94 mm with 3 mm about them are the 560 units of the frame, so 10 mm are 56."""
    stem = part()
    stem = replace(stem, line=stem.line + moved)
    scanned = Scanned(parts=(stem,), gate=stem.line[0], size=np.array([2e-3, 2e-3, 94e-3]),
                      cell=5e-4, mesh_volume=3e-7, area=6e-4, bodies=1, loose=0, loose_share=0.0,
                      unseen_share=0.0, too_small=0, loops=0, touching=(), narrow=(),
                      bad_lines=0.0, by_winding=False, cleaned=cast(Any, None))  # fmt: skip

    bar = re.search(r" h ([\d.]+)", check_picture(scanned))

    assert bar is not None
    assert float(bar[1]) == pytest.approx(56.0, abs=0.05)


def test_a_line_that_is_centred_reaches_as_far_beyond_its_part_as_before() -> None:
    """By hand: 3 mm beyond either end of a rod of 12 mm.  Tolerance 0.1 mm, a step of a line.

    On the axis to 0.001 mm: no place is off the surface.  Found: 0.00003 mm.
    """
    axis = np.linspace([0.0, 0.0, 0.0], [0.0, 0.0, LENGTH], 201)
    leaning = through(axis[::20] + np.linspace(-2e-4, 2e-4, 11)[:, None] * X)

    line = centred(leaning, surface(axis, np.tile(Z, (201, 1))), edge=RADIUS)

    assert line is not leaning
    assert line.along[-1] - line.end == pytest.approx(3e-3, abs=1e-4)
    assert -line.along[0] == pytest.approx(3e-3, abs=1e-4)
    _, off = line.feet(axis[20:-20])
    assert np.linalg.norm(off, axis=1).max() < 1e-6
