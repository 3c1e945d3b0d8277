"""Cells of the grid: volumes of the parts, hosts, directions, lists."""

import math
from dataclasses import replace

import numpy as np
import pytest

from pourcast.errors import InputError
from pourcast.freeze.voxel_grid import BUTTON, HOST, METAL, MOULD, OUTSIDE, Grid, build_grid
from pourcast.freeze.voxel_lists import lists_of
from pourcast.freeze.voxel_model import VoxelBlock
from pourcast.piece.model import Piece
from pourcast.piece.network import build
from tests.freeze.voxel_cases import body
from tests.piece.make import part, piece

VOXEL = 1e-3


def block(**changes: object) -> VoxelBlock:
    """Block of 70 mm in a solid wall."""
    plain = VoxelBlock(
        radius=0.035,
        top=0.02,
        bottom=-0.08,
        wall="solid",
        wall_thickness=1.5e-3,
        wall_density=7850.0,
        room=298.0,
    )
    return replace(plain, **changes)  # type: ignore[arg-type]


def thick_piece() -> Piece:
    """Stem, blade and berry, all over three cells."""
    return piece(
        part("stem", length=0.045, width=(0.006, 0.004)),
        part(
            "fan",
            "stem",
            shape="blade",
            length=0.02,
            width=(0.012, 0.004),
            thickness=0.0035,
            position=0.5,
            angle=60,
        ),
        part("berry", "stem", shape="lump", length=0.012, width=0.011, position=1.0),
        gate=0.006,
    )


def grid_of(made: Piece, **changes: object) -> Grid:
    """Cells of a piece."""
    return build_grid(build(made), made.button, block(**changes), VOXEL)


def test_cells_hold_the_volume_of_each_part() -> None:
    """Textbook volumes of cone, box and ellipsoid, through `Network`.

    Tolerance: one set of cells that lie alike, 1.5 % of 500 to 6 000 cells.
    """
    grid = grid_of(thick_piece())
    passages = grid.passages

    for name in range(3):
        mine = grid.owner[(grid.kind == METAL) & (grid.owner >= 0)]
        cells = int((passages.part[mine] == name).sum()) * VOXEL**3
        want = float(passages.volume[passages.part == name].sum())
        assert cells == pytest.approx(want, rel=0.015), name
    cells = int(((grid.kind == METAL) & (grid.owner == BUTTON)).sum()) * VOXEL**3
    cone = math.pi * 0.02 * (0.03**2 + 0.03 * 0.006 + 0.006**2) / 12
    assert cells == pytest.approx(cone, rel=0.015)


def test_block_has_its_volume_and_its_side() -> None:
    """Textbook: π R² H and 2 π R H."""
    grid = grid_of(thick_piece())
    lists = lists_of(grid, block())
    height = (grid.kind.shape[2] - 2) * VOXEL

    assert (grid.kind != OUTSIDE).sum() * VOXEL**3 == pytest.approx(
        math.pi * 0.035**2 * height, rel=0.005
    )
    side = lists.wall[lists.wall[:, 5] > 0, 0].sum()
    assert side == pytest.approx(2 * math.pi * 0.035 * height, rel=1e-9)


def test_a_plane_is_worked_out_from_end_to_end_of_its_chord() -> None:
    """Geometry: a plane cuts a round block in a strip as long as its chord, 2 √(R² - x²).

    Its first cell stands at the lower near corner, its last at the upper far one.  Tolerance one
    cell: a cell belongs to the block where its middle lies in the circle.  Found: 0.9.
    """
    grid = grid_of(thick_piece())
    lists = lists_of(grid, block())
    nx, ny, nz = grid.kind.shape
    full = lists.run_last > lists.run_first
    plane = np.arange(nx)[full]
    half = np.sqrt(0.035**2 - (grid.origin[0] + plane * VOXEL) ** 2)
    ends = lists.run_first[full].astype(int), lists.run_last[full].astype(int) - 1

    assert full.sum() == 70
    for end, way, level in zip(ends, (-1, 1), (1, nz - 2), strict=True):
        place = end - plane * ny * nz
        assert (place % nz == level).all()
        y = grid.origin[1] + place // nz * VOXEL
        assert y == pytest.approx(way * half, abs=VOXEL)


def test_every_part_hangs_together_and_on_the_button() -> None:
    """The piece is one body; cells that share a face are neighbours."""
    grid = grid_of(thick_piece())
    metal = grid.kind == METAL
    reached = metal & (grid.owner == BUTTON)
    while True:
        grown = reached.copy()
        for axis in range(3):
            for way in (-1, 1):
                grown |= np.roll(reached, way, axis) & metal
        if grown.sum() == reached.sum():
            break
        reached = grown

    assert reached.sum() == metal.sum()


def test_section_of_a_taper_has_no_gap_where_segments_meet() -> None:
    """Textbook: the section of a cone, layer by layer; a rod of several segments.

    Tolerance 6 mm² of 10 to 28: cells that lie alike come by fours and eights.  A fault was
    found here: where one segment ended and the next began a layer was left out.
    """
    made = piece(part("stem", length=0.045, width=(0.006, 0.0035)), gate=0.006)
    grid = grid_of(made)
    middle = -(grid.origin[2] + np.arange(grid.kind.shape[2]) * VOXEL)
    layers = ((grid.kind == METAL) & (grid.owner >= 0)).sum(axis=(0, 1))

    inside = (middle > 0.0) & (middle < 0.045)
    size = 0.006 - 0.0025 * middle[inside] / 0.045
    assert np.abs(layers[inside] - math.pi * size**2 / 4 / VOXEL**2).max() < 6.0


def test_direction_of_a_sphere_is_that_of_its_radius() -> None:
    """Textbook: n·e is the component of the radius, at the middle of the face.

    Tolerance 0.06: a difference over one cell of a sphere of five cells of radius.
    """

    def away(x: np.ndarray, y: np.ndarray, z: np.ndarray) -> np.ndarray:
        return np.asarray(np.sqrt(x * x + y * y + z * z) - 5e-3)

    grid = body(away, 8e-3, 4 / 3 * math.pi * 5e-3**3, VOXEL, 3)
    lists = lists_of(grid, block())
    source = np.column_stack(
        np.unravel_index(lists.metal[lists.skin[lists.face_skin]].astype(int), grid.kind.shape)
    )
    target = np.column_stack(np.unravel_index(lists.face_cell.astype(int), grid.kind.shape))
    face = grid.origin + 0.5 * (source + target) * VOXEL
    want = np.abs((face * (target - source)).sum(axis=1)) / np.linalg.norm(face, axis=1)

    assert lists.facing == pytest.approx(want, abs=0.06)


def test_thin_parts_have_hosts_and_no_metal_cells() -> None:
    """A rod of 1 mm is under three cells, a stem of 4 mm is not."""
    made = piece(
        part("stem", length=0.04, width=0.004),
        part("hair", "stem", count=3, length=0.015, width=0.001, position=0.6, angle=70),
    )
    grid = grid_of(made)

    assert set(grid.passages.part[grid.owner[(grid.kind == METAL) & (grid.owner >= 0)]]) == {0}
    hosts = np.unique(grid.owner[grid.kind == HOST])
    assert hosts.tolist() == list(range(grid.rods.length.size))
    assert grid.rods.volume.sum() == pytest.approx(3 * 0.015 * math.pi * 0.25e-6, rel=1e-6)
    assert grid.rods.caps.sum() == 3


def test_every_length_of_a_thin_part_is_joined() -> None:
    """Three hairs on a thick stem: each grows on cells, and its lengths on each other."""
    made = piece(
        part("stem", length=0.04, width=0.004),
        part("hair", "stem", count=3, length=0.015, width=0.001, position=0.6, angle=70),
    )
    rods = grid_of(made).rods

    assert rods.into_cells.size == 3
    assert rods.links.shape[0] == rods.length.size - 3


def test_misrun_segments_are_left_out() -> None:
    """Where metal did not come there is none to freeze."""
    made = thick_piece()
    network = build(made)
    filled = np.where(network.member_part[network.member] == 2, 0.0, 1.0)

    grid = build_grid(network, made.button, block(), VOXEL, filled)

    present = grid.passages.part[grid.owner[(grid.kind == METAL) & (grid.owner >= 0)]]
    assert set(present) == {0, 1}


@pytest.mark.parametrize(
    ("changes", "must"),
    [
        ({"radius": 0.01}, "over the reach"),
        ({"bottom": -0.03}, "below the piece"),
        ({"top": 0.0}, "greater than 0"),
        ({"top": -0.01, "bottom": -0.08}, "greater than 0"),
        ({"radius": float("nan")}, "greater than 0"),
    ],
)
def test_block_that_does_not_hold_the_piece_is_refused(
    changes: dict[str, object], must: str
) -> None:
    with pytest.raises(InputError, match=must):
        grid_of(thick_piece(), **changes)


def test_edge_cells_are_open_towards_mould_only() -> None:
    """Each weight of an edge cell is 1 exactly where its neighbour is mould."""
    grid = grid_of(thick_piece())
    lists = lists_of(grid, block())
    kind = grid.kind.ravel()
    _, ny, nz = grid.kind.shape

    for way, offset in enumerate((-1, 1, -nz, nz, -ny * nz, ny * nz)):
        beside = kind[lists.edge.astype(int) + offset] == MOULD
        assert (lists.edge_open[:, way] > 0).tolist() == beside.tolist()
