"""Thin parts as stacks in the cells, held against fine rings and scipy's integrator."""

import math

import numpy as np
import pytest

from pourcast.freeze.stacks import way_between
from pourcast.freeze.voxel_grid import MOULD, Grid
from pourcast.freeze.voxel_march import held_heat
from tests.freeze.voxel_cases import (
    ZERO,
    body,
    bronze,
    freeze_times,
    marched,
    plain_mould,
    run,
    thin_bar,
)
from tests.freeze.voxel_reference import bar, blade
from tests.outside.record import record

VOXEL = 1e-3
PLACES = ((0.01, 0.02), (0.5, 0.49), (0.25, 0.1), (0.4, 0.2))
"""Where in its cell the bar stands."""


def cell_bar(size: float, place: tuple[float, float]) -> Grid:
    """Return a bar that cells can show."""

    def away(x: np.ndarray, y: np.ndarray, z: np.ndarray) -> np.ndarray:
        return np.asarray(np.hypot(x, y) - size / 2)

    reach = size / 2 + max(8e-3, 2.0 * size)
    return body(away, reach, math.pi * size**2 / 4, VOXEL, 2, (*place, 0.0))


def freeze_time(size: float, place: tuple[float, float], *, thin: bool) -> float:
    """Ours, in cells of 1 mm [s]."""
    grid = thin_bar(size, size / 2 + 8e-3, VOXEL, place) if thin else cell_bar(size, place)
    march = marched(grid, bronze(), plain_mould(), 1100, 550)
    run(march, 400.0, frozen=True)
    times = freeze_times(march)
    return float(times[times.size // 2] if thin else times.max())


@pytest.mark.parametrize("size", [0.5e-3, 1e-3, 1.5e-3, 2e-3, 2.9e-3])
@pytest.mark.parametrize("place", PLACES)
def test_thin_bar_freezes_as_fine_rings_do(size: float, place: tuple[float, float]) -> None:
    """Outside: method of lines in fine rings, scipy's LSODA; cells of 1 mm.

    Tolerance 5 %: shells of an eighth of the bar, one core, steps of a hundredth of the
    time.  Found: -0.2 to +2.3 %.  In cells alone the bar of 1 mm is 35 to 180 % late.
    """
    got, want = freeze_time(size, place, thin=True), bar(size)[0]

    record(
        "freeze",
        f"freezing time of a bar of {1e3 * size:g} mm, cells of 1 mm",
        "method of lines in fine rings, scipy LSODA",
        got,
        want,
        "s",
        0.05 * want,
        kind="reference library",
    )
    assert got == pytest.approx(want, rel=0.05)


@pytest.mark.parametrize("size", [3e-3, 4e-3, 6e-3, pytest.param(8e-3, marks=pytest.mark.long)])
@pytest.mark.parametrize("place", PLACES)
def test_bar_in_cells_freezes_as_fine_rings_do(size: float, place: tuple[float, float]) -> None:
    """Outside: method of lines in fine rings, scipy's LSODA; cells of 1 mm.

    Tolerance 15 %: a bar along the cells has the same section in every layer, and that
    has whole cells: of 3 mm, 7 of them or 9.  Found: -4.0 to +4.1 %; with a sixth place,
    0.3 and 0.3 of a cell, +13.6 % at 3 mm.
    """
    got, want = freeze_time(size, place, thin=False), bar(size)[0]

    record(
        "freeze",
        f"freezing time of a bar of {1e3 * size:g} mm, cells of 1 mm",
        "method of lines in fine rings, scipy LSODA",
        got,
        want,
        "s",
        0.15 * want,
        kind="reference library",
    )
    assert got == pytest.approx(want, rel=0.15)


@pytest.mark.parametrize("place", PLACES)
def test_heat_of_a_stack_comes_out_into_the_cells(place: tuple[float, float]) -> None:
    """Outside: method of lines in fine rings: the mould at 3 to 8 mm round a bar of 1.5 mm.

    60 s after the pour, long after the bar is solid: what is held here is the way out of
    the stack.  Tolerance 3 % of the rise at 3 mm (the cells are a third of that).  Found:
    under 2 %.
    """
    grid = thin_bar(1.5e-3, 18e-3, VOXEL, place)
    march = marched(grid, bronze(), plain_mould(), 1100, 550)
    run(march, 60.0)
    _, middle, warm = bar(1.5e-3, until=60.0)
    cells = np.argwhere(grid.kind == MOULD)
    cells = cells[cells[:, 2] == 5]
    at = np.hypot(*(grid.origin[:2] + cells[:, :2] * VOXEL).T)
    ours = march.fit.temperature_at(
        march.u[np.ravel_multi_index(cells.T, grid.kind.shape)].astype(float)
    )
    chosen = (at > 3e-3) & (at < 8e-3)
    want = np.interp(at[chosen], middle, warm)

    miss = np.abs(ours[chosen] - ZERO - want).max() / (np.interp(3e-3, middle, warm) - 550)

    assert miss < 0.03


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("size", [0.5e-3, 1e-3, 2e-3, 2.9e-3])
def test_faces_round_a_bar_see_the_whole_of_it(size: float, place: tuple[float, float]) -> None:
    """Gauss's theorem: the sum of a n·e / A over a closed surface is 1.

    Tolerance 15 %: n·e is a difference over one cell, and A is taken at the mean of two
    distances.  Found: 1 to 14 % too little, the most for 0.5 mm on the corner of four cells.
    """
    grid = thin_bar(size, 8e-3, VOXEL, place)
    march = marched(grid, bronze(), plain_mould(), 1100, 550)
    graph, shells = march.graph, march.graph.shells
    stacks = shells.first.size
    of = np.searchsorted(shells.last, graph.outer_node)
    start = shells.away[graph.outer_node]
    away = grid.thin_distance.ravel()[graph.outer_cell].astype(float)
    end = np.maximum(away, start + 0.4 * VOXEL)

    seen = (way_between(shells.area[of], start, end) / graph.outer_reach).sum() / stacks

    assert seen == pytest.approx(1.0, abs=0.15)


def test_heat_passes_between_stack_and_cells_without_loss() -> None:
    """Conservation, in a block that no heat leaves: 1e-6 of all heat that metal brought."""
    grid = thin_bar(1.5e-3, 8e-3, VOXEL, (0.3, 0.15))
    march = marched(grid, bronze(), plain_mould(), 1100, 550)
    before = held_heat(march)
    brought = float((march.nodes.content[: grid.rods.length.size] * grid.rods.volume).sum())
    run(march, 30.0)

    assert abs(held_heat(march) - before) < 1e-6 * brought
    assert march.stages > march.steps


@pytest.mark.parametrize(
    ("thickness", "width"),
    [(0.8e-3, 6e-3), (0.8e-3, 30e-3), (1.5e-3, 8e-3), (2.8e-3, 12e-3)],
)
def test_thin_blade_freezes_as_its_section_in_two_dimensions_does(
    thickness: float, width: float
) -> None:
    """Outside: method of lines on a quarter of the section, scipy's BDF.

    Tolerance 12 %: the stack knows one distance from the surface and one temperature of the
    core; at the edges of a blade the heat goes two ways.  Found: -5.7 to -7.5 %.
    """
    reach = width / 2 + 12e-3
    grid = thin_bar(thickness, reach, VOXEL, (0.3, 0.15), width=width)
    march = marched(grid, bronze(), plain_mould(), 1100, 550)
    run(march, 400.0, frozen=True)
    times = freeze_times(march)
    got, want = float(times[times.size // 2]), blade(thickness, width)

    record(
        "freeze",
        f"freezing time of a blade of {1e3 * thickness:g} by {1e3 * width:g} mm, cells of 1 mm",
        "method of lines in two dimensions, scipy BDF",
        got,
        want,
        "s",
        0.12 * want,
        kind="reference library",
    )
    assert got == pytest.approx(want, rel=0.12)
