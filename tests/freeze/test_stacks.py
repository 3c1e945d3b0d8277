"""Geometry of the stacks: what they hold, how they are cut, and on what they grow."""

import math

import numpy as np
import pytest

from pourcast.freeze.stacks import area_at, shells_of, way_between
from pourcast.freeze.stacks_cut import LONGEST, cut_rods
from pourcast.freeze.stacks_graph import graph_of
from pourcast.freeze.voxel_grid import HOST, METAL
from pourcast.freeze.voxel_passages import passages_of
from pourcast.piece.model import Shape
from tests.freeze.test_voxel_grid import grid_of
from tests.freeze.voxel_cases import rod, thin_bar
from tests.piece.make import part, piece

VOXEL = 1e-3


def test_stack_and_its_hosts_have_the_same_volume() -> None:
    """Conservation: nothing is counted twice and nothing is left out."""
    grid = thin_bar(1e-3, 8e-3, VOXEL, (0.3, 0.15))
    hosts = grid.owner[grid.kind == HOST]
    count = np.bincount(hosts, minlength=grid.rods.length.size).astype(float) * VOXEL**3

    shells = shells_of(grid.rods, count, VOXEL)

    assert shells.volume.sum() == pytest.approx(count.sum(), rel=1e-9)
    assert shells.excess == pytest.approx(0.0, abs=1e-15)


def test_crowded_stack_keeps_a_little_mould_and_says_so() -> None:
    """Made to be too small: one host cell for a bar that needs ten."""
    grid = thin_bar(2e-3, 8e-3, VOXEL, (0.3, 0.15))
    few = np.full(grid.rods.length.size, VOXEL**3)

    shells = shells_of(grid.rods, few, VOXEL)

    assert shells.excess > 0.0
    assert (shells.edge[shells.last] >= 0.25 * VOXEL * 0.999).all()


def test_area_round_a_rod_is_that_of_a_larger_rod() -> None:
    """Textbook: the side of a cylinder, 2 π r L, and log(r₂/r₁) / 2πL between two."""
    length, radius = 0.02, 1.5e-3
    area = np.array([2 * math.pi * radius * length, 2 * math.pi * length, 0.0])

    assert float(area_at(area, np.array(1e-3))) == pytest.approx(2 * math.pi * 2.5e-3 * length)
    got = float(way_between(area, np.array(0.0), np.array(1e-3)))
    want = math.log(2.5 / 1.5) / (2 * math.pi * length)
    assert got == pytest.approx(want, rel=1e-4)  # Simpson's rule on four lengths


@pytest.mark.parametrize("cells", [1.0, 3.5, 7.0, 9.0, 20.5])
def test_lengths_of_a_cut_rod_add_up_to_the_rod(cells: float) -> None:
    """Geometry: a rod of 1 mm keeps its length and its πd²/4 L however it is cut."""
    network = rod((0.0, 0.0, 0.0), (0.0, 0.0, -cells * VOXEL), 1e-3)
    rods = cut_rods(network, passages_of(network, VOXEL), VOXEL)

    assert rods.length.sum() == pytest.approx(cells * VOXEL, rel=1e-12)
    assert (rods.rows[:, 9] <= LONGEST * VOXEL * (1.0 + 1e-12)).all()
    assert rods.row_volume == pytest.approx(math.pi / 4 * 1e-6 * rods.rows[:, 9], rel=1e-9)
    assert rods.volume / rods.length == pytest.approx(math.pi / 4 * 1e-6, rel=1e-9)
    # Each begins where the one before it ends.
    ends = rods.rows[:, 2] + rods.rows[:, 9] * rods.rows[:, 5]
    assert ends[:-1] == pytest.approx(rods.rows[1:, 2], abs=1e-15)
    assert ends[-1] == pytest.approx(-cells * VOXEL, rel=1e-12)


@pytest.mark.parametrize("cells", [7.0, 9.0, 20.5])
def test_a_cut_rod_passes_heat_along_as_the_whole_one(cells: float) -> None:
    """Closed form, Fourier (1822): an even rod passes A / L times the difference over its length.

    Between the middles of the first and the last piece, by all links together.
    """
    network = rod((0.0, 0.0, 0.0), (0.0, 0.0, -cells * VOXEL), 1e-3)
    rods = cut_rods(network, passages_of(network, VOXEL), VOXEL)
    balance = np.zeros((rods.length.size, rods.length.size))
    for (one, other), passed in zip(rods.links.tolist(), rods.link_length, strict=True):
        balance[[one, other], [one, other]] += passed
        balance[[one, other], [other, one]] -= passed

    # What flows where the last piece is held at 0 and the first is given a unit of heat.
    difference = np.linalg.solve(balance[:-1, :-1], np.eye(rods.length.size - 1)[0])[0]
    way = cells * VOXEL - 0.5 * (rods.length[0] + rods.length[-1])

    assert 1.0 / difference == pytest.approx(math.pi / 4 * 1e-6 / way, rel=1e-9)


@pytest.mark.parametrize(
    ("stem", "shape", "width", "thickness"),
    [(0.004, "rod", 0.0015, 0.0015), (0.008, "blade", 0.006, 0.0025)],
)
def test_a_thin_part_grows_on_the_metal_nearest_to_its_joint(
    stem: float, shape: Shape, width: float, thickness: float
) -> None:
    """Geometry of three hairs or three broad ribs on a stem, all distances taken anew here.

    The way from part to cells is that of a rod: section over length, through all cells together.
    """
    made = piece(
        part("stem", length=0.04, width=stem),
        part(
            "thin",
            "stem",
            shape=shape,
            count=3,
            length=0.015,
            width=width,
            thickness=thickness,
            position=0.6,
            angle=70,
        ),
    )
    grid = grid_of(made)
    graph, rods = graph_of(grid, 1500.0, 90.0), grid.rods
    first_port = graph.shells.volume.size
    grown = graph.metal_pair[:, 1] >= first_port
    pairs, passes = graph.metal_pair[grown], graph.metal_length[grown]
    metal = np.argwhere(grid.kind == METAL)
    flat = np.ravel_multi_index(metal.T, grid.kind.shape)

    assert rods.into_cells.size == 3
    assert set(pairs[:, 0]) == set(rods.joint_stack[rods.into_cells])
    for joint in rods.into_cells.tolist():
        mine = pairs[:, 0] == rods.joint_stack[joint]
        taken = np.isin(flat, graph.ports[pairs[mine, 1] - first_port])
        far = np.linalg.norm(grid.origin + metal * VOXEL - rods.joint_place[joint], axis=1)
        section = width * thickness * (math.pi / 4 if shape == "rod" else 1.0)
        assert taken.sum() == mine.sum() == round(section / VOXEL**2)
        assert far[taken].max() <= far[~taken].min() * (1.0 + 1e-12)
        want = section / (rods.joint_arm[joint] + 0.5 * VOXEL)
        assert passes[mine].sum() == pytest.approx(want, rel=1e-6)
