"""The two grains of the freezing held against each other: cells and the network.

They share the freezing curve and nothing else: one follows heat through cells of 1 mm and
stacks, the other gives every segment its own one-dimensional wall.
"""

from dataclasses import dataclass

import numpy as np
import pytest

from pourcast.freeze.fields import VoxelFields
from pourcast.freeze.model import FreezeResult
from pourcast.freeze.solid import knots_of
from pourcast.freeze.solve import solve
from pourcast.freeze.voxel_model import VoxelBlock, VoxelMetal, VoxelMould, VoxelStart
from pourcast.freeze.voxel_solve import solve_voxel
from pourcast.piece.model import Network, Piece
from pourcast.piece.network import build
from tests.freeze.cases import freeze_case, poured
from tests.piece.make import part, piece
from tests.pour.cases import case

LIQUIDUS, HALF, SEVENTY, NINETY, SOLIDUS = 1244.15, 1208.15, 1166.198, 1122.194, 1094.15
"""K; silicon bronze as in the cases of the pour."""

RADIUS, COVER = 0.04, 0.015

PIECES: dict[str, Piece] = {
    "rod of 4 mm": piece(part(length=0.04, width=0.004), gate=0.006),
    "rod of 2 mm": piece(part(length=0.04, width=0.002), gate=0.004),
    "rod of 1 mm": piece(part(length=0.04, width=0.001), gate=0.004),
    "rod of 6 mm": piece(part(length=0.04, width=0.006), gate=0.008),
    "tapered rod": piece(part(length=0.045, width=(0.006, 0.002)), gate=0.008),
    "bent rod": piece(part(length=0.05, width=0.003, bend=90), gate=0.006),
    "blade of 1 mm": piece(
        part(shape="blade", length=0.03, width=0.012, thickness=0.001), gate=0.006
    ),
    "blade of 2 mm": piece(
        part(shape="blade", length=0.03, width=0.012, thickness=0.002), gate=0.006
    ),
    "blade of 4 mm": piece(
        part(shape="blade", length=0.03, width=0.014, thickness=0.004), gate=0.006
    ),
    "twigs on a stem": piece(
        part("stem", length=0.04, width=0.005),
        part("twig", "stem", count=4, length=0.012, width=0.0015, position=0.6, angle=70),
        gate=0.006,
    ),
    "berry on a stem": piece(
        part("stem", length=0.03, width=0.004),
        part("berry", "stem", shape="lump", length=0.01, width=0.01, position=1.0),
        gate=0.006,
    ),
    "leaves on a stem": piece(
        part("stem", length=0.04, width=0.004),
        part("leaf", "stem", shape="blade", count=3, length=0.015, width=(0.008, 0.003),
             thickness=0.0012, position=0.7, angle=60),
        gate=0.006,
    ),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Both:
    """One piece frozen in both grains."""

    network: Network
    cells: VoxelFields
    segments: FreezeResult


def frozen(
    made: Piece, until: float = 400.0, *, voxel: float = 1e-3, radius: float = RADIUS
) -> Both:
    """Freeze a piece in both grains, with like values."""
    network = build(made)
    ends = np.concatenate([network.start_position, network.end_position])
    lowest = float(ends[:, 2].min())
    pour = case(
        network,
        radius=RADIUS,
        depth=made.button.height - lowest,
        cover=COVER,
        cup_diameter=made.button.diameter,
        cup_height=made.button.height,
        gate_diameter=made.button.gate_diameter,
        wall="solid",
        piece_radius=float(np.hypot(ends[:, 0], ends[:, 1]).max()) + 0.003,
        piece_height=-lowest,
    )
    # The cells keep one heat transfer, so the network gets the same on both sides of solid.
    freeze = freeze_case(pour, gap_heat_transfer=1200.0)
    button = made.button
    a, b = button.gate_diameter / 2, button.diameter / 2
    cup = np.pi * button.height * (a * a + a * b + b * b) / 3
    segments = solve(network, freeze, poured(network, pour, left=cup))
    specific = 0.42 / 3.2e-7
    cells = solve_voxel(
        network,
        button,
        VoxelBlock(
            radius=radius,
            top=button.height,
            bottom=lowest - COVER,
            wall="solid",
            wall_thickness=1.5e-3,
            wall_density=7850.0,
            room=293.15,
            wall_emissivity=0.8,
            top_emissivity=0.6,
        ),
        VoxelMetal(
            density=7550.0,
            knots=knots_of((LIQUIDUS, HALF, SEVENTY, NINETY, SOLIDUS), 517.0, 446.0, 108e3),
            solid_conductivity=77.0,
            liquid_conductivity=55.0,
            interface_heat_transfer=1200.0,
        ),
        VoxelMould(
            density=1250.0,
            temperature=np.array([300.0]),
            conductivity=np.array([0.42]),
            specific_heat=np.array([specific / 1250.0]),
        ),
        VoxelStart(metal=1363.15, mould=873.15),
        voxel=voxel,
        until=until,
    )
    return Both(network=network, cells=cells, segments=segments)


def times_at(both: Both, part: int, share: float) -> tuple[float, float]:
    """Return when a place along the first member of a part is solid, both ways [s].

    In cells: the mean of those within a cell of its section's plane, or on the line between
    the stacks on its two sides: from one to the next the time may fall by a third.
    """
    network, cells = both.network, both.cells
    mine = np.flatnonzero(network.member == np.flatnonzero(network.member_part == part)[0])
    along = np.cumsum(network.length[mine]) - 0.5 * network.length[mine]
    segment = mine[np.abs(along / network.length[mine].sum() - share).argmin()]
    place = 0.5 * (network.start_position[segment] + network.end_position[segment])
    way = network.end_position[segment] - network.start_position[segment]
    way = way / np.linalg.norm(way)
    where = cells.origin + cells.cells * cells.voxel - place
    near = (cells.part == part) & (np.linalg.norm(where, axis=1) < network.width[segment].max())
    near &= np.abs(where @ way) <= cells.voxel
    if near.any():
        ours = float(cells.freeze_time[near].mean())
    else:
        off = cells.stack_place[cells.stack_part == part] - place
        times = cells.stack_freeze_time[cells.stack_part == part]
        on = off @ way
        beside = np.linalg.norm(off - on[:, None] * way, axis=1) < cells.voxel
        order = np.argsort(on[beside])
        ours = float(np.interp(0.0, on[beside][order], times[beside][order]))
    return ours, float(both.segments.freeze_time[0][segment])


MORE: dict[tuple[str, str, float], tuple[float, str]] = {
    ("leaves on a stem", "leaf", 0.5): (
        0.25,
        "three leaves and the stem warm the same mould; each segment has its own without end. "
        "Cells of 0.5 mm give 17.9 s, of 1 mm 17.5 s, the network 13.8 s",
    ),
}
"""Piece, part and share of its length: how far the two may differ there, and why."""


@pytest.mark.long
@pytest.mark.parametrize("name", list(PIECES))
def test_regression_both_grains_agree(name: str) -> None:
    """Every part at half and at nine tenths of its length within 15 %, but for `MORE`.

    Nearer to the gate the time falls from 80 to 15 s within 8 mm, less than a segment of
    the network is long; no comparison of places is possible there.  The button: within
    20 %; the network is 9 to 17 % late in all twelve, cells of 0.5 mm agree with those of
    1 mm to 0.4 %.  Found for the parts: -21 to +14 %.
    """
    both = frozen(PIECES[name])

    for number, part_name in enumerate(both.network.part_names):
        for share in (0.5, 0.9):
            cells, segments = times_at(both, number, share)
            most, _ = MORE.get((name, part_name, share), (0.15, ""))
            assert segments == pytest.approx(cells, rel=most), (part_name, share)
    button = float(both.cells.freeze_time[both.cells.part == -1].max())
    assert float(both.segments.button_freeze_time[0]) == pytest.approx(button, rel=0.2)


@pytest.mark.long
def test_regression_rod_on_a_button_freezes_alike_as_a_stack_and_in_fine_cells() -> None:
    """A rod of 2 mm: stacks in cells of 1 mm against its own cells of 0.5 mm.

    Along the metal the heat of the button comes 10 mm down the rod.  Tolerance 10 % at the
    middle of each of the first ten lengths.  Found: -4 to +6 %.
    """
    made = PIECES["rod of 2 mm"]
    coarse, fine = frozen(made, 110.0).cells, frozen(made, 110.0, voxel=0.5e-3, radius=0.022).cells
    depth = fine.origin[2] + fine.cells[:, 2] * fine.voxel

    for place, time in list(zip(coarse.stack_place, coarse.stack_freeze_time, strict=True))[:10]:
        near = (fine.part == 0) & (np.abs(depth - place[2]) < 0.6e-3)
        assert time == pytest.approx(float(fine.freeze_time[near].mean()), rel=0.1)
